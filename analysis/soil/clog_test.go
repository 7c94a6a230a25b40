package soil

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"runnel/geo/plan"
)

// By arithmetic: after its time 1 − 1/e, 63 %, of the loss is there, and of the recovery.
func TestABedClogsAndRecovers(t *testing.T) {
	c := plan.Clogging{Remains: 0.4, Days: 30, Recovery: 10}
	if after, _ := Clog(c, 1, 30); !near(after, 0.4+0.6/math.E, 1e-12) {
		t.Errorf("after 30 days of 30 the share is %g", after)
	}
	if after, _ := Clog(c, 1, 1e6); !near(after, 0.4, 1e-12) {
		t.Errorf("in the end %g remains, want 0.4", after)
	}
	if after, _ := Recover(c, 0.4, 10); !near(after, 1-0.6/math.E, 1e-12) {
		t.Errorf("after 10 dry days of 10 the share is %g", after)
	}
	if after, mean := Clog(plan.Clogging{}, 0.9, 5); after != 0.9 || mean != 0.9 {
		t.Errorf("a bed that does not clog goes to %g by way of %g", after, mean)
	}
	if after, mean := Recover(plan.Clogging{}, 0.9, 5); after != 1 || mean != 1 {
		t.Errorf("a bed that is clean at once goes to %g by way of %g", after, mean)
	}
}

// Two steps are one, and the mean is that of many small steps.
func TestCloggingIsExactOverAStep(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := plan.Clogging{
			Remains: rapid.Float64Range(0.01, 1).Draw(t, "remains"),
			Days:    rapid.Float64Range(0.1, 300).Draw(t, "days"), Recovery: rapid.Float64Range(0.1, 300).Draw(t, "recovery"),
		}
		start, days := rapid.Float64Range(c.Remains, 1).Draw(t, "share"), rapid.Float64Range(0, 100).Draw(t, "step")
		way := rapid.SampledFrom([]func(plan.Clogging, float64, float64) (float64, float64){Clog, Recover}).Draw(t, "way")
		after, mean := way(c, start, days)
		const parts = 100
		share, sum := start, 0.0
		for range parts {
			var part float64
			share, part = way(c, share, days/parts)
			sum += part / parts
		}
		if !near(after, share, 1e-9) || !near(mean, sum, 1e-9) || mean < min(start, after)-1e-12 || mean > max(start, after)+1e-12 {
			t.Fatalf("to %g by way of %g in one step, to %g by way of %g in %d", after, mean, share, sum, parts)
		}
	})
}
