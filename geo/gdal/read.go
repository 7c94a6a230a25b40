package gdal

import (
	"context"
	"fmt"

	"github.com/lukeroth/gdal"

	"runnel/geo/grid"
	"runnel/geo/scratch"
)

// ReadRaster reads the heights of an elevation file cell by cell: nothing is
// resampled, and the rows stay in the file's order.
func ReadRaster(ctx context.Context, path string) (*Raster, error) {
	return ReadRasterInto(ctx, path, func(grid.Frame) *scratch.Space { return nil })
}

// ReadRasterInto is ReadRaster that keeps the heights in a space, which is chosen
// once the raster's size is known. With none they must fit in memory.
func ReadRasterInto(ctx context.Context, path string, choose func(grid.Frame) *scratch.Space) (*Raster, error) {
	full, err := localFile(path)
	if err != nil {
		return nil, err
	}
	var r *Raster
	err = doOn(full, func() error {
		source, err := openSource(full)
		if err != nil {
			return err
		}
		defer source.set.Close()
		source.space = choose(source.Grid.Frame)
		source.lookAtHeights()
		source.lookAtLatitudes()
		if err := source.readWindow(ctx, source.all()); err != nil {
			return err
		}
		r = &source.Raster
		return nil
	})
	if err != nil {
		return nil, err
	}
	return r, nil
}

// A source is an open elevation file, described but not yet read.
type source struct {
	Raster
	space  *scratch.Space // where the heights are to be kept
	set    gdal.Dataset
	band   gdal.RasterBand
	mask   bool // a mask of the whole file says which cells have data
	scale  float64
	offset float64
	// nodata is meaningful where declared is set.
	nodata   float64
	declared bool
	// grounded is set where the file says where it lies, unitKnown where the unit of
	// its heights is no guess.
	grounded, unitKnown bool
	// datum is what the heights are above, as the file's vertical system is called.
	datum string
}

// openSource looks at everything but the cells. The caller closes its set.
func openSource(full string) (*source, error) {
	if err := refuseNaN(full); err != nil {
		return nil, err
	}
	set, err := openRaster(full)
	if err != nil {
		return nil, err
	}
	s := &source{set: set}
	if err := s.look(); err != nil {
		set.Close()
		return nil, err
	}
	return s, nil
}

// mostBlock is how many cells a tile or strip of a file may have, unless the
// whole raster has more: GDAL takes memory for all bands of a tile at once.
const mostBlock = 8192 * 8192

// mostBands is how many bands are looked into.
const mostBands = 64

// look describes the file.
func (s *source) look() error {
	w, h, bands := s.set.RasterXSize(), s.set.RasterYSize(), s.set.RasterCount()
	if bands == 0 {
		return fmt.Errorf("it holds no raster, or several; give a file of one ground")
	}
	if bands > mostBands {
		return fmt.Errorf("it has %d bands, and a ground has one; give an elevation raster", bands)
	}
	s.Grid.Frame = grid.Square(w, h, 0, 0, 1)
	if w < 1 || h < 1 {
		return s.Grid.Check()
	}
	s.band = s.set.RasterBand(1)
	if bw, bh := s.band.BlockSize(); bw*bh*bands > max(mostBlock, w*h*bands) {
		return fmt.Errorf("it is stored in tiles of %d by %d cells, which are damaged or too large; save it again in smaller tiles", bw, bh)
	}
	s.place()
	if err := s.refusePicture(bands); err != nil {
		return err
	}
	if bands > 1 {
		s.note("It has %d bands; the first is taken for the ground.", bands)
	}
	s.lookAtValues()
	s.measureCell()
	if failed() {
		s.note("Part of what it says of itself is damaged and is not used.")
		forget()
	}
	return nil
}

// refusePicture tells a photograph from a ground: it has colours, or it is a
// plain image of bytes with no place on the earth.
func (s *source) refusePicture(bands int) error {
	kind := s.band.RasterDataType()
	if kind.IsComplex() != 0 {
		return fmt.Errorf("its cells are complex numbers, not heights; give an elevation raster")
	}
	colour := s.band.ColorInterp()
	small := kind == gdal.Byte || kind == gdal.UInt16
	switch {
	case small && bands >= 3, small && colour == gdal.CI_RedBand, colour == gdal.CI_PaletteIndex,
		kind == gdal.Byte && !s.grounded:
		return fmt.Errorf("it holds no heights but a picture, and a picture is not a ground; give an elevation raster")
	}
	return nil
}

// lookAtValues finds how the stored numbers become heights.
func (s *source) lookAtValues() {
	s.scale, s.offset = 1, 0
	if v, ok := s.band.GetScale(); ok && v != 0 {
		s.scale = v
	}
	if v, ok := s.band.GetOffset(); ok {
		s.offset = v
	}
	if v, ok := s.band.NoDataValue(); ok {
		s.nodata, s.declared = v, true
	}
	const perDataset, nodata = 0x02, 0x08 // GDAL's mask flags GMF_PER_DATASET and GMF_NODATA
	flags := s.band.GetMaskFlags()
	s.mask = flags&perDataset != 0 && flags&nodata == 0
}

func (s *source) note(format string, args ...any) {
	s.Notes = append(s.Notes, fmt.Sprintf(format, args...))
}

// all is the window of every cell.
func (s *source) all() window { return window{w: s.Grid.W, h: s.Grid.H} }
