package soil

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"runnel/geo"
)

// A hole of 4 cm radius in which water falls from 90 to 70 cm in an hour: worked by hand
// from the formula of FAO Irrigation and Drainage Paper 24 and ILRI Publication 16 (from
// memory), 1.362e-4 cm/s, which is 0.1177 m a day.
func TestFallingHeadHole(t *testing.T) {
	got, err := FallingHead(0.04, []Reading{{0, 0.9}, {60, 0.7}})
	if err != nil || !near(got.Found, 4.90, 0.01) || !near(got.Found*24/1000, 0.1177, 0.0002) {
		t.Errorf("%g mm/h (%v), want 4.90", got.Found, err)
	}
}

// Riverside County, LID handbook, 2011, appendix A (from memory; recomputed): in a hole of 4 in
// radius water falls by 1.5 in in 10 min at a mean depth of 47 in: 0.37 in/h by its
// formula, ΔH 60 r / (Δt (r + 2 H)).
func TestFallingHeadHoleBesideTheFormulaOfCounties(t *testing.T) {
	const inch = 0.0254
	got, err := FallingHead(4*inch, []Reading{{0, 47.75 * inch}, {10, 46.25 * inch}})
	want := 1.5 * 60 * 4 / (10 * (4 + 2*47.0))
	if err != nil || !near(want, 0.37, 0.005) || !near(got.Found/25.4/want, 1, 0.001) {
		t.Errorf("%g in/h (%v), want %g", got.Found/25.4, err, want)
	}
}

// A percolation test of 10 minutes an inch falls by 6 in/h; in a hole of 6 in radius at a
// mean depth of 6 in that is 2.0 in/h of soil: three times less (worked by hand).
func TestAPercolationRateIsNoConductivity(t *testing.T) {
	const inch = 0.0254
	got, err := FallingHead(6*inch, []Reading{{0, 6.5 * inch}, {10, 5.5 * inch}})
	if err != nil || !near(got.Found/25.4, 2.0, 0.01) {
		t.Errorf("%g in/h (%v), want 2.0", got.Found/25.4, err)
	}
}

// The formula for a ring is that of a flow integrated in small steps, and comes to the
// steady flow of [ReynoldsElrick1990] while the water hardly falls.
func TestSingleRing(t *testing.T) {
	ring := Ring{Radius: 0.15, Depth: 0.05, Suction: 1.0 / 12}
	g := math.Pi * (0.316*ring.Depth + 0.184*ring.Radius)
	const k = 20e-3 / 60 // [m/min]
	depth, readings := 0.2, []Reading{{0, 0.2}}
	for i := 1; i <= 60_000; i++ {
		depth -= k * (1 + (depth+ring.Suction)/g) / 1000
		if i%20_000 == 0 {
			readings = append(readings, Reading{float64(i) / 1000, depth})
		}
	}
	got, err := SingleRing(ring, readings)
	if err != nil || !near(got.Found, 20, 0.01) {
		t.Errorf("%g mm/h (%v), want 20", got.Found, err)
	}
	if wide, _ := SingleRing(Ring{1e6, 0, 0}, readings); !near(wide.Found, fallRate(readings), 0.01) {
		t.Errorf("a ring without an edge finds %g mm/h, want how fast the water falls, %g", wide.Found, fallRate(readings))
	}
	straight, _ := DoubleRing(readings)
	if !(straight.Found > 1.5*got.Found) {
		t.Errorf("a single ring finds %g mm/h of a fall of %g", got.Found, straight.Found)
	}
}

// fallRate is how fast the water falls in the second half of three falls [mm/h].
func fallRate(r []Reading) float64 {
	return (r[2].Depth - r[3].Depth) * 1000 * 60 / (r[3].Minutes - r[2].Minutes)
}

// By arithmetic: 6 cm in an hour after refilling, and the first hour is left out.
func TestDoubleRingAfterARefill(t *testing.T) {
	readings, err := ParseReadings("0 0.30; 30 0.20; 60 0.15; 60 0.30; 90 0.27; 120 0.24")
	if err != nil {
		t.Fatal(err)
	}
	if got, err := DoubleRing(readings); err != nil || !near(got.Found, 60, 1e-9) {
		t.Errorf("%g mm/h (%v), want 60", got.Found, err)
	}
}

func TestWaterThatStandsStillFindsNothing(t *testing.T) {
	for _, of := range []func([]Reading) (Tested, error){
		func(r []Reading) (Tested, error) { return FallingHead(0.05, r) },
		func(r []Reading) (Tested, error) { return SingleRing(Ring{0.1, 0.05, 0.08}, r) }, DoubleRing,
	} {
		got, err := of([]Reading{{0, 0.3}, {60, 0.3}, {120, 0.3}})
		if err == nil || !strings.Contains(err.Error(), "does not go down") || !math.IsNaN(got.Found) || !math.IsNaN(got.Ksat.Likely) {
			t.Errorf("%+v (%v)", got, err)
		}
	}
}

func TestReadingsAreReadAsTheyAreTyped(t *testing.T) {
	want := []Reading{{0, 0.3}, {10, 0.24}, {20, 0.2}}
	for _, text := range []string{
		"0 0.30; 10 0.24; 20 0.20", "0 0.30, 10 0.24, 20 0.20", "0 0.30,10 0.24,20 0.20", "0 0,30; 10 0,24; 20 0,20", "0 0.3\n10 0.24\n20 0.2\n",
		"0 min 30 cm; 10 min 24 cm; 20 min 20 cm", "0min 300mm 10min 240mm 20min 200mm", "0 s 0.3 m; 600 s 0.24 m; 1200 s 0.2 m",
	} {
		got, err := ParseReadings(text)
		same := slices.EqualFunc(got, want, func(a, b Reading) bool { return near(a.Minutes, b.Minutes, 1e-9) && near(a.Depth, b.Depth, 1e-9) })
		if err != nil || !same {
			t.Errorf("%q is read as %v (%v)", text, got, err)
		}
	}
	if got, err := ParseReadings("0 1 ft; 1 h 6 in"); err != nil || !near(got[0].Depth, geo.Foot, 1e-12) || !near(got[1].Depth, geo.Foot/2, 1e-12) || got[1].Minutes != 60 {
		t.Errorf("feet and inches are read as %v (%v)", got, err)
	}
}

func TestReadingsThatAreNoTestAreRefused(t *testing.T) {
	for text, want := range map[string]string{
		"":                              "fewer than two readings",
		"0 0.3":                         "fewer than two readings",
		"0 0.3; 10":                     "a minute has no depth",
		"0 deep; 10 0.2":                "no unit that is known",
		"0 0.3; 10 0.2x4":               `"0.2x4"`,
		"0 0.3; 10 furlongs 0.2":        "no unit that is known",
		"10 0.3; 5 0.2":                 "an earlier minute",
		"0 0.2; 10 0.3":                 "the water rises from reading 1 to 2",
		"0 0.3; 10 -0.2":                "reading 2 is below nought",
		"0 NaN; 10 0.1":                 "no unit that is known",
		"cm 0 0.3; 10 0.2":              "no unit that is known",
		"0 1e999; 10 0.2":               "is no number",
		"0 0.3 m; 10 0.2 m; 20 0.1 min": "no unit that is known",
	} {
		if got, err := ParseReadings(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q is read as %v (%v), want %q", text, got, err, want)
		}
	}
}

func FuzzReadings(f *testing.F) {
	f.Add("0 0.30; 10 0.24")
	f.Add(",,; 1e5,3 cm")
	f.Fuzz(func(t *testing.T, text string) {
		readings, err := ParseReadings(text)
		if err != nil {
			return
		}
		got, err := FallingHead(0.05, readings)
		if err == nil && !(got.Found > 0) {
			t.Errorf("%q finds %g mm/h", text, got.Found)
		}
	})
}

// By hand, from tables of Student's t: t(0.95, 4) = 2.132, t(0.95, 6) = 1.943.
func TestSpreadOfTests(t *testing.T) {
	one := Spread([]float64{10})
	if ratio := math.Exp(2.132 * math.Sqrt(math.Ln2)); !near(one.Likely, 10, 1e-9) || !near(one.High/10, ratio, 0.005) || !near(10/one.Low, ratio, 0.005) {
		t.Errorf("one test comes to %v, want 10 times and by %.2f", one, ratio)
	}
	three := Spread([]float64{5, 10, 20})
	variance := (4*math.Ln2 + 2*math.Ln2*math.Ln2) / 6
	if ratio := math.Exp(1.943 * math.Sqrt(variance/3)); !near(three.Likely, 10, 1e-9) || !near(three.High/10, ratio, 0.002) {
		t.Errorf("three tests come to %v, want 10 times and by %.3f", three, ratio)
	}
	if Spread(nil).Check() == nil {
		t.Error("no test at all comes to a range")
	}
}

// More tests that agree alike narrow the range, and tests that differ more widen it.
func TestSpreadNarrowsWithTests(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		found := rapid.SliceOfN(rapid.Float64Range(0.1, 1000), 1, 12).Draw(t, "found")
		r := Spread(found)
		if r.Check() != nil || r.Likely < slices.Min(found)*(1-1e-9) || r.Likely > slices.Max(found)*(1+1e-9) {
			t.Fatalf("%v comes to %v", found, r)
		}
		twice := Spread(slices.Concat(found, found))
		if twice.High/twice.Low >= r.High/r.Low {
			t.Fatalf("%v twice over comes to %v, once to %v", found, twice, r)
		}
		var apart []float64
		for _, k := range found {
			apart = append(apart, r.Likely*math.Pow(k/r.Likely, 1.5))
		}
		if wider := Spread(apart); len(found) > 1 && wider.High/wider.Low < r.High/r.Low*(1-1e-9) {
			t.Fatalf("%v comes to %v, further apart to %v", found, r, wider)
		}
	})
}
