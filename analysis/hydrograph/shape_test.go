package hydrograph

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"runnel/geo/plan"
)

func near(got, want, within float64) bool { return math.Abs(got-want) <= within }

func shape(t testing.TB, name string) Shape {
	t.Helper()
	s, err := ShapeNamed(name, "0 0, 0.5 0.8, 1 1")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestEveryDistributionOfThePlanHasAShape(t *testing.T) {
	for _, name := range plan.Distributions() {
		if s := shape(t, name); s.Name != name || s.Source == "" || s.check() != nil {
			t.Errorf("%s is %+v (%v)", name, s, s.check())
		}
	}
	if s := shape(t, ""); s.Name != "triangular" {
		t.Errorf("the usual shape is %s", s.Name)
	}
	if _, err := ShapeNamed("drizzle", ""); err == nil || !strings.Contains(err.Error(), "give one of") {
		t.Errorf("a shape that there is not: %v", err)
	}
}

// A triangle that peaks at 3/8 peaks at twice the mean; at the peak 3/8 has fallen.
func TestTheTriangleIsOne(t *testing.T) {
	s := shape(t, "triangular")
	for _, c := range [][2]float64{{0, 0}, {0.1875, 0.09375}, {0.375, 0.375}, {0.6875, 1 - 0.3125*0.3125/0.625}, {1, 1}} {
		if got := s.At(c[0]); !near(got, c[1], 2e-6) {
			t.Errorf("by %v of the time %v has fallen, want %v", c[0], got, c[1])
		}
	}
	if got := (s.At(0.376) - s.At(0.374)) / 0.002; !near(got, 2, 0.01) {
		t.Errorf("it peaks at %v of the mean, want 2", got)
	}
}

// A quartile of Huff's is that in which most falls.
func TestHuffsStormsAreHardestInTheirQuarter(t *testing.T) {
	for i, name := range []string{"first", "second", "third", "fourth"} {
		s := shape(t, "Huff "+name+" quartile")
		most := 0
		for q := range 4 {
			in := func(q int) float64 { return s.At(float64(q+1)/4) - s.At(float64(q)/4) }
			if in(q) > in(most) {
				most = q
			}
		}
		if most != i {
			t.Errorf("%s is hardest in quarter %d", s.Name, most+1)
		}
	}
}

// Shares of the rain of 24 hours that fall in the hardest half hour: 38 % in Type II
// and 27 % or so in I; IA is the mildest (TR-55, appendix B, in words; from memory).
func TestTheNRCSStormsOrderAsTheyDo(t *testing.T) {
	most := func(name string) float64 {
		return Storm{1, 24, shape(t, name)}.Hardest(0.5)
	}
	if got := most("NRCS Type II"); !near(got, 0.38, 0.005) {
		t.Errorf("in half an hour of Type II there falls %v", got)
	}
	if ia, i, iii, ii := most("NRCS Type IA"), most("NRCS Type I"), most("NRCS Type III"), most("NRCS Type II"); !(ia < i && i < ii && ia < iii && iii < ii) {
		t.Errorf("the hardest half hours are IA %v, I %v, III %v, II %v", ia, i, iii, ii)
	}
	s := shape(t, "NRCS Type III") // Austin's drainage criteria manual, table 2-6: 1:00 0.0100, 9:00 0.1458, 16:30 0.8984
	for _, c := range [][2]float64{{1, 0.0100}, {9, 0.1458}, {16.5, 0.8984}} {
		if got := s.At(c[0] / 24); !near(got, c[1], 0.005) {
			t.Errorf("by %v h of Type III %v has fallen, want %v", c[0], got, c[1])
		}
	}
	if s.Told(24) != "" || !strings.Contains(s.Told(2), "24 hours") || shape(t, "even").Told(2) != "" {
		t.Error("that the shapes are of 24 hours is not told where it matters alone")
	}
}

func TestAnOwnTableIsRead(t *testing.T) {
	s, err := ParseShape(" 0 0, 0.5 0.8 ; 1 1\n")
	if err != nil || !near(s.At(0.25), 0.4, 1e-12) || !near(s.At(0.75), 0.9, 1e-12) || s.At(-1) != 0 || s.At(2) != 1 || s.At(math.NaN()) != 0 {
		t.Errorf("it is %+v (%v)", s, err)
	}
}

func TestATableThatDoesNotRiseIsRefused(t *testing.T) {
	for text, want := range map[string]string{
		"":                           "is empty",
		"0 0, 0.5, 1 1":              `pair 2 of the storm's table is "0.5"`,
		"0 0, a b, 1 1":              "give two figures",
		"0 0, 0.5 80, 1 1":           "the rain from 0 to 1",
		"0 0, 0.5 NaN, 1 1":          "give two figures",
		"0 0":                        "does not run from nothing to all",
		"0.1 0, 1 1":                 "does not run from nothing to all",
		"0 0, 0.5 0.5":               "does not run from nothing to all",
		"0 0, 0.5 0.5, 0.5 0.6, 1 1": "not later",
		"0 0, 0.5 0.5, 0.4 0.6, 1 1": "not later",
		"0 0, 0.5 0.5, 0.6 0.4, 1 1": "in all by that time",
	} {
		if _, err := ParseShape(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: the error is %v, want %q in it", text, err, want)
		}
	}
}

// All the rain falls, in steps that need not divide the storm, and none is negative.
func TestAllTheRainFalls(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, _ := ShapeNamed(rapid.SampledFrom(plan.Distributions()[:10]).Draw(t, "shape"), "")
		storm := Storm{rapid.Float64Range(0.1, 500).Draw(t, "depth"), rapid.Float64Range(0.05, 72).Draw(t, "hours"), s}
		step := rapid.Float64Range(10, 7200).Draw(t, "step")
		sum := 0.0
		for _, rain := range storm.Steps(step) {
			if rain < 0 {
				t.Fatalf("%v mm fall in a step", rain)
			}
			sum += rain
		}
		if !near(sum, storm.Depth, 1e-9*storm.Depth) {
			t.Fatalf("%v mm fall of %v", sum, storm.Depth)
		}
		if storm.Hardest(storm.Hours) != storm.Depth || storm.Hardest(storm.Hours/2) < storm.Depth/2-1e-9 {
			t.Fatalf("half the storm brings %v of %v mm at most", storm.Hardest(storm.Hours/2), storm.Depth)
		}
	})
	if (Storm{}).Steps(60) != nil || (Storm{Depth: 40}).Steps(60) != nil {
		t.Error("no storm rains")
	}
}
