package gdal

import (
	"context"
	"errors"
	"fmt"
	"math"
	"path/filepath"

	"github.com/lukeroth/gdal"
	"github.com/paulmach/orb"

	"runnel/geo"
	"runnel/geo/crs"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// UnderlayOptions says how an image is laid under the map of a site.
type UnderlayOptions struct {
	// Site is the site's system, and Ground the rectangle of its ground: of the
	// image no more is kept than that and a quarter more on each side.
	Site   crs.CRS
	Ground orb.Bound
	// System is the image's system, whatever its file says: a name such as
	// EPSG:32632, or OwnSystem. Empty asks the file.
	System string
	// Place, where it is not nil, brings pixels, counted from the upper left corner of
	// the image, into the site's system, whatever its file says.
	Place *geo.Affine
}

// OwnSystem stands for the site's system where a file's is asked for.
const OwnSystem = "site"

// ErrNoSystem marks an image that may lie on the site, but does not say in which
// system it is. A person may know that it is the site's own.
var ErrNoSystem = errors.New("its reference system is not known")

// ErrNoPlace marks an image that does not say at all where it lies. A person may know
// where some of what it shows is on the ground.
var ErrNoPlace = errors.New("it does not say where it lies; put its world file beside it, whose name ends in .tfw, .pgw or .jgw, or give a GeoTIFF")

// noSystem is ErrNoSystem in a sentence of its own.
type noSystem string

func (e noSystem) Error() string        { return string(e) }
func (e noSystem) Is(target error) bool { return target == ErrNoSystem }

// ReadUnderlay reads an image to lie under the map: its pixels are brought to the
// site's system, cut to the ground with a margin, and made fewer where there are
// too many. Bytes are taken as they are; of other numbers what is below the 2nd
// percentile is dark and what is above the 98th bright, and one band is grey. What
// has no data is clear. It also returns sentences for a person.
func ReadUnderlay(ctx context.Context, path string, o UnderlayOptions) (plan.Underlay, []string, error) {
	full, err := localFile(path)
	if err != nil {
		return plan.Underlay{}, nil, err
	}
	u := plan.Underlay{Name: filepath.Base(path), Opacity: 1}
	var notes []string
	err = doOn(full, func() error {
		s, err := openImage(full, o.Place)
		if err != nil {
			return err
		}
		defer s.set.Close()
		if err := s.settle(o); err != nil {
			return err
		}
		u.Frame, u.Picture, err = s.lay(ctx, o)
		notes = s.Notes
		return err
	})
	if err != nil {
		return plan.Underlay{}, nil, err
	}
	return u, notes, u.Check()
}

// imageFormats are the drivers of what may lie under the map.
var imageFormats = []string{"GTiff", "PNG", "JPEG", "AAIGrid", "SRTMHGT", "USGSDEM", "XYZ"}

// openImage looks at everything but the pixels, and takes it to lie where a place
// says that is not nil. The caller closes its set.
func openImage(full string, place *geo.Affine) (*imageSource, error) {
	set, err := gdal.OpenEx(full, gdal.OFRaster|gdal.OFReadOnly, imageFormats, nil, nil)
	if err != nil {
		return nil, fmt.Errorf("it cannot be read as an image: it is damaged, or of a format that Runnel does not take; give a GeoTIFF, or a PNG or JPEG with its world file")
	}
	s := &imageSource{source: source{set: set}}
	if err := s.look(place); err != nil {
		set.Close()
		return nil, err
	}
	forget() // what is damaged in its description is not used
	return s, nil
}

// look describes the file.
func (s *imageSource) look(place *geo.Affine) error {
	w, h, bands := s.set.RasterXSize(), s.set.RasterYSize(), s.set.RasterCount()
	switch {
	case bands == 0:
		return fmt.Errorf("it holds no image, or several; give a file of one")
	case bands > mostBands:
		return fmt.Errorf("it has %d bands, and an image has up to 4; give one of red, green and blue", bands)
	case w < 1 || h < 1:
		return fmt.Errorf("it has no pixels; copy it again from where it came")
	}
	s.Grid.Frame = grid.Square(w, h, 0, 0, 1)
	s.band = s.set.RasterBand(1)
	if bw, bh := s.band.BlockSize(); bw*bh*bands > 4*mostBlock {
		return fmt.Errorf("it is stored in tiles of %d by %d pixels, which are damaged or too large; save it again in smaller tiles", bw, bh)
	}
	if s.band.RasterDataType().IsComplex() != 0 {
		return fmt.Errorf("its pixels are complex numbers, which are no colours; give an image")
	}
	s.chooseBands(bands)
	if place != nil {
		if !place.Sound() {
			return fmt.Errorf("the place that it is given squeezes it to a line or is not finite; give other points")
		}
		s.Transform, s.grounded = *place, true
		return nil
	}
	if s.place(); !s.grounded {
		return ErrNoPlace
	}
	return nil
}

// settle finds out in which system the image is.
func (s *imageSource) settle(o UnderlayOptions) error {
	s.Notes = nil
	switch {
	case o.System == OwnSystem, o.Place != nil, o.System == "" && !s.CRS.Known() && !o.Site.Known():
		if s.CRS.Known() && !s.CRS.Same(o.Site) {
			s.note("It says that it is in %v; it is taken to be in the site's own system, %v.", s.CRS, o.Site)
		}
		s.CRS = o.Site
	case o.System != "":
		named, err := lookup(o.System)
		if err != nil {
			return err
		}
		s.CRS = named
	}
	switch {
	case !s.CRS.Known() && o.Site.Known():
		return noSystem("it names no reference system, so where on the site it lies is not known; say which it is in, or that it is in the site's own")
	case s.CRS.Known() && !o.Site.Known():
		return noSystem(fmt.Sprintf("it is in %v and the site has no reference system, so where on the site it lies is not known; say that it is in the site's own if its coordinates are the site's", s.CRS))
	}
	notes := s.Notes
	s.measureCell()
	s.Notes = notes // what it says besides is about grounds
	return nil
}

// outside says that an image does not reach the ground, and how far off it lies.
func outside(image, ground orb.Bound) error {
	dx := max(0, image.Min[0]-ground.Max[0], ground.Min[0]-image.Max[0])
	dy := max(0, image.Min[1]-ground.Max[1], ground.Min[1]-image.Max[1])
	far, unit := math.Hypot(dx, dy), "m"
	if far >= 1000 {
		far, unit = far/1000, "km"
	}
	return fmt.Errorf("it lies off the ground, %.0f %s from it; look at its place and reference system", far, unit)
}

// underlayMargin is how much of an image is kept round the ground, as a share of
// its sides.
const underlayMargin = 0.25

// part returns the rectangle of the site's system that is kept of the image.
func (s *imageSource) part(o UnderlayOptions) (orb.Bound, error) {
	whole, err := s.extent(o.Site)
	if err != nil || o.Ground.IsZero() {
		return whole, err
	}
	if !whole.Intersects(o.Ground) {
		return whole, outside(whole, o.Ground)
	}
	mx, my := underlayMargin*(o.Ground.Max[0]-o.Ground.Min[0]), underlayMargin*(o.Ground.Max[1]-o.Ground.Min[1])
	return orb.Bound{
		Min: orb.Point{max(whole.Min[0], o.Ground.Min[0]-mx), max(whole.Min[1], o.Ground.Min[1]-my)},
		Max: orb.Point{min(whole.Max[0], o.Ground.Max[0]+mx), min(whole.Max[1], o.Ground.Max[1]+my)},
	}, nil
}

// frame chooses the new pixels: the file's own where they can stay, and how many
// times as large they are where there were too many.
func (s *imageSource) frame(o UnderlayOptions) (f grid.Frame, larger float64, err error) {
	b, err := s.part(o)
	if err != nil {
		return f, 1, err
	}
	t := s.Transform
	own := math.Sqrt(s.Grid.DX * s.Grid.DY)
	f = grid.Frame{DX: own, DY: own}
	if (s.CRS.Same(o.Site) || !o.Site.Known()) && t[2] == 0 && t[4] == 0 && t[1] > 0 && t[5] < 0 {
		f.DX, f.DY = t[1], -t[5]
		b = netOut(b, t)
	}
	const spare = 8 // pixels that rounding may add
	larger = max(1, (b.Max[0]-b.Min[0])/f.DX/(plan.UnderlaySide-spare), (b.Max[1]-b.Min[1])/f.DY/(plan.UnderlaySide-spare))
	f.DX, f.DY, f.West, f.North = f.DX*larger, f.DY*larger, b.Min[0], b.Max[1]
	f.W = wholeTiles(int(math.Ceil((b.Max[0]-b.Min[0])/f.DX - 1e-6)))
	f.H = wholeTiles(int(math.Ceil((b.Max[1]-b.Min[1])/f.DY - 1e-6)))
	return f, larger, nil
}

// netOut widens a rectangle to whole pixels of a north-up image.
func netOut(b orb.Bound, t [6]float64) orb.Bound {
	const edge = 1e-6 // of a pixel
	out := func(v, from, size float64, round func(float64) float64, by float64) float64 {
		return from + round((v-from)/size+by)*size
	}
	return orb.Bound{
		Min: orb.Point{out(b.Min[0], t[0], t[1], math.Floor, edge), out(b.Min[1], t[3], -t[5], math.Floor, edge)},
		Max: orb.Point{out(b.Max[0], t[0], t[1], math.Ceil, -edge), out(b.Max[1], t[3], -t[5], math.Ceil, -edge)},
	}
}

// wholeTiles returns a size that tiles of one size fill: less than a pixel for
// each tile is left off.
func wholeTiles(side int) int {
	side = max(1, side)
	tiles := tilesIn(side)
	return side / tiles * tiles
}

// tilesIn is into how many tiles a side is cut.
func tilesIn(side int) int { return (side + plan.TileSide - 1) / plan.TileSide }
