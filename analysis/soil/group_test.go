package soil

import (
	"math"
	"testing"
)

// NEH 630 chapter 7 (2009), table 7-1; the first row is confirmed by another text, the
// rest is from memory.
func TestGroupsAreThoseOfTheHandbook(t *testing.T) {
	const um = 3.6 // [mm/h] in 1 µm/s
	for _, c := range []struct {
		ksat, barrier float64
		want          Group
	}{
		{41 * um, 0.8, GroupA}, {39 * um, 0.8, GroupB}, {10.1 * um, 1, GroupB}, {9.9 * um, 0.5, GroupC}, {1.1 * um, 0.6, GroupC}, {1 * um, 0.7, GroupD},
		{10.1 * um, 1.1, GroupA}, {10 * um, 2, GroupB}, {4.1 * um, 2, GroupB}, {4 * um, 2, GroupC}, {0.41 * um, 2, GroupC}, {0.4 * um, 2, GroupD},
		{100 * um, 0.4, GroupD}, {11 * um, 0, GroupA}, {math.NaN(), 2, GroupD},
	} {
		if got := GroupOf(c.ksat, c.barrier); got != c.want {
			t.Errorf("%.2f µm/s above a barrier at %g m is %v, want %v", c.ksat/um, c.barrier, got, c.want)
		}
	}
	// The same limits in inches an hour as the handbook prints them beside: 5.67, 1.42, 0.57, 0.14, 0.06.
	for inches, um := range map[float64]float64{5.67: 40, 1.42: 10, 0.57: 4, 0.14: 1, 0.06: 0.4} {
		if !near(inches*25.4/3.6, um, 0.005*25.4/3.6) {
			t.Errorf("%g in/h is %.3f µm/s, want %g", inches, inches*25.4/3.6, um)
		}
	}
}

func TestAGroupRestsOnTheWaterTable(t *testing.T) {
	p := Profile{Shallow: 60, Deep: 20}
	for table, want := range map[float64]Group{0: GroupB, 0.5: GroupD, 0.8: GroupB, 3: GroupB} {
		p.Table = table
		if got := p.Group(); got != want {
			t.Errorf("above a water table at %g m the group is %v, want %v", table, got, want)
		}
	}
	p = Profile{Shallow: 100, Deep: 40}
	if p.Group() != GroupA {
		t.Error("fast soil above deep water is not A")
	}
	if p.Table = 0.9; p.Group() != GroupB {
		t.Error("a water table at 0.9 m does not bring the stricter limits in")
	}
}

// The handbook's words (second-hand): sands are A, clays D, and the loams lie between.
func TestGroupsOfTextures(t *testing.T) {
	for name, want := range map[string]Group{"sand": GroupA, "sandy loam": GroupB, "loam": GroupC, "clay loam": GroupC, "silty clay": GroupD, "clay": GroupD} {
		if got, _ := TextureNamed(name); got.Group != want {
			t.Errorf("%s is %v, want %v", name, got.Group, want)
		}
	}
	for i, class := range Textures() {
		if i > 0 && class.Group < Textures()[0].Group {
			t.Errorf("%s is %v", class.Name, class.Group)
		}
	}
}
