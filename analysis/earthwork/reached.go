package earthwork

import (
	"context"

	"runnel/analysis/channel"
	"runnel/geo/grid"
)

// Reached is which water comes to each cell of a ground.
type Reached struct {
	// Proposed is the ground with the network in it.
	Proposed grid.Ground
	// Beds are those from which water comes, By the number of the one whose water comes
	// to a cell, -1 where the cell is dry.
	Beds []channel.Bed
	By   []int32
}

// Reach stands the water of a network on a ground, as Stand does, and tells for each cell
// from where it comes.
func Reach(ctx context.Context, ground grid.Ground, n *channel.Network) (Reached, error) {
	if err := ground.Check(); err != nil {
		return Reached{}, err
	}
	bare, err := shape(ctx, ground, n)
	if err != nil {
		return Reached{}, err
	}
	r := Reached{Proposed: wall(bare, n)}
	f := flood{natural: ground, ground: bare, walled: r.Proposed, owner: make([]int32, ground.Len())}
	for _, b := range n.Beds(min(ground.DX, ground.DY)) {
		if b.Water > b.Level {
			r.Beds = append(r.Beds, b)
			f.seeds = append(f.seeds, Seed{b.At, b.Water, b.Reach, b.Runs})
		}
	}
	if err := f.spread(ctx); err != nil {
		return Reached{}, err
	}
	for i, k := range f.owner {
		f.owner[i] = max(k, 0) - 1
	}
	r.By = f.owner
	return r, nil
}
