package channel

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// scrawl draws anything anywhere: lines that double back, features off the
// ground, levels far out, rings about nothing.
func scrawl(t *rapid.T) *plan.Site {
	s := siteOf(20, 20, 0.5, func(p orb.Point) float64 { return 10 + 0.05*p[0] })
	for range rapid.IntRange(0, 40).Draw(t, "holes") {
		s.Ground.V[rapid.IntRange(0, len(s.Ground.V)-1).Draw(t, "hole")] = grid.NoData
	}
	coordinate := rapid.Custom(func(t *rapid.T) float64 {
		return float64(rapid.IntRange(-4, 24).Draw(t, "c"))
	})
	points := func(least, most int) orb.LineString {
		var l orb.LineString
		for range rapid.IntRange(least, most).Draw(t, "n") {
			l = append(l, at(coordinate.Draw(t, "x"), coordinate.Draw(t, "y")))
		}
		return l
	}
	level := rapid.SampledFrom([]float64{-500, 9, 9.8, 10, 10.4, 11, 40})
	for range rapid.IntRange(1, 7).Draw(t, "features") {
		l := points(2, 6)
		switch rapid.SampledFrom([]plan.Kind{plan.Channel, plan.Island, plan.Drain, plan.Sill, plan.Spillway}).Draw(t, "kind") {
		case plan.Channel:
			if rapid.IntRange(0, 3).Draw(t, "ring") == 0 {
				l = append(l, l[0])
			}
			add(s, plan.Channel, l, "side_left", rapid.Float64Range(0, 20).Draw(t, "side"))
			for _, name := range []string{"bed_start", "bed_end", "water_level"} {
				if rapid.IntRange(0, 2).Draw(t, name) == 0 {
					f := &s.Plan.Features[len(s.Plan.Features)-1]
					*f = f.With(name, plan.Value{Number: level.Draw(t, name)})
				}
			}
		case plan.Island:
			ring := orb.Ring(points(3, 5))
			add(s, plan.Island, orb.Polygon{append(ring, ring[0])}, "top", level.Draw(t, "top"))
		case plan.Drain:
			add(s, plan.Drain, l, "water_depth", rapid.Float64Range(0, 3).Draw(t, "depth"))
		case plan.Sill:
			add(s, plan.Sill, l, "crest", level.Draw(t, "crest"))
		default:
			add(s, plan.Spillway, l[0], "crest", level.Draw(t, "crest"))
		}
	}
	return s
}

func TestNoDrawingBreaksTheMeasures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := scrawl(t)
		n, problems := NewNetwork(s, 1)
		for _, p := range problems {
			if _, ok := s.Plan.Find(p.ID); !ok || p.Err == nil {
				t.Fatalf("problem %+v is of no feature", p)
			}
		}
		lines, err := n.Measure(t.Context(), Step{Along: 0.5, Across: 0.25})
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range lines {
			m := l.Measure
			for _, v := range []float64{m.Contact, m.Surface, m.Volume, m.WetBank, m.Depth, m.Length} {
				if math.IsNaN(v) || math.IsInf(v, 0) || v < -1e-6 {
					t.Fatalf("%s measures %+v", l.Title, m)
				}
			}
			if m.Contact < m.Surface*(1-1e-9) {
				t.Fatalf("%s: more surface than soil: %+v", l.Title, m)
			}
			if c, err := n.Section(l.ID, 3); err != nil || len(c.Offset) == 0 {
				t.Fatalf("no section across %s: %v", l.Title, err)
			}
		}
	})
}
