package channel

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"runnel/geo/plan"
)

// strayCrossings says which crossings lead over no channel and no drain.
func (n *Network) strayCrossings() {
	for _, f := range n.crossings {
		if _, ok := n.Over(f.Point()); !ok && !n.dug(f.Point()) {
			n.wrong(f, f.Point(), fmt.Errorf("%s lies on no channel; move it onto one's line", f.Title()))
		}
	}
}

// A Passage is what is crossed at a place: which line, how far along it [m], and its
// banks there.
type Passage struct {
	ID          plan.ID
	Chainage    float64
	Left, Right Bank
}

// Span is how far the tops of the banks are apart [m].
func (p Passage) Span() float64 { return planar.Distance(p.Left.At, p.Right.At) }

// Deck is the level of a deck that lies on the tops of both banks: that of the higher
// [m], NaN where the ground is not known.
func (p Passage) Deck() float64 { return math.Max(p.Left.Level, p.Right.Level) }

// Over returns what is crossed at a place: the nearest channel or drain, if it is dug
// that far out.
func (n *Network) Over(at orb.Point) (p Passage, ok bool) {
	least := math.Inf(1)
	for _, f := range n.lines {
		chainage, off := Chainage(f.Line(), at)
		left, right, err := n.Banks(f.ID, chainage)
		if err != nil || off >= least || off > max(sectionReach, math.Abs(left.Off), math.Abs(right.Off)) {
			continue
		}
		least, p, ok = off, Passage{f.ID, chainage, left, right}, true
	}
	return p, ok
}

// LineOf returns the channel or drain whose water goes round an island; ok is false
// where none does.
func (n *Network) LineOf(island plan.ID) (of plan.ID, ok bool) {
	i := slices.IndexFunc(n.islands, func(f plan.Feature) bool { return f.ID == island })
	if i < 0 {
		return 0, false
	}
	return n.lines[n.segs[n.reaches[i].first].line].ID, true
}
