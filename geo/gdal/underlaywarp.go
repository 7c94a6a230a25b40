package gdal

import (
	"context"
	"fmt"
	"image"
	"math"

	"github.com/lukeroth/gdal"

	"runnel/geo/grid"
	"runnel/geo/plan"
)

// lay reads what is wanted of the image and brings it to the site.
func (s *imageSource) lay(ctx context.Context, o UnderlayOptions) (grid.Frame, *plan.Picture, error) {
	to, larger, err := s.frame(o)
	if err != nil {
		return to, nil, err
	}
	if larger > 1 {
		s.note("It has more pixels than are kept of an image; it is brought to %s m a pixel.", fourDigits(math.Sqrt(to.DX*to.DY)))
	}
	by := max(1, int(math.Round(larger)))
	win, err := s.windowFor(to.Bound(), o.Site, 4*by)
	if err != nil {
		return to, nil, fmt.Errorf("it lies off the ground; look at its place and reference system")
	}
	if win.w > mostRow || win.w*win.h > mostWindow {
		return to, nil, fmt.Errorf("it has %d by %d pixels over the site, more than can be read; make it coarser, or cut it to the site", win.w, win.h)
	}
	if err := s.stretch(win); err != nil {
		return to, nil, err
	}
	read, err := s.readColours(ctx, win, by)
	if err != nil {
		return to, nil, err
	}
	laid, err := s.warpColours(ctx, read, reduced(s.Transform, win, by), target{to, o})
	if err != nil {
		return to, nil, err
	}
	picture, err := encodeTiles(ctx, laid)
	return to, picture, err
}

// mostRow bounds how long a row that is read may be [px], mostWindow what is read
// of an image in all.
const (
	mostRow    = 200_000
	mostWindow = 1 << 30
)

// reduced places a window whose pixels are by times as large.
func reduced(t [6]float64, win window, by int) [6]float64 {
	corner := at(t, float64(win.x), float64(win.y))
	n := float64(by)
	return [6]float64{corner[0], t[1] * n, t[2] * n, corner[1], t[4] * n, t[5] * n}
}

// A target is where pixels are brought to.
type target struct {
	frame grid.Frame
	UnderlayOptions
}

// warpColours brings pixels to the target, each mixed from the nearest four; where
// there are none they stay clear. Colours are multiplied by their opacity, so that
// clear ones do not bleed into others.
func (s *imageSource) warpColours(ctx context.Context, read *image.RGBA, t [6]float64, to target) (*image.RGBA, error) {
	fromWKT, err := wktOf(s.CRS)
	if err != nil {
		return nil, err
	}
	toWKT, err := wktOf(to.Site)
	if err != nil {
		return nil, err
	}
	from, err := coloursInMemory(read, t, fromWKT)
	if err != nil {
		return nil, err
	}
	defer from.Close()
	f := to.frame
	out := image.NewRGBA(image.Rect(0, 0, f.W, f.H))
	for y := 0; y < f.H; y += warpRows {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		rows := out.SubImage(image.Rect(0, y, f.W, min(y+warpRows, f.H))).(*image.RGBA)
		place := [6]float64{f.West, f.DX, 0, f.North - float64(y)*f.DY, 0, -f.DY}
		if err := warpRowsInto(rows, place, from, [2]string{fromWKT, toWKT}); err != nil {
			return nil, err
		}
	}
	for i := 3; i < len(out.Pix); i += 4 {
		if out.Pix[i] != 0 {
			return out, nil
		}
	}
	return nil, fmt.Errorf("it has no data over the ground; look at its place and reference system")
}

func warpRowsInto(rows *image.RGBA, place [6]float64, from gdal.Dataset, wkt [2]string) error {
	to, err := coloursInMemory(rows, place, wkt[1])
	if err != nil {
		return err
	}
	defer to.Close()
	if err := gdal.ReprojectImage(from, to, wkt[0], wkt[1], gdal.GRA_Bilinear, 0, warpError, nil, nil, nil); err != nil {
		return fmt.Errorf("it cannot be brought to the site's reference system")
	}
	return eachChannel(to, rows, gdal.Read)
}

// coloursInMemory returns a copy of pixels as a data set that the caller closes.
func coloursInMemory(img *image.RGBA, t [6]float64, wkt string) (gdal.Dataset, error) {
	driver, err := gdal.GetDriverByName("MEM")
	if err != nil {
		return gdal.Dataset{}, err
	}
	w, h := img.Rect.Dx(), img.Rect.Dy()
	set := driver.Create("", w, h, 4, gdal.Byte, nil)
	if handle(set) == nil {
		return set, fmt.Errorf("there is not enough memory for %d by %d pixels; cut the image to the site", w, h)
	}
	err = set.SetGeoTransform(t)
	if err == nil && wkt != "" {
		err = set.SetProjection(wkt)
	}
	if err == nil {
		err = eachChannel(set, img, gdal.Write)
	}
	if err != nil {
		set.Close()
		return set, fmt.Errorf("%d by %d pixels cannot be laid out in memory", w, h)
	}
	return set, nil
}

// eachChannel copies pixels into a data set of four bands, or out of it.
func eachChannel(set gdal.Dataset, img *image.RGBA, way gdal.RWFlag) error {
	w, h := img.Rect.Dx(), img.Rect.Dy()
	for i := range 4 {
		if err := set.RasterBand(i+1).IO(way, 0, 0, w, h, img.Pix[i:], w, h, 4, img.Stride); err != nil {
			return fmt.Errorf("what was brought to the site's reference system cannot be read")
		}
	}
	return nil
}
