package channel

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"runnel/geo/plan"
)

// ditch is ground at 10 m with a ditch along x = 10 m whose bed lies at 9.5 m.
func ditch(p orb.Point) float64 {
	return min(10, 9.5+max(0, math.Abs(p[0]-10)-0.3))
}

// tieIn draws a drain in the ditch.
func tieIn(s *plan.Site) {
	add(s, plan.Drain, line(10, 1, 10, 29), "bed_width", 0.6, "water_depth", 0.2)
}

// standing are drawings and the level of their water.
var standing = map[string]struct {
	draw func(s *plan.Site)
	want float64
}{
	"its banks less the freeboard": {func(s *plan.Site) {
		add(s, plan.Channel, line(20, 15, 40, 15))
	}, 9.95},
	"the level that is set": {func(s *plan.Site) {
		add(s, plan.Channel, line(20, 15, 40, 15), "water_level", 9.77)
		add(s, plan.Spillway, at(30, 16), "crest", 9.8)
	}, 9.77},
	"a spillway at its bank": {func(s *plan.Site) {
		add(s, plan.Channel, line(20, 15, 40, 15))
		add(s, plan.Spillway, at(30, 16.5), "crest", 9.8)
	}, 9.8},
	"not a spillway that is far off": {func(s *plan.Site) {
		add(s, plan.Channel, line(20, 15, 40, 15))
		add(s, plan.Spillway, at(30, 25), "crest", 9.8)
	}, 9.95},
	"the lower of two spillways": {func(s *plan.Site) {
		add(s, plan.Channel, line(20, 15, 40, 15))
		add(s, plan.Spillway, at(30, 16.5), "crest", 9.9)
		add(s, plan.Spillway, at(35, 15), "crest", 9.85)
	}, 9.85},
	"the drain that it ties in to": {func(s *plan.Site) {
		tieIn(s)
		add(s, plan.Channel, line(10.5, 15, 40, 15))
	}, 9.7},
	"a drain at its other end": {func(s *plan.Site) {
		tieIn(s)
		add(s, plan.Channel, line(40, 15, 11, 15))
	}, 9.7},
	"not a drain that it stops short of": {func(s *plan.Site) {
		tieIn(s)
		add(s, plan.Channel, line(20, 15, 40, 15), "flow", 1.0)
	}, 9.95},
}

func TestWaterStandsWhereTheFirstRuleThatAppliesHasIt(t *testing.T) {
	for name, c := range standing {
		s := siteOf(60, 30, 0.25, ditch)
		c.draw(s)
		_, lines := measured(t, s, Step{})
		if got := lines[0].Measure.Level; math.Abs(got-c.want) > 0.005 {
			t.Errorf("%s: the water stands at %.3f m, want %.3f", name, got, c.want)
		}
	}
}

func TestADrainsWaterDoesNotStandAboveTheBanksItFeeds(t *testing.T) {
	s := siteOf(60, 30, 0.25, func(p orb.Point) float64 {
		return min(ditch(p), 10-max(0, p[0]-20)*0.1)
	})
	add(s, plan.Drain, line(10, 1, 10, 29), "bed_width", 0.6, "water_depth", 0.2)
	id := add(s, plan.Channel, line(10, 15, 26, 15))
	n, problems := NewNetwork(s, 1)
	m, said := spilled(t, n, problems, id)
	if m.Level > 9.4 || m.Level < 9.2 || !strings.Contains(said, "would spill: at 9.70 m") {
		t.Errorf("the water stands at %.2f m; the lowest bank, at the end, is at about 9.3: %s", m.Level, said)
	}
}

func TestABedWithNoLevelsSetFollowsTheGroundAtItsEnds(t *testing.T) {
	slope := func(p orb.Point) float64 { return 10 - 0.02*p[0] }
	for name, c := range map[string]struct {
		line       orb.LineString
		fields     []any
		start, end float64
	}{
		"neither set":     {line(10, 15, 40, 15), nil, 9.8 - 0.4, 9.2 - 0.4},
		"the start set":   {line(10, 15, 40, 15), []any{"bed_start", 9.0}, 9.0, 9.2 - 0.4},
		"the end set":     {line(10, 15, 40, 15), []any{"bed_end", 8.9, "depth", 0.3}, 9.8 - 0.3, 8.9},
		"a level ring":    {line(10, 15, 20, 15, 20, 25, 10, 15), nil, 9.6 - 0.4, 9.6 - 0.4},
		"a ring, one set": {line(10, 15, 20, 15, 20, 25, 10, 15), []any{"bed_start", 9.1}, 9.1, 9.1},
	} {
		s := siteOf(60, 30, 0.25, slope)
		add(s, plan.Channel, c.line, c.fields...)
		n, _ := measured(t, s, Step{})
		first, last := n.segs[0], n.segs[len(n.segs)-1]
		if math.Abs(first.bedA-c.start) > 1e-4 || math.Abs(last.bedB-c.end) > 1e-4 {
			t.Errorf("%s: the bed goes from %.3f to %.3f m, want %.3f to %.3f", name, first.bedA, last.bedB, c.start, c.end)
		}
	}
}

// On ground that falls 1 in 50, sills at 20 and 40 m hold pools like steps. The
// banks are looked at to some metre past the channel's end.
func TestSillsHoldPools(t *testing.T) {
	slope := func(p orb.Point) float64 { return 11 - 0.02*p[0] }
	for name, along := range map[string]orb.LineString{
		"drawn downhill": line(5, 15, 55, 15), "drawn uphill": line(55, 15, 5, 15),
	} {
		s := siteOf(60, 30, 0.25, slope)
		id := add(s, plan.Channel, along)
		_, before := measured(t, s, Step{})
		add(s, plan.Sill, line(20, 12, 20, 18), "crest", 10.4)
		add(s, plan.Sill, line(40, 12, 40, 18)) // at the lowest bank above it
		n, lines := measured(t, s, Step{})
		for x, want := range map[float64]float64{12: 10.4, 30: 10.2 - Freeboard, 50: 9.9 - Freeboard} {
			station := math.Abs(x - (along[0][0] - east))
			if c, _ := n.Section(id, station); math.Abs(c.Level-want) > 0.04 {
				t.Errorf("%s: at %v m the water stands at %.3f m, want %.3f", name, x, c.Level, want)
			}
		}
		if lines[0].Measure.Contact < 2*before[0].Measure.Contact {
			t.Errorf("%s: with sills %.1f m² are wet, without %.1f", name, lines[0].Measure.Contact, before[0].Measure.Contact)
		}
		if len(n.Sills()) != 2 || math.Abs(lines[0].Measure.Level-(9.9-Freeboard)) > 0.04 {
			t.Errorf("%s: sills %v, lowest pool at %v", name, n.Sills(), lines[0].Measure.Level)
		}
	}
}

func TestADrownedSillHoldsNothing(t *testing.T) {
	s := site(60, 30, 0.25)
	id := add(s, plan.Channel, line(5, 15, 55, 14), "water_level", 9.9)
	add(s, plan.Sill, line(20, 12, 20, 18), "crest", 9.7)
	n, _ := measured(t, s, Step{})
	if c, _ := n.Section(id, 5); c.Level != 9.9 {
		t.Errorf("above a drowned sill the water stands at %v, want 9.9 as below it", c.Level)
	}
}

// A sill drawn through a point of the line crosses both segments there, once.
func TestASillThroughABendHoldsOnePool(t *testing.T) {
	s := siteOf(60, 30, 0.25, func(p orb.Point) float64 { return 11 - 0.02*p[0] })
	id := add(s, plan.Channel, line(5, 15, 20, 15, 35, 17))
	add(s, plan.Sill, line(20, 12, 20, 18), "crest", 10.4)
	n, _ := measured(t, s, Step{})
	if len(n.Sills()) != 1 {
		t.Errorf("one sill holds %d pools", len(n.Sills()))
	}
	above, _ := n.Section(id, 14.5)
	below, _ := n.Section(id, 15.5)
	if above.Level != 10.4 || below.Level > 10.3 {
		t.Errorf("above the sill water stands at %v, below at %v", above.Level, below.Level)
	}
}

func TestASillBesideTheChannelHoldsNothing(t *testing.T) {
	s := site(60, 30, 0.25)
	add(s, plan.Channel, line(5, 15, 35, 15))
	id := add(s, plan.Sill, line(20, 18, 20, 25), "crest", 10.4)
	n, problems := NewNetwork(s, 1)
	m, said := spilled(t, n, problems, id)
	if len(n.Sills()) != 0 || math.Abs(m.Level-9.95) > 1e-6 || said != "Sill 2 crosses no channel and no drain; draw it across one" {
		t.Errorf("sills %v hold the water at %v; %s", n.Sills(), m.Level, said)
	}
}

func TestAChannelLedOffADrainLiesNoHigherThanItsBed(t *testing.T) {
	s := siteOf(60, 30, 0.25, ditch)
	add(s, plan.Drain, line(10, 1, 10, 29), "bed_width", 0.6, "water_depth", 0.2)
	for name, c := range map[string]struct {
		from, to float64
		fields   []any
		want     float64 // of the bed at the end away from the drain
	}{
		"led off":                  {10, 40, nil, 9.5},
		"led in":                   {40, 10, nil, 9.5},
		"deeper than the drain":    {10, 40, []any{"depth", 0.8}, 9.2},
		"with a level of its own":  {10, 40, []any{"bed_end", 9.7}, 9.7},
		"not tied in to the drain": {20, 40, nil, 9.6},
	} {
		s := *s
		s.Plan = s.Plan.Clone()
		id := add(&s, plan.Channel, line(c.from, 15, c.to, 15), c.fields...)
		n, _ := NewNetwork(&s, 1)
		station := 29.0
		if c.from > c.to {
			station = 1
		}
		section, err := n.Section(id, station)
		if err != nil {
			t.Fatal(err)
		}
		if got := slices.Min(section.Proposed); math.Abs(got-c.want) > 0.03 {
			t.Errorf("%s: the bed lies at %.3f m, want %.3f", name, got, c.want)
		}
	}
}

func TestAChannelTiesInWhereItsCutMeetsTheDrains(t *testing.T) {
	// The drain is 1.6 m from bank to bank, the channel 3 m: their cuts meet where
	// the channel ends within 2.3 m of the drain's line.
	for off, ties := range map[float64]bool{0.2: true, 1.4: true, 2.2: true, 2.4: false} {
		s := siteOf(60, 30, 0.25, ditch)
		add(s, plan.Drain, line(10, 1, 10, 29), "bed_width", 0.6, "water_depth", 0.2, "depth", 0.5)
		id := add(s, plan.Channel, line(10+off, 15, 40, 15))
		n, _ := NewNetwork(s, 1)
		section, err := n.Section(id, 10)
		if err != nil {
			t.Fatal(err)
		}
		if got := math.Abs(section.Level-9.7) < 0.01; got != ties {
			t.Errorf("%g m off the drain's line it stands at %.3f m", off, section.Level)
		}
	}
}

func TestAFilmOfWaterIsNone(t *testing.T) {
	for depth, wet := range map[float64]bool{0.004: false, 0.006: true} {
		s := siteOf(60, 30, 0.25, func(orb.Point) float64 { return 10 })
		id := add(s, plan.Channel, line(10, 15, 40, 15), "bed_start", 9.5, "bed_end", 9.5, "water_level", 9.5+depth)
		n, problems := NewNetwork(s, 1)
		lines, err := n.Measure(t.Context(), Step{})
		if err != nil {
			t.Fatal(err)
		}
		said := len(problems) == 1 && problems[0].ID == id
		if got := lines[0].Measure.Contact > 0; got != wet || said == wet {
			t.Errorf("%g m deep: %g m² touched, %v", depth, lines[0].Measure.Contact, problems)
		}
	}
}
