package earthwork

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
)

// arc goes on from a line by chords of 5° of a circle, to the left for side 1.
func arc(l orb.LineString, chords int, radius, heading, side float64) (orb.LineString, float64) {
	chord := 2 * radius * math.Sin(2.5*math.Pi/180)
	p := l[len(l)-1]
	for range chords {
		heading += side * 2.5
		sin, cos := math.Sincos(heading * math.Pi / 180)
		p = orb.Point{p[0] + chord*cos, p[1] + chord*sin}
		l = append(l, p)
		heading += side * 2.5
	}
	return l, heading
}

func check(t *testing.T, places []place, want map[float64]Why) {
	t.Helper()
	merged := merge(places)
	if len(merged) != len(want) {
		t.Errorf("%d pegs, want %d: %v", len(merged), len(want), merged)
	}
	for at, why := range want {
		found := false
		for _, p := range merged {
			found = found || math.Abs(p.chainage-at) < 1e-9 && p.what[0].Why == why
		}
		if !found {
			t.Errorf("no peg marks %q at %.3f m: %v", why, at, merged)
		}
	}
}

func TestACornerHasOnePeg(t *testing.T) {
	l := orb.LineString{{0, 0}, {10, 0}, {10, 10}, {20, 11}}
	check(t, bends(l, 10), map[float64]Why{10: PegCorner, 20: PegCorner})
	check(t, bends(orb.LineString{{0, 0}, {10, 0}, {20, 1}}, 10), nil) // 5.7°
	check(t, bends(orb.LineString{{0, 0}, {10, 0}, {10, 0}, {20, 3}}, 10), map[float64]Why{10: PegCorner})
}

// 18 chords of 5° turn by 90°: by 2.5° where the straight ends, by 5° at each point of
// the curve. Half of it is turned at the ninth.
func TestACurveHasAPegWhereItBeginsIsHalfTurnedAndEnds(t *testing.T) {
	l, heading := arc(orb.LineString{{0, 0}, {10, 0}}, 18, 6, 0, 1)
	end := l[len(l)-1]
	sin, cos := math.Sincos(heading * math.Pi / 180)
	l = append(l, orb.Point{end[0] + 10*cos, end[1] + 10*sin})
	chord := 12 * math.Sin(2.5*math.Pi/180)
	check(t, bends(l, 10), map[float64]Why{10: PegBendBegins, 10 + 9*chord: PegBendMiddle, 10 + 18*chord: PegBendEnds})
	check(t, bends(l, 100), nil)
	check(t, corners(l, 10), nil)
}

// Where a bend to the left goes over into one to the right there is one peg, half way
// along the chord between.
func TestBendsThatMeetShareAPeg(t *testing.T) {
	l, heading := arc(orb.LineString{{0, 0}, {10, 0}}, 12, 6, 0, 1)
	l, _ = arc(l, 12, 6, heading, -1)
	l = append(l, orb.Point{l[len(l)-1][0] + 10, l[len(l)-1][1]})
	chord := 12 * math.Sin(2.5*math.Pi/180)
	places := merge(bends(l, 10))
	if len(places) != 5 {
		t.Fatalf("%d pegs, want 5: %v", len(places), places)
	}
	// The line turns by 5° at all points of the first curve but its last, at the
	// eleventh, where the two turns of 2.5° cancel, and goes on at the thirteenth.
	if at := places[2].chainage; math.Abs(at-(10+12*chord)) > 1e-6 {
		t.Errorf("the two meet at %.4f m, want %.4f m", at, 10+12*chord)
	}
	if w := places[2].what; len(w) != 2 {
		t.Errorf("the peg between marks %v", w)
	}
}

func TestALongStraightPartsTwoBendsToOneSide(t *testing.T) {
	l, heading := arc(orb.LineString{{0, 0}, {10, 0}}, 4, 6, 0, 1)
	sin, cos := math.Sincos(heading * math.Pi / 180)
	p := l[len(l)-1]
	l = append(l, orb.Point{p[0] + 8*cos, p[1] + 8*sin})
	l, _ = arc(l, 4, 6, heading, 1)
	if n := len(merge(bends(l, 10))); n != 6 {
		t.Errorf("%d pegs, want 3 for each bend", n)
	}
}

func TestALineThatIsNoneHasNoBends(t *testing.T) {
	for _, l := range []orb.LineString{nil, {{1, 1}}, {{1, 1}, {1, 1}}, {{1, 1}, {1, 1}, {1, 1}}} {
		if places := bends(l, 10); len(places) > 0 {
			t.Errorf("%v bends at %v", l, places)
		}
	}
}
