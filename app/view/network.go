package view

import (
	"cmp"
	"context"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/geo/grid"
)

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

func fewestIn(f grid.Frame) float64 { return max(fewest, shareOfGround*float64(f.Len())) }

// LeastCourse returns the area that must drain through a cell before its water is
// taken to have run together, whatever its way [m²]: what two strips do, each a
// cell wide and as long as the ground, so that no even slope counts.
func LeastCourse(f grid.Frame) float64 {
	return max(fewestIn(f), 2*float64(max(f.W, f.H))) * f.CellArea()
}

// reaches joins cells into long paths: at a meeting the cell through which most
// drains carries on upstream as the same path. The largest path comes first.
func reaches(ctx context.Context, cells grid.Grid[uint32], dir grid.Grid[grid.Dir]) ([]reach, error) {
	if cells.Len() == 0 || cells.Len() != dir.Len() {
		return nil, nil
	}
	n := network{cells: cells, dir: dir, offset: dir.StepOffsets(), least: uint32(fewestIn(dir.Frame))}
	n.list()
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	n.link()
	slices.SortStableFunc(n.tails, func(a, b int32) int { return cmp.Compare(n.through(b), n.through(a)) })
	for _, tail := range n.tails {
		n.grow(tail)
	}
	n.gather()
	return n.draw(), ctx.Err()
}

// A network is the cells through which enough drains. They are known by their
// places in its list, course; -1 stands for none.
type network struct {
	cells  grid.Grid[uint32]
	dir    grid.Grid[grid.Dir]
	offset [8]int
	// least is how many cells are enough.
	least uint32
	// course lists the cells; listed is where each cell of the grid stands in it,
	// counted from 1.
	course, listed []int32
	// donor is the neighbour that brings each most.
	donor []int32
	// tails are the last cells of all paths.
	tails []int32
	stems []stem
	// grown holds the cells of the stems, one after another.
	grown []int32
	// place is where each stands on its stem.
	place []spotOnStem
}

// A stem is the cells of a path, the last of which joins a larger one or ends.
type stem struct {
	cells []int32
	// joins is the cell in which it meets the larger one, or -1.
	joins int32
	// onset is the place of the first cell in which water has run together.
	onset int
	// line is the path as it is drawn, from the onset on.
	line orb.LineString
}

// A spotOnStem is a cell of one of the stems, by their places in the lists.
type spotOnStem struct{ stem, at int32 }

// through is how many cells drain through one of the course.
func (n *network) through(i int32) uint32 { return n.cells.V[n.course[i]] }

// receiver returns what a cell of the course drains to, or -1 where the path
// ends. It ends at the outermost cells: what runs on along the edge of the
// survey tells of the edge, not of the ground.
func (n *network) receiver(i int32) int32 {
	c := n.course[i]
	d := n.dir.V[c]
	x, y := int(c)%n.dir.W, int(c)/n.dir.W
	if d > 7 || x == 0 || y == 0 || x == n.dir.W-1 || y == n.dir.H-1 {
		return -1
	}
	return n.listed[c+int32(n.offset[d])] - 1
}

// list finds the course.
func (n *network) list() {
	n.listed = make([]int32, n.cells.Len())
	rows := make([][]int32, n.cells.H)
	eachRow(n.cells.H, func(y int) {
		for x, through := range n.cells.Row(y) {
			if through >= n.least {
				rows[y] = append(rows[y], int32(y*n.cells.W+x))
			}
		}
	})
	n.course = slices.Concat(rows...)
	for i, c := range n.course {
		n.listed[c] = int32(i + 1)
	}
}

// link joins each cell of the course to the one that brings it most.
func (n *network) link() {
	to := make([]int32, len(n.course))
	n.donor = slices.Repeat([]int32{-1}, len(n.course))
	for i := range int32(len(n.course)) {
		to[i] = n.receiver(i)
		if t := to[i]; t >= 0 && (n.donor[t] < 0 || n.through(i) > n.through(n.donor[t])) {
			n.donor[t] = i
		}
	}
	for i, t := range to {
		if t < 0 || n.donor[t] != int32(i) {
			n.tails = append(n.tails, int32(i))
		}
	}
	n.place, n.grown = make([]spotOnStem, len(n.course)), make([]int32, 0, len(n.course))
	n.stems = make([]stem, 0, len(n.tails))
}

// grow walks up from a tail and turns round.
func (n *network) grow(tail int32) {
	from := len(n.grown)
	for i := tail; i >= 0 && len(n.grown)-from < len(n.donor); i = n.donor[i] {
		n.grown = append(n.grown, i)
	}
	s := stem{joins: n.receiver(tail), cells: n.grown[from:]}
	slices.Reverse(s.cells)
	for at, i := range s.cells {
		n.place[i] = spotOnStem{int32(len(n.stems)), int32(at)}
	}
	s.onset = n.onset(s.cells)
	n.stems = append(n.stems, s)
}

// onset returns the first of a stem's cells in which water has run together, or
// how many there are.
func (n *network) onset(cells []int32) int {
	steps := n.dir.StepLengths()
	// What drains to the head comes, at worst, down a strip one cell wide.
	area := n.dir.CellArea()
	width := math.Sqrt(area)
	length := float64(n.through(cells[0])) * width
	for at, i := range cells {
		if at > 0 {
			length += steps[n.dir.V[n.course[cells[at-1]]]]
		}
		if float64(n.through(i))*area >= together*width*length {
			return at
		}
	}
	return len(cells)
}

// gather keeps what water runs together in: each stem from where it drains
// clearly more than a strip of ground one cell wide, or from where such a stem
// joins it. Even slopes, which eight directions cut into parallel strips, are
// left bare.
func (n *network) gather() {
	for i := len(n.stems) - 1; i >= 0; i-- {
		s := &n.stems[i]
		if s.joins >= 0 && s.onset < len(s.cells) {
			into := n.place[s.joins]
			parent := &n.stems[into.stem]
			parent.onset = min(parent.onset, int(into.at))
		}
	}
}

// draw makes lines of the stems. One that joins another is after it in the list.
func (n *network) draw() []reach {
	var all []reach
	for i := range n.stems {
		s := &n.stems[i]
		kept := s.cells[min(s.onset, len(s.cells)):]
		if len(kept) == 0 {
			continue
		}
		r := reach{line: make(orb.LineString, 0, len(kept)+1), area: make([]float64, 0, len(kept)+1)}
		for _, c := range kept {
			r.line = append(r.line, n.centre(c))
			r.area = append(r.area, float64(n.through(c))*n.dir.CellArea())
		}
		if p, ok := n.ends(s); ok {
			r.line, r.area = append(r.line, p), append(r.area, r.area[len(r.area)-1])
		}
		r.line = settle(r.line)
		s.line = r.line
		if len(r.line) >= shortest {
			r.divide()
			all = append(all, r)
		}
	}
	return all
}

func (n *network) centre(i int32) orb.Point {
	c := int(n.course[i])
	return n.dir.Centre(c%n.dir.W, c/n.dir.W)
}

// ends returns where a stem meets the one that it joins, or crosses the edge of the
// grid.
func (n *network) ends(s *stem) (orb.Point, bool) {
	if s.joins >= 0 {
		into := n.place[s.joins]
		parent := &n.stems[into.stem]
		return parent.line[int(into.at)-parent.onset], true
	}
	c := int(n.course[s.cells[len(s.cells)-1]])
	d := n.dir.V[c]
	if d > 7 {
		return orb.Point{}, false
	}
	x, y := c%n.dir.W, c/n.dir.W
	p := n.dir.Centre(x, y)
	return orb.Point{p[0] + float64(grid.StepX[d])*n.dir.DX/2, p[1] - float64(grid.StepY[d])*n.dir.DY/2},
		!n.dir.In(x+grid.StepX[d], y+grid.StepY[d])
}
