package pool

import (
	"context"
	"fmt"
	"slices"

	"runnel/analysis/channel"
	"runnel/analysis/earthwork"
	"runnel/geo/grid"
)

// DaysWet returns on how many days a year each cell of a ground is under water, NaN where
// it stays dry. Standing is for how many days the water of each pool stands above each of its
// stages, as a season has it. A cell is of the pool whose water comes to it when all are full.
func DaysWet(ctx context.Context, ground grid.Ground, n *channel.Network, pools []Pool, standing [][]float64) (grid.Ground, error) {
	if len(standing) != len(pools) {
		return grid.Ground{}, fmt.Errorf("days are given for %d pools of %d; give them for each", len(standing), len(pools))
	}
	for i := range pools {
		if len(standing[i]) != len(pools[i].Stages) {
			return grid.Ground{}, fmt.Errorf("days are given for %d of the %d stages of %s; give them for each", len(standing[i]), len(pools[i].Stages), pools[i].Title)
		}
	}
	bodies, _ := n.Bodies()
	levels := make([]float64, len(bodies))
	for i := range bodies {
		levels[i] = bodies[i].Level
		if k := holding(pools, i); k >= 0 {
			levels[i] = pools[k].Top().Level
		}
	}
	r, err := earthwork.Reach(ctx, ground, n.Filled(levels))
	if err != nil {
		return grid.Ground{}, err
	}
	out := grid.New[float32](ground.Frame)
	for i, by := range r.By {
		out.V[i] = grid.NoData
		if by < 0 {
			continue
		}
		b := &r.Beds[by]
		if k := poolOf(pools, b); k >= 0 {
			if days := pools[k].daysAbove(pools[k].levelOf(b, float64(r.Proposed.V[i])), standing[k]); days > 0 {
				out.V[i] = float32(days)
			}
		}
	}
	return out, nil
}

// holding returns the pool that a body is part of, -1 where it is withheld.
func holding(pools []Pool, body int) int {
	return slices.IndexFunc(pools, func(p Pool) bool { return slices.Contains(p.bodies, body) })
}

// poolOf returns the pool that a bed is of, -1 where it is withheld.
func poolOf(pools []Pool, b *channel.Bed) int {
	if b.Body >= 0 {
		return holding(pools, b.Body)
	}
	return slices.IndexFunc(pools, func(p Pool) bool { return p.Drain && p.Lines[0] == b.Line })
}

// levelOf returns the level of a pool at which its water comes to ground at a height [m]
// by a bed; in a drain it is a depth, as its stages have it.
func (p *Pool) levelOf(b *channel.Bed, z float64) float64 {
	switch {
	case !p.Drain:
		return z
	case p.Rest > 0 && b.Held >= b.Level && z <= b.Held:
		return p.Rest * max(0, z-p.heldFloor) / max(b.Held-p.heldFloor, flatStrip)
	}
	return p.Rest + (p.Running-p.Rest)*max(0, z-b.Level)/p.Running
}

// daysAbove returns for how many days water stands above a level [m].
func (p *Pool) daysAbove(level float64, standing []float64) float64 {
	if level <= p.Stages[0].Level {
		return standing[0]
	}
	for i := 1; i < len(p.Stages); i++ {
		a, b := p.Stages[i-1].Level, p.Stages[i].Level
		if level < b {
			return standing[i-1] + (standing[i]-standing[i-1])*(level-a)/(b-a)
		}
	}
	return 0
}
