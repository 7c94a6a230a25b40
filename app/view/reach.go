package view

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/geo/grid"
)

// A reach is a water path from where it starts to where it joins a larger one
// or leaves the ground.
type reach struct {
	line orb.LineString
	// area is what drains through each point [m²]; it grows along the line.
	area  []float64
	bound orb.Bound
	// onset is the first point at which water has run together; joins is the
	// cell in which the reach meets a larger one, or -1.
	onset int
	joins int32
}

// fewest is the least number of cells that must drain through one before it is
// taken for a water path, and shareOfGround the least share of all cells.
// together is how many times wider than a cell the strip must be that drains
// to a path.
const (
	fewest        = 24
	shareOfGround = 1.0 / 60_000
	together      = 6
	// shortest is the least number of points: a stub says nothing.
	shortest = 4
)

// reaches joins cells into long paths: at a meeting the cell through which most
// drains carries on upstream as the same path. The largest path comes first.
func reaches(area grid.Grid[float64], dir grid.Grid[grid.Dir]) []reach {
	if area.Len() == 0 || area.Len() != dir.Len() {
		return nil
	}
	n := network{area: area, dir: dir, offset: dir.StepOffsets(),
		least: max(fewest, shareOfGround*float64(area.Len())) * area.CellArea()}
	n.link()
	slices.SortStableFunc(n.tails, func(a, b int32) int { return cmp.Compare(n.area.V[b], n.area.V[a]) })
	n.place = make(map[int32]spotOnReach)
	for _, tail := range n.tails {
		n.all = append(n.all, n.reach(tail))
	}
	return n.gathered()
}

// gathered returns what water runs together in: each reach from where it
// drains clearly more than a strip of ground one cell wide, or from where such
// a reach joins it. Even slopes, which eight directions cut into parallel
// strips, are left bare.
func (n *network) gathered() []reach {
	for i := len(n.all) - 1; i >= 0; i-- {
		r := &n.all[i]
		if into, ok := n.place[r.joins]; ok && r.onset < len(r.area) {
			parent := &n.all[into.reach]
			parent.onset = min(parent.onset, into.point)
		}
	}
	var kept []reach
	for _, r := range n.all {
		if len(r.line)-r.onset >= shortest {
			r.line, r.area = r.line[r.onset:], r.area[r.onset:]
			r.bound = r.line.Bound()
			kept = append(kept, r)
		}
	}
	return kept
}

// A network is the cells through which enough drains.
type network struct {
	area   grid.Grid[float64]
	dir    grid.Grid[grid.Dir]
	offset [8]int
	least  float64
	// donor is, for each cell, the neighbour that brings it most, or -1.
	donor []int32
	// tails are the last cells of all paths.
	tails []int32
	// all are the reaches found so far.
	all []reach
	// place is where the smoothed path runs through a cell that others join.
	place map[int32]spotOnReach
}

// A spotOnReach is a point of one of the reaches, by their places in the lists.
type spotOnReach struct{ reach, point int }

// receiver returns the cell that i drains to, or -1 where the path ends. It
// ends at the outermost cells: what runs on along the edge of the survey tells
// of the edge, not of the ground.
func (n *network) receiver(i int32) int32 {
	d := n.dir.V[i]
	if d > 7 {
		return -1
	}
	x, y := int(i)%n.dir.W, int(i)/n.dir.W
	if x == 0 || y == 0 || x == n.dir.W-1 || y == n.dir.H-1 {
		return -1
	}
	to := i + int32(n.offset[d])
	if !(n.area.V[to] >= n.area.V[i]) {
		return -1
	}
	return to
}

func (n *network) link() {
	n.donor = make([]int32, n.area.Len())
	for i := range n.donor {
		n.donor[i] = -1
	}
	for i, a := range n.area.V {
		if !(a >= n.least) {
			continue
		}
		if to := n.receiver(int32(i)); to >= 0 && (n.donor[to] < 0 || a > n.area.V[n.donor[to]]) {
			n.donor[to] = int32(i)
		}
	}
	for i, a := range n.area.V {
		if !(a >= n.least) {
			continue
		}
		if to := n.receiver(int32(i)); to < 0 || n.donor[to] != int32(i) {
			n.tails = append(n.tails, int32(i))
		}
	}
}

// reach walks up from a tail and turns round.
func (n *network) reach(tail int32) reach {
	var cells []int32
	for i := tail; i >= 0 && len(cells) < len(n.donor); i = n.donor[i] {
		cells = append(cells, i)
	}
	slices.Reverse(cells)
	r := reach{joins: n.receiver(tail)}
	for _, i := range cells {
		r.line = append(r.line, n.dir.Centre(int(i)%n.dir.W, int(i)/n.dir.W))
		r.area = append(r.area, n.area.V[i])
	}
	r.onset = n.onset(r)
	if r.joins >= 0 {
		r.end(n.junction(r.joins))
	} else if edge, ok := n.leaves(tail); ok {
		r.end(edge)
	}
	r.line = settle(r.line)
	for j, i := range cells {
		n.place[i] = spotOnReach{len(n.all), j}
	}
	return r
}

// end adds a last point through which as much drains as through the one before.
func (r *reach) end(p orb.Point) {
	r.line = append(r.line, p)
	r.area = append(r.area, r.area[len(r.area)-1])
}

// onset returns the first point of a reach at which water has run together, or
// the number of its points.
func (n *network) onset(r reach) int {
	// What drains to the head comes, at worst, down a strip one cell wide.
	width := math.Sqrt(n.dir.CellArea())
	length := r.area[0] / width
	for i, area := range r.area {
		if i > 0 {
			length += planar.Distance(r.line[i-1], r.line[i])
		}
		if area >= together*width*length {
			return i
		}
	}
	return len(r.area)
}

func (n *network) junction(cell int32) orb.Point {
	if p, ok := n.place[cell]; ok {
		return n.all[p.reach].line[p.point]
	}
	return n.dir.Centre(int(cell)%n.dir.W, int(cell)/n.dir.W)
}

// leaves returns where a path crosses the edge of the grid.
func (n *network) leaves(tail int32) (orb.Point, bool) {
	d := n.dir.V[tail]
	if d > 7 {
		return orb.Point{}, false
	}
	x, y := int(tail)%n.dir.W, int(tail)/n.dir.W
	p := n.dir.Centre(x, y)
	return orb.Point{p[0] + float64(grid.StepX[d])*n.dir.DX/2, p[1] - float64(grid.StepY[d])*n.dir.DY/2},
		!n.dir.In(x+grid.StepX[d], y+grid.StepY[d])
}

// settles is how often each point is drawn halfway to the middle of its
// neighbours. Six times spreads over some three cells to each side: enough for
// the steps between eight directions, too little to leave the valley.
const settles = 6

// settle takes the steps of a grid out of a line of cell centres; its ends stay.
func settle(line orb.LineString) orb.LineString {
	from, to := line, slices.Clone(line)
	for range settles {
		for i := 1; i < len(line)-1; i++ {
			a, b, c := from[i-1], from[i], from[i+1]
			to[i] = orb.Point{(a[0] + 2*b[0] + c[0]) / 4, (a[1] + 2*b[1] + c[1]) / 4}
		}
		from, to = to, slices.Clone(to)
	}
	return from
}

// from returns the part of a reach through which at least some area drains.
func (r reach) from(least float64) (orb.LineString, []float64) {
	i, _ := slices.BinarySearch(r.area, least)
	return r.line[i:], r.area[i:]
}

// largest returns what drains through the end of the reach [m²].
func (r reach) largest() float64 {
	if len(r.area) == 0 {
		return math.NaN()
	}
	return r.area[len(r.area)-1]
}
