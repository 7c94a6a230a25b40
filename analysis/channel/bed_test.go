package channel

import (
	"math"
	"testing"

	"runnel/geo/plan"
)

// beds are drawings of a channel of 40 m, and the levels at which its bed lies.
var beds = map[string]struct {
	draw func(s *plan.Site)
	want map[float64]float64
}{
	"between its ends": {func(s *plan.Site) {
		add(s, plan.Section, at(20, 15), "bed_level", 9.0)
	}, map[float64]float64{0: 9.6, 5: 9.3, 10: 9.0, 25: 9.3, 40: 9.6}},
	"level": {func(s *plan.Site) { words(s, "bed", "level") }, map[float64]float64{0: 9.6, 20: 9.6, 40: 9.6}},
	"level, with a drop": {func(s *plan.Site) {
		words(s, "bed", "level")
		add(s, plan.Section, at(30, 15), "drop", 0.3)
	}, map[float64]float64{0: 9.6, 19.9: 9.6, 20: 9.3, 40: 9.3}},
	"at the usual grade": {func(s *plan.Site) { words(s, "bed", "at a grade") }, map[float64]float64{0: 9.6, 20: 9.5, 40: 9.4}},
	"at a grade through a level": {func(s *plan.Site) {
		words(s, "bed", "at a grade")
		f := &s.Plan.Features[0]
		*f = f.With("grade", plan.Value{Number: 1})
		add(s, plan.Section, at(30, 15), "bed_level", 9.0, "drop", 0.2)
	}, map[float64]float64{0: 9.2, 10: 9.1, 19.999999: 9.0, 20: 8.8, 30: 8.7, 40: 8.6}},
	"at a grade from a level through another": {func(s *plan.Site) {
		words(s, "bed", "at a grade")
		f := &s.Plan.Features[0]
		*f = f.With("grade", plan.Value{Number: -1}).With("bed_start", plan.Value{Number: 9.5})
		add(s, plan.Section, at(30, 15), "bed_level", 9.0)
	}, map[float64]float64{0: 9.5, 10: 9.25, 20: 9.0, 40: 9.2}},
	"drops go evenly": {func(s *plan.Site) {
		f := &s.Plan.Features[0]
		*f = f.With("bed_end", plan.Value{Number: 9.0})
		add(s, plan.Section, at(20, 15), "drop", 0.1)
		add(s, plan.Section, at(40, 15), "drop", 0.1)
	}, map[float64]float64{0: 9.6, 9.999999: 9.5, 10: 9.4, 20: 9.3, 29.999999: 9.2, 30: 9.1, 40: 9.0}},
}

func TestBedsRunAsTheyAreSet(t *testing.T) {
	for name, c := range beds {
		s := site(60, 30, 0.25)
		id := add(s, plan.Channel, line(10, 15, 50, 15), "depth", 0.4)
		c.draw(s)
		n, _ := laidOut(t, s)
		for chainage, want := range c.want {
			if got := n.BedAt(id, chainage); math.Abs(got-want) > 1e-5 {
				t.Errorf("%s: at %v m the bed lies at %v, want %v", name, chainage, got, want)
			}
		}
	}
}

func TestAChannelThatIsNotThereHasNoBed(t *testing.T) {
	s := site(10, 10, 0.5)
	n, _ := NewNetwork(s, 1)
	if _, _, err := n.Banks(1, 0); err == nil {
		t.Error("a channel that is not there has banks")
	}
	if !math.IsNaN(n.BedAt(1, 0)) || !math.IsNaN(n.WaterAt(1, 0)) {
		t.Error("a channel that is not there has a bed")
	}
}

// The face of a drop under water is the difference of the two wetted sections, as
// wide as the bed where the banks are walls.
func TestADropsFaceIsSoilUnderWater(t *testing.T) {
	for name, c := range map[string]struct{ side, water, face float64 }{
		"walls, drowned":        {0, 9.9, 1 * 0.3},
		"walls, water below":    {0, 9.6, 1 * 0.2},
		"banks, drowned":        {2, 9.9, (1*0.5 + 2*0.25) - (1*0.2 + 2*0.04)},
		"banks, above half way": {2, 9.6, 1*0.2 + 2*0.04},
	} {
		contact := func(drop float64) float64 {
			s := site(60, 30, 0.25)
			add(s, plan.Channel, line(10, 15, 50, 15), "bed_width", 1.0, "side_left", c.side, "side_right", c.side, "bed_start", 9.7, "bed_end", 9.4, "water_level", c.water)
			words(s, "bed", "level")
			if drop > 0 {
				add(s, plan.Section, at(30, 15), "drop", drop)
			}
			_, m := laidOut(t, s)
			return m.Contact
		}
		// The same two halves, each level, less the ends that they have in the middle.
		part := func(bed float64) float64 {
			section := Section{Bed: 1, Left: c.side, Right: c.side}
			return prism(section, max(0, c.water-bed), 20).Contact - prism(section, max(0, c.water-bed), 0).Contact/2
		}
		want := part(9.4) + c.face
		if c.water > 9.7 {
			want += part(9.7)
		}
		near(t, name, contact(0.3), want, 2e-3)
	}
}

func TestALongSectionShowsBothSidesOfADrop(t *testing.T) {
	s := site(60, 30, 0.25)
	id := add(s, plan.Channel, line(10, 15, 50, 15), "bed_start", 9.6, "bed_end", 9.3)
	add(s, plan.Section, at(30, 15), "drop", 0.2)
	n, _ := laidOut(t, s)
	l, err := n.LongSection(id)
	if err != nil {
		t.Fatal(err)
	}
	var beds []float64
	for _, p := range l.Places {
		if math.Abs(p.Chainage-20) < 1e-6 {
			beds = append(beds, p.Bed, p.Proposed)
		}
	}
	if len(beds) != 4 || math.Abs(beds[0]-beds[2]-0.2) > 1e-9 || math.Abs(beds[1]-beds[3]-0.2) > 1e-9 {
		t.Errorf("at the drop the bed and the proposed ground lie at %v", beds)
	}
}
