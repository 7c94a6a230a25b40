package flow

import (
	"context"
	"errors"
	"fmt"

	"runnel/analysis/internal/band"
	"runnel/geo/grid"
)

// unsettled marks, while directions are being found, a cell inside that has no
// lower neighbour on the filled surface.
const unsettled grid.Dir = 254

// Directions returns the way that each cell drains, given the ground and its
// filled surface. Cells of no data have grid.NoDir.
func Directions(ctx context.Context, ground, filled grid.Ground) (grid.Grid[grid.Dir], error) {
	if err := checkPair(ground, filled); err != nil {
		return grid.Grid[grid.Dir]{}, fmt.Errorf("find the ways of the water: %w", err)
	}
	r := router{ground: ground, filled: filled, dir: grid.New[grid.Dir](ground.Frame), offset: ground.StepOffsets()}
	for d, length := range ground.StepLengths() {
		r.perMetre[d] = 1 / length
	}
	if err := band.Rows(ctx, ground.H, r.descend); err != nil {
		return grid.Grid[grid.Dir]{}, err
	}
	if err := r.crossFlats(ctx); err != nil {
		return grid.Grid[grid.Dir]{}, err
	}
	return r.dir, nil
}

func checkPair(ground, filled grid.Ground) error {
	if err := check(ground); err != nil {
		return err
	}
	if filled.Frame != ground.Frame || len(filled.V) != len(ground.V) {
		return errors.New("the filled surface lies on other cells than the ground; fill this ground and give both")
	}
	return nil
}

// A router finds the direction of every cell of one ground.
type router struct {
	ground, filled grid.Ground
	dir            grid.Grid[grid.Dir]
	offset         [8]int
	perMetre       [8]float64 // 1 / the length of a step [1/m]
}

// descend sets the directions of rows [lo, hi) by steepest descent, and marks the
// cells that have none as unsettled.
//
// A step is taken only to a neighbour that is lower on the filled surface. So
// the filled surface falls along every path, and no path comes round again,
// though the steepness compared is the ground's own.
func (r *router) descend(lo, hi int) {
	for y := lo; y < hi; y++ {
		row := r.dir.Row(y)
		for x := range row {
			switch {
			case grid.IsNoData(r.ground.At(x, y)):
				row[x] = grid.NoDir
			case x == 0 || y == 0 || x == r.ground.W-1 || y == r.ground.H-1:
				row[x] = r.descendAtEdge(x, y)
			default:
				row[x] = r.descendInside(x, y)
			}
		}
	}
}

// descendInside returns the direction of a cell that has eight neighbours.
func (r *router) descendInside(x, y int) grid.Dir {
	c := y*r.ground.W + x
	top, z := r.filled.V[c], float64(r.ground.V[c])
	best, steepest := unsettled, -1.0
	for d, off := range r.offset {
		if !(r.filled.V[c+off] < top) {
			continue
		}
		if slope := (z - float64(r.ground.V[c+off])) * r.perMetre[d]; slope > steepest {
			best, steepest = grid.Dir(d), slope
		}
	}
	if best == unsettled && isOutlet(r.ground, x, y) {
		return wayOff(r.ground, x, y)
	}
	return best
}

// descendAtEdge is descendInside for a cell with some neighbours off the grid.
func (r *router) descendAtEdge(x, y int) grid.Dir {
	c := y*r.ground.W + x
	top, z := r.filled.V[c], float64(r.ground.V[c])
	best, steepest := unsettled, -1.0
	for d, off := range r.offset {
		if !r.ground.In(x+grid.StepX[d], y+grid.StepY[d]) || !(r.filled.V[c+off] < top) {
			continue
		}
		if slope := (z - float64(r.ground.V[c+off])) * r.perMetre[d]; slope > steepest {
			best, steepest = grid.Dir(d), slope
		}
	}
	if best == unsettled {
		return wayOff(r.ground, x, y)
	}
	return best
}

// wayOff returns the direction in which outlet (x, y) leaves the ground: of the
// sides that lie open, the one that carries on the steepest fall from the cell
// opposite. A corner counts where both sides next to it lie open, or where no
// side does.
func wayOff(g grid.Ground, x, y int) grid.Dir {
	var open [8]bool
	sides := 0
	for d := range open {
		open[d] = !known(g, x+grid.StepX[d], y+grid.StepY[d])
		if open[d] && d%2 == 0 {
			sides++
		}
	}
	length := g.StepLengths()
	best, steepest := grid.NoDir, 0.0
	for d := range open {
		if !open[d] || d%2 == 1 && sides > 0 && !(open[d-1] && open[(d+1)&7]) {
			continue
		}
		fall := 0.0
		if bx, by := x-grid.StepX[d], y-grid.StepY[d]; known(g, bx, by) {
			fall = (float64(g.At(bx, by)) - float64(g.At(x, y))) / length[d]
		}
		if best == grid.NoDir || fall > steepest {
			best, steepest = grid.Dir(d), fall
		}
	}
	return best
}

// known reports whether (x, y) is a cell that has a height.
func known(g grid.Ground, x, y int) bool {
	return g.In(x, y) && !grid.IsNoData(g.At(x, y))
}
