package gdal

import (
	"context"
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"runnel/geo"
	"runnel/geo/crs"
	"runnel/geo/grid"
)

// GroundOptions says how a ground is brought to a site. The zero GroundOptions
// keeps as much of the file as can be: its cells, its system, its heights.
type GroundOptions struct {
	// CRS names the metric system to bring the ground to. Empty keeps the file's
	// where that is metric, and else takes the UTM zone of its middle.
	CRS string
	// Cell is the size of a cell [m]; 0 keeps the file's.
	Cell float64
	// Bound crops the ground, in the target system; the zero Bound keeps it all.
	Bound orb.Bound
	// HeightUnit is the unit of the file's heights, whatever the file says: m,
	// ft or us-ft. Empty asks the file.
	HeightUnit string
}

// ReadGround reads an elevation file as the ground of a site: square cells, rows
// from north to south, in a metric system, heights in metres. It also returns
// that system and sentences for a person. Where the file's own cells are such
// already they are copied as they are; else they are resampled, by their mean
// where the new cells are the larger and between the nearest four elsewhere.
func ReadGround(ctx context.Context, path string, o GroundOptions) (grid.Ground, crs.CRS, []string, error) {
	fail := func(err error) (grid.Ground, crs.CRS, []string, error) {
		return grid.Ground{}, crs.CRS{}, nil, err
	}
	full, err := localFile(path)
	if err != nil {
		return fail(err)
	}
	if err := o.check(); err != nil {
		return fail(err)
	}
	var ground grid.Ground
	var target crs.CRS
	var notes []string
	err = doOn(full, func() error {
		s, err := openSource(full)
		if err != nil {
			return err
		}
		defer s.set.Close()
		if o.HeightUnit == "" {
			s.lookAtHeights()
		} else if s.HeightMetre, err = geo.ParseLength(o.HeightUnit); err != nil {
			return err
		}
		if target, err = s.target(o.CRS); err != nil {
			return err
		}
		if ground, err = s.ground(ctx, target, o); err != nil {
			return err
		}
		s.noteStretch(ground.Frame, target)
		notes = s.Notes
		s.toMetres(ground)
		return nil
	})
	if err != nil {
		return fail(err)
	}
	return ground, target, notes, nil
}

// noteStretch says where a site's system does not have the lengths of the ground.
func (s *source) noteStretch(f grid.Frame, c crs.CRS) {
	if !c.Known() {
		return
	}
	dx, dy, err := groundCell(c, Place(f, c).Transform, orb.Point{float64(f.W) / 2, float64(f.H) / 2})
	if err != nil {
		forget() // the ground is read; how true its lengths are cannot be told
		return
	}
	if off := max(math.Abs(dx/f.DX-1), math.Abs(dy/f.DY-1)); off > tolerance {
		s.note("Lengths in %v are off by %.0f %% here; take the local UTM zone unless you must have this system.", c, 100*off)
	}
}

func (o GroundOptions) check() error {
	if o.Cell < 0 || math.IsNaN(o.Cell) || math.IsInf(o.Cell, 0) {
		return fmt.Errorf("the cell is %g m; give more than 0, or 0 for the file's own", o.Cell)
	}
	if !finite(o.Bound.Min) || !finite(o.Bound.Max) || o.Bound.Min[0] > o.Bound.Max[0] || o.Bound.Min[1] > o.Bound.Max[1] {
		return fmt.Errorf("the rectangle to cut out, from %s to %s, is not one; give its south-west and its north-east corner", coordinates(o.Bound.Min), coordinates(o.Bound.Max))
	}
	return nil
}

func (o GroundOptions) cropped() bool { return o.Bound != orb.Bound{} }

// target chooses the system to bring the ground to.
func (s *source) target(named string) (crs.CRS, error) {
	if unit := s.CRS.Metre; !s.CRS.Known() && unit != 1 {
		for i := range s.Transform {
			s.Transform[i] *= unit
		}
		s.CRS.Metre = 1
	}
	if named != "" {
		to, err := lookup(named)
		if err != nil {
			return crs.CRS{}, err
		}
		if err := to.RequireMetres(); err != nil {
			return crs.CRS{}, err
		}
		if !s.CRS.Known() {
			s.note("It is taken to be in %v.", to)
			s.CRS = to
		}
		return to, nil
	}
	if !s.CRS.Known() {
		return crs.CRS{Metre: 1}, nil
	}
	if s.CRS.Metre == 1 && s.faithful() {
		return s.CRS, nil
	}
	return s.utm()
}

// utm returns the zone of the file's middle.
func (s *source) utm() (crs.CRS, error) {
	middle := []orb.Point{at(s.Transform, float64(s.Grid.W)/2, float64(s.Grid.H)/2)}
	toLonLat, err := newMover(s.CRS, crs.LonLat())
	if err != nil {
		return crs.CRS{}, err
	}
	defer toLonLat.close()
	if err := toLonLat.move(middle); err != nil {
		return crs.CRS{}, err
	}
	code, err := crs.UTM(middle[0][0], middle[0][1])
	if err != nil {
		return crs.CRS{}, err
	}
	sr, err := reference(crs.CRS{Code: code})
	if err != nil {
		return crs.CRS{}, err
	}
	defer sr.Destroy()
	to := describe(sr)
	s.note("It is brought to %v.", to)
	return to, nil
}

// faithful reports whether lengths in the file's system are those on the ground.
func (s *source) faithful() bool {
	t := s.Transform
	return math.Abs(s.Grid.DX/math.Hypot(t[1], t[4])-1) <= tolerance &&
		math.Abs(s.Grid.DY/math.Hypot(t[2], t[5])-1) <= tolerance
}

// ground reads the cells and brings them to the target.
func (s *source) ground(ctx context.Context, to crs.CRS, o GroundOptions) (grid.Ground, error) {
	if ground, ok, err := s.copied(ctx, to, o); ok || err != nil {
		return ground, err
	}
	plan, err := s.planWarp(to, o)
	if err != nil {
		return grid.Ground{}, err
	}
	if err := s.readWindow(ctx, plan.from); err != nil {
		return grid.Ground{}, err
	}
	return s.warp(ctx, plan)
}

// copied reads the ground without resampling; ok is false where its cells are
// not such that it may.
func (s *source) copied(ctx context.Context, to crs.CRS, o GroundOptions) (grid.Ground, bool, error) {
	t := s.Transform
	cell := t[1]
	square := t[2] == 0 && t[4] == 0 && cell > 0 && math.Abs(math.Abs(t[5])/cell-1) < 1e-9
	same := s.CRS.Same(to) || !s.CRS.Known() && s.CRS.Metre == 1
	if !square || !same || o.Cell != 0 && math.Abs(o.Cell/cell-1) > 1e-9 {
		return grid.Ground{}, false, nil
	}
	win, southUp := s.all(), t[5] > 0
	north := t[3]
	if southUp {
		north += t[5] * float64(s.Grid.H)
	}
	frame := grid.Square(s.Grid.W, s.Grid.H, t[0], north, cell)
	if o.cropped() {
		win = windowOf(frame, o.Bound)
		if win.w < 1 || win.h < 1 {
			return grid.Ground{}, true, errOutside
		}
		frame = grid.Square(win.w, win.h, frame.West+float64(win.x)*cell, frame.North-float64(win.y)*cell, cell)
		if southUp {
			win.y = s.Grid.H - win.y - win.h
		}
	}
	if err := s.readWindow(ctx, win); err != nil {
		return grid.Ground{}, true, err
	}
	ground := grid.Ground{Frame: frame, V: s.Grid.V}
	if southUp {
		flip(ground)
	}
	return ground, true, nil
}

var errOutside = fmt.Errorf("the rectangle to cut out lies outside it; look at the site's place and reference system")

// windowOf returns the cells of f that b touches.
func windowOf(f grid.Frame, b orb.Bound) window {
	const edge = 1e-6 // of a cell: a bound on a cell's edge does not touch the next
	x0 := max(0, int(math.Floor((b.Min[0]-f.West)/f.DX+edge)))
	y0 := max(0, int(math.Floor((f.North-b.Max[1])/f.DY+edge)))
	x1 := min(f.W, int(math.Ceil((b.Max[0]-f.West)/f.DX-edge)))
	y1 := min(f.H, int(math.Ceil((f.North-b.Min[1])/f.DY-edge)))
	return window{x0, y0, x1 - x0, y1 - y0}
}

// flip turns the order of the rows.
func flip(g grid.Ground) {
	for y := range g.H / 2 {
		upper, lower := g.Row(y), g.Row(g.H-1-y)
		for x := range upper {
			upper[x], lower[x] = lower[x], upper[x]
		}
	}
}

// toMetres brings heights to metres in place.
func (s *source) toMetres(g grid.Ground) {
	if s.HeightMetre == 1 {
		return
	}
	for i, v := range g.V {
		g.V[i] = float32(float64(v) * s.HeightMetre)
	}
}
