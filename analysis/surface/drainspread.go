package surface

import (
	"math"
	"slices"

	"runnel/geo/grid"
)

const (
	// spreadReach is how far from a way the ground moves with it [cells].
	spreadReach = 14
	// spreadSweeps are of Gauss and Seidel's method: so few that a change fades out
	// before it has come to its reach, and leaves no crease there.
	spreadSweeps = 30
)

// spread moves the ways, and the cells around them as a membrane would that is held
// where something was measured. Slack is used up by what moves.
func (d *drainage) spread() {
	free := d.near()
	slices.Sort(free)
	beside := make([][4]int32, len(free))
	for i, c := range free {
		beside[i] = d.sides(c)
	}
	for range spreadSweeps {
		for i, c := range free {
			b := &beside[i]
			d.shift[c] = (d.shift[b[0]] + d.shift[b[1]] + d.shift[b[2]] + d.shift[b[3]]) / 4
		}
	}
	d.restrain(d.ways)
	for _, c := range append(free, d.ways...) {
		d.ground.V[c] += d.shift[c]
		d.shift[c], d.part[c] = 0, still
	}
}

// gentle is how often shifts that go too far are made smaller before they are dropped.
const gentle = 3

// restrain takes back of the shifts of cells what would move something measured too
// far.
func (d *drainage) restrain(cells []int32) {
	for round, again := 0, true; again; round++ {
		again = false
		for _, c := range cells {
			for _, i := range d.held.of[d.held.first[c]:d.held.first[c+1]] {
				p := d.held.points[i]
				over := d.held.over(p, d.shift)
				if over == 0 {
					continue
				}
				again = true
				if round >= gentle {
					over = 1
				}
				for at := range d.held.share(p) {
					d.shift[at] *= float32(1 - over)
				}
			}
		}
	}
}

// near returns the cells around the ways where nothing was measured.
func (d *drainage) near() []int32 {
	var all []int32
	ring := d.ways
	for range spreadReach {
		var next []int32
		for _, c := range ring {
			for at := range d.around(c) {
				if d.part[at] == still && !grid.IsNoData(d.ground.V[at]) && !d.held.measured(at) {
					d.part[at] = moves
					next = append(next, at)
				}
			}
		}
		all = append(all, next...)
		ring = next
	}
	return all
}

// sides returns the cells north, west, east and south of one. Where there is none, or
// none with a height, the cell itself stands in, so that nothing pulls from there.
func (d *drainage) sides(c int32) [4]int32 {
	w := int32(d.ground.W)
	x, y := c%w, c/w
	out := [4]int32{c - w, c - 1, c + 1, c + w}
	for i, in := range [4]bool{y > 0, x > 0, x < w-1, int(y) < d.ground.H-1} {
		if !in || grid.IsNoData(d.ground.V[out[i]]) {
			out[i] = c
		}
	}
	return out
}

// fill fills the pools that are left, from the cell they spill from on, each cell a
// bit higher than the one it drains to, as [Barnes2014] does.
func (d *drainage) fill() {
	for _, p := range d.pools {
		if !p.kept && d.fillable(p) {
			d.fillPool(p)
		}
	}
}

// fillable reports whether filling a pool moves nothing measured too far.
func (d *drainage) fillable(p pool) bool {
	for _, c := range p.cells {
		d.shift[c] = p.brim - d.ground.V[c]
	}
	over := false
	for _, c := range p.cells {
		for _, i := range d.held.of[d.held.first[c]:d.held.first[c+1]] {
			over = over || d.held.over(d.held.points[i], d.shift) > 0
		}
	}
	for _, c := range p.cells {
		d.shift[c] = 0
	}
	return !over
}

func (d *drainage) fillPool(p pool) {
	seen := make(map[int32]bool, len(p.cells))
	// It spills from a cell beside the pool that is as high as its brim.
	for _, c := range p.cells {
		for at := range d.around(c) {
			if !seen[at] && d.ground.V[at] == p.brim {
				seen[at] = true
				d.queue.Push(p.brim, at)
			}
		}
	}
	number := d.pool[p.pit]
	for d.queue.Len() > 0 {
		c := d.queue.Pop()
		least := math.Nextafter32(d.ground.V[c], float32(math.Inf(1)))
		for at := range d.around(c) {
			if !seen[at] && d.pool[at] == number {
				seen[at] = true
				d.ground.V[at] = max(d.ground.V[at], least)
				d.queue.Push(d.ground.V[at], at)
			}
		}
	}
}
