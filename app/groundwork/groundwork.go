// Package groundwork makes a site's ground of what was measured: it looks for faults
// in the measurements, leaves out what was agreed to, makes the surface and finds how
// far it can be trusted. The window and the command line both make theirs here, so
// that one survey gives one ground.
package groundwork

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strconv"

	"github.com/paulmach/orb"

	"runnel/analysis/accuracy"
	"runnel/analysis/surface"
	"runnel/app/work"
	"runnel/geo/grid"
	"runnel/geo/survey"
)

// Options say how a ground is made. The zero Options keep all that was measured, lay
// the ground round it in cells that suit it, and make the smoothest surface.
type Options struct {
	// Cell is the size of a cell [m]; 0 is chosen from how close the measurements lie.
	Cell float64
	// Bound is the part of the ground to make; empty is round all that was measured.
	Bound orb.Bound
	// Tension is from 0, the smoothest, to 1; a negative one is chosen by leaving
	// measurements out.
	Tension float64
	// Leave says of a fault whether what it names is left out; nil leaves nothing out.
	Leave func(accuracy.Fault) bool
	// Progress is told how far the work has come; it may be nil.
	Progress func(work.Progress)
}

// Made is a ground, what it rests on, and what was found on the way.
type Made struct {
	Ground grid.Ground
	// Survey is what was measured, with what was left out marked and its Quality.
	Survey survey.Survey
	// Faults are all that were found, those that were left out with them.
	Faults []accuracy.Fault
	// Left counts the lines and spots that were left out by this.
	Left int
	// Sunk counts the hollows that were let out, as no measurement calls for them, and
	// Stayed those that were not.
	Sunk, Stayed int
}

// A stage is a part of the work with the shares at which it begins and ends.
type stage struct {
	doing    string
	from, to float64
}

// The stages, with rough shares of the time: judging makes the ground again and again.
var (
	looking = stage{"Looking for faults in the measurements", 0, 0.1}
	making  = stage{"Making the ground", 0.1, 0.5}
	judging = stage{"Finding how well the ground is known", 0.5, 1}
)

// Make makes a ground of what was measured.
func Make(ctx context.Context, s survey.Survey, o Options) (Made, error) {
	if err := o.check(s); err != nil {
		return Made{}, err
	}
	o.tell(looking)(0)
	faults, err := accuracy.Faults(ctx, s)
	if err != nil {
		return Made{}, err
	}
	kept := LeftOut(s, faults, o.Leave)
	if err := spread(kept, faults); err != nil {
		return Made{}, err
	}
	frame, err := Frame(kept, o.Cell, o.Bound)
	if err != nil {
		return Made{}, err
	}
	if !frame.Bound().Intersects(kept.Bound()) {
		return Made{}, errors.New("the ground that is asked for holds nothing that was measured; check its bounds, or leave them out for all of it")
	}
	surfaced, err := surface.Make(ctx, kept, frame, surface.Options{Tension: o.Tension, Progress: o.tell(making)})
	if err != nil {
		return Made{}, err
	}
	if kept.Quality, err = accuracy.Estimate(ctx, kept, surfaced, o.tell(judging)); err != nil {
		return Made{}, err
	}
	kept.Quality.Error, kept.Quality.Reach = figures(kept.Quality.Error), figures(kept.Quality.Reach)
	return Made{
		Ground: surfaced.Ground, Survey: kept, Faults: faults, Left: kept.LeftOut() - s.LeftOut(), Sunk: surfaced.Sunk, Stayed: surfaced.Stayed,
	}, nil
}

// figures rounds a length [m] to the three figures that an estimate can bear.
func figures(v float64) float64 {
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 3, 64), 64)
	if err != nil {
		return v
	}
	return rounded
}

// tell returns what a stage of the work tells its own share to.
func (o Options) tell(s stage) func(share float64) {
	return func(share float64) {
		if o.Progress != nil {
			o.Progress(work.Progress{Fraction: s.from + share*(s.to-s.from), Text: s.doing})
		}
	}
}

func (o Options) check(s survey.Survey) error {
	b := o.Bound
	switch {
	case !s.Measured():
		return errors.New("nothing was measured that a ground can be made of; bring in contours or points first")
	case math.IsNaN(o.Cell) || math.IsInf(o.Cell, 0) || o.Cell < 0:
		return fmt.Errorf("the cell is %g m; give a length of more than 0, or leave it out to have it chosen", o.Cell)
	case math.IsNaN(o.Tension) || o.Tension > 1:
		return fmt.Errorf("the tension is %g; give a figure from 0, the smoothest, to 1, or leave it out to have it chosen", o.Tension)
	case b != orb.Bound{} && !(b.Min[0] < b.Max[0] && b.Min[1] < b.Max[1]):
		return errors.New("the part of the ground to make has no size; west must be less than east, and south less than north")
	}
	return nil
}

// Frame lays out the cells of a ground. Its edges are whole multiples of the cell, so
// that grounds made of one survey at one size lie cell on cell.
func Frame(s survey.Survey, cell float64, b orb.Bound) (grid.Frame, error) {
	if absurd(s.Bound()) {
		s = used(s)
	}
	f, err := surface.FrameFor(s, cell)
	if err != nil || b == (orb.Bound{}) {
		return f, err
	}
	cell = f.DX
	west, north := math.Floor(b.Min[0]/cell+whole)*cell, math.Ceil(b.Max[1]/cell-whole)*cell
	columns, rows := math.Ceil((b.Max[0]-west)/cell-whole), math.Ceil((north-b.Min[1])/cell-whole)
	if columns*rows > grid.MaxCells {
		return grid.Frame{}, fmt.Errorf("the grid is %.0f by %.0f cells, more than the %d million that fit in memory; cut it to the site or choose a larger cell",
			columns, rows, grid.MaxCells/1_000_000)
	}
	f = grid.Square(int(columns), int(rows), west, north, cell)
	return f, f.Check()
}

// whole is the part of a cell by which an edge may be off a whole number of cells and
// still count as on it: what the division leaves.
const whole = 1e-6

// LeftOut marks as left out what those faults name that leave agrees to.
func LeftOut(s survey.Survey, faults []accuracy.Fault, leave func(accuracy.Fault) bool) survey.Survey {
	if leave == nil {
		return s
	}
	var agreed []accuracy.Fault
	for _, f := range faults {
		if leave(f) {
			agreed = append(agreed, f)
		}
	}
	if len(agreed) == 0 {
		return s
	}
	return accuracy.LeftOut(s, agreed)
}

// Proposed agrees to leave out all that is proposed.
func Proposed(f accuracy.Fault) bool { return f.Leave }
