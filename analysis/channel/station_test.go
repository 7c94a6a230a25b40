package channel

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"runnel/geo/plan"
)

// words sets fields of text on the last feature that was drawn.
func words(s *plan.Site, fields ...string) {
	f := &s.Plan.Features[len(s.Plan.Features)-1]
	for i := 0; i < len(fields); i += 2 {
		*f = f.With(fields[i], plan.Value{Text: fields[i+1]})
	}
}

// laidOut lays out scheme 1 and returns what its first line measures, whatever the
// problems.
func laidOut(t testing.TB, s *plan.Site) (*Network, Measure) {
	t.Helper()
	n, problems := NewNetwork(s, 1)
	for _, p := range problems {
		t.Log(p)
	}
	lines, err := n.Measure(t.Context(), Step{})
	if err != nil || len(lines) == 0 {
		t.Fatal(lines, err)
	}
	return n, lines[0].Measure
}

// turnedAbout returns what the water in half a section measures when it is turned
// about its middle, by Pappus: soil, surface, volume and edge for a full turn.
func turnedAbout(height func(off float64) float64, depth float64) Measure {
	const step = 1e-4
	var m Measure
	for off := 0.0; height(off+step) < depth; off += step {
		a, b := depth-height(off), depth-height(off+step)
		round := 2 * math.Pi * (off + step/2)
		m.Contact += round * math.Hypot(step, b-a)
		m.Surface += round * step
		m.Volume += round * step * (a + b) / 2
		m.WetBank = 2 * math.Pi * (off + step)
	}
	return m
}

func nearMeasure(t testing.TB, name string, got, want Measure, tolerance float64) {
	t.Helper()
	near(t, name+": contact", got.Contact, want.Contact, tolerance)
	near(t, name+": surface", got.Surface, want.Surface, tolerance)
	near(t, name+": volume", got.Volume, want.Volume, tolerance)
	near(t, name+": wet bank", got.WetBank, want.WetBank, tolerance)
}

// A straight channel of one section holds perimeter times length, and at its two
// ends what half the section holds when it is turned about its middle.
func TestAStraightRoundedChannelMeasuresPerimeterTimesLength(t *testing.T) {
	section := Section{Bed: 1.2, Left: 2, Right: 2, Form: Rounded}
	for _, depth := range []float64{0.1, 0.25, 0.45} {
		s := site(60, 30, 0.25)
		add(s, plan.Channel, line(10, 12, 50, 17), "bed_width", 1.2, "bed_start", 9.4, "bed_end", 9.4, "water_level", 9.4+depth)
		words(s, "shape", "rounded")
		_, got := laidOut(t, s)
		length, want := math.Hypot(40, 5), turnedAbout(section.Height, depth)
		want.Contact += section.WettedPerimeter(depth) * length
		want.Surface += section.TopWidth(depth) * length
		want.Volume += section.Area(depth) * length
		want.WetBank += 2 * length
		nearMeasure(t, "rounded", got, want, 3e-3)
	}
}

// By Pappus's theorems a ring of a section that is the same on both sides holds its
// perimeter and its area times the length of the line.
func TestARoundedRingMeasuresByPappus(t *testing.T) {
	section := Section{Bed: 1.2, Left: 2, Right: 2, Form: Rounded}
	s := site(40, 40, 0.25)
	add(s, plan.Channel, orb.LineString(circle(20, 20, 8, 360)), "bed_width", 1.2, "bed_start", 9.4, "bed_end", 9.4, "water_level", 9.7)
	words(s, "shape", "rounded")
	_, got := laidOut(t, s)
	round := 2 * math.Pi * 8
	nearMeasure(t, "rounded ring", got, Measure{
		Contact: round * section.WettedPerimeter(0.3), Surface: round * section.TopWidth(0.3), Volume: round * section.Area(0.3), WetBank: 2 * round,
	}, 2e-3)
}

// The perimeter and the area of a channel that narrows evenly, summed along it; its
// ends are frusta.
func TestANarrowingChannelMeasuresTheIntegralOfItsSections(t *testing.T) {
	wide, narrow := Section{Bed: 2, Left: 3, Right: 3}, Section{Bed: 0.4, Left: 1, Right: 1}
	s := site(60, 30, 0.25)
	id := add(s, plan.Channel, line(10, 15, 50, 15), "bed_width", 2.0, "side_left", 3.0, "side_right", 3.0, "bed_start", 9.5, "bed_end", 9.5, "water_level", 9.8)
	add(s, plan.Section, at(50, 15.2), "bed_width", 0.4, "side_left", 1.0, "side_right", 1.0)
	n, got := laidOut(t, s)
	want := Measure{WetBank: math.Pi * (1 + 0.9 + 0.2 + 0.3)}
	for _, end := range []Section{wide, narrow} {
		p := prism(end, 0.3, 0)
		want.Contact, want.Surface, want.Volume = want.Contact+p.Contact/2, want.Surface+p.Surface/2, want.Volume+p.Volume/2
	}
	const pieces = 4000
	for i := range pieces {
		mix := wide.Between(narrow, (float64(i)+0.5)/pieces)
		want.Contact += mix.WettedPerimeter(0.3) * 40 / pieces
		want.Surface += mix.TopWidth(0.3) * 40 / pieces
		want.Volume += mix.Area(0.3) * 40 / pieces
	}
	want.WetBank += 80
	nearMeasure(t, "narrowing", got, want, 2e-3)
	half, err := n.SectionAt(id, 20)
	if err != nil || math.Abs(half.Bed-1.2) > 1e-9 || math.Abs(half.Left-2) > 1e-9 {
		t.Errorf("halfway the section is %+v (%v)", half, err)
	}
}

// A section that is set in part takes the rest from what the channel would have there.
func TestASectionFallsBackToWhatTheChannelHasThere(t *testing.T) {
	s := site(60, 30, 0.25)
	id := add(s, plan.Channel, line(10, 15, 50, 15), "bed_width", 1.0, "side_left", 2.0, "side_right", 2.0)
	add(s, plan.Section, at(10, 15), "bed_width", 2.0)
	add(s, plan.Section, at(30, 15.3), "side_left", 4.0)
	n, _ := laidOut(t, s)
	for chainage, want := range map[float64]Section{
		0: {Bed: 2, Left: 2, Right: 2}, 20: {Bed: 1.5, Left: 4, Right: 2}, 10: {Bed: 1.75, Left: 3, Right: 2}, 40: {Bed: 1, Left: 2, Right: 2}, 99: {Bed: 1, Left: 2, Right: 2},
	} {
		got, err := n.SectionAt(id, chainage)
		if err != nil || math.Abs(got.Bed-want.Bed)+math.Abs(got.Left-want.Left)+math.Abs(got.Right-want.Right) > 1e-9 {
			t.Errorf("at %v m the section is %+v, want %+v (%v)", chainage, got, want, err)
		}
	}
	if _, err := n.SectionAt(99, 1); err == nil {
		t.Error("a channel that is not there has a section")
	}
}

func TestSectionsThatStandNowhereOrTwiceAreNamed(t *testing.T) {
	for name, c := range map[string]struct {
		draw func(s *plan.Site)
		want string
	}{
		"off the channel": {func(s *plan.Site) { add(s, plan.Section, at(30, 25)) }, "lies on no channel; move it onto one's line"},
		"twice": {func(s *plan.Site) {
			add(s, plan.Section, at(30, 15), "bed_width", 1.0)
			add(s, plan.Section, at(30.001, 15.2), "bed_width", 2.0)
		}, "Section 3 stands at the same place of Channel 1 as Section 2"},
		"rubbish": {func(s *plan.Site) {
			add(s, plan.Section, at(30, 15))
			words(s, "surveyed", "left bank")
		}, "cannot be read at \"left bank\""},
		"a drop at the end": {func(s *plan.Site) { add(s, plan.Section, at(50, 15), "drop", 0.2) }, "sets a drop at an end"},
		"a level on a level bed": {func(s *plan.Site) {
			words(s, "bed", "level")
			add(s, plan.Section, at(30, 15), "bed_level", 9.0)
		}, "level all along"},
	} {
		s := site(60, 30, 0.25)
		add(s, plan.Channel, line(10, 15, 50, 15))
		c.draw(s)
		_, problems := NewNetwork(s, 1)
		found := false
		for _, p := range problems {
			if strings.Contains(p.Error(), c.want) {
				at := p.At
				found = at != orb.Point{}
			}
		}
		if !found {
			t.Errorf("%s: the problems are %v", name, problems)
		}
	}
}

func TestAChainageThatIsNoNumberBreaksNothing(t *testing.T) {
	s := site(60, 30, 0.25)
	id := add(s, plan.Channel, line(10, 15, 50, 15), "bank_top", 10.2)
	add(s, plan.Section, at(30, 15))
	words(s, "surveyed", "-1 0.4; 0 0; 1 0.4")
	n, _ := laidOut(t, s)
	for _, chainage := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1, 1e300} {
		_, err := n.SectionAt(id, chainage)
		_, _, wrong := n.Banks(id, chainage)
		if err != nil || wrong != nil {
			t.Errorf("at %v: %v, %v", chainage, err, wrong)
		}
		if bed := n.BedAt(id, chainage); math.IsNaN(bed) != math.IsNaN(chainage) {
			t.Errorf("at %v the bed lies at %v", chainage, bed)
		}
	}
}
