package flow

import (
	"context"
	"fmt"
	"math"
	"math/bits"
	"slices"

	"runnel/geo/grid"
)

// lower tells of 64 cells in a row, one bit each, whether the neighbours to the
// east, south-east, south and south-west are lower. The other four neighbours
// are lower where the cell is not lower than they.
type lower struct{ e, se, s, sw uint64 }

// fall points each cell down its steepest way ([OCallaghan1984]) and notes which
// neighbours are lower. Level cells, which have none that is lower and one that
// is as high, are left unsettled.
func (r *Router) fall(ctx context.Context) error {
	err := r.eachDue(ctx, func(s *strip, d *desk) {
		s.fault, s.level, s.pit = -1, s.level[:0], s.pit[:0]
		if !r.fallByVectors(s, &d.vectors) && !r.fallByKeys(s, &d.keys) {
			r.fallByHeights(s, &d.keys)
		}
		for _, c := range r.inlets(r.cells(s)) {
			r.flow.Fall.V[c] = grid.Stay
		}
		s.pit = slices.DeleteFunc(s.pit, r.isInlet)
	})
	if err != nil {
		return err
	}
	for _, i := range r.due {
		if s := &r.strips[i]; s.fault >= 0 {
			w := r.flow.Fall.W
			return fmt.Errorf("find the ways of the water: the height at column %d, row %d is infinite; give a height or no data",
				int(s.fault)%w, int(s.fault)/w)
		}
	}
	return nil
}

// fallByHeights is fall for strips of any cells and heights. It is the plain form
// of fallByKeys and of fallByVectors, which answer the same in every bit.
func (r *Router) fallByHeights(s *strip, k *keys) {
	g := r.flow.Ground
	for y := s.lo; y < s.hi; y++ {
		clear(r.plane[y*r.words : (y+1)*r.words])
		row := r.flow.Fall.Row(y)
		k.stuck = resize(k.stuck, r.words)
		clear(k.stuck)
		r.holed[y] = false
		for x, z := range g.Row(y) {
			if grid.IsNoData(z) {
				r.holed[y] = true
				r.plane[y*r.words+x/64].markAll(x)
				continue
			}
			if math.IsInf(float64(z), 0) {
				s.fault = int32(y*g.W + x)
			}
			if row[x] = r.steepest(x, y); row[x] == unsettled {
				k.stuck[x/64] |= 1 << (x % 64)
			}
		}
		r.settle(s, y, k.stuck)
	}
}

// markMissing notes in r.holed and in the planes the cells of row y that have no
// data. It reports whether all other heights are finite.
func (r *Router) markMissing(y int) (finite bool) {
	for x, z := range r.flow.Ground.Row(y) {
		if math.IsInf(float64(z), 0) {
			return false
		}
		if grid.IsNoData(z) {
			r.holed[y] = true
			r.plane[y*r.words+x/64].markAll(x)
		}
	}
	return true
}

// markAll notes that all neighbours of column x are lower, as for no data.
func (l *lower) markAll(x int) {
	for d := grid.Dir(2); d < 6; d++ {
		l.mark(x, d)
	}
}

// mark notes that the neighbour of column x in direction d is lower.
func (l *lower) mark(x int, d grid.Dir) {
	bit := uint64(1) << (x % 64)
	switch d {
	case 2:
		l.e |= bit
	case 3:
		l.se |= bit
	case 4:
		l.s |= bit
	case 5:
		l.sw |= bit
	}
}

// steepest returns the steepest way down from (x, y), unsettled for none, and
// notes the lower neighbours. Of neighbours equally far the lowest is taken, even
// where their falls differ by less than a float64 can tell; of equally low ones,
// and then of equally steep ways, the first.
func (r *Router) steepest(x, y int) grid.Dir {
	g := r.flow.Ground
	z, lower := g.At(x, y), &r.plane[y*r.words+x/64]
	lowest, way := [3]float32{z, z, z}, [3]grid.Dir{unsettled, unsettled, unsettled}
	for d := range grid.Dir(8) {
		nx, ny := x+grid.StepX[d], y+grid.StepY[d]
		if !g.In(nx, ny) || !(g.At(nx, ny) < z) {
			continue
		}
		lower.mark(x, d)
		far := slices.Index(r.perMetre[:3], r.perMetre[d])
		if n := g.At(nx, ny); n < lowest[far] {
			lowest[far], way[far] = n, d
		}
	}
	best, most := unsettled, 0.0
	for far, d := range way {
		fall := (float64(z) - float64(lowest[far])) * r.perMetre[far]
		if fall > most || fall == most && d < best {
			best, most = d, fall
		}
	}
	return best
}

// settle finishes row y, given its cells that have no lower neighbour: outlets,
// pits of one cell, level cells, and cells of no data.
func (r *Router) settle(s *strip, y int, stuck []uint64) {
	g, row := r.flow.Ground, r.flow.Fall.Row(y)
	for i, word := range stuck {
		for ; word != 0; word &= word - 1 {
			x := i*64 + bits.TrailingZeros64(word)
			switch c := y*g.W + x; {
			case grid.IsNoData(g.V[c]): // seen to below
			case isOutlet(g, x, y):
				row[x] = wayOff(g, x, y)
			default:
				higher := higherAround(g.V, c, g.W)
				if row[x] = grid.Stay; higher == 255 {
					s.pit = append(s.pit, int32(c))
					continue
				}
				row[x] = unsettled
				s.level = append(s.level, int32(c))
				r.flow.Dir.V[c] = grid.Dir(higher) // for gather
			}
		}
	}
	if r.holed[y] {
		for x, z := range g.Row(y) {
			if grid.IsNoData(z) {
				row[x] = grid.NoDir
			}
		}
	}
}
