package terrain

import (
	"context"
	"errors"
	"fmt"

	"runnel/analysis/internal/band"
	"runnel/geo/grid"
)

// Slope returns how steep each cell is, as rise over run in the steepest way
// [m/m]; NaN at no data ([Horn1981]).
func Slope(ctx context.Context, g grid.Ground) (grid.Ground, error) {
	if err := checkSlope(g); err != nil {
		return grid.Ground{}, fmt.Errorf("work out the slope: %w", err)
	}
	slope := grid.New[float32](g.Frame)
	err := band.Rows(ctx, g.H, func(lo, hi int) {
		for y := lo; y < hi; y++ {
			row := slope.Row(y)
			eachGradient(g, y, func(x int, rise gradient) { row[x] = float32(rise.slope()) })
		}
	})
	if err != nil {
		return grid.Ground{}, err
	}
	return slope, nil
}

func checkSlope(g grid.Ground) error {
	if err := g.Check(); err != nil {
		return err
	}
	if len(g.V) != g.Len() {
		return errors.New("the grid does not hold one height a cell")
	}
	return nil
}
