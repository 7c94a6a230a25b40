package channel

import (
	"math"
	"strings"
	"testing"

	"runnel/geo/plan"
)

// A crossing on a line spans the tops of its banks; one on open ground is told of.
func TestACrossingIsToldWhereItLiesOnNoChannel(t *testing.T) {
	s := site(40, 40, 0.5)
	add(s, plan.Channel, line(5, 20, 35, 20))
	on := add(s, plan.Crossing, at(20, 20.3))
	off := add(s, plan.Crossing, at(20, 30))
	n, problems := NewNetwork(s, 1)
	said := map[plan.ID]string{}
	for _, p := range problems {
		said[p.ID] = p.Error()
	}
	if said[on] != "" || !strings.Contains(said[off], "lies on no channel") {
		t.Errorf("it says %v", said)
	}
	p, ok := n.Over(at(20, 20.3))
	// By hand: a bed of 0.6 m and two banks of 2 across per 1 down over 0.4 m.
	if want := 0.6 + 2*2*0.4; !ok || math.Abs(p.Span()-want) > 0.01 || math.Abs(p.Deck()-10) > 0.001 {
		t.Errorf("the passage is %+v: span %.3f, deck %.3f", p, p.Span(), p.Deck())
	}
}
