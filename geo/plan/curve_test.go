package plan

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"pgregory.net/rapid"
)

// knotted draws knots of a plot, some of them repeated or hardly apart.
func knotted(t *rapid.T, least int) orb.LineString {
	coordinate := rapid.Float64Range(-40, 40)
	var knots orb.LineString
	for range rapid.IntRange(least, 9).Draw(t, "knots") {
		p := orb.Point{coordinate.Draw(t, "x"), coordinate.Draw(t, "y")}
		knots = append(knots, p)
		switch rapid.IntRange(0, 5).Draw(t, "again") {
		case 0:
			knots = append(knots, p)
		case 1:
			knots = append(knots, orb.Point{p[0] + 0.003, p[1]})
		}
	}
	return knots
}

func TestACurvePassesThroughItsKnots(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		knots := knotted(t, 2)
		for _, course := range []orb.LineString{Curve(knots), orb.LineString(CurvedRing(knots))} {
			for _, k := range knots {
				if d := toLines(course, k); d > together {
					t.Fatalf("%g m from the knot %v", d, k)
				}
			}
		}
	})
}

// bezier is a span's curve at t, by de Casteljau's halving: the twin of sides.
func bezier(s span, t float64) orb.Point {
	c := []orb.Point{s.a, {}, {}, s.b}
	for i := range 2 {
		c[1][i], c[2][i] = s.a[i]+s.step*s.from[i]/3, s.b[i]-s.step*s.to[i]/3
	}
	for len(c) > 1 {
		for j := range c[1:] {
			c[j] = orb.Point{(1-t)*c[j][0] + t*c[j+1][0], (1-t)*c[j][1] + t*c[j+1][1]}
		}
		c = c[:len(c)-1]
	}
	return c[0]
}

// recursion is the curve between p[1] and p[2] as Barry & Goldman (1988) write it,
// by linear blends of linear blends, u from 0 to 1.
func recursion(p [4]orb.Point, u float64) orb.Point {
	var t [4]float64
	for i := 1; i < 4; i++ {
		t[i] = t[i-1] + math.Sqrt(planar.Distance(p[i-1], p[i]))
	}
	at := t[1] + u*(t[2]-t[1])
	blend := func(a, b orb.Point, from, to float64) orb.Point {
		w := (at - from) / (to - from)
		return orb.Point{(1-w)*a[0] + w*b[0], (1-w)*a[1] + w*b[1]}
	}
	a1, a2, a3 := blend(p[0], p[1], t[0], t[1]), blend(p[1], p[2], t[1], t[2]), blend(p[2], p[3], t[2], t[3])
	b1, b2 := blend(a1, a2, t[0], t[2]), blend(a2, a3, t[1], t[3])
	return blend(b1, b2, t[1], t[2])
}

func TestASpanIsBarryAndGoldmans(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		coordinate := rapid.Float64Range(-40, 40)
		var p [4]orb.Point
		for i := range p {
			p[i] = orb.Point{coordinate.Draw(t, "x"), coordinate.Draw(t, "y")}
			if i > 0 && planar.Distance(p[i-1], p[i]) < 0.01 {
				t.Skip("too near for the blends' digits")
			}
		}
		h := [3]float64{step(p[0], p[1]), step(p[1], p[2]), step(p[2], p[3])}
		s := span{p[1], p[2], tangent(p[0], p[1], p[2], h[0], h[1]), tangent(p[1], p[2], p[3], h[1], h[2]), h[1]}
		course := s.sides(orb.LineString{s.a})
		for i := range 21 {
			u := float64(i) / 20
			want := recursion(p, u)
			if d := planar.Distance(bezier(s, u), want); d > 1e-6 {
				t.Fatalf("%g m from the recursion at %g", d, u)
			}
			if d := toLines(course, want); d > chordError {
				t.Fatalf("the sides stray %g m from the curve", d)
			}
		}
	})
}

// Within a span a centripetal curve has no loop: Yuksel, Schaefer & Keyser (2011).
func TestNoSpanHasALoop(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		knots := distinct(knotted(t, 3))
		course := Curve(knots)
		from := 0
		for _, k := range knots[1:] {
			step := slices.Index(course[from+1:], k)
			if step < 0 {
				t.Fatalf("the knot %v is no point of the course", k)
			}
			span := course[from : from+step+2]
			for i := 2; i < len(span); i++ {
				for j := 1; j < i-1; j++ {
					if at, cross := Meet([2]orb.Point{span[i-1], span[i]}, [2]orb.Point{span[j-1], span[j]}); cross {
						t.Fatalf("a span crosses itself at %v", at)
					}
				}
			}
			from += step + 1
		}
	})
}

func TestTheEndsOfACurveDoNotBend(t *testing.T) {
	course := Curve(orb.LineString{{0, 0}, {10, 0}, {10, 10}, {0, 12}})
	turn := func(a, b, c orb.Point) float64 {
		first, second := math.Atan2(b[1]-a[1], b[0]-a[0]), math.Atan2(c[1]-b[1], c[0]-b[0])
		return math.Abs(math.Remainder(second-first, 2*math.Pi))
	}
	n := len(course)
	middle := 0.0
	for i := 2; i < n; i++ {
		middle = max(middle, turn(course[i-2], course[i-1], course[i]))
	}
	if first, last := turn(course[0], course[1], course[2]), turn(course[n-3], course[n-2], course[n-1]); first > middle/5 || last > middle/5 {
		t.Errorf("the curve turns %g and %g rad at its ends, %g at most", first, last, middle)
	}
}

// The seam of a ring is no place of its own: starting at another knot makes the
// same curve.
func TestARingIsAsSmoothAtItsSeam(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		knots := distinct(knotted(t, 4))
		if planar.Distance(knots[0], knots[len(knots)-1]) < together {
			knots = knots[1:]
		}
		if len(knots) < 3 {
			t.Skip("no ring")
		}
		turned := append(slices.Clone(knots[1:]), knots[0])
		a, b := orb.LineString(CurvedRing(knots)), orb.LineString(CurvedRing(turned))
		if len(a) != len(b) {
			t.Fatalf("%d points, and %d from another start", len(a), len(b))
		}
		for _, p := range a {
			if d := toLines(b, p); d > 1e-9 {
				t.Fatalf("%g m from the ring of another start", d)
			}
		}
	})
}

func TestAMovedKnotChangesItsNeighboursSpansOnly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var knots orb.LineString
		for i := range 12 {
			knots = append(knots, orb.Point{10 * float64(i), rapid.Float64Range(-5, 5).Draw(t, "y")})
		}
		before := Curve(knots)
		at := rapid.IntRange(0, 11).Draw(t, "knot")
		other := slices.Clone(knots)
		other[at][1] += 7
		after := Curve(other)
		// The spans to the second knot on either side follow; the rest stands.
		for i, k := range knots {
			if i >= at-2 && i <= at+2 {
				continue
			}
			j := i + 1
			if i < at {
				j = i - 1
			}
			if j < 0 || j >= len(knots) {
				continue
			}
			if a, b := part(before, k, knots[j]), part(after, k, knots[j]); !slices.Equal(a, b) {
				t.Fatalf("knot %d moved the span from knot %d", at, i)
			}
		}
	})
}

// part returns the points of a course between two of its own.
func part(course orb.LineString, a, b orb.Point) orb.LineString {
	i, j := slices.Index(course, a), slices.Index(course, b)
	return course[min(i, j) : max(i, j)+1]
}

func TestACircleIsRoundWithinAHundredth(t *testing.T) {
	for _, radius := range []float64{0.5, 3, 40} {
		f := Feature{Kind: Island}.Through(Circle(orb.Point{500_000, 4_000_000}, radius))
		for _, p := range f.Area()[0] {
			if d := planar.Distance(p, orb.Point{500_000, 4_000_000}); math.Abs(d/radius-1) > 0.005 {
				t.Errorf("radius %g m: a point lies %g m from the middle", radius, d)
			}
		}
		if share := planar.Area(f.Geometry) / (math.Pi * radius * radius); math.Abs(share-1) > 0.01 {
			t.Errorf("radius %g m: the area is %g of the circle's", radius, share)
		}
		if err := Check(f); err != nil {
			t.Error(err)
		}
	}
}

func TestStraightAndSmoothKeepThePoints(t *testing.T) {
	island := Feature{ID: 1, Kind: Island, Geometry: orb.Polygon{
		{{0, 0}, {20, 0}, {20, 10}, {0, 10}, {0, 0}}, {{8, 4}, {8, 6}, {12, 6}, {8, 4}}}}
	smooth := island.Smooth()
	if err := Check(smooth); err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(smooth.Knots, orb.LineString{{0, 0}, {20, 0}, {20, 10}, {0, 10}}) || !orb.Equal(smooth.Area()[1], island.Area()[1]) {
		t.Errorf("smooth is %+v", smooth)
	}
	if back := smooth.Straight(); !orb.Equal(back.Geometry, island.Geometry) || back.Curved() {
		t.Errorf("straight again it is %+v", back)
	}
	if well := (Feature{Kind: Well, Geometry: orb.Point{1, 2}}); well.Smooth().Curved() {
		t.Error("a point is curved")
	}
}

func TestACourseThatLeavesItsKnots(t *testing.T) {
	f := Feature{ID: 4, Kind: Channel}.Through(orb.LineString{{0, 0}, {10, 5}, {20, 0}})
	moved := f
	moved.Geometry = append(orb.LineString{{0, 3}}, f.Line()[1:]...)
	if err := Check(moved); err == nil || err.Error() != "Channel 4: its course is not the curve through its knots; make it straight, or draw it again" {
		t.Errorf("the check says %v", err)
	}
	if got := moved.Refit(); got.Curved() || !orb.Equal(got.Geometry, moved.Geometry) {
		t.Errorf("refitted it is %+v", got)
	}
	rounded := f
	rounded.Geometry = orb.Clone(f.Geometry)
	for i := range rounded.Line() {
		rounded.Line()[i][0] += 0.002 // what a file's rounding may come to
	}
	if got := rounded.Refit(); !got.Curved() || !orb.Equal(got.Geometry, f.Geometry) {
		t.Errorf("refitted within a file's rounding it is %+v", got)
	}
	f.Knots = orb.LineString{{math.NaN(), 0}, {1, 1}}
	if f.Refit().Curved() {
		t.Error("knots that are no numbers stand")
	}
}

// A file from elsewhere may say that anything is a curve.
func TestKnotsThatDoNotFitAreFoundOutSoon(t *testing.T) {
	var knots orb.LineString
	for i := range 500 {
		knots = append(knots, orb.Point{500 * float64(i), 250 * float64(i%3)})
	}
	f := Feature{Kind: Channel}.Through(knots)
	moved := f.Geometry.(orb.LineString).Clone()
	for i := range moved {
		moved[i][1] += 1e-4
	}
	if f.Geometry = moved; !f.Fits() {
		t.Error("a course that a file has rounded does not fit")
	}
	moved[len(moved)/2][1] += 1
	if f.Fits() {
		t.Error("a course with a point elsewhere fits")
	}
	f.Knots = make(orb.LineString, mostKnots+1)
	if f.Fits() {
		t.Error("more knots than a curve can have fit")
	}
}

// Two sides of one straight line, rounded, do not meet however their digits fall.
func TestSidesInLineDoNotCross(t *testing.T) {
	out := [2]orb.Point{{9.094947017729282e-13, 5.684341886080802e-14}, {0.2990000315543899, 0.14950000000004823}}
	back := [2]orb.Point{{1.136000119883029, 0.568000000000024}, {1.3750001451047074, 0.6875000000000172}}
	if at, ok := Meet(back, out); ok {
		t.Errorf("they meet at %v", at)
	}
}
