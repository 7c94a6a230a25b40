package terrain

import (
	"context"
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"runnel/geo/grid"
)

// A Contour is all the lines of one level.
type Contour struct {
	// Level is the height that the lines run at [m].
	Level float64
	// Index marks every fifth level, counted from 0, which is drawn heavier.
	Index bool
	// Lines have the higher ground on their right; closed ones end where they begin.
	Lines []orb.LineString
}

// MaxContours is how many levels Contours draws at most.
const MaxContours = 2000

// hair is how far below its level a contour runs, in intervals. So no line runs
// through a cell's centre where heights are whole multiples of the interval, as
// in surveys kept to the decimetre; lines would touch there.
const hair = 1.0 / 8192

// Contours returns the contours at whole multiples of the interval [m], lowest
// first, those without a line left out. Lines never cross.
//
// They are drawn by marching squares between the centres of cells, on the ground
// averaged over 3 by 3 cells with weights 1, 2, 1 each way: a plane keeps its
// contours, while the noise of the survey does not fray them.
func Contours(ctx context.Context, g grid.Ground, interval float64) ([]Contour, error) {
	if err := checkContours(g, interval); err != nil {
		return nil, fmt.Errorf("draw contours: %w", err)
	}
	smooth, err := averaged(ctx, g)
	if err != nil {
		return nil, err
	}
	low, high, known := grid.Extent(smooth)
	if known == 0 {
		return nil, nil
	}
	first := int(math.Ceil(low / interval))
	m := march{ground: smooth, interval: interval, first: first}
	m.sides = make([][]side, max(0, int(math.Floor(high/interval+hair))-first+1))
	if err := m.squares(ctx); err != nil {
		return nil, err
	}
	var contours []Contour
	for i, sides := range m.sides {
		if len(sides) == 0 {
			continue
		}
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		k := first + i
		contours = append(contours, Contour{Level: float64(k) * interval, Index: k%5 == 0, Lines: m.join(k, sides)})
	}
	return contours, nil
}

func checkContours(g grid.Ground, interval float64) error {
	if err := g.Check(); err != nil {
		return err
	}
	if len(g.V) != g.Len() {
		return fmt.Errorf("the grid of %d by %d cells holds %d heights; it needs one a cell", g.W, g.H, len(g.V))
	}
	if !(interval > 0) || math.IsInf(interval, 0) {
		return fmt.Errorf("the interval is %g m; give more than 0", interval)
	}
	low, high, known := grid.Extent(g)
	switch {
	case known == 0:
		return nil
	case math.IsInf(low, 0) || math.IsInf(high, 0):
		return fmt.Errorf("the ground goes from %g to %g m; mark cells of no height as no data", low, high)
	case max(math.Abs(low), math.Abs(high))/interval > 1e9: // beyond, float32 heights do not tell levels apart
		return fmt.Errorf("the interval of %g m is too fine for heights of %g to %g m; choose %g m or more",
			interval, low, high, Interval(low, high))
	case (high-low)/interval > MaxContours:
		return fmt.Errorf("an interval of %g m gives %.0f contours between %.2f and %.2f m, more than the %d that are drawn; choose %g m or more",
			interval, (high-low)/interval, low, high, MaxContours, Interval(low, high))
	}
	return nil
}

// Interval returns the interval [m], 1, 2 or 5 times a power of ten, that gives
// 15 to 40 contours between two heights; 1 when there is no height between them.
func Interval(low, high float64) float64 {
	const fewest = 15
	most := (high - low) / fewest
	if !(most > 0) || math.IsInf(most, 0) {
		return 1
	}
	power := math.Pow(10, math.Floor(math.Log10(most)))
	for _, times := range []float64{10, 5, 2} {
		// A hair's grace, for a quotient that rounding left just short.
		if times*power <= most*(1+1e-9) {
			return times * power
		}
	}
	return power
}
