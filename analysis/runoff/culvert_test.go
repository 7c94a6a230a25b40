package runoff

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// hill is a plane that falls 0.1 m a cell to the south, under a wall.
func hill(t testing.TB) *bench {
	b := shaped(t, 7, 9, func(_, north float64) float64 { return north / 10 })
	b.draw(plan.Wall, line(0, 4.5, 7, 4.5), nil)
	return b
}

func TestACulvertDrawnUphillRunsTheWayItFalls(t *testing.T) {
	b := hill(t)
	b.draw(plan.Culvert, line(3.5, 3.5, 3.5, 5.5), nil)
	l := b.surface().Links[0]
	if l.From != b.cell(3, 3) || l.To != b.cell(3, 5) {
		t.Errorf("it runs from cell %d to %d", l.From, l.To)
	}
}

func TestACulvertWhoseLevelsRiseAgainstTheGroundIsLeftOut(t *testing.T) {
	b := hill(t)
	id := b.draw(plan.Culvert, line(3.5, 5.5, 3.5, 3.5), values{"bed_start": 0.2, "bed_end": 0.6})
	s := b.complains(id, "Culvert 2 has its outlet on ground at 0.55 m, above its inlet's at 0.35 m, though its bed falls from 0.60 to 0.20 m")
	if len(s.Links) != 0 {
		t.Errorf("it is a link: %+v", s.Links)
	}
}

func TestACulvertWithALipTakesWaterThatReachesIt(t *testing.T) {
	b := hill(t)
	b.draw(plan.Culvert, line(3.5, 5.5, 3.5, 3.5), values{"bed_start": 0.8, "bed_end": 0.3, "capacity": 0.05})
	if l := b.surface().Links[0]; l.Level != 0.8 || l.Capacity != 0.05 {
		t.Errorf("the culvert is %+v", l)
	}
}

func TestCulvertsInALoopAreTold(t *testing.T) {
	b := shaped(t, 9, 9, level)
	b.draw(plan.Culvert, line(1.5, 1.5, 7.5, 1.5), nil)
	b.draw(plan.Culvert, line(7.5, 1.5, 4.5, 7.5), nil)
	id := b.draw(plan.Culvert, line(4.5, 7.5, 1.5, 1.5), nil)
	s := b.complains(id, "Culvert 3 closes a loop: water comes back to where it was by Culvert 1, Culvert 2, Culvert 3; turn one of them round")
	if len(s.Links) != 2 {
		t.Errorf("links %+v", s.Links)
	}
}

// On a plane that falls to the south by no more than the survey errs, water that a
// culvert carries north runs over the ground back to its inlet.
func TestACulvertWhoseWaterRunsBackToItIsTold(t *testing.T) {
	b := shaped(t, 9, 9, func(_, north float64) float64 { return 5 + north/1000 })
	id := b.draw(plan.Culvert, line(4.5, 2.5, 4.5, 6.5), values{"bed_start": 4.9, "bed_end": 4.8})
	s := b.complains(id, "Culvert 1 closes a loop: water comes back to where it was by Culvert 1")
	if len(s.Links) != 0 {
		t.Errorf("links %+v", s.Links)
	}
}

func TestACulvertInOneCellIsTold(t *testing.T) {
	b := shaped(t, 9, 9, level)
	b.complains(b.draw(plan.Culvert, line(1.2, 1.5, 1.8, 1.5), nil), "both mouths in one cell")
}

func TestAWallOverACulvertsMouthLeavesItOpen(t *testing.T) {
	b := shaped(t, 7, 9, func(_, north float64) float64 { return north / 10 })
	b.draw(plan.Wall, line(0, 5.5, 7, 5.5), nil)
	b.draw(plan.Culvert, line(3.5, 5.5, 3.5, 3.5), nil)
	s := b.surface()
	if got := s.Ground.At(3, 3); got != b.Ground.At(3, 3) {
		t.Errorf("the mouth is raised to %v", got)
	}
}

// The demo's culvert lies in a drain that the survey shows open from end to end.
func TestACulvertInAnOpenDrainIsNoLink(t *testing.T) {
	b := shaped(t, 9, 20, func(_, north float64) float64 { return north / 20 })
	b.draw(plan.Drain, line(4.5, 20, 4.5, 0), values{"bed_width": 0.2})
	b.draw(plan.Culvert, line(4.5, 12.5, 4.5, 7.5), nil)
	if s := b.surface(); len(s.Links) != 0 {
		t.Errorf("links %+v", s.Links)
	}
	b.draw(plan.Wall, line(0, 10.5, 9, 10.5), nil)
	if s := b.surface(); len(s.Links) != 0 {
		t.Errorf("a wall that leaves the drain open makes a link: %+v", s.Links)
	}
	for x := range 9 { // a bank over the drain
		for y := 8; y < 11; y++ {
			b.Ground.Set(x, y, 2)
		}
	}
	if s := b.surface(); len(s.Links) != 1 {
		t.Errorf("links %+v; want the culvert under the bank", s.Links)
	}
}

// A concrete pipe of 12 in at 1 in 100 carries 3.56 ft³/s full (from memory of
// common tables for n = 0.013); the rest is by hand from the formulas.
func TestCapacities(t *testing.T) {
	const foot = 0.3048
	full := math.Pi / 4 * foot * foot * math.Pow(foot/4, 2.0/3) * 0.1 / rough
	if cfs := full / (foot * foot * foot); !near(cfs, 3.56, 0.01) {
		t.Errorf("12 in at 1 in 100 carries %.3f ft³/s full", cfs)
	}
	for _, c := range []struct{ diameter, grade, want float64 }{
		{0.3, 0.002, 0.0433}, // 76.923 × 0.070686 × 0.177845 × 0.044721
		{0.3, 0.05, 0.0727},  // the mouth: 0.070686 × 0.6 × 1.71519
		{0.3, 0, 0.0306},     // level: as at 1 in 1000
	} {
		if got := Capacity(c.diameter, c.grade); !near(got, c.want, 1e-4) {
			t.Errorf("%.1f m at %.3f carries %.4f m³/s, want %.4f", c.diameter, c.grade, got, c.want)
		}
	}
}

func TestACulvertOrInletThatCanCarryNothingIsNoLink(t *testing.T) {
	b := shaped(t, 7, 9, func(_, north float64) float64 { return north / 10 })
	b.draw(plan.Wall, line(0, 4.5, 7, 4.5), nil)
	b.draw(plan.Culvert, line(3.5, 5.5, 3.5, 3.5), values{"capacity": 0})
	b.draw(plan.Inlet, orb.Point{1.5, 7.5}, values{"capacity": 0})
	if s := b.surface(); len(s.Links) != 0 {
		t.Errorf("links %+v", s.Links)
	}
}
