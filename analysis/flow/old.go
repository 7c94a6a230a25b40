package flow

import (
	"context"

	"runnel/geo/grid"
)

// Fill returns the lowest surface [m] that is nowhere below the ground and from
// whose every cell water runs, never upward, to the edge or to no data.
func Fill(ctx context.Context, ground grid.Ground) (grid.Ground, error) {
	f, err := Route(ctx, ground, Options{})
	if err != nil {
		return grid.Ground{}, err
	}
	return f.Filled, nil
}

// Directions returns the way that each cell drains once every hollow is full.
func Directions(ctx context.Context, ground, _ grid.Ground) (grid.Grid[grid.Dir], error) {
	f, err := Route(ctx, ground, Options{})
	if err != nil {
		return grid.Grid[grid.Dir]{}, err
	}
	return f.Dir, nil
}
