package channel

import (
	"context"
	"errors"
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
	"runnel/geo/plan"
)

// prism returns what a straight channel with round ends measures, by geometry:
// the section's perimeter along the line, and at the ends the bed's two half
// discs and the two half frusta of its banks.
func prism(s Section, y, length float64) Measure {
	r, out := s.Bed/2, s.Bed/2+s.Left*y
	return Measure{
		Contact: s.WettedPerimeter(y)*length + math.Pi*r*r + math.Pi*(r+out)*math.Hypot(s.Left*y, y),
		Surface: s.TopWidth(y)*length + math.Pi*out*out,
		Volume:  s.Area(y)*length + math.Pi*y/3*(r*r+r*out+out*out),
		WetBank: 2*length + 2*math.Pi*out,
		Depth:   y,
	}
}

func TestAStraightChannelMeasuresAsItsPrism(t *testing.T) {
	for name, c := range map[string]struct {
		section Section
		depth   float64
	}{
		"a garden channel": {Section{Bed: 0.6, Left: 3, Right: 3}, 0.3},
		"a wide channel":   {Section{Bed: 2, Left: 1.5, Right: 1.5}, 0.6},
		"walls":            {Section{Bed: 1, Left: 0, Right: 0}, 0.5},
		"a narrow notch":   {Section{Bed: 0.05, Left: 1, Right: 1}, 0.9},
	} {
		s := site(60, 30, 0.25)
		add(s, plan.Channel, line(10, 12, 50, 17), "bed_width", c.section.Bed, "side_left", c.section.Left, "side_right", c.section.Right,
			"bed_start", 9.0, "bed_end", 9.0, "water_level", 9+c.depth)
		_, lines := measured(t, s, Step{})
		got, want := lines[0].Measure, prism(c.section, c.depth, math.Hypot(40, 5))
		near(t, name+": contact", got.Contact, want.Contact, 1e-3)
		near(t, name+": surface", got.Surface, want.Surface, 2e-3)
		near(t, name+": volume", got.Volume, want.Volume, 2e-3)
		near(t, name+": wet bank", got.WetBank, want.WetBank, 1e-3)
		near(t, name+": depth", got.Depth, want.Depth, 1e-9)
		near(t, name+": length", got.Length, math.Hypot(40, 5), 1e-9)
	}
}

func TestARingChannelMeasuresAsAnAnnulus(t *testing.T) {
	s := site(40, 40, 0.25)
	add(s, plan.Channel, orb.LineString(circle(20, 20, 8, 360)), "bed_width", 1.0, "side_left", 2.0, "side_right", 1.5,
		"bed_start", 9.5, "bed_end", 9.5, "water_level", 9.8)
	_, lines := measured(t, s, Step{})
	// The left bank lies inside. By geometry: a flat annulus and two frusta.
	inner, outer := 7.5-0.6, 8.5+0.45
	frustum := func(a, b float64) float64 { return math.Pi * (a + b) * math.Hypot(a-b, 0.3) }
	near(t, "contact", lines[0].Measure.Contact, math.Pi*(8.5*8.5-7.5*7.5)+frustum(7.5, inner)+frustum(8.5, outer), 1e-3)
	near(t, "surface", lines[0].Measure.Surface, math.Pi*(outer*outer-inner*inner), 1e-3)
	near(t, "wet bank", lines[0].Measure.WetBank, 2*math.Pi*(outer+inner), 1e-3)
}

func TestAMoatMeasuresAsAnAnnulus(t *testing.T) {
	s := site(40, 40, 0.25)
	// The channel ends in the island, and stops short of the moat's outer bank:
	// all the water there is stands round the island.
	add(s, plan.Channel, line(20, 20, 21, 20), "bed_width", 0.6, "side_left", 3.0, "side_right", 1.0,
		"bed_start", 9.4, "bed_end", 9.4, "water_level", 9.7)
	add(s, plan.Island, orb.Polygon{circle(20, 20, 5, 360)}, "arm_width", 0.8, "side", 1.5)
	_, lines := measured(t, s, Step{})
	// From the crest at 10 m the bank falls 0.6 m over 0.9 m; water covers half of
	// that. The outer bank rises by the mean of the channel's sides, 2 to 1.
	foot, far := 5+0.9, 5+0.9+0.8
	shore, edge := 5+0.45, far+0.6
	contact := math.Pi*(far*far-foot*foot) + math.Pi*(shore+foot)*math.Hypot(0.45, 0.3) + math.Pi*(far+edge)*math.Hypot(0.6, 0.3)
	near(t, "contact", lines[0].Measure.Contact, contact, 1e-3)
	near(t, "surface", lines[0].Measure.Surface, math.Pi*(edge*edge-shore*shore), 1e-3)
	near(t, "wet bank", lines[0].Measure.WetBank, 2*math.Pi*(edge+shore), 1e-3)
	near(t, "depth", lines[0].Measure.Depth, 0.3, 1e-9)
}

func TestADrownedIslandIsWetAllOver(t *testing.T) {
	s := site(40, 40, 0.25)
	add(s, plan.Channel, line(20, 20, 21, 20), "bed_start", 9.4, "bed_end", 9.4, "water_level", 10.0)
	add(s, plan.Island, orb.Polygon{circle(20, 20, 2, 120)}, "arm_width", 0.8, "side", 1.5)
	for i, z := range s.Ground.V { // ground that the island stands on lies lower
		c := s.Ground.Centre(i%s.Ground.W, i/s.Ground.W)
		if math.Hypot(c[0]-east-20, c[1]-north-20) < 2.6 {
			s.Ground.V[i] = z - 0.2
		}
	}
	_, lines := measured(t, s, Step{})
	// Crest at 9.8 m under 0.2 m of water: bank 0.6 m, bed 0.8 m, outer bank 1.2 m.
	edge := 2 + 0.6 + 0.8 + 1.2
	near(t, "surface", lines[0].Measure.Surface, math.Pi*edge*edge, 3e-3)
	near(t, "wet bank", lines[0].Measure.WetBank, 2*math.Pi*edge, 2e-3)
}

// lattice measures a network by brute force: the proposed surface at the middle
// of every small square, with its slope, wherever it lies below the water.
func lattice(n *Network, level, square float64) Measure {
	const e = 1e-4
	var m Measure
	b := n.ground.Bound()
	for y := b.Min[1] + square/2; y < b.Max[1]; y += square {
		for x := b.Min[0] + square/2; x < b.Max[0]; x += square {
			depth := level - n.Proposed(orb.Point{x, y})
			if !(depth > 0) {
				continue
			}
			gx := (n.Proposed(orb.Point{x + e, y}) - n.Proposed(orb.Point{x - e, y})) / (2 * e)
			gy := (n.Proposed(orb.Point{x, y + e}) - n.Proposed(orb.Point{x, y - e})) / (2 * e)
			if math.Hypot(gx, gy) > 10 {
				gx, gy = 0, 0 // across a step
			}
			m.Contact += math.Sqrt(1+gx*gx+gy*gy) * square * square
			m.Surface += square * square
			m.Volume += depth * square * square
		}
	}
	return m
}

// latticed are sites whose measures a lattice finds as well.
var latticed = map[string]func() *plan.Site{
	"a winding channel": func() *plan.Site {
		s := site(90, 70, 0.25)
		add(s, plan.Channel, winding(12))
		return s
	},
	"a winding channel round an island": func() *plan.Site {
		s := site(90, 70, 0.25)
		add(s, plan.Channel, winding(12))
		add(s, plan.Island, orb.Polygon{circle(42.5, 35+12*math.Sin(37.5/8), 3, 60)})
		return s
	},
	"a square island on sloping ground": func() *plan.Site {
		s := siteOf(90, 70, 0.25, func(p orb.Point) float64 { return 10 + 0.01*p[0] + 0.003*(p[1]-35) })
		add(s, plan.Channel, line(20, 35, 60, 34), "bed_start", 9.55, "bed_end", 9.6, "water_level", 9.88)
		add(s, plan.Island, orb.Polygon{orb.Ring(line(36, 32, 43, 32, 43, 37, 36, 37, 36, 32))}, "top", 10.7)
		return s
	},
	"two channels that cross": func() *plan.Site {
		s := site(90, 70, 0.25)
		add(s, plan.Channel, line(10, 30, 80, 40), "bed_start", 9.4, "bed_end", 9.4, "water_level", 9.9)
		add(s, plan.Channel, line(45, 10, 47, 60), "bed_start", 9.5, "bed_end", 9.5, "bed_width", 1.2, "water_level", 9.9)
		return s
	},
	"a deep channel past a moat": func() *plan.Site {
		s := site(90, 70, 0.25)
		add(s, plan.Channel, line(10, 35, 60, 35), "bed_start", 9.8, "bed_end", 9.8, "water_level", 9.9)
		add(s, plan.Channel, line(10, 38.2, 60, 38.2), "bed_start", 9.0, "bed_end", 9.0, "water_level", 9.9, "side_left", 0.5, "side_right", 0.5)
		add(s, plan.Island, orb.Polygon{orb.Ring(line(20, 33, 50, 33, 50, 37, 20, 37, 20, 33))}, "arm_width", 0.7)
		return s
	},
	"a channel with sharp bends": func() *plan.Site {
		s := site(90, 70, 0.25)
		add(s, plan.Channel, line(10, 20, 40, 20, 40, 40, 43, 22, 70, 22, 60, 50), "water_level", 9.9)
		return s
	},
}

func TestTransectsMeasureWhatALatticeMeasures(t *testing.T) {
	for name, draw := range latticed {
		s := draw()
		n, lines := measured(t, s, Step{})
		var sum Measure
		for _, l := range lines {
			sum.Contact += l.Measure.Contact
			sum.Surface += l.Measure.Surface
			sum.Volume += l.Measure.Volume
		}
		want := lattice(n, lines[0].Measure.Level, 0.05)
		near(t, name+": contact", sum.Contact, want.Contact, 4e-3)
		near(t, name+": surface", sum.Surface, want.Surface, 4e-3)
		near(t, name+": volume", sum.Volume, want.Volume, 4e-3)
	}
}

// turned draws a channel round an island, turned about the middle of the site.
func turned(angle float64) *plan.Site {
	sin, cos := math.Sincos(angle)
	turn := func(l orb.LineString) orb.LineString {
		for i, p := range l {
			x, y := p[0]-east-30, p[1]-north-30
			l[i] = at(30+x*cos-y*sin, 30+x*sin+y*cos)
		}
		return l
	}
	s := site(60, 60, 0.5)
	add(s, plan.Channel, turn(line(15, 25, 28, 35, 45, 30)), "water_level", 9.9)
	add(s, plan.Island, orb.Polygon{orb.Ring(turn(line(26, 31, 31, 31, 31, 37, 26, 37, 26, 31)))})
	return s
}

func TestMeasuresDoNotHangOnWhichWayASchemeLies(t *testing.T) {
	_, lines := measured(t, turned(0), Step{})
	want := lines[0].Measure
	rapid.Check(t, func(t *rapid.T) {
		n, problems := NewNetwork(turned(rapid.Float64Range(0, 2*math.Pi).Draw(t, "angle")), 1)
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		lines, err := n.Measure(context.Background(), Step{})
		if got := lines[0].Measure; err != nil || math.Abs(got.Contact/want.Contact-1) > 4e-3 || math.Abs(got.WetBank/want.WetBank-1) > 4e-3 {
			t.Fatalf("turned it measures %+v, unturned %+v (%v)", got, want, err)
		}
	})
}

func TestMoreWaterTouchesMore(t *testing.T) {
	s := site(90, 70, 0.25)
	id := add(s, plan.Channel, winding(6), "bed_start", 9.3, "bed_end", 9.5)
	n, _ := NewNetwork(s, 1)
	last := Measure{}
	for level := 9.3; level < 9.95; level += 0.05 {
		held, problems := n.WithLevel(level)
		if wantDry := level <= 9.3; (len(problems) > 0) != wantDry {
			t.Errorf("at %.2f m: %v", level, problems)
		}
		lines, err := held.Measure(context.Background(), Step{})
		if err != nil {
			t.Fatal(err)
		}
		m := lines[0].Measure
		if m.Contact < last.Contact || m.Volume < last.Volume || m.Contact < m.Surface || m.Level != level {
			t.Errorf("at %.2f m: %+v after %+v", level, m, last)
		}
		last = m
	}
	held, _ := n.WithLevel(9.7)
	if c, err := held.Section(id, 10); err != nil || c.Level != 9.7 {
		t.Errorf("the section is at %v (%v)", c.Level, err)
	}
}

func TestSettingALevelLeavesTheNetworkAsItWas(t *testing.T) {
	s := site(90, 70, 0.25)
	add(s, plan.Channel, winding(6))
	n, before := measured(t, s, Step{})
	n.WithLevel(9.7)
	after, _ := n.Measure(t.Context(), Step{})
	if before[0].Measure != after[0].Measure {
		t.Errorf("it measured %+v, and then %+v", before[0].Measure, after[0].Measure)
	}
}

// At the usual step the figures are within a thousandth of what they come to.
func TestFinerStepsChangeLittle(t *testing.T) {
	s := site(90, 70, 0.25)
	add(s, plan.Channel, winding(12))
	add(s, plan.Channel, line(40, 5, 50, 65), "bed_width", 1.0)
	add(s, plan.Island, orb.Polygon{circle(42.5, 35+12*math.Sin(37.5/8), 3, 60)})
	add(s, plan.Island, orb.Polygon{orb.Ring(line(40, 12, 43, 11, 45, 16, 40, 18, 40, 12))}, "top", 10.2)
	n, usual := measured(t, s, Step{})
	fine, err := n.Measure(t.Context(), Step{0.05, 0.02})
	if err != nil {
		t.Fatal(err)
	}
	for i := range usual {
		near(t, usual[i].Title+": contact", usual[i].Measure.Contact, fine[i].Measure.Contact, 1e-3)
		near(t, usual[i].Title+": volume", usual[i].Measure.Volume, fine[i].Measure.Volume, 2e-3)
	}
}

// The water's edge of a straight channel lies a known way off its line.
func TestTheShoreLiesAtTheWatersEdge(t *testing.T) {
	s := site(60, 30, 0.25)
	add(s, plan.Channel, line(10, 15, 50, 15), "bed_start", 9.5, "bed_end", 9.5, "water_level", 9.8)
	_, lines := measured(t, s, Step{})
	if len(lines[0].Shore) < 320 {
		t.Errorf("the shore has %d places", len(lines[0].Shore))
	}
	for _, p := range lines[0].Shore {
		if off := plan.Distance(line(10, 15, 50, 15), p); math.Abs(off-0.9) > 1e-6 {
			t.Fatalf("a place of the shore is %v m off the line, want 0.9", off)
		}
	}
}

func TestMeasuringStopsWhenAsked(t *testing.T) {
	s := site(60, 30, 0.25)
	add(s, plan.Channel, line(10, 15, 50, 15))
	n, _ := NewNetwork(s, 1)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if lines, err := n.Measure(ctx, Step{}); !errors.Is(err, context.Canceled) || lines != nil {
		t.Errorf("got %v, %v", lines, err)
	}
}
