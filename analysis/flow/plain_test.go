package flow

import (
	"cmp"
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
// first clockwise of equals; NoDir where z falls nowhere.
func (p *plain) steepest(c int32, z func(c int32) float64) grid.Dir {
	best, most, length := grid.NoDir, 0.0, p.Ground.StepLengths()
	p.neighbours(c, func(d grid.Dir, n int32) {
		if fall := (z(c) - z(n)) * (1 / length[d]); fall > most {
			best, most = d, fall
		}
	})
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

// compare orders cells by height, then by rise, then by index.
func (p *plain) compare(a, b int32) int {
	return cmp.Or(cmp.Compare(p.Ground.V[a], p.Ground.V[b]), cmp.Compare(p.rise[a], p.rise[b]), cmp.Compare(a, b))
}

// A saddlePass is a place where two basins, or a basin and outside, meet.
type saddlePass struct {
	cell, beyond int32 // beyond is -1 off the ground
	a, b         int32 // the basins
	d            grid.Dir
}

func (p *plain) basins() {
	g := p.Ground
	p.basin = make([]int32, g.Len())
	number := map[int32]int32{}
	for c, d := range p.Fall.V {
		if d == grid.Stay && !p.inlet[int32(c)] {
			number[int32(c)] = int32(len(p.Basins.Pit))
			p.Basins.Pit = append(p.Basins.Pit, int32(c))
		}
	}
	for c, d := range p.Fall.V {
		p.basin[c] = Outside
		if d == grid.NoDir {
			continue
		}
		cells := Trace(p.Fall, c%g.W, c/g.W)
		if b, ok := number[cells[len(cells)-1]]; ok {
			p.basin[c] = b
		}
	}
	p.span(p.passes())
}

// opensRun reports whether the neighbour of c in direction d is the first,
// clockwise from north, of a set of lower neighbours that are neighbours of each
// other, and the cell that c falls to is in another.
func (p *plain) opensRun(c int32, d grid.Dir) bool {
	at := map[grid.Dir]int32{}
	p.neighbours(c, func(d grid.Dir, n int32) {
		if p.compare(n, c) < 0 {
			at[d] = n
		}
	})
	in := map[grid.Dir]bool{d: true}
	for range 8 {
		for a := range at {
			for b := range in {
				dx, dy := grid.StepX[a]-grid.StepX[b], grid.StepY[a]-grid.StepY[b]
				if max(dx, -dx, dy, -dy) <= 1 {
					in[a] = true
				}
			}
		}
	}
	for a := range in {
		if a < d || a == p.Fall.V[c] {
			return false
		}
	}
	return true
}

// passes lists the passes from the lowest on.
func (p *plain) passes() []saddlePass {
	var list []saddlePass
	for c := range int32(p.Ground.Len()) {
		if p.Fall.V[c] == grid.NoDir {
			continue
		}
		own := p.basin[c]
		p.neighbours(c, func(d grid.Dir, n int32) {
			if p.compare(n, c) < 0 && p.basin[n] != own && (p.allPairs || p.opensRun(c, d)) {
				list = append(list, saddlePass{c, n, own, p.basin[n], d})
			}
		})
		if isOutlet(p.Ground, int(c)%p.Ground.W, int(c)/p.Ground.W) && own != Outside {
			list = append(list, saddlePass{c, -1, own, Outside, grid.Stay})
		}
	}
	slices.SortFunc(list, func(a, b saddlePass) int {
		return cmp.Or(cmp.Compare(p.Ground.V[a.cell], p.Ground.V[b.cell]), cmp.Compare(a.cell, b.cell), cmp.Compare(a.d, b.d))
	})
	return list
}

// span finds the minimum spanning tree of the passes by Kruskal's algorithm, and
// roots it outside.
func (p *plain) span(list []saddlePass) {
	n := int32(len(p.Basins.Pit))
	group := make([]int32, n+1) // of basin b at b+1
	for i := range group {
		group[i] = int32(i)
	}
	find := func(i int32) int32 {
		for group[i] != i {
			group[i] = group[group[i]]
			i = group[i]
		}
		return i
	}
	at := make([][]saddlePass, n+1)
	for _, e := range list {
		if a, b := find(e.a+1), find(e.b+1); a != b {
			group[b] = a
			at[e.a+1] = append(at[e.a+1], e)
			at[e.b+1] = append(at[e.b+1], saddlePass{e.beyond, e.cell, e.b, e.a, e.d})
		}
	}
	p.Basins.Way = make([]Way, n)
	for queue := []int32{Outside}; len(queue) > 0; queue = queue[1:] {
		b := queue[0]
		for _, e := range at[b+1] {
			if e.b == Outside || b != Outside && e.b == p.Basins.Way[b].Parent {
				continue
			}
			height := float32(math.Inf(-1))
			for _, c := range []int32{e.cell, e.beyond} {
				if c >= 0 {
					height = max(height, p.Ground.V[c])
				}
			}
			w := Way{Parent: b, From: e.beyond, To: e.cell, Pass: height, Level: height}
			if b != Outside {
				w.Level = max(height, p.Basins.Way[b].Level)
			}
			p.Basins.Way[e.b] = w
			queue = append(queue, e.b)
		}
	}
}

func (p *plain) fill() {
	p.Filled = p.Ground.Clone()
	for b, pit := range p.Basins.Pit {
		level := p.Basins.Way[b].Level
		for lake := []int32{pit}; len(lake) > 0; {
			c := lake[len(lake)-1]
			lake = lake[:len(lake)-1]
			if p.Filled.V[c] >= level {
				continue
			}
			p.Filled.V[c] = level
			p.neighbours(c, func(_ grid.Dir, n int32) { lake = append(lake, n) })
		}
	}
}

// carve turns the path from each basin's way out down to its floor about, and
// leads the floor, where it is level, to the foot of that path.
func (p *plain) carve() {
	g := p.Ground
	p.Dir = p.Fall.Clone()
	for b, pit := range p.Basins.Pit {
		w := p.Basins.Way[b]
		out := grid.NoDir
		if x, y := int(w.From)%g.W, int(w.From)/g.W; w.To < 0 {
			out = wayOff(g, x, y)
		} else {
			p.neighbours(w.From, func(d grid.Dir, n int32) {
				if n == w.To {
					out = d
				}
			})
		}
		c := w.From
		for ; ; c += int32(g.StepOffsets()[p.Fall.V[c]]) {
			p.Dir.V[c] = out
			if g.V[c] == g.V[pit] {
				break
			}
			out = p.Fall.V[c].Back()
		}
		if floor, _ := p.flat(pit, func(n int32) bool { return true }); len(floor) > 1 {
			out := p.Dir.V[c]
			p.gradients(floor, []int32{c})
			p.rise[c] = 0
			p.cross(p.Dir, floor, floor)
			p.Dir.V[c] = out
		}
	}
}

func (p *plain) count() {
	p.Cells = grid.New[uint32](p.Ground.Frame)
	for c, d := range p.Dir.V {
		if d == grid.NoDir {
			continue
		}
		for _, n := range Trace(p.Dir, c%p.Dir.W, c/p.Dir.W) {
			p.Cells.V[n]++
		}
	}
}
