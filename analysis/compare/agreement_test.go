package compare

import (
	"math"
	"strings"
	"testing"

	"runnel/geo/plan"
)

// Walls are soil that no cell sees.
func TestWallsAreWhyTheFiguresDisagree(t *testing.T) {
	for side, said := range map[float64]bool{0: true, 2: false} {
		s := coarse(0.25)
		s.Plan.Features = nil
		add(s, 101, plan.Channel, line(10, 15, 30, 15), "bed_width", 1.0, "bed_start", 9.5, "bed_end", 9.5, "water_level", 9.8, "side_left", side, "side_right", side)
		a, err := Measure(t.Context(), s, 101, Options{})
		if err != nil || (len(a.Problems) == 1) != said || said && !strings.Contains(a.Problems[0].Error(), "the banks of Channel 1 are walls, or so steep that they rise 0.30 m within a cell of 0.25 m") {
			t.Errorf("sides of %v : 1: %v (%v)", side, a.Problems, err)
		}
	}
}

func TestADrainOnGroundWithoutADitchIsWhyTheFiguresDisagree(t *testing.T) {
	s := coarse(0.25)
	s.Plan.Features = nil
	for i := range s.Ground.V {
		s.Ground.V[i] -= float32(0.01 * float64(i/s.Ground.W) * 0.25)
	}
	add(s, 0, plan.Drain, line(10, 28, 10, 2), "bed_width", 0.5, "depth", 0.5, "water_depth", 0.3, "side_left", 1.0, "side_right", 1.0)
	a, err := Measure(t.Context(), s, 101, Options{})
	if err != nil || len(a.Problems) != 1 || !strings.Contains(a.Problems[0].Error(), "Drain 1 is 0.50 m deep as it is drawn, but the ground shows a ditch of 0.00 m there in the mean") {
		t.Errorf("%v and %v m²: %v (%v)", a.Contact, a.ContactOnGround, a.Problems, err)
	}
}

// Water that stands to the top of its banks, on flat ground: the cells beside the bank
// are dry, wherever on the cells the bank lies. The prism is worked out by hand.
func TestAChannelFullToTheBrimAgreesBothWays(t *testing.T) {
	for _, y := range []float64{15, 15.05, 15.1, 15.15, 15.2} {
		s := coarse(0.25)
		s.Plan.Features = nil
		add(s, 101, plan.Channel, line(8, y, 32, y), "bed_width", 1.0, "bed_start", 9.5, "bed_end", 9.5, "water_level", 10.0, "side_left", 2.0, "side_right", 2.0)
		a, err := Measure(t.Context(), s, 101, Options{})
		if err != nil || len(a.Problems) != 0 {
			t.Fatal(a.Problems, err)
		}
		// A bed of 1 m with two banks of 0.5 m height, 24 m long; round the ends the half
		// of a disk and of a frustum of a cone.
		want := 24*(1+2*0.5*math.Sqrt(5)) + math.Pi*0.25 + math.Pi*(0.5+1.5)*0.5*math.Sqrt(5)
		if math.Abs(a.Contact/want-1) > 0.002 {
			t.Errorf("along the sections it is %v m², want %v", a.Contact, want)
		}
		if math.Abs(a.ContactOnGround/want-1) > 0.02 {
			t.Errorf("at y = %v m it is %v m² on the ground, want %v", y, a.ContactOnGround, want)
		}
	}
}

func TestALineThatLeavesTheGroundHasNoSensitivity(t *testing.T) {
	s := coarse(0.25)
	s.Plan.Features = nil
	add(s, 101, plan.Channel, line(10, 15, 60, 15), "bed_width", 1.0, "bed_start", 9.5, "bed_end", 9.5)
	a, err := Measure(t.Context(), s, 101, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(a.Length-30) > 0.2 || math.Abs(a.Perimeter-a.Contact/30) > 0.05 {
		t.Errorf("length is %v m and the perimeter %v m, of %v m²", a.Length, a.Perimeter, a.Contact)
	}
	got, err := SensitivityOf(t.Context(), s, &a)
	if err != nil || len(got.Rows) != 0 || got.Why != "Channel 1 leaves the ground that is known" {
		t.Errorf("%+v, %v", got, err)
	}
}
