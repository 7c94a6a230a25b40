package runoff

import (
	"math"
	"slices"
	"testing"

	"runnel/analysis/internal/raster"
	"runnel/assets/demo"
	"runnel/geo/plan"
)

var nan = math.NaN()

func TestADrainThatTheSurveyDoesNotShowIsBurntToItsDepth(t *testing.T) {
	b := shaped(t, 9, 20, func(_, north float64) float64 { return north / 20 })
	b.draw(plan.Drain, line(4.5, 20, 4.5, 0), values{"bed_width": 0.2, "depth": 0.5, "side_left": 0, "side_right": 0})
	s := b.surface()
	for y := range 20 {
		for x := range 9 {
			want := float64(b.Ground.At(x, y))
			if x == 4 {
				want -= 0.5
			}
			// At its ends the bed is level for half a cell, as the survey is.
			if got := float64(s.Ground.At(x, y)); !near(got, want, 0.026) {
				t.Errorf("cell %d, %d is at %.3f m, want %.3f", x, y, got, want)
			}
		}
	}
}

// A trench of the drain's depth is in the survey: it is not dug again, and what is
// burnt once is not burnt deeper.
func TestADrainThatTheSurveyShowsIsNotDugTwice(t *testing.T) {
	b := shaped(t, 9, 20, func(east, north float64) float64 {
		if east == 4.5 {
			return north/20 - 0.5
		}
		return north / 20
	})
	b.draw(plan.Drain, line(4.5, 20, 4.5, 0), values{"bed_width": 0.2, "depth": 0.5})
	if s := b.surface(); !slices.Equal(s.Ground.V, b.Ground.V) {
		for i, z := range s.Ground.V {
			if !near(float64(z), float64(b.Ground.V[i]), 0.03) {
				t.Errorf("cell %d goes from %.3f to %.3f m", i, b.Ground.V[i], z)
			}
		}
	}
	again := shaped(t, 9, 20, func(_, north float64) float64 { return north / 20 })
	again.draw(plan.Drain, line(2, 20, 7, 0), values{"bed_width": 1, "depth": 0.5})
	once := again.surface()
	again.Ground = once.Ground
	for i, z := range again.surface().Ground.V {
		if !near(float64(z), float64(once.Ground.V[i]), 0.08) {
			t.Errorf("cell %d is burnt from %.3f to %.3f m", i, once.Ground.V[i], z)
		}
	}
}

func TestTheDemoDrainIsHardlyTouched(t *testing.T) {
	site := demo.Site()
	b := &bench{Site: site, t: t}
	s := b.surface()
	drain := site.Plan.Of(plan.Drain, plan.AsItIs)[0]
	touched := 0
	raster.Along(site.Ground.Frame, drain.Line(), func(c int32) {
		switch d := site.Ground.V[c] - s.Ground.V[c]; {
		case d < 0:
			t.Errorf("cell %d of the drain is raised by %.3f m", c, -d)
		case d > 0.04:
			t.Errorf("cell %d of the drain is dug %.3f m deeper than surveyed", c, d)
		case d > 0:
			touched++
		}
	})
	if touched == 0 {
		t.Error("the drain's bed is not evened at all")
	}
}

func TestASillInADrainIsLeftStanding(t *testing.T) {
	b := shaped(t, 9, 20, func(_, north float64) float64 { return north / 20 })
	b.draw(plan.Drain, line(4.5, 20, 4.5, 0), values{"bed_width": 0.2, "depth": 0.5})
	proposed := b.Ground.Clone()
	proposed.Set(4, 10, proposed.At(4, 10)+0.2)
	s, err := Of(t.Context(), &b.Site, proposed)
	if err != nil {
		t.Fatal(err)
	}
	if s.Ground.At(4, 10) != proposed.At(4, 10) || s.Ground.At(4, 11) >= proposed.At(4, 11) {
		t.Error("the sill is burnt through, or the drain beside it is not burnt")
	}
}

func TestADrainsBedIsOneLineOfCellsAtLeast(t *testing.T) {
	b := shaped(t, 30, 30, level)
	b.draw(plan.Drain, line(1.2, 3.3, 28.7, 21.9), values{"bed_width": 0, "depth": 0.5})
	s := b.surface()
	f := route(t, s)
	low := 0
	for i, z := range s.Ground.V {
		if z < 4.9 {
			low++
			// Its water stays in it, flat as it lies, until it leaves.
			if f.Filled.V[i] > 5.0001 {
				t.Errorf("cell %d fills to %v", i, f.Filled.V[i])
			}
		}
	}
	if low < 28 {
		t.Errorf("%d cells are burnt, on a line that crosses 28 columns", low)
	}
}
