package accuracy

import (
	"context"
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"runnel/geo/survey"
)

// drawn is a survey of random contours on a lattice, so that they touch and overlap.
func drawn(t *rapid.T) survey.Survey {
	s := survey.Survey{Sources: []survey.Source{{Name: "a.geojson", Form: survey.Contours}}}
	for i := range rapid.IntRange(2, 8).Draw(t, "lines") {
		var line orb.LineString
		for range rapid.IntRange(2, 25).Draw(t, "points") {
			line = append(line, orb.Point{float64(rapid.IntRange(0, 12).Draw(t, "x")), float64(rapid.IntRange(0, 12).Draw(t, "y"))})
		}
		s.Lines = append(s.Lines, survey.Line{At: line, Z: []float64{float64(rapid.IntRange(0, 2).Draw(t, "z"))}, Number: i + 1})
	}
	return s
}

// meets is the slow twin of intersect, by the sides on which the ends lie; lattice
// coordinates are exact.
func meets(a, b, c, d orb.Point) bool {
	side := func(p, q, r orb.Point) float64 { return (q[0]-p[0])*(r[1]-p[1]) - (q[1]-p[1])*(r[0]-p[0]) }
	on := func(p, q, r orb.Point) bool {
		return side(p, q, r) == 0 && r[0] >= min(p[0], q[0]) && r[0] <= max(p[0], q[0]) && r[1] >= min(p[1], q[1]) && r[1] <= max(p[1], q[1])
	}
	sign := func(v float64) float64 { return math.Copysign(1, v) * min(1, math.Abs(v)) }
	if sign(side(a, b, c))*sign(side(a, b, d)) < 0 && sign(side(c, d, a))*sign(side(c, d, b)) < 0 {
		return true
	}
	return on(a, b, c) || on(a, b, d) || on(c, d, a) || on(c, d, b)
}

// The slow twin tries all pairs of segments of all pairs of lines.
func TestCrossingsAreThoseOfAPlainSearch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawn(t)
		k := &check{Survey: s, ctx: context.Background()}
		found, err := k.crossed()
		if err != nil {
			t.Fatal(err)
		}
		var got, want []string
		for _, c := range found {
			got = append(got, fmt.Sprint(c.lines))
			if off(s.Lines[c.lines[0]].At, c.at) > 1e-9 || off(s.Lines[c.lines[1]].At, c.at) > 1e-9 {
				t.Fatalf("lines %v do not cross at %v", c.lines, c.at)
			}
		}
		for i, l := range s.Lines {
			for j, m := range s.Lines[:i] {
				if l.Z[0] != m.Z[0] && anyMeet(l.At, m.At) {
					want = append(want, fmt.Sprint([2]int{j, i}))
				}
			}
		}
		slices.Sort(got)
		slices.Sort(want)
		if !slices.Equal(got, want) {
			t.Fatalf("found %v, want %v", got, want)
		}
	})
}

func anyMeet(a, b orb.LineString) bool {
	for i := 1; i < len(a); i++ {
		for j := 1; j < len(b); j++ {
			if meets(a[i-1], a[i], b[j-1], b[j]) {
				return true
			}
		}
	}
	return false
}

// off returns how far a line is from a place [m].
func off(line orb.LineString, p orb.Point) float64 {
	least := math.Inf(1)
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		dx, dy := b[0]-a[0], b[1]-a[1]
		t := 0.0
		if long := dx*dx + dy*dy; long > 0 {
			t = max(0, min(1, ((p[0]-a[0])*dx+(p[1]-a[1])*dy)/long))
		}
		least = min(least, math.Hypot(p[0]-a[0]-t*dx, p[1]-a[1]-t*dy))
	}
	return least
}

// A breakline that runs down a slope crosses its contours at their own heights.
func TestABreaklineCrossesContoursAtItsHeightThere(t *testing.T) {
	s := slope(12)
	s.Lines = append(s.Lines, survey.Line{Use: survey.Break, At: orb.LineString{{50, -5}, {50, 115}}, Z: []float64{99.5, 111.5}, Number: 99})
	if faults := faultsOf(t, s); len(faults) > 0 {
		t.Errorf("%v", faults)
	}
	s.Lines[len(s.Lines)-1].Z = []float64{102.5, 114.5}
	if got := sorts(faultsOf(t, s)); got[Crossing] == 0 {
		t.Errorf("a breakline 3 m above the contours is not found: %v", got)
	}
}
