package channel

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/geo"
	"runnel/geo/plan"
)

// A ring of 8 m radius whose bed of 0.6 m lies at 9.6 m holds water at 9.9 m between
// banks of 1 in 2: it is 0.6 + 2 × 2 × 0.3 m wide.
func TestTheBarrierOfARoundIslandInARing(t *testing.T) {
	s := site(40, 40, 0.25)
	add(s, plan.Channel, orb.LineString(circle(20, 20, 8, 240)), "bed_start", 9.6, "bed_end", 9.6, "water_level", 9.9)
	id := add(s, plan.Island, orb.Polygon{circle(20, 20, 5, 120)})
	n, _ := measured(t, s, Step{})
	b := n.Barriers()
	if len(b) != 1 || b[0].ID != id || !b[0].Closed {
		t.Fatalf("%+v", b)
	}
	near(t, "the narrowest", b[0].Narrowest, 1.8, 0.003)
	near(t, "the shallowest", b[0].Shallowest, 0.3, 1e-6)
	if off := planar.Distance(b[0].NarrowAt, at(20, 20)); math.Abs(off-8) > 0.02 {
		t.Errorf("the narrowest shows %.3f m from the middle", off)
	}
}

// A moat is as wide as its bed of 0.8 m and its two banks, 1 in 1.5 and 1 in 2, under
// water. The channel's bed rises by 1 in 100 to the west, where it is shallowest.
func TestTheBarrierOfAMoat(t *testing.T) {
	s := site(60, 40, 0.25)
	add(s, plan.Channel, line(10, 20, 50, 20), "bed_start", 9.6, "bed_end", 9.4, "water_level", 9.9)
	add(s, plan.Island, orb.Polygon{circle(30, 20, 4, 120)}, "arm_width", 0.8)
	n, _ := measured(t, s, Step{})
	b := n.Barriers()[0]
	deep := 0.3 + 0.2*(16.0/40)
	if !b.Closed {
		t.Fatalf("%+v", b)
	}
	near(t, "the shallowest", b.Shallowest, deep, 0.01)
	near(t, "the narrowest", b.Narrowest, 0.8+3.5*deep, 0.03)
	if planar.Distance(b.ShallowAt, at(25.5, 20)) > 1 {
		t.Errorf("it is shallowest at %v", b.ShallowAt)
	}
}

func TestABarrierIsClosedAllRoundOnly(t *testing.T) {
	for bed, closed := range map[float64]bool{9.88: true, 9.92: false} {
		s := site(40, 40, 0.25)
		add(s, plan.Channel, line(5, 20, 10, 26, 30, 26, 35, 20), "bed_start", 9.6, "bed_end", 9.6, "water_level", 9.9)
		add(s, plan.Channel, line(5, 20, 10, 14, 30, 14, 35, 20), "bed_start", bed, "bed_end", bed, "water_level", 9.9)
		add(s, plan.Island, orb.Polygon{circle(20, 20, 2, 60)})
		n, _ := NewNetwork(s, 1)
		b := n.Barriers()[0]
		if b.Closed != closed {
			t.Errorf("an arm with its bed at %v m: %+v", bed, b)
		}
		if closed && math.Abs(b.Shallowest-0.02) > 1e-6 || !closed && (b.Narrowest != 0 || b.Shallowest != 0 || b.NarrowAt[1] > 4_000_020) {
			t.Errorf("an arm with its bed at %v m: %+v", bed, b)
		}
	}
}

func TestDaysThatAMoatStandsDry(t *testing.T) {
	got := Barrier{}.DryDays(geo.Range{Low: 14, Likely: 30, High: 60})
	if want := (geo.Range{Low: 305, Likely: 335, High: 351}); got != want {
		t.Errorf("%v, want %v", got, want)
	}
	if got := (Barrier{}).DryDays(geo.Range{Low: 366, Likely: 366, High: 366}); got != (geo.Range{}) {
		t.Errorf("all year: %v", got)
	}
}
