package flow

import (
	"cmp"
	"math"
	"slices"

	"runnel/geo/grid"
)

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
