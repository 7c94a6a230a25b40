package channel

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
	"runnel/geo/plan"
)

// A surveyed ring has its left inside: each stretch of it measures its length times
// the way round its middle.
func TestASurveyedRingMeasuresByPappus(t *testing.T) {
	s := site(40, 40, 0.25)
	add(s, plan.Channel, orb.LineString(circle(20, 20, 8, 360)), "bed_start", 9.4, "bed_end", 9.4, "water_level", 9.7)
	add(s, plan.Section, at(28, 20))
	words(s, "surveyed", "-1.5 0.6; -0.6 0.1; 0 0; 0.4 0; 0.8 0.2; 1.2 0.2; 2.2 0.7")
	_, got := laidOut(t, s)
	want := Measure{}
	section := []Point{{-1.5 + 0.9*0.6, 0.3}, {-0.6, 0.1}, {0, 0}, {0.4, 0}, {0.8, 0.2}, {1.2, 0.2}, {1.4, 0.3}}
	for i := 1; i < len(section); i++ {
		a, b := section[i-1], section[i]
		round := 2 * math.Pi * (8 + (a.Off+b.Off)/2)
		want.Contact += round * math.Hypot(b.Off-a.Off, b.Height-a.Height)
		want.Surface += round * (b.Off - a.Off)
	}
	want.WetBank = 2 * math.Pi * (8 - 0.96 + 8 + 1.4)
	near(t, "contact", got.Contact, want.Contact, 1e-3)
	near(t, "surface", got.Surface, want.Surface, 1e-3)
	near(t, "wet bank", got.WetBank, want.WetBank, 1e-3)
}

func TestSurveyedSectionsAreReadOrTold(t *testing.T) {
	for text, want := range map[string]int{
		"-1 0.4; 0 0; 1 0.4": 3, "−1,5 0,4; 0 0\n2 1": 3, " ": 0, "": 0, "-1 .4; -1 0; 1 0; 1 0.4;": 4,
	} {
		if line, err := ParseSurveyed(text); err != nil || len(line) != want {
			t.Errorf("%q is %v (%v)", text, line, err)
		}
	}
	for _, text := range []string{
		"0 0", "1 0; 0 1", "a b; c d", "-1 NaN; 1 0", "-1 Inf; 1 0", "1 2 3; 4 5 6", "-1 0.4; 1 0.4", "1 0; 2 0", "-9e99 0; 1 0", strings.Repeat("0 0;", 600),
	} {
		if line, err := ParseSurveyed(text); err == nil {
			t.Errorf("%q is taken for %v", text, line)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		line, err := ParseSurveyed(rapid.StringMatching(`[-0-9. ;,eNaInf\n]{0,40}`).Draw(t, "text"))
		for i := 1; i < len(line) && err == nil; i++ {
			if !(line[i].Off > line[i-1].Off) {
				t.Fatalf("%v does not go on to the right", line)
			}
		}
	})
}

// Levels above datum, with commas between the points, are taken for no section, and the
// text is not said again.
func TestSurveyedLevelsAndCommasAreTold(t *testing.T) {
	for text, words := range map[string]string{
		"-2 100, -1 99.5, 1 99.4, 2 100": "part the points by “;”",
		"-2 100; -1 99.5; 1 99.4; 2 100": "give heights above the channel's bed on the line, not levels",
	} {
		_, err := ParseSurveyed(text)
		if err == nil || !strings.Contains(err.Error(), words) || strings.Contains(err.Error(), "99") {
			t.Errorf("%q: %v", text, err)
		}
	}
	if _, err := ParseSurveyed(strings.Repeat("rubbish ", 40)); err == nil || len(err.Error()) > 250 {
		t.Errorf("of much rubbish it says %v", err)
	}
}

// Water in the side of a surveyed section that lies away from the line is found by
// both ways; its places are seeds.
func TestWaterBesideTheLineIsMeasured(t *testing.T) {
	s := site(60, 30, 0.25)
	add(s, plan.Channel, line(10, 15, 50, 15), "bed_start", 9.6, "bed_end", 9.6, "water_level", 9.5)
	for _, x := range []float64{10, 50} {
		add(s, plan.Section, at(x, 15))
		words(s, "surveyed", "-2 0.5; -1 0; 0 0; 0.5 0; 1 -0.3; 1.5 -0.3; 2 0; 3 0.5")
	}
	n, m := laidOut(t, s)
	// Round the ends the trench runs out, within an angle known to a step.
	want := lattice(n, 9.5, 0.04)
	near(t, "contact", m.Contact, want.Contact, 1e-2)
	near(t, "surface", m.Surface, want.Surface, 1e-2)
	near(t, "volume", m.Volume, want.Volume, 1e-2)
	for _, bed := range n.Beds(1) {
		if math.Abs(bed.Level-9.3) > 1e-9 {
			t.Fatalf("a bed lies at %v", bed.Level)
		}
	}
}

// Where a section has a bench or outer corners above the ground, the top of its bank
// is where it leaves the ground for good.
func TestTheTopOfABankIsBeyondItsBenches(t *testing.T) {
	s := site(60, 30, 0.25)
	id := add(s, plan.Channel, line(10, 15, 50, 15), "bed_start", 9.5, "bed_end", 9.5)
	for _, x := range []float64{10, 50} {
		add(s, plan.Section, at(x, 15))
		words(s, "surveyed", "-3 2; -1 0; 1 0; 2 0.55; 3 0.45; 4 0.45; 5 0.55")
	}
	n, _ := laidOut(t, s)
	left, right, _ := n.Banks(id, 20)
	near(t, "left", left.Off, -1.5, 1e-3)
	near(t, "right", right.Off, 4.5, 1e-3)
}
