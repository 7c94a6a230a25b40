package hydraulics

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"runnel/analysis/channel"
)

const foot, cubicFoot = 0.3048, 0.0283168

// trapezoid returns a section with a bed [m] and slopes [H:V] alike on both sides.
func trapezoid(bed, side float64) channel.Section {
	return channel.Section{Bed: bed, Left: side, Right: side}
}

func TestNormalAndCriticalDepthOfTextbooks(t *testing.T) {
	for _, c := range []struct {
		source                   string
		bed, side, n, slope, q   float64
		normal, critical, within float64
	}{
		// Chow 1959 examples 6-2 and 4-2, from memory: 3.36 and 2.15 ft.
		{"Chow", 20 * foot, 2, .025, .0016, 400 * cubicFoot, 3.36 * foot, 2.15 * foot, .005},
		// Chaudhry, Open-channel flow, 2008, from memory.
		{"Chaudhry", 10, 2, .013, .001, 30, 1.09, .91, .005},
		// Mays, Water resources engineering, problem 5.3.4, as a third party prints it; hand-rounded.
		{"Mays .0003", 20 * foot, 1.5, .014, .0003, 1500 * cubicFoot, 8.18 * foot, math.NaN(), .01},
		{"Mays .0002", 20 * foot, 1.5, .014, .0002, 1500 * cubicFoot, 9.13 * foot, math.NaN(), .01},
	} {
		s := trapezoid(c.bed, c.side)
		y, err := NormalDepth(s, c.n, c.slope, c.q)
		if err != nil {
			t.Fatal(err)
		}
		within(t, c.source+": normal depth", y, c.normal, c.within*c.normal)
		y, err = CriticalDepth(s, c.q)
		if err != nil {
			t.Fatal(err)
		}
		if !math.IsNaN(c.critical) {
			within(t, c.source+": critical depth", y, c.critical, c.within*c.critical)
		}
		within(t, c.source+": Froude number at critical depth", Froude(s, y, c.q), 1, 1e-12)
	}
	// Chow 1959 examples 6-2 and 4-2, from memory: 4.46 and 7.66 ft/s.
	s := trapezoid(20*foot, 2)
	within(t, "Chow's velocity", Velocity(s, 3.36*foot, 400*cubicFoot), 4.46*foot, .01*foot)
	within(t, "Chow's critical velocity", Velocity(s, 2.15*foot, 400*cubicFoot), 7.66*foot, .02*foot)
	// The critical slope of the same channel, .0078.
	y, _ := CriticalDepth(s, 400*cubicFoot)
	within(t, "Chow's critical slope", FrictionSlope(s, y, .025, 400*cubicFoot), .0078, .00008)
}

// Chow, Maidment and Mays, Applied hydrology, 1988, example 2.5.1, from memory: 4870
// cfs at 4.87 ft/s, hydraulic radius 4.76 ft.
func TestManningsFlowOfAWideRectangle(t *testing.T) {
	s := trapezoid(200*foot, 0)
	q := Discharge(s, 5*foot, .015, .0003)
	within(t, "flow", q, 4870*cubicFoot, 24*cubicFoot)
	within(t, "velocity", Velocity(s, 5*foot, q), 4.87*foot, .025*foot)
	within(t, "hydraulic radius", s.HydraulicRadius(5*foot), 4.76*foot, .0075*foot)
}

// γ d S of 0.3 m at 1 %, with the standard weight of water: 29.42 Pa.
func TestShear(t *testing.T) {
	within(t, "shear", Shear(.3, .01), 29.42, .005)
	s := trapezoid(2, 1.5)
	within(t, "mean shear", MeanShear(s, .6, .01), 9806.65*.417935*.01, 1e-3)
}

// USBR, Water measurement manual, from memory: 1.705 b H^1.5, and 3.09 in feet.
func TestWeirs(t *testing.T) {
	within(t, "flow", WeirFlow(1, 1), 1.705, .0015)
	within(t, "flow in feet", WeirFlow(foot, foot)/cubicFoot, 3.09, .015)
	within(t, "head", WeirHead(2.5, WeirFlow(2.5, .17)), .17, 1e-12)
	within(t, "flow below the crest", WeirFlow(1, -1), 0, 0)
	// Water below the crest's two thirds makes no difference, and at them none yet.
	free := WeirHead(1.2, .08)
	for _, tail := range []float64{-1, 0, free / 2, free * 2 / 3} {
		within(t, "free head", DrownedWeirHead(1.2, .08, tail), free, 1e-12)
	}
	if deep := DrownedWeirHead(1.2, .08, .5); !(deep > .5 && deep < .501) {
		t.Errorf("half a metre over the crest, the head is %v", deep)
	}
}

func TestNoDepthWithoutSlopeOrSection(t *testing.T) {
	for _, slope := range []float64{0, -.01, math.NaN()} {
		if _, err := NormalDepth(trapezoid(1, 1), .03, slope, 1); err == nil {
			t.Errorf("there is a normal depth at a slope of %v", slope)
		}
	}
	for _, q := range []float64{-1, math.NaN(), math.Inf(1)} {
		if _, err := CriticalDepth(trapezoid(1, 1), q); err == nil {
			t.Errorf("there is a critical depth of a flow of %v", q)
		}
	}
	if _, err := CriticalDepth(channel.Section{}, 1); err == nil {
		t.Error("a section of nothing has a critical depth")
	}
}

// anySection draws a section: trapezoids down to ditches and up to rivers, rounded
// ones, and surveyed ones with benches and holes.
var anySection = rapid.Custom(func(t *rapid.T) channel.Section {
	s := channel.Section{
		Bed:  rapid.SampledFrom([]float64{.05, .3, 1, 50}).Draw(t, "bed"),
		Left: rapid.SampledFrom([]float64{.1, .5, 3, 20}).Draw(t, "left"), Right: rapid.SampledFrom([]float64{0, 1, 20}).Draw(t, "right"),
	}
	switch rapid.IntRange(0, 2).Draw(t, "form") {
	case 1:
		s.Form = channel.Rounded
	case 2:
		off := -3.0
		for range rapid.IntRange(2, 7).Draw(t, "points") {
			off += rapid.Float64Range(.1, 2).Draw(t, "step")
			s.Line = append(s.Line, channel.Point{Off: off, Height: rapid.SampledFrom([]float64{-.2, 0, .1, .1, .4}).Draw(t, "height")})
		}
	}
	return s
})

var anyFlow = rapid.Custom(func(t *rapid.T) float64 {
	return math.Pow(10, rapid.Float64Range(-6, 3).Draw(t, "exponent"))
})

func TestDepthsGiveBackTheFlow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, q := anySection.Draw(t, "section"), anyFlow.Draw(t, "flow")
		slope := rapid.SampledFrom([]float64{1e-5, .001, .02, .2}).Draw(t, "slope")
		y, err := NormalDepth(s, .03, slope, q)
		if err != nil {
			t.Fatal(err)
		}
		if got := Discharge(s, y, .03, slope); math.Abs(got/q-1) > 1e-9 {
			t.Fatalf("at normal depth %v it carries %v, want %v", y, got, q)
		}
		y, err = CriticalDepth(s, q)
		if err != nil {
			t.Fatal(err)
		}
		if f := Froude(s, y, q); math.Abs(f-1) > 1e-6 {
			t.Fatalf("at critical depth %v the Froude number is %v", y, f)
		}
	})
}

// Deeper water carries more, and critical depth has the least specific energy.
func TestLawsOfTrapezoids(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, q := anySection.Draw(t, "section"), anyFlow.Draw(t, "flow")
		s.Line = nil
		y, err := NormalDepth(s, .03, .01, q)
		if err != nil {
			t.Fatal(err)
		}
		if more := Discharge(s, y*1.01, .03, .01); !(more > q) {
			t.Fatalf("at %v it carries %v, no more than %v at %v", y*1.01, more, q, y)
		}
		y, _ = CriticalDepth(s, q)
		least := SpecificEnergy(s, y, q)
		for _, share := range []float64{.5, .9, .99, 1.01, 1.1, 2} {
			if e := SpecificEnergy(s, y*share, q); !(e > least) {
				t.Fatalf("at %v of critical depth the energy is %v, no more than %v", share, e, least)
			}
		}
	})
}
