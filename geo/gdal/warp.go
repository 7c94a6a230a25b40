package gdal

import (
	"context"
	"errors"
	"fmt"
	"math"

	"github.com/lukeroth/gdal"
	"github.com/paulmach/orb"

	"runnel/geo/crs"
	"runnel/geo/grid"
)

// A warpPlan says what is read, where it goes and how cells are mixed.
type warpPlan struct {
	from window
	to   grid.Frame
	crs  crs.CRS
	by   gdal.ResampleAlg
}

// coarser is how much larger new cells are than old ones before the mean of the
// old is taken.
const coarser = 1.5

// planWarp works out the new cells and which of the file's they need.
func (s *source) planWarp(to crs.CRS, o GroundOptions) (warpPlan, error) {
	own := math.Sqrt(s.Grid.DX * s.Grid.DY)
	cell := o.Cell
	if cell == 0 {
		cell = threeDigits(own)
	}
	p := warpPlan{from: s.all(), crs: to, by: gdal.GRA_Bilinear}
	if cell > coarser*own {
		p.by = gdal.ResampleAlg(gdal.GRA_Average)
	}
	extent, err := s.extent(to)
	if err != nil {
		return p, err
	}
	if o.cropped() {
		if !extent.Intersects(o.Bound) {
			return p, errOutside
		}
		extent = o.Bound
		reach := 4 * max(1, int(math.Ceil(cell/min(s.Grid.DX, s.Grid.DY))))
		if p.from, err = s.windowFor(extent, to, reach); err != nil {
			return p, err
		}
	} else {
		extent = snapOut(extent, cell)
	}
	w := math.Ceil((extent.Max[0]-extent.Min[0])/cell - 1e-6)
	h := math.Ceil((extent.Max[1]-extent.Min[1])/cell - 1e-6)
	if !(w*h <= grid.MaxCells) {
		return p, fmt.Errorf("it would be %.0f by %.0f cells of %g m, more than the %d million that fit in memory; cut it to the site or choose a larger cell",
			w, h, cell, grid.MaxCells/1_000_000)
	}
	p.to = grid.Square(max(1, int(w)), max(1, int(h)), extent.Min[0], extent.Max[1], cell)
	return p, nil
}

// threeDigits rounds a size that comes of a transformation to what can be read.
func threeDigits(v float64) float64 {
	step := math.Pow(10, 2-math.Floor(math.Log10(v)))
	return math.Round(v*step) / step
}

// snapOut widens b to whole cells, so that grounds of one place lie on one net.
func snapOut(b orb.Bound, cell float64) orb.Bound {
	return orb.Bound{
		Min: orb.Point{math.Floor(b.Min[0]/cell) * cell, math.Floor(b.Min[1]/cell) * cell},
		Max: orb.Point{math.Ceil(b.Max[0]/cell) * cell, math.Ceil(b.Max[1]/cell) * cell},
	}
}

// alongEdge is into how many pieces an edge is cut to follow its curve through
// a transformation.
const alongEdge = 32

// rim returns points along the edges of a rectangle.
func rim(b orb.Bound) []orb.Point {
	var points []orb.Point
	for i := range alongEdge + 1 {
		f := float64(i) / alongEdge
		x := b.Min[0] + f*(b.Max[0]-b.Min[0])
		y := b.Min[1] + f*(b.Max[1]-b.Min[1])
		points = append(points, orb.Point{x, b.Min[1]}, orb.Point{x, b.Max[1]}, orb.Point{b.Min[0], y}, orb.Point{b.Max[0], y})
	}
	return points
}

// extent returns the rectangle of the target system that holds the file.
func (s *source) extent(to crs.CRS) (orb.Bound, error) {
	points := rim(orb.Bound{Max: orb.Point{float64(s.Grid.W), float64(s.Grid.H)}})
	for i, p := range points {
		points[i] = at(s.Transform, p[0], p[1])
	}
	if err := moveAll(points, s.CRS, to); err != nil {
		return orb.Bound{}, err
	}
	return orb.MultiPoint(points).Bound(), nil
}

// windowFor returns the file's cells that a rectangle of the target needs, with
// a margin of reach cells.
func (s *source) windowFor(b orb.Bound, to crs.CRS, reach int) (window, error) {
	points := rim(b)
	if err := moveAll(points, to, s.CRS); err != nil {
		return window{}, err
	}
	back := gdal.InvGeoTransform(s.Transform)
	for i, p := range points {
		points[i] = at(back, p[0], p[1])
	}
	need := orb.MultiPoint(points).Bound()
	x0 := max(0, int(math.Floor(need.Min[0]))-reach)
	y0 := max(0, int(math.Floor(need.Min[1]))-reach)
	x1 := min(s.Grid.W, int(math.Ceil(need.Max[0]))+reach)
	y1 := min(s.Grid.H, int(math.Ceil(need.Max[1]))+reach)
	if x0 >= x1 || y0 >= y1 {
		return window{}, errOutside
	}
	return window{x0, y0, x1 - x0, y1 - y0}, nil
}

func moveAll(points []orb.Point, from, to crs.CRS) error {
	if !from.Known() || !to.Known() {
		return nil
	}
	m, err := newMover(from, to)
	if err != nil {
		return err
	}
	defer m.close()
	return m.move(points)
}

// warpRows is how many rows are made between two looks at the context.
const warpRows = 512

// warpError is how far a cell may be from its exact place, in cells.
const warpError = 0.01

var errNoneInside = errors.New("it has no height inside the rectangle to cut out; look at the site's place and reference system")

// warp resamples the cells that were read.
func (s *source) warp(ctx context.Context, p warpPlan) (grid.Ground, error) {
	ground := grid.New[float32](p.to)
	fromWKT, err := wktOf(s.CRS)
	if err != nil {
		return ground, err
	}
	toWKT, err := wktOf(p.crs)
	if err != nil {
		return ground, err
	}
	t := s.Transform
	corner := at(t, float64(p.from.x), float64(p.from.y))
	t[0], t[3] = corner[0], corner[1]
	from, err := inMemory(s.Grid, t, fromWKT)
	if err != nil {
		return ground, err
	}
	defer from.Close()
	s.Grid.V = nil
	for y := 0; y < p.to.H; y += warpRows {
		if err := ctx.Err(); err != nil {
			return ground, err
		}
		rows := grid.Ground{Frame: p.to, V: ground.V[y*p.to.W : min(y+warpRows, p.to.H)*p.to.W]}
		rows.H, rows.North = len(rows.V)/p.to.W, p.to.North-float64(y)*p.to.DY
		if err := warpInto(rows, from, p.by, [2]string{fromWKT, toWKT}); err != nil {
			return ground, err
		}
	}
	if _, _, known := grid.Extent(ground); known == 0 {
		return ground, errNoneInside
	}
	return ground, nil
}

// warpInto fills rows from a raster in memory; wkt names both systems.
func warpInto(rows grid.Ground, from gdal.Dataset, by gdal.ResampleAlg, wkt [2]string) error {
	for i := range rows.V {
		rows.V[i] = grid.NoData
	}
	t := [6]float64{rows.West, rows.DX, 0, rows.North, 0, -rows.DY}
	to, err := inMemory(rows, t, wkt[1])
	if err != nil {
		return err
	}
	defer to.Close()
	if err := gdal.ReprojectImage(from, to, wkt[0], wkt[1], by, 0, warpError, nil, nil, nil); err != nil {
		return fmt.Errorf("it cannot be brought to the site's reference system")
	}
	if err := to.RasterBand(1).IO(gdal.Read, 0, 0, rows.W, rows.H, rows.V, rows.W, rows.H, 0, 0); err != nil {
		return fmt.Errorf("what was brought to the site's reference system cannot be read")
	}
	return nil
}

// inMemory returns a copy of a ground as a data set that the caller closes. Its
// cells of no data are NaN.
func inMemory(g grid.Ground, t [6]float64, wkt string) (gdal.Dataset, error) {
	return inMemoryWith(g, t, wkt, math.NaN())
}

// inMemoryWith is inMemory with another value for no data.
func inMemoryWith(g grid.Ground, t [6]float64, wkt string, nodata float64) (gdal.Dataset, error) {
	driver, err := gdal.GetDriverByName("MEM")
	if err != nil {
		return gdal.Dataset{}, err
	}
	set := driver.Create("", g.W, g.H, 1, gdal.Float32, nil)
	if handle(set) == nil {
		return set, fmt.Errorf("there is not enough memory for %d by %d cells; cut the ground to the site", g.W, g.H)
	}
	band := set.RasterBand(1)
	err = set.SetGeoTransform(t)
	if err == nil && wkt != "" {
		err = set.SetProjection(wkt)
	}
	if err == nil {
		err = band.SetNoDataValue(nodata)
	}
	if err == nil {
		err = band.IO(gdal.Write, 0, 0, g.W, g.H, g.V, g.W, g.H, 0, 0)
	}
	if err != nil {
		set.Close()
		return set, fmt.Errorf("%d by %d cells cannot be laid out in memory", g.W, g.H)
	}
	return set, nil
}

// wktOf returns the well-known text of a system; empty for an unknown one.
func wktOf(c crs.CRS) (string, error) {
	if !c.Known() {
		return "", nil
	}
	sr, err := reference(c)
	if err != nil {
		return "", err
	}
	defer sr.Destroy()
	return sr.ToWKT()
}
