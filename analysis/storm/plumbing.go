package storm

import (
	"context"
	"slices"

	"runnel/analysis/flow"
	"runnel/analysis/hollow"
	"runnel/analysis/internal/band"
	"runnel/geo/grid"
)

// The plumbing is where water goes from each station it comes to. Stations are
// numbered: the ponds first, then a run for each link, which water passes as it
// runs over the link's inlet, then a gate for each, which it comes to as it stands
// at the inlet's level, then the exits.
type plumbing struct {
	runs, gates, outs int32
	// entry is the station that water on a cell comes to first; -1 at no data.
	entry []int32
	exits []int32 // the cell of each, in ascending order
	// By link: below is where water goes that its run leaves, above what its gate
	// leaves, and outfall where the link runs out; -1 is off the site, or no gate.
	below, above, outfall []int32
	// unit is what comes to each station [m³ for each m of rain].
	unit []float64
}

const (
	nowhere = -1
	unknown = -2
)

// lay finds where water goes from station to station.
func (m *Model) lay(ctx context.Context, f *flow.Flow, t *hollow.Tree) error {
	m.runs = int32(len(m.ponds))
	m.gates = m.runs + int32(len(m.links))
	m.outs = m.gates + int32(len(m.links))
	falls := m.findExits(f, t)
	m.entry = make([]int32, len(f.Fall.V))
	for c, d := range f.Fall.V {
		m.entry[c] = unknown
		if d == grid.NoDir {
			m.entry[c] = nowhere
		}
	}
	for _, c := range falls {
		m.entry[c] = m.exitAt(c)
	}
	for leaf, pit := range f.Basins.Pit {
		m.entry[pit] = m.lowest[leaf]
	}
	m.placeRuns(f)
	if err := m.follow(ctx, f); err != nil {
		return err
	}
	m.joinRuns(f)
	m.joinPonds(t)
	return nil
}

// findExits lists the cells from which water leaves the ground: those that fall
// off it or into an inlet that the flow has, which it returns, and those from which
// a hollow spills off it.
func (m *Model) findExits(f *flow.Flow, t *hollow.Tree) (falls []int32) {
	pits, offset := f.Basins.Pit, f.Fall.StepOffsets()
	inside := func(x, n int) bool { return x > 0 && x < n-1 }
	for y := range f.Fall.H {
		for x, d := range f.Fall.Row(y) {
			c := y*f.Fall.W + x
			switch {
			case d == grid.NoDir:
				continue
			case d < 8 && inside(x, f.Fall.W) && inside(y, f.Fall.H):
				if f.Fall.V[c+offset[d]] != grid.NoDir {
					continue
				}
			case len(pits) > 0 && pits[0] == int32(c):
				pits = pits[1:]
				continue
			default:
				if _, ok := flow.Next(f.Fall, int32(c)); ok {
					continue
				}
			}
			falls = append(falls, int32(c))
		}
	}
	m.exits = slices.Clone(falls)
	for _, root := range t.Roots {
		if n := t.Nodes[root]; n.To == hollow.None {
			m.exits = append(m.exits, n.From)
		}
	}
	slices.Sort(m.exits)
	m.exits = slices.Compact(m.exits)
	return falls
}

func (m *Model) exitAt(c int32) int32 {
	i, _ := slices.BinarySearch(m.exits, c)
	return m.outs + int32(i)
}

// placeRuns puts the run of each link that is not raised in the way of the water on
// its cell, that of the first link foremost where there are several.
func (m *Model) placeRuns(f *flow.Flow) {
	m.below = make([]int32, len(m.links))
	for k, l := range slices.Backward(m.links) {
		m.below[k] = m.entry[l.From]
		if l.raised(f.Ground) {
			continue // nothing comes to its run
		}
		m.entry[l.From] = m.runs + int32(k)
	}
}

// follow finds the station that each cell comes to, by walking down the ground to
// one that is known. Rows are shared among the processors; a walk that leaves its
// own rows goes on to the station itself, as other rows are still being found.
func (m *Model) follow(ctx context.Context, f *flow.Flow) error {
	station := make([]bool, len(m.entry))
	for c, s := range m.entry {
		station[c] = s != unknown
	}
	offset := f.Ground.StepOffsets()
	return band.Rows(ctx, f.Ground.H, func(lo, hi int) {
		first, end := lo*f.Ground.W, hi*f.Ground.W
		found := func(c int) bool { return station[c] || c >= first && c < end && m.entry[c] != unknown }
		var path []int
		for c := first; c < end; c++ {
			path = path[:0]
			at := c
			for ; !found(at); at += offset[f.Fall.V[at]] {
				path = append(path, at)
			}
			to := m.entry[at]
			for _, p := range path {
				if p >= first && p < end {
					m.entry[p] = to
				}
			}
		}
	})
}

// joinRuns leads what a link leaves to the station below it, and what it takes to
// where it runs out.
func (m *Model) joinRuns(f *flow.Flow) {
	m.outfall = make([]int32, len(m.links))
	for k, l := range m.links {
		if m.below[k] == unknown {
			n, _ := flow.Next(f.Fall, l.From)
			m.below[k] = m.entry[n]
		}
		m.outfall[k] = nowhere
		if l.To != -1 {
			m.outfall[k] = m.entry[l.To]
		}
	}
}

// joinPonds says where water goes from each pond that is full.
func (m *Model) joinPonds(t *hollow.Tree) {
	m.above = slices.Repeat([]int32{nowhere}, len(m.links))
	for i, node := range t.Nodes {
		top := m.topmost[i]
		for j := m.lowest[i]; j < top; j++ {
			m.above[m.taps[j]] = j + 1
			m.ponds[j].up, m.ponds[j].within = m.gates+m.taps[j], j+1
		}
		p := &m.ponds[top]
		if node.To == hollow.None {
			p.over = m.exitAt(node.From)
		} else {
			p.over = m.entry[node.To]
		}
		p.up = p.over
		if node.Parent != hollow.None {
			p.up, p.within = m.lowest[node.Parent], m.lowest[node.Parent]
			child := t.Nodes[node.Parent].Child
			p.beside = m.topmost[child[0]+child[1]-int32(i)]
		}
	}
}
