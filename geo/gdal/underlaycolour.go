package gdal

import (
	"context"
	"fmt"
	"image"
	"math"
	"slices"

	"github.com/lukeroth/gdal"
)

// An imageSource is an open image, described but not yet read.
type imageSource struct {
	source
	// colours are the bands of red, green and blue, or the one of grey or of a
	// palette's numbers; alpha is how much each pixel covers, where there is that.
	colours []channel
	alpha   *channel
	// palette holds the colours of the numbers, if the file has one.
	palette [][4]uint8
	// low and high are the values that become dark and bright.
	low, high float64
}

// A channel is one band and the value that stands for no data in it.
type channel struct {
	band     gdal.RasterBand
	nodata   float64
	declared bool
}

func (s *imageSource) channel(i int) channel {
	c := channel{band: s.set.RasterBand(i)}
	if v, ok := c.band.NoDataValue(); ok {
		c.nodata, c.declared = float64(float32(v)), true
	}
	return c
}

// chooseBands finds the bands of the colours: by what the file calls them, else
// the first three, else the first.
func (s *imageSource) chooseBands(bands int) {
	called := make(map[gdal.ColorInterp]int)
	for i := bands; i > 0; i-- {
		called[s.set.RasterBand(i).ColorInterp()] = i
	}
	red, green, blue := called[gdal.CI_RedBand], called[gdal.CI_GreenBand], called[gdal.CI_BlueBand]
	switch {
	case called[gdal.CI_PaletteIndex] == 1:
		s.readPalette()
		s.colours = []channel{s.channel(1)}
	case red > 0 && green > 0 && blue > 0:
		s.colours = []channel{s.channel(red), s.channel(green), s.channel(blue)}
	case bands >= 3:
		s.colours = []channel{s.channel(1), s.channel(2), s.channel(3)}
	default:
		s.colours = []channel{s.channel(1)}
	}
	if i := called[gdal.CI_AlphaBand]; i > 0 {
		alpha := s.channel(i)
		s.alpha = &alpha
	}
	const perDataset, nodata, alphas = 0x02, 0x08, 0x04 // GDAL's mask flags
	if flags := s.colours[0].band.GetMaskFlags(); s.alpha == nil && flags&perDataset != 0 && flags&(nodata|alphas) == 0 {
		s.alpha = &channel{band: s.colours[0].band.GetMaskBand()}
	}
}

func (s *imageSource) readPalette() {
	table := s.band.ColorTable()
	if handle(table) == nil {
		return
	}
	for i := range min(table.EntryCount(), 1<<16) {
		e := table.Entry(i)
		r, g, b, a := e.Get()
		s.palette = append(s.palette, [4]uint8{r, g, b, a})
	}
}

// bytes reports whether a band holds colours as they are.
func (c channel) bytes() bool { return c.band.RasterDataType() == gdal.Byte }

// blank reports a value that is no data.
func (c channel) blank(v float32) bool {
	return v-v != 0 || c.declared && float64(v) == c.nodata
}

// samples is into how many a side of the image is thinned to find what is dark and
// what is bright.
const samples = 512

// stretch finds the 2nd and the 98th percentile of what is not bytes, the same for
// all colours, so that these keep their hue.
func (s *imageSource) stretch(win window) error {
	s.low, s.high = 0, 255
	if s.colours[0].bytes() || s.palette != nil {
		return nil
	}
	w, h := min(win.w, samples), min(win.h, samples)
	var known []float32
	thinned := make([]float32, w*h)
	for _, c := range s.colours {
		if err := c.band.IO(gdal.Read, win.x, win.y, win.w, win.h, thinned, w, h, 0, 0); err != nil {
			return errDamaged
		}
		for _, v := range thinned {
			if !c.blank(v) && !s.filler(v) {
				known = append(known, v)
			}
		}
	}
	if len(known) == 0 {
		return fmt.Errorf("it has no data over the ground; look at its place and reference system")
	}
	slices.Sort(known)
	last := float64(len(known) - 1)
	s.low, s.high = float64(known[int(0.02*last)]), float64(known[int(math.Ceil(0.98*last))])
	if !(s.high > s.low) {
		s.low, s.high = s.low-1, s.high+1
	}
	return nil
}

// filler reports what programs write for no data in a band of numbers without
// declaring it.
func (s *imageSource) filler(v float32) bool {
	return len(s.colours) == 1 && (v == -9999 || v == -32768 || math.Abs(float64(v)) > highest)
}

// stripCells is about how many pixels of a band are read at a time.
const stripCells = 4 << 20

// readColours reads a window and makes one pixel of by times by, multiplied by
// their opacity.
func (s *imageSource) readColours(ctx context.Context, win window, by int) (*image.RGBA, error) {
	w, h := max(1, win.w/by), max(1, win.h/by)
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	step := max(1, stripCells/(win.w*by))
	for y := 0; y < h; y += step {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		rows := min(step, h-y)
		strip := window{win.x, win.y + y*by, win.w, min(rows*by, win.h-y*by)}
		bands, err := s.readStrip(strip)
		if err != nil {
			return nil, fmt.Errorf("rows %d to %d cannot be read: the file is damaged or not whole; copy it again from where it came", strip.y+1, strip.y+strip.h)
		}
		for i := range rows {
			s.mixRow(out.Pix[(y+i)*out.Stride:(y+i+1)*out.Stride], bands, row4{i * by, min(by, strip.h-i*by), win.w, by})
		}
	}
	return out, nil
}

// A row4 says which of a strip's pixels one row is mixed from: so many rows from
// the first on, each of a width, by pixels for one.
type row4 struct{ first, rows, width, by int }

// readStrip reads the colours of a strip, and its opacity last.
func (s *imageSource) readStrip(strip window) ([][]float32, error) {
	all := s.colours
	if s.alpha != nil {
		all = append(slices.Clip(all), *s.alpha)
	}
	bands := make([][]float32, len(all))
	for i, c := range all {
		bands[i] = make([]float32, strip.w*strip.h)
		if err := c.band.IO(gdal.Read, strip.x, strip.y, strip.w, strip.h, bands[i], strip.w, strip.h, 0, 0); err != nil || failed() {
			return nil, errDamaged
		}
	}
	return bands, nil
}

// mixRow makes a row of pixels, each the mean of by times by.
func (s *imageSource) mixRow(out []uint8, bands [][]float32, of row4) {
	for x := range len(out) / 4 {
		var sum [4]uint64
		var n uint64
		for y := of.first; y < of.first+of.rows; y++ {
			for c := x * of.by; c < min((x+1)*of.by, of.width); c++ {
				rgba := s.colour(bands, y*of.width+c)
				a := uint64(rgba[3])
				sum[0], sum[1], sum[2], sum[3] = sum[0]+uint64(rgba[0])*a, sum[1]+uint64(rgba[1])*a, sum[2]+uint64(rgba[2])*a, sum[3]+a
				n++
			}
		}
		for i := range 3 {
			out[4*x+i] = uint8((sum[i] + 255*n/2) / (255 * n))
		}
		out[4*x+3] = uint8((sum[3] + n/2) / n)
	}
}

// colour returns pixel i: red, green, blue and how much it covers.
func (s *imageSource) colour(bands [][]float32, i int) (c [4]uint8) {
	clear := true
	for b, of := range s.colours {
		v := bands[b][i]
		clear = clear && (of.blank(v) || !of.bytes() && s.filler(v))
		c[b] = s.tone(v)
	}
	if clear {
		return [4]uint8{}
	}
	c[3] = 255
	if len(s.colours) == 1 {
		c[1], c[2] = c[0], c[0]
		if s.palette != nil {
			c = s.entry(bands[0][i])
		}
	}
	if s.alpha != nil {
		c[3] = min(c[3], s.cover(bands[len(bands)-1][i]))
	}
	return c
}

// entry returns a colour of the palette; a number beyond it is clear.
func (s *imageSource) entry(v float32) [4]uint8 {
	if !(v >= 0 && int(v) < len(s.palette)) {
		return [4]uint8{}
	}
	return s.palette[int(v)]
}

// tone brings a value to the scale from dark to bright.
func (s *imageSource) tone(v float32) uint8 {
	t := (float64(v) - s.low) / (s.high - s.low)
	if !(t > 0) {
		return 0
	}
	return uint8(min(1, t)*255 + 0.5)
}

// cover brings an opacity to bytes, by the most that its numbers can be.
func (s *imageSource) cover(v float32) uint8 {
	if s.alpha.band.RasterDataType() == gdal.UInt16 {
		v /= 257
	}
	return uint8(max(0, min(255, v)))
}
