package earthwork

import (
	"context"
	"errors"
	"math"
	"slices"
	"testing"

	"runnel/analysis/channel"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// The volumes of a prism with round ends follow by geometry.
func TestAPrismIsDugOut(t *testing.T) {
	s := siteOf(0.1, level)
	add(s, plan.Channel, line(5, 8, 25, 12), map[string]float64{"bed_width": 1, "bed_start": 9.5, "bed_end": 9.5})
	proposed, problems, err := Proposed(t.Context(), s, 1)
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	section := channel.Section{Bed: 1, Left: 2, Right: 2}
	r, out := 0.5, 1.5
	want := section.Area(0.5)*math.Hypot(20, 4) + math.Pi*0.5/3*(r*r+r*out+out*out)
	v := Volume(s.Ground, proposed)
	if math.Abs(v.Cut/want-1) > 2e-3 || v.Fill != 0 {
		t.Errorf("cut %v and fill %v, want %v and nought", v.Cut, v.Fill, want)
	}
}

func TestARaisedIslandIsFilledUp(t *testing.T) {
	s := siteOf(0.1, level)
	add(s, plan.Channel, line(5, 10, 25, 10), nil)
	add(s, plan.Island, circle(15, 10, 3), map[string]float64{"top": 10.4, "side": 1.5})
	proposed, _, err := Proposed(t.Context(), s, 1)
	if err != nil {
		t.Fatal(err)
	}
	// A frustum of a cone, 0.4 m high, between the radii of top and toe.
	toe := 3 + 0.6
	want := math.Pi * 0.4 / 3 * (9 + 3*toe + toe*toe)
	if v := Volume(s.Ground, proposed); math.Abs(v.Fill/want-1) > 0.01 {
		t.Errorf("fill is %v, want %v", v.Fill, want)
	}
}

func TestCutAndFillAreCountedApart(t *testing.T) {
	// One cell of 5 by 5 m a corner: cuts of 0.2, 0.4, 0.6 and 0.3 m are 37.5 m³.
	ground, proposed := grid.Parse("5 5 5", "5 5 ."), grid.Parse("4.8 4.6 5.5", "4.4 4.7 1")
	ground.DX, ground.DY, proposed.DX, proposed.DY = 5, 5, 5, 5
	v := Volume(ground, proposed)
	if math.Abs(v.Cut-37.5) > 1e-4 || math.Abs(v.Fill-12.5) > 1e-4 {
		t.Errorf("cut %v and fill %v, want 37.5 and 12.5", v.Cut, v.Fill)
	}
}

func TestWithNothingDesignedTheGroundIsHandedBack(t *testing.T) {
	s := siteOf(0.5, level)
	add(s, plan.Drain, line(5, 8, 25, 12), nil)
	proposed, _, err := Proposed(t.Context(), s, 1)
	if err != nil || &proposed.V[0] != &s.Ground.V[0] {
		t.Errorf("another ground came back (%v)", err)
	}
	add(s, plan.Channel, line(5, 4, 25, 4), nil)
	before := slices.Clone(s.Ground.V)
	if _, _, err := Proposed(t.Context(), s, 1); err != nil || !slices.Equal(before, s.Ground.V) {
		t.Errorf("the site's own ground was changed (%v)", err)
	}
}

func TestNoDataStaysNoData(t *testing.T) {
	s := siteOf(0.5, level)
	add(s, plan.Channel, line(5, 10, 25, 10), nil)
	hole := 20*s.Ground.W + 30
	s.Ground.V[hole] = grid.NoData
	proposed, _, err := Proposed(t.Context(), s, 1)
	if err != nil || !grid.IsNoData(proposed.V[hole]) {
		t.Errorf("a cell of no data became %v (%v)", proposed.V[hole], err)
	}
}

// Ground that falls 1 in 40, with a sill half way: the pools are level, each at
// its own height, and no water leaks from the one to the other.
func TestASillHoldsItsPoolOnTheGroundToo(t *testing.T) {
	s := siteOf(0.1, func(x, y float64) float64 { return 10 - x/40 })
	add(s, plan.Channel, line(4, 9, 26, 11), nil)
	add(s, plan.Sill, line(15.3, 7, 14.7, 13), map[string]float64{"crest": 9.6})
	sections, wet, proposed := both(t, s)
	upper, lower := 0, 0
	for i, d := range wet.Depth.V {
		if grid.IsNoData(d) {
			continue
		}
		x := wet.Depth.Centre(i%wet.Depth.W, i/wet.Depth.W)[0] - 500_000
		switch z := float64(d + proposed.V[i]); {
		case math.Abs(z-9.6) < 1e-3 && x < 15.4:
			upper++
		case z < 9.4 && x > 14.6:
			lower++
		default:
			t.Fatalf("%.1f m along, water stands at %.3f m", x, z)
		}
	}
	if upper == 0 || lower == 0 || math.Abs(wet.Contact/sections.Contact-1) > 0.01 {
		t.Errorf("%d cells are wet above and %d below; contact is %v m², along sections %v", upper, lower, wet.Contact, sections.Contact)
	}
}

// A ditch half a metre deep along y = 10 m falls 1 in 100 to the east. The sill
// fills its section, 0.6 m wide with banks of 1 to 1, up to 0.3 m.
func TestASillAcrossADrainDamsIt(t *testing.T) {
	s := siteOf(0.1, func(x, y float64) float64 {
		bank := 10 - x/100
		return min(bank, bank-0.5+max(0, math.Abs(y-10)-0.3))
	})
	add(s, plan.Drain, line(1, 10, 29, 10), map[string]float64{"bed_width": 0.6, "water_depth": 0.1})
	open, wetOpen, _ := both(t, s)
	add(s, plan.Sill, line(20, 8.5, 20, 11.5), map[string]float64{"crest": 9.6})
	sections, wet, proposed := both(t, s)
	thick := math.Hypot(0.1, 0.1)
	if want := thick * (0.6 + 0.3) * 0.3; math.Abs(Volume(s.Ground, proposed).Fill/want-1) > 0.5 {
		t.Errorf("the dam is of %.4f m³, about %.4f was meant", Volume(s.Ground, proposed).Fill, want)
	}
	for x := 1.0; x < 29; x++ {
		i, j, _ := s.Ground.Cell(line(x, 10)[0])
		raised := proposed.At(i, j) > s.Ground.At(i, j)
		depth := float64(wet.Depth.At(i, j))
		want := 0.1
		if x < 20 {
			want = max(0.1, 9.6-(9.5-x/100))
		}
		if raised != (x == 20) || !raised && math.Abs(depth-want) > 0.02 {
			t.Errorf("%v m down the drain it is raised: %v, and %.3f m deep, want %.3f", x, raised, depth, want)
		}
	}
	if sections.Contact < 1.1*open.Contact || math.Abs(wet.Contact/sections.Contact-1) > 0.03 || math.Abs(wetOpen.Contact/open.Contact-1) > 0.03 {
		t.Errorf("contact is %v m² along the sections and %v on the ground, without the sill %v and %v", sections.Contact, wet.Contact, open.Contact, wetOpen.Contact)
	}
}

func TestWorkStopsWhenAsked(t *testing.T) {
	s := siteOf(0.2, level)
	add(s, plan.Channel, line(5, 10, 25, 10), nil)
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, _, err := Proposed(ctx, s, 1); !errors.Is(err, context.Canceled) {
		t.Errorf("cutting goes on: %v", err)
	}
	seeds := []Seed{{At: s.Ground.Centre(3, 3), Level: 11}}
	if _, err := standing(ctx, s.Ground, s.Ground, seeds); !errors.Is(err, context.Canceled) {
		t.Errorf("flooding goes on: %v", err)
	}
}
