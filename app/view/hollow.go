package view

import (
	"context"

	"github.com/paulmach/orb"

	"runnel/analysis/fate"
	"runnel/analysis/hollow"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A Hollow is a place that ponds before it spills, deep and large enough to be
// more than the survey's error.
type Hollow struct {
	// Node is its place in the tree of hollows.
	Node int32
	// Area [m²], Depth at the deepest [m] and Volume [m³] are of it brim-full,
	// Level is the height of its brim [m].
	Area, Depth, Volume, Level float64
	Deepest                    orb.Point
	Outline                    orb.MultiPolygon
	// Into is the place in the list of the hollow that takes what it spills, or -1
	// where that runs off the ground or into an inlet.
	Into int
}

// leastCells is how many cells a hollow that is shown has at least: enough for a
// shape.
const leastCells = 6

// leastOf returns what a hollow must have to be shown, by the error of the survey.
func leastOf(s plan.Setting, f grid.Frame) hollow.Threshold {
	return hollow.Threshold{Depth: fate.LeastDepth(s), Area: leastCells * f.CellArea()}
}

// Ponding is where a drainage ponds. It is not changed once made.
type Ponding struct {
	Tree *hollow.Tree
	// Hollows are those worth showing, the one of biggest volume first; Least is
	// what a hollow must have to be one.
	Hollows []Hollow
	Least   hollow.Threshold

	of     *Drainage
	shapes []hollowShape
}

// NewPonding works out where a drainage ponds, on a site of a setting.
func NewPonding(ctx context.Context, d *Drainage, s plan.Setting) (*Ponding, error) {
	tree, err := hollow.NewTree(ctx, d.Flow)
	if err != nil {
		return nil, err
	}
	p := &Ponding{Tree: tree, Least: leastOf(s, d.Ground.Frame), of: d}
	p.list()
	return p, ctx.Err()
}

// list lists the hollows that are more than the survey's error.
func (p *Ponding) list() {
	nodes, f := p.Tree.Worth(p.Least), p.of.Ground.Frame
	place := make(map[int32]int, len(nodes))
	for i, n := range nodes {
		of := p.Tree.Nodes[n]
		place[n] = i
		h := Hollow{
			Node: n, Area: of.Area, Depth: of.Depth, Volume: of.Volume, Level: of.Level,
			Deepest: f.Centre(int(of.Pit)%f.W, int(of.Pit)/f.W), Outline: p.Tree.Outline(n),
		}
		p.Hollows = append(p.Hollows, h)
		p.shapes = append(p.shapes, hollowShape{area: rounded(h.Outline), bound: h.Outline.Bound(), deepest: h.Deepest})
	}
	for i := range p.Hollows {
		p.Hollows[i].Into = spillsInto(p.Tree, p.Hollows[i].Node, place)
	}
}

// spillsInto follows what a hollow spills to the first that is listed, or -1.
func spillsInto(t *hollow.Tree, node int32, place map[int32]int) int {
	for range t.Nodes {
		top := t.Nodes[node].Into
		if top == hollow.None {
			return -1
		}
		for t.Nodes[top].Parent != hollow.None {
			top = t.Nodes[top].Parent
		}
		if i, ok := place[top]; ok {
			return i
		}
		node = top
	}
	return -1
}
