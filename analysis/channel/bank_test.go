package channel

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"runnel/geo/plan"
)

// hollow is ground at 10 m that falls to 9.8 m about one place.
func hollow(x, y float64) func(orb.Point) float64 {
	return func(p orb.Point) float64 { return 10 - max(0, 0.2-0.05*math.Hypot(p[0]-x, p[1]-y)) }
}

// spilled measures scheme 1, and returns its one problem's sentence.
func spilled(t *testing.T, n *Network, problems []Problem, id plan.ID) (Measure, string) {
	t.Helper()
	if len(problems) != 1 || problems[0].ID != id {
		t.Fatalf("the problems are %v; want one of feature %d", problems, id)
	}
	lines, err := n.Measure(t.Context(), Step{})
	if err != nil {
		t.Fatal(err)
	}
	return lines[0].Measure, problems[0].Error()
}

func TestWaterAboveTheLowestBankIsMeasuredAtTheBrim(t *testing.T) {
	// The bank meets level ground 0.3 + 2 × 0.6 m from the line.
	for place, c := range map[string]struct {
		ground func(orb.Point) float64
		draw   func(s *plan.Site)
	}{
		"10.0 m along it, on its left":  {hollow(20, 16.3), nil},
		"10.0 m along it, on its right": {hollow(20, 13.7), nil},
		"beyond its start":              {hollow(8.2, 15), nil},
		"beyond its end":                {hollow(41.8, 15), nil},
		"across from Island 2": {hollow(25, 20.7), func(s *plan.Site) {
			add(s, plan.Island, orb.Polygon{circle(25, 15, 3, 40)})
		}},
	} {
		s := siteOf(60, 30, 0.25, c.ground)
		add(s, plan.Channel, line(10, 15, 40, 15), "bed_start", 9.4, "bed_end", 9.4)
		if c.draw != nil {
			c.draw(s)
		}
		own, _ := measured(t, s, Step{})
		brim := own.lines[0].lip.level
		if brim < 9.79 || brim > 9.95 {
			t.Errorf("%s: the brim lies at %.3f m", place, brim)
		}
		full, problems := own.WithLevel(brim)
		if len(problems) > 0 {
			t.Errorf("%s: full to the brim: %v", place, problems)
		}
		want, _ := full.Measure(t.Context(), Step{})

		checkSpills(t, s, own, place, want[0].Measure)
	}
}

// checkSpills asks too high a level of a channel, in two ways. It has to measure what it
// does at the brim, and to say where it spills.
func checkSpills(t *testing.T, s *plan.Site, own *Network, place string, want Measure) {
	t.Helper()
	held, problems := own.WithLevel(1e9)
	got, said := spilled(t, held, problems, 1)
	if got != want {
		t.Errorf("%s: at any level it measures %+v, at the brim %+v", place, got, want)
	}
	s.Plan.Features[0] = s.Plan.Features[0].With("water_level", plan.Value{Number: 12})
	typed, problems := NewNetwork(s, 1)
	got, said2 := spilled(t, typed, problems, 1)
	if got != want {
		t.Errorf("%s: with a level of 12 m it measures %+v, at the brim %+v", place, got, want)
	}
	for _, part := range []string{"Channel 1 would spill: at 12.00 m", place, "lower the water level, or raise the bank"} {
		if !strings.Contains(said2, part) || strings.Count(said2, "Channel 1") != 1 {
			t.Errorf("it says %q, not %q", said2, part)
		}
	}
	if !strings.Contains(said, place) {
		t.Errorf("it says %q, not %q", said, place)
	}
}

func TestWaterThatStaysInItsBanksIsNoProblem(t *testing.T) {
	s := siteOf(60, 30, 0.25, hollow(20, 16.3))
	id := add(s, plan.Channel, line(10, 15, 40, 15), "bed_start", 9.4, "bed_end", 9.4)
	n, _ := measured(t, s, Step{})
	brim := n.lines[0].lip.level
	if _, problems := n.WithLevel(brim - 0.01); len(problems) > 0 {
		t.Errorf("a centimetre below the brim: %v", problems)
	}
	held, problems := n.WithLevel(brim + 0.01)
	if m, _ := spilled(t, held, problems, id); m.Level != brim {
		t.Errorf("a centimetre above the brim of %v m the water stands at %v m", brim, m.Level)
	}
	held, problems = n.WithLevel(9.3)
	if _, said := spilled(t, held, problems, id); !strings.Contains(said, "holds no water") {
		t.Errorf("below the bed: %s", said)
	}
}

// Where the ground is known in the bed only, no bank holds the water, and the
// way out to its edge has to end all the same.
func TestALevelWithoutBanksIsMeasuredOnTheGroundThereIs(t *testing.T) {
	s := siteOf(60, 30, 0.25, func(p orb.Point) float64 {
		if math.Abs(p[1]-15) < 1 {
			return 10
		}
		return math.NaN()
	})
	add(s, plan.Channel, line(-5, 15, 65, 15), "bed_start", 9.4, "bed_end", 9.4)
	n, _ := NewNetwork(s, 1)
	if !math.IsInf(n.lines[0].lip.level, 1) {
		t.Fatalf("a bank is known, at %v m", n.lines[0].lip.level)
	}
	held, _ := n.WithLevel(1e9)
	lines, err := held.Measure(t.Context(), Step{})
	if m := lines[0].Measure; err != nil || !(m.Surface > 60 && m.Surface <= 120.5) {
		t.Errorf("of ground of 120 m² %v m² are wet (%v)", m.Surface, err)
	}
}

func TestAChannelOpenToADrainHoldsNoMoreThanRunsOff(t *testing.T) {
	s := siteOf(60, 30, 0.25, ditch)
	add(s, plan.Drain, line(10, 1, 10, 29), "bed_width", 0.6, "water_depth", 0.2)
	id := add(s, plan.Channel, line(10.5, 15, 40, 15), "water_level", 9.9)
	n, problems := NewNetwork(s, 1)
	m, said := spilled(t, n, problems, id)
	if math.Abs(m.Level-9.8) > 0.005 || !strings.Contains(said, "Channel 2 would run off: at 9.90 m its water stands above that of Drain 1, at 9.70 m") {
		t.Errorf("the water stands at %.3f m, and it says %q", m.Level, said)
	}
	add(s, plan.Sill, line(20, 12, 20, 18), "crest", 9.6)
	if _, problems := NewNetwork(s, 1); len(problems) != 1 {
		t.Errorf("over a sill at 9.6 m it runs off all the same: %v", problems)
	}
	s.Plan.Features[2] = s.Plan.Features[2].With("crest", plan.Value{Number: 9.95})
	s.Plan.Features[1].Geometry = line(40, 15, 10.5, 15)
	s.Plan.Features[1] = s.Plan.Features[1].With("water_level", plan.Value{Number: 9.7})
	if n, problems := NewNetwork(s, 1); len(problems) != 0 || n.segs[0].levelA != 9.95 {
		t.Errorf("a sill holds the water at %v m; %v", n.segs[0].levelA, problems)
	}
}

// On ground that falls 1 in 50 a sill at 20 m parts two pools, whose banks are
// lowest at their lower ends: 10.6 m and, at 40 m, 10.2 m.
func TestPoolsHoldToTheirOwnBrims(t *testing.T) {
	for name, c := range map[string]struct {
		crest, level, above, below float64
		said                       string
	}{
		"each within its own":          {10.5, 10.1, 10.5, 10.1, ""},
		"too high below":               {10.5, 10.4, 10.5, 10.2, "at 10.40 m"},
		"a sill above its banks":       {11, 10.1, 10.6, 10.1, "at 11.00 m"},
		"one water over a drowned one": {9.9, 10.5, 10.2, 10.2, "at 10.50 m"},
	} {
		s := siteOf(60, 30, 0.25, func(p orb.Point) float64 { return 11 - 0.02*p[0] })
		id := add(s, plan.Channel, line(5, 15, 40, 15), "bed_start", 9.7, "bed_end", 9.6, "water_level", c.level)
		add(s, plan.Sill, line(20, 10, 20, 20), "crest", c.crest)
		n, problems := NewNetwork(s, 1)
		above, _ := n.Section(id, 5)
		below, _ := n.Section(id, 30)
		// Beyond the end the bank lies some metre further down.
		if math.Abs(above.Level-c.above) > 0.05 || math.Abs(below.Level-c.below) > 0.05 {
			t.Errorf("%s: the water stands at %.2f m and at %.2f m, want %v and %v", name, above.Level, below.Level, c.above, c.below)
		}
		switch {
		case c.said == "" && len(problems) > 0:
			t.Errorf("%s: %v", name, problems)
		case c.said != "" && (len(problems) != 1 || !strings.Contains(problems[0].Error(), c.said)):
			t.Errorf("%s: %v, want one with %q", name, problems, c.said)
		}
	}
}

func TestADrainHoldsNoMoreWaterThanItIsDeep(t *testing.T) {
	drained := func(depth float64) (*Network, []Problem) {
		s := siteOf(40, 60, 0.25, ditch)
		add(s, plan.Drain, line(10, 5, 10, 55), "depth", 0.5, "water_depth", depth)
		return NewNetwork(s, 1)
	}
	full, problems := drained(0.5)
	if len(problems) > 0 {
		t.Errorf("a drain full to the brim: %v", problems)
	}
	want, _ := full.Measure(t.Context(), Step{})
	over, problems := drained(0.6)
	if got, said := spilled(t, over, problems, 1); got != want[0].Measure || !strings.Contains(said, "0.60 m deep, and it is itself only 0.50 m deep") {
		t.Errorf("it measures %+v, want %+v; it says %q", got, want[0].Measure, said)
	}
}

func TestAnIslandBetweenTwoChannelsIsKept(t *testing.T) {
	upper, lower := line(10, 15, 20, 22, 30, 15), line(10, 15, 20, 8, 30, 15)
	backward := lower.Clone()
	backward.Reverse()
	for name, c := range map[string]struct {
		channels []orb.LineString
		x        float64
		want     int
	}{
		"they start and end together":    {[]orb.LineString{upper, lower}, 20, 0},
		"one goes the other way":         {[]orb.LineString{upper, backward}, 20, 0},
		"one leaves and comes back":      {[]orb.LineString{line(2, 15, 10, 15, 20, 8, 30, 15, 38, 15), upper}, 20, 0},
		"it lies past their end":         {[]orb.LineString{upper, lower}, 36, 1},
		"they do not come back together": {[]orb.LineString{upper, line(10, 15, 20, 8, 30, 11)}, 20, 1},
		"it reaches into a bank":         {[]orb.LineString{line(10, 13, 30, 13)}, 20, 0},
		"it stops short of the bank":     {[]orb.LineString{line(10, 12.3, 30, 12.3)}, 20, 1},
	} {
		s := site(40, 30, 0.25)
		for _, l := range c.channels {
			add(s, plan.Channel, l, "bed_start", 9.5, "bed_end", 9.5, "water_level", 9.8)
		}
		add(s, plan.Island, orb.Polygon{circle(c.x, 15, 1.2, 24)})
		n, problems := NewNetwork(s, 1)
		if len(problems) != c.want {
			t.Errorf("%s: %v", name, problems)
		}
		if c.want == 0 && n.Proposed(at(c.x, 15)) != 10 {
			t.Errorf("%s: the island is dug to %v", name, n.Proposed(at(c.x, 15)))
		}
	}
}

func TestFeaturesAreThoseThatAreLaidOut(t *testing.T) {
	s := site(60, 60, 0.25)
	add(s, plan.Channel, line(10, 10, 50, 10))
	add(s, plan.Island, orb.Polygon{circle(30, 10, 2, 12)})
	add(s, plan.Island, orb.Polygon{circle(30, 40, 2, 12)})
	add(s, plan.Channel, line(200, 10, 250, 10))
	add(s, plan.Drain, line(5, 5, 5, 50))
	n, problems := NewNetwork(s, 1)
	var ids []plan.ID
	for _, f := range n.Features() {
		ids = append(ids, f.ID)
	}
	if len(ids) != 3 || ids[0] != 2 || ids[1] != 1 || ids[2] != 5 || len(problems) != 3 {
		t.Errorf("features %v are laid out; %v", ids, problems)
	}
	if _, again := n.WithLevel(9.9); len(again) != 3 {
		t.Errorf("at another level what is left out is %v", again)
	}
}
