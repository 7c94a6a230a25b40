package channel

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"runnel/geo/plan"
)

// filled returns how much earth the network brings [m³] to the site between two
// eastings, by small squares.
func filled(n *Network, from, to, square float64) float64 {
	sum := 0.0
	b := n.ground.Bound()
	for y := b.Min[1] + square/2; y < b.Max[1]; y += square {
		for x := east + from + square/2; x < east+to; x += square {
			if rise := n.Proposed(orb.Point{x, y}) - 10; rise > 0 {
				sum += rise * square * square
			}
		}
	}
	return sum
}

// A bank beside a straight channel on flat ground is a prism: crest, inner face at
// the section's slope, outer face at the same.
func TestARaisedBankIsAPrism(t *testing.T) {
	s := site(60, 30, 0.25)
	id := add(s, plan.Channel, line(10, 15, 50, 15), "side_left", 2.0, "side_right", 3.0, "depth", 0.4, "bank_top", 10.3, "bank_width", 0.5)
	n, _ := laidOut(t, s)
	want := 0.0
	for _, side := range []float64{2, 3} {
		want += 0.3*0.5 + side*0.3*0.3
	}
	near(t, "fill on 10 m", filled(n, 25, 35, 0.02), 10*want, 2e-3)
	left, right, err := n.Banks(id, 20)
	if err != nil || math.Abs(left.Level-10.3)+math.Abs(right.Level-10.3) > 1e-9 {
		t.Errorf("the banks' tops are %+v and %+v (%v)", left, right, err)
	}
	near(t, "left top", left.Off, -(0.3 + 2*0.7), 1e-6)
	near(t, "right top", right.Off, 0.3+3*0.7, 1e-6)
	if water := n.WaterAt(id, 20); math.Abs(water-(10.3-Freeboard)) > 1e-6 {
		t.Errorf("the water stands at %v, want the freeboard below the raised banks", water)
	}
}

func TestABankIsRaisedOnlyWhereTheGroundIsLower(t *testing.T) {
	s := siteOf(60, 30, 0.25, func(p orb.Point) float64 { return 10 + 0.1*(p[1]-15) })
	id := add(s, plan.Channel, line(10, 15, 50, 15), "bank_top", 10.0, "bed_start", 9.4, "bed_end", 9.4)
	n, _ := laidOut(t, s)
	left, right, _ := n.Banks(id, 20)
	if !(left.Level > 10.1) || math.Abs(right.Level-10) > 1e-9 {
		t.Errorf("the banks' tops are %+v and %+v", left, right)
	}
	for y := 16.6; y < 20; y += 0.2 {
		if p := at(30, y); math.Abs(n.Proposed(p)-(10+0.1*(y-15))) > 1e-6 && n.Proposed(p) > 10+0.1*(y-15) {
			t.Errorf("higher ground is raised at %v", y)
		}
	}
}

// A raised bank stands neither in another cut, nor on an island, nor in a drain.
func TestARaisedBankLeavesOtherThingsOpen(t *testing.T) {
	draw := func(raise ...any) *Network {
		s := siteOf(60, 40, 0.25, func(p orb.Point) float64 { return min(10, 9.4+max(0, math.Abs(p[0]-10)-0.4)) })
		add(s, plan.Drain, line(10, -2, 10, 42), "bed_width", 0.8, "depth", 0.6, "side_left", 1.0, "side_right", 1.0)
		add(s, plan.Channel, line(10, 20, 50, 20), append(raise, "bed_start", 9.4, "bed_end", 9.4)...)
		add(s, plan.Channel, line(40, 5, 40, 35), "bed_start", 9.4, "bed_end", 9.4)
		add(s, plan.Island, orb.Polygon{circle(25, 20, 3, 40)})
		n, _ := laidOut(t, s)
		return n
	}
	flat, raised := draw(), draw("bank_top", 10.3)
	for y := 0.1; y < 40; y += 0.2 {
		for x := 0.1; x < 60; x += 0.2 {
			p := at(x, y)
			before, after := flat.Proposed(p), raised.Proposed(p)
			switch {
			case after < before-1e-9:
				t.Fatalf("at %.1f, %.1f raising banks digs from %v to %v", x, y, before, after)
			case after > before+1e-9 && before < 9.99 && math.Abs(x-10) > 2 && math.Abs(y-20) > 2.2 && math.Hypot(x-25, y-20) > 8:
				t.Fatalf("at %.1f, %.1f a bank fills a cut from %v to %v", x, y, before, after)
			case after > before+1e-9 && (math.Abs(x-10) < 1 || x < 10):
				t.Fatalf("at %.1f, %.1f a bank stands in the drain or beyond it: %v to %v", x, y, before, after)
			case after > before+1e-9 && math.Hypot(x-25, y-20) < 3:
				t.Fatalf("at %.1f, %.1f a bank stands on the island", x, y)
			case after > 10.3+1e-9:
				t.Fatalf("at %.1f, %.1f the bank is %v m high", x, y, after)
			}
		}
	}
	if raised.Proposed(at(46, 17.7)) < 10.29 || raised.Proposed(at(25, 13.5)) < 10.29 {
		t.Error("no bank is raised")
	}
}

// Where a channel ends in another its bank stands beside it, and not across the other.
func TestNoBankStandsAcrossAMouth(t *testing.T) {
	s := site(60, 40, 0.25)
	add(s, plan.Channel, line(10, 20, 40, 20), "bank_top", 10.3, "bed_start", 9.4, "bed_end", 9.4)
	add(s, plan.Channel, line(40, 5, 40, 35), "bed_start", 9.4, "bed_end", 9.4)
	n, _ := laidOut(t, s)
	if z := n.Proposed(at(42.3, 20)); z > 10 {
		t.Errorf("beyond the other channel a bank stands at %v", z)
	}
	if z := n.Proposed(at(35, 22.3)); z < 10.29 {
		t.Errorf("beside the channel the ground stands at %v", z)
	}
	if z := n.Proposed(at(7.7, 20)); z < 10.29 {
		t.Errorf("round its other end the ground stands at %v", z)
	}
}

// Ground that falls away beside a raised channel takes the bank's outer face down to
// where it meets it.
func TestARaisedBankComesDownToTheGround(t *testing.T) {
	s := siteOf(60, 40, 0.25, func(p orb.Point) float64 { return 10 + 0.2*(p[1]-20) })
	add(s, plan.Channel, line(10, 20, 50, 20), "bank_top", 10.0, "bed_start", 9.4, "bed_end", 9.4, "side_left", 2.0, "side_right", 2.0)
	n, _ := laidOut(t, s)
	// The crest ends 0.3 + 1.2 + 0.4 m out; the face falls at 1 in 2, the ground at
	// 1 in 5: they meet where 10 - (x-1.9)/2 = 10 - x/5.
	toe := (1.9 / 2) / (0.5 - 0.2)
	for off, want := range map[float64]float64{1.7: 10, 2.5: 9.7, toe - 0.1: 10 - (toe-0.1-1.9)/2, toe + 0.1: 10 - 0.2*(toe+0.1)} {
		if z := n.Proposed(at(30, 20-off)); math.Abs(z-want) > 1e-3 {
			t.Errorf("%v m off the ground stands at %v, want %v", off, z, want)
		}
	}
}
