package accuracy

import (
	"cmp"
	"context"
	"slices"

	"github.com/paulmach/orb"

	"runnel/geo/survey"
)

// A chain is some segments of a line that follow each other: those that begin at
// points from to to-1.
type chain struct {
	line, from, to int32
	bound          orb.Bound
}

// links is how many segments a chain has at most.
const links = 8

// A chains is a tree of boxes round chains, each part split in two along its longer
// side, so that boxes that meet are found without looking at all pairs.
type chains struct {
	chains []chain
	// bounds are the boxes of the parts, by their middle chain and how they came
	// about: a part's halves are at 2i+1 and 2i+2.
	bounds []orb.Bound
}

func newChains(lines []survey.Line) *chains {
	t := &chains{}
	for i, l := range lines {
		if !tells(l) {
			continue
		}
		for from := 0; from < len(l.At)-1; from += links {
			to := min(from+links, len(l.At)-1)
			if b := l.At[from : to+1].Bound(); placed(b.Min) && placed(b.Max) {
				t.chains = append(t.chains, chain{int32(i), int32(from), int32(to), b})
			}
		}
	}
	t.bounds = make([]orb.Bound, 4*len(t.chains)+1)
	t.build(0, 0, len(t.chains))
	return t
}

func (t *chains) build(node, low, high int) {
	if low == high {
		return
	}
	b := t.chains[low].bound
	for _, c := range t.chains[low:high] {
		b = b.Union(c.bound)
	}
	t.bounds[node] = b
	if high-low == 1 {
		return
	}
	axis := 0
	if b.Max[1]-b.Min[1] > b.Max[0]-b.Min[0] {
		axis = 1
	}
	slices.SortFunc(t.chains[low:high], func(c, d chain) int {
		return cmp.Or(cmp.Compare(c.bound.Min[axis]+c.bound.Max[axis], d.bound.Min[axis]+d.bound.Max[axis]),
			cmp.Compare(c.line, d.line), cmp.Compare(c.from, d.from))
	})
	middle := (low + high) / 2
	t.build(2*node+1, low, middle)
	t.build(2*node+2, middle, high)
}

// A part is a node of the tree and its chains.
type part struct{ node, low, high int }

func (p part) halves() (part, part) {
	middle := (p.low + p.high) / 2
	return part{2*p.node + 1, p.low, middle}, part{2*p.node + 2, middle, p.high}
}

// meet visits the pairs of chains whose boxes meet, until visit returns false.
func (t *chains) meet(ctx context.Context, visit func(a, b chain) bool) error {
	if len(t.chains) > 0 {
		root := part{0, 0, len(t.chains)}
		t.among(ctx, root, visit)
	}
	return ctx.Err()
}

// among visits the pairs within a part.
func (t *chains) among(ctx context.Context, p part, visit func(a, b chain) bool) bool {
	if p.high-p.low <= 1 {
		return ctx.Err() == nil
	}
	a, b := p.halves()
	return t.among(ctx, a, visit) && t.among(ctx, b, visit) && t.across(a, b, visit)
}

// across visits the pairs of one chain of each part.
func (t *chains) across(a, b part, visit func(a, b chain) bool) bool {
	switch {
	case !t.bounds[a.node].Intersects(t.bounds[b.node]):
		return true
	case a.high-a.low == 1 && b.high-b.low == 1:
		return visit(t.chains[a.low], t.chains[b.low])
	case a.high-a.low >= b.high-b.low:
		c, d := a.halves()
		return t.across(c, b, visit) && t.across(d, b, visit)
	}
	c, d := b.halves()
	return t.across(a, c, visit) && t.across(a, d, visit)
}
