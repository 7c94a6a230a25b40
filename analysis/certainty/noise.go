package certainty

import (
	"math"
	"math/rand/v2"

	"runnel/geo/grid"
)

// A field makes the error of one draw after another: white noise on a lattice,
// each cell taking the nodes round it by a normal bell, which is the process
// convolution of [Higdon2002]. A bell of width w met by another makes one of
// w·√2, so bells of half the reach correlate by exp(-(h/reach)²). Nodes as far
// apart as the bell is wide are as good as nodes everywhere: the correlation is
// off by 2·exp(-π²), a ten-thousandth. They are never closer than the cells, so
// that a reach under two cells correlates a little less than it should, and
// one under a cell not at all.
//
// Bells part into a factor along the row and one along the column, so a row of
// cells takes taps rows of nodes once and then taps nodes a cell, however long
// the reach is.
type field struct {
	across, down axis
	// rows are the rows of nodes that the row of cells in hand leans on, and line
	// what they come to.
	rows [taps][]float32
	line []float32
}

// taps is how many nodes a cell leans on along each axis: the bell is cut where
// it is 4 to 5 widths from its middle, at less than 0.0004 of its height.
const taps = 10

// An axis says which nodes the cells along it lean on, and how much.
type axis struct {
	// first is the first of the taps nodes of each cell.
	first []int
	// weight has squares that sum to 1, so that the noise keeps its variance.
	weight [][taps]float32
	nodes  int
}

func newField(f grid.Frame, reach float64) *field {
	n := &field{across: newAxis(f.W, f.DX, reach), down: newAxis(f.H, f.DY, reach)}
	n.line = make([]float32, n.across.nodes)
	for i := range n.rows {
		n.rows[i] = make([]float32, n.across.nodes)
	}
	return n
}

// newAxis lays nodes under cells of a size [m] for errors of a reach [m].
func newAxis(cells int, size, reach float64) axis {
	width := reach / 2
	if reach < size {
		width = size / 1000 // the cell's own node alone
	}
	step := max(width, size)
	a := axis{first: make([]int, cells), weight: make([][taps]float32, cells)}
	for c := range a.first {
		at := float64(c) * (size / step)
		before := math.Floor(at)
		a.first[c] = int(before)
		var bell [taps]float64
		var squares float64
		for t := range bell {
			off := (before + float64(t-taps/2+1) - at) * (step / width)
			bell[t] = math.Exp(-off * off / 2)
			squares += bell[t] * bell[t]
		}
		for t, v := range bell {
			a.weight[c][t] = float32(v / math.Sqrt(squares))
		}
	}
	a.nodes = a.first[cells-1] + taps
	return a
}

// A size is the standard deviation of the error: of all cells [m], or of each where
// it is known.
type size struct {
	all  float64
	each []float32
}

// add writes the ground with an error of a size into out.
func (n *field) add(ground grid.Ground, sd size, random *rand.Rand, out grid.Ground) {
	drawn, line := 0, sd.all
	if sd.each != nil {
		line = 1
	}
	for y := range ground.H {
		for ; drawn < n.down.first[y]+taps; drawn++ {
			n.draw(random)
		}
		n.blend(&n.down.weight[y], float32(line))
		n.spread(ground.Row(y), out.Row(y))
		if sd.each != nil {
			sd.row(ground.Row(y), sd.each[y*ground.W:], out.Row(y))
		}
	}
}

// row makes an error of 1 m that lies over a row of the ground as large as it is in
// each cell.
func (sd size) row(ground, each, out []float32) {
	for x, z := range ground {
		e := each[x]
		if e != e {
			e = float32(sd.all)
		}
		out[x] = z + e*(out[x]-z)
	}
}

// draw moves the rows of nodes on by one.
func (n *field) draw(random *rand.Rand) {
	next := n.rows[0]
	copy(n.rows[:], n.rows[1:])
	n.rows[taps-1] = next
	for i := range next {
		next[i] = float32(random.NormFloat64())
	}
}

// blend makes the line of the rows of nodes.
func (n *field) blend(weight *[taps]float32, sd float32) {
	clear(n.line)
	for t, row := range n.rows {
		w := weight[t] * sd
		if w == 0 {
			continue
		}
		for i, v := range row[:len(n.line)] {
			n.line[i] += w * v
		}
	}
}

// spread adds the line's noise to a row of cells.
func (n *field) spread(ground, out []float32) {
	out = out[:len(ground)]
	for x, z := range ground {
		w, node := &n.across.weight[x], (*[taps]float32)(n.line[n.across.first[x]:])
		near := w[4]*node[4] + w[5]*node[5] + w[3]*node[3] + w[6]*node[6]
		far := w[2]*node[2] + w[7]*node[7] + w[1]*node[1] + w[8]*node[8] + w[0]*node[0] + w[9]*node[9]
		out[x] = z + (near + far)
	}
}
