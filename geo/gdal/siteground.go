package gdal

import (
	"context"
	"fmt"
	"math"
	"strconv"

	"github.com/lukeroth/gdal"

	"runnel/geo/grid"
	"runnel/geo/plan"
)

// groundNoData stands in the coverage for a cell of no data, since SQLite has
// no NaN: the lowest number of 32 bits.
const groundNoData = -math.MaxFloat32

// clearGround removes our coverage from the file of an older state, and refuses
// a file of others that has tables of our names.
func clearGround(file string) error {
	set, err := openForUpdate(file)
	if err != nil {
		return err
	}
	defer set.Close()
	held, err := readSettings(set)
	if err != nil || held["format"] != siteFormat {
		forget()
		return refuseClash(set)
	}
	if !hasTable(set, groundTable) {
		return nil
	}
	return execute(set, "DROP TABLE "+groundTable)
}

// refuseClash reports a table of others that has one of our names.
func refuseClash(set gdal.Dataset) error {
	names := []string{groundTable, schemesTable, settingsTable, underlaysTable, sourcesTable, linesTable, spotsTable, patchesTable}
	for _, spec := range plan.Specs() {
		names = append(names, spec.Name)
	}
	for _, name := range names {
		if hasTable(set, name) {
			return fmt.Errorf("the file of that name is not a site and has a table called %s; choose another name", name)
		}
	}
	return nil
}

// putGround stores the ground as 32-bit tiles, which keep every bit.
func putGround(file string, s *plan.Site, wkt string, held prior) error {
	if err := s.Ground.Check(); err != nil {
		return err
	}
	cells := s.Ground
	cells.V = filled(cells.V, groundNoData)
	from, err := inMemoryWith(cells, Place(cells.Frame, s.CRS).Transform, wkt, groundNoData)
	if err != nil {
		return err
	}
	defer from.Close()
	driver, err := gdal.GetDriverByName("GPKG")
	if err != nil {
		return err
	}
	options := []string{
		"RASTER_TABLE=" + groundTable, "RASTER_DESCRIPTION=Ground heights in metres",
		"TILE_FORMAT=TIFF", "GRID_CELL_ENCODING=grid-value-is-area", "UOM=m",
	}
	if held == older {
		options = append(options, "APPEND_SUBDATASET=YES")
	}
	set := driver.CreateCopy(file, from, 0, options, nil, nil)
	if handle(set) == nil {
		return fmt.Errorf("the ground cannot be stored; the disk may be full")
	}
	set.Close()
	return nil
}

// takeGround reads the ground, if the site has one.
func takeGround(full string, s *plan.Site, held settings) error {
	if held["ground_cells"] == "" {
		return nil
	}
	set, err := gdal.OpenEx(full, gdal.OFRaster|gdal.OFReadOnly, []string{"GPKG"}, []string{"TABLE=" + groundTable}, nil)
	if err != nil || set.RasterCount() < 1 {
		return fmt.Errorf("its ground is missing or damaged; restore the file from a copy")
	}
	src := source{set: set, band: set.RasterBand(1)}
	defer set.Close()
	src.Grid.Frame = grid.Square(set.RasterXSize(), set.RasterYSize(), 0, 0, 1)
	src.lookAtValues()
	if err := src.readCells(context.Background(), src.all(), func([]float32) {}); err != nil {
		return err
	}
	s.Ground = src.Grid
	s.Ground.Frame, err = exactFrame(s.Ground.Frame, set.GeoTransform(), held)
	return err
}

// exactFrame returns the frame that was saved. The coverage keeps but fifteen
// digits of it, and settles what the frame is where another program has put a
// different ground there.
func exactFrame(f grid.Frame, t [6]float64, held settings) (grid.Frame, error) {
	f.West, f.North, f.DX, f.DY = t[0], t[3], t[1], -t[5]
	stored := f
	for key, to := range map[string]*float64{
		"ground_west": &stored.West, "ground_north": &stored.North, "ground_dx": &stored.DX, "ground_dy": &stored.DY,
	} {
		v, err := strconv.ParseFloat(held[key], 64)
		if err != nil {
			return f, held.damaged(key)
		}
		*to = v
	}
	near := func(a, b, size float64) bool { return math.Abs(a-b) <= 1e-6*size }
	if near(stored.West, f.West, f.DX) && near(stored.North, f.North, f.DY) &&
		near(stored.DX, f.DX, f.DX/float64(f.W)) && near(stored.DY, f.DY, f.DY/float64(f.H)) {
		f = stored
	}
	return f, f.Check()
}
