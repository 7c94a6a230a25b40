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
	for range rapid.IntRange(1, 7).Draw(t, "features") {
		scrawlOne(t, s)
	}
	dress(t, s)
	return s
}

// somePoints draws so many points on and about the ground.
func somePoints(t *rapid.T, least, most int) orb.LineString {
	coordinate := rapid.Custom(func(t *rapid.T) float64 {
		return float64(rapid.IntRange(-4, 24).Draw(t, "c"))
	})
	var l orb.LineString
	for range rapid.IntRange(least, most).Draw(t, "n") {
		l = append(l, at(coordinate.Draw(t, "x"), coordinate.Draw(t, "y")))
	}
	return l
}

// scrawlOne draws one feature.
func scrawlOne(t *rapid.T, s *plan.Site) {
	level := rapid.SampledFrom([]float64{-500, 9, 9.8, 10, 10.4, 11, 40})
	l := somePoints(t, 2, 6)
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
		ring := orb.Ring(somePoints(t, 3, 5))
		add(s, plan.Island, orb.Polygon{append(ring, ring[0])}, "top", level.Draw(t, "top"))
	case plan.Drain:
		add(s, plan.Drain, l, "water_depth", rapid.Float64Range(0, 3).Draw(t, "depth"))
	case plan.Sill:
		add(s, plan.Sill, l, "crest", level.Draw(t, "crest"))
	default:
		add(s, plan.Spillway, l[0], "crest", level.Draw(t, "crest"))
	}
}

// dress gives what is drawn sections, beds and raised banks of all kinds.
func dress(t *rapid.T, s *plan.Site) {
	level := rapid.SampledFrom([]float64{-500, 9, 9.8, 10, 10.4, 11, 40})
	for i := range s.Plan.Features {
		f := s.Plan.Features[i]
		if f.Kind != plan.Channel {
			continue
		}
		f = f.With("shape", plan.Value{Text: rapid.SampledFrom([]string{"trapezoid", "rounded"}).Draw(t, "shape")})
		f = f.With("bed", plan.Value{Text: rapid.SampledFrom([]string{"between its ends", "level", "at a grade"}).Draw(t, "bed")})
		if rapid.IntRange(0, 3).Draw(t, "raised") == 0 {
			f = f.With("bank_top", plan.Value{Number: level.Draw(t, "bank top")})
		}
		s.Plan.Features[i] = f
		for range rapid.IntRange(0, 3).Draw(t, "sections") {
			line := f.Line()
			k, share := rapid.IntRange(1, len(line)-1).Draw(t, "side"), rapid.Float64Range(0, 1).Draw(t, "share")
			p := orb.Point{line[k-1][0] + (line[k][0]-line[k-1][0])*share, line[k-1][1] + (line[k][1]-line[k-1][1])*share}
			add(s, plan.Section, p)
			x := &s.Plan.Features[len(s.Plan.Features)-1]
			for _, field := range []struct {
				name  string
				value *rapid.Generator[float64]
			}{
				{"bed_width", rapid.Float64Range(0.05, 3)}, {"side_left", rapid.Float64Range(0, 20)}, {"bed_level", level}, {"drop", rapid.Float64Range(0, 5)},
			} {
				if rapid.IntRange(0, 2).Draw(t, field.name) == 0 {
					*x = x.With(field.name, plan.Value{Number: field.value.Draw(t, field.name)})
				}
			}
			words(s, "surveyed", rapid.SampledFrom([]string{"", "-1 0.4; 0 0; 1 0.4", "-1 9; -1 0; 1 0; 1 -3", "0 0; 1 2", "rubbish", "NaN NaN"}).Draw(t, "surveyed"))
		}
	}
}

func TestNoDrawingBreaksTheMeasures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := scrawl(t)
		n, problems := NewNetwork(s, 1)
		for _, p := range problems {
			if _, ok := s.Plan.Find(p.ID); !ok || p.Err == nil || p.At == (orb.Point{}) {
				t.Fatalf("problem %+v is of no feature", p)
			}
		}
		lines, err := n.Measure(t.Context(), Step{Along: 0.5, Across: 0.25})
		if err != nil {
			t.Fatal(err)
		}
		for _, b := range n.Barriers() {
			if math.IsInf(b.Narrowest, 0) || b.Shallowest < 0 || b.Closed != (b.Shallowest > 0) {
				t.Fatalf("a barrier is %+v", b)
			}
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
