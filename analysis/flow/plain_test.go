package flow

import (
	"math"
	"slices"

	"runnel/geo/grid"
)

// routePlainly is Route in the plainest way. allPairs has it look for passes
// between all neighbours, as textbooks do; where no two cells are level this must
// make no difference.
func routePlainly(ground grid.Ground, inlets []int32, allPairs bool) *Flow {
	p := plain{allPairs: allPairs, Flow: Flow{Ground: ground, Fall: grid.New[grid.Dir](ground.Frame)}, inlet: map[int32]bool{}}
	for _, c := range inlets {
		p.inlet[c] = !grid.IsNoData(ground.V[c])
	}
	p.fall()
	p.basins()
	p.fill()
	p.carve()
	p.count()
	return &p.Flow
}

// plain routes a ground step by step in the plainest way.
type plain struct {
	Flow
	allPairs bool
	inlet    map[int32]bool
	rise     []int32 // a level cell's place in the order of its flat
	basin    []int32 // the basin of each cell
}

// neighbours calls f with each neighbour of c that has a height, clockwise from north.
func (p *plain) neighbours(c int32, f func(d grid.Dir, n int32)) {
	x, y := int(c)%p.Ground.W, int(c)/p.Ground.W
	for d := range grid.Dir(8) {
		if nx, ny := x+grid.StepX[d], y+grid.StepY[d]; known(p.Ground, nx, ny) {
			f(d, int32(ny*p.Ground.W+nx))
		}
	}
}

// steepest returns the neighbour that z falls to the most for each metre, the
// first clockwise of equals; NoDir where z falls nowhere. Of those equally far it
// is the lowest, however little a float64 can tell of the falls.
func (p *plain) steepest(c int32, z func(c int32) float64) grid.Dir {
	length, offset := p.Ground.StepLengths(), p.Ground.StepOffsets()
	at := func(d grid.Dir) float64 { return z(c + int32(offset[d])) }
	lowest := map[float64]grid.Dir{} // by how far it is
	p.neighbours(c, func(d grid.Dir, n int32) {
		if low, found := lowest[length[d]]; z(n) < z(c) && (!found || z(n) < at(low)) {
			lowest[length[d]] = d
		}
	})
	best, most := grid.NoDir, 0.0
	for far, d := range lowest {
		if fall := (z(c) - at(d)) * (1 / far); fall > most || fall == most && d < best {
			best, most = d, fall
		}
	}
	return best
}

func (p *plain) fall() {
	g := p.Ground
	p.rise = make([]int32, g.Len())
	var level []int32
	for c := range int32(g.Len()) {
		d := &p.Fall.V[c]
		switch {
		case grid.IsNoData(g.V[c]):
			*d = grid.NoDir
			continue
		case p.inlet[c]:
			*d = grid.Stay
			continue
		}
		*d = p.steepest(c, func(c int32) float64 { return float64(g.V[c]) })
		if *d != grid.NoDir {
			continue
		}
		if x, y := int(c)%g.W, int(c)/g.W; isOutlet(g, x, y) {
			*d = wayOff(g, x, y)
			continue
		}
		*d = unsettled
		level = append(level, c)
	}
	for _, c := range level {
		if p.Fall.V[c] == unsettled {
			flat, exits := p.flat(c, func(n int32) bool { return p.Fall.V[n] == unsettled })
			if len(exits) == 0 {
				exits = flat[:1]
				for i, steps := range p.steps(flat, exits) {
					p.rise[flat[i]] = steps
				}
				p.Fall.V[c] = grid.Stay
				p.cross(p.Fall, flat[1:], flat)
				continue
			}
			p.gradients(flat, exits)
			p.cross(p.Fall, flat, append(flat, exits...))
		}
	}
}

// flat returns the level cells joined to c, in ascending order, and the other
// cells of their height beside them.
func (p *plain) flat(c int32, level func(n int32) bool) (flat, exits []int32) {
	seen := map[int32]bool{c: true}
	flat = []int32{c}
	for i := 0; i < len(flat); i++ {
		p.neighbours(flat[i], func(_ grid.Dir, n int32) {
			if seen[n] || p.Ground.V[n] != p.Ground.V[c] {
				return
			}
			seen[n] = true
			if level(n) {
				flat = append(flat, n)
			} else {
				exits = append(exits, n)
			}
		})
	}
	slices.Sort(flat)
	return flat, exits
}

// steps counts the steps to each cell of flat from the nearest of from, through flat.
func (p *plain) steps(flat, from []int32) []int32 {
	steps := map[int32]int32{}
	for _, c := range flat {
		steps[c] = -1
	}
	for _, c := range from {
		steps[c] = 0
	}
	for queue := slices.Clone(from); len(queue) > 0; queue = queue[1:] {
		p.neighbours(queue[0], func(_ grid.Dir, n int32) {
			if s, ok := steps[n]; ok && s < 0 {
				steps[n] = steps[queue[0]] + 1
				queue = append(queue, n)
			}
		})
	}
	list := make([]int32, len(flat))
	for i, c := range flat {
		list[i] = steps[c]
	}
	return list
}

// gradients sets the rises of a flat: twice the steps to the exits, and what the
// steps from higher ground lack to the most there are.
func (p *plain) gradients(flat, exits []int32) {
	var rim []int32
	for _, c := range flat {
		higher := false
		p.neighbours(c, func(_ grid.Dir, n int32) { higher = higher || p.Ground.V[n] > p.Ground.V[c] })
		if higher {
			rim = append(rim, c)
		}
	}
	away, toward := p.steps(flat, rim), p.steps(flat, exits)
	most := slices.Max(away)
	for i, c := range flat {
		p.rise[c] = 2 * toward[i]
		if away[i] >= 0 {
			p.rise[c] += most - away[i]
		}
	}
}

// cross points the cells of a flat down its rises; on are its cells and exits.
func (p *plain) cross(dir grid.Grid[grid.Dir], flat, on []int32) {
	in := map[int32]bool{}
	for _, c := range on {
		in[c] = true
	}
	for _, c := range flat {
		dir.V[c] = p.steepest(c, func(c int32) float64 {
			if !in[c] {
				return math.Inf(1)
			}
			return float64(p.rise[c])
		})
	}
}
