package flow

import "runnel/geo/grid"

// isOutlet reports whether (x, y) lies at the edge or beside no data.
func isOutlet(g grid.Ground, x, y int) bool {
	if x == 0 || y == 0 || x == g.W-1 || y == g.H-1 {
		return true
	}
	c := y*g.W + x
	for row := c - g.W; row <= c+g.W; row += g.W {
		// The sum of three heights is NaN when one of them is.
		if sum := g.V[row-1] + g.V[row] + g.V[row+1]; sum != sum {
			return true
		}
	}
	return false
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
