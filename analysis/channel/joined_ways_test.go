package channel_test

import (
	"context"
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/channel"
	"runnel/analysis/earthwork"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// plot returns a site of w by h metres in cells of 0.05 m, with ground that falls
// 1 in 200 to the east from 10 m.
func plot(w, h float64) *plan.Site {
	const cell = 0.05
	g := grid.New[float32](grid.Square(int(w/cell), int(h/cell), 0, h, cell))
	for i := range g.V {
		g.V[i] = float32(10 - g.Centre(i%g.W, i/g.W)[0]/200)
	}
	return &plan.Site{Ground: g, Plan: plan.Plan{Schemes: []plan.Scheme{{ID: 1, Name: "Test"}}}}
}

// lead draws a channel whose banks rise 1 in 2 in the plot's scheme.
func lead(s *plan.Site, line orb.LineString, fields map[string]float64) {
	f := plan.Feature{ID: plan.ID(len(s.Plan.Features) + 1), Kind: plan.Channel, Scheme: 1, Geometry: line}
	f = f.With("side_left", plan.Value{Number: 2}).With("side_right", plan.Value{Number: 2})
	for name, v := range fields {
		f = f.With(name, plan.Value{Number: v})
	}
	s.Plan.Features = append(s.Plan.Features, f)
}

// bothWays returns the contact area, the surface and the volume along the sections
// and on the ground.
func bothWays(t *testing.T, s *plan.Site) (sections, ground [3]float64) {
	t.Helper()
	n, _ := channel.NewNetwork(s, 1)
	lines, err := n.Measure(context.Background(), channel.Step{Along: 0.1, Across: 0.05})
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range lines {
		sections[0] += l.Measure.Contact
		sections[1] += l.Measure.Surface
		sections[2] += l.Measure.Volume
	}
	_, wet, err := earthwork.Stand(context.Background(), s.Ground, n)
	if err != nil {
		t.Fatal(err)
	}
	return sections, [3]float64{wet.Contact, wet.Surface, wet.Volume}
}

func round(x, y, r float64, n int) orb.LineString {
	var l orb.LineString
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		l = append(l, orb.Point{x + r*cos, y + r*sin})
	}
	return append(l, l[0])
}

type fields = map[string]float64

// meeting are drawings of channels that meet.
var meeting = map[string]func(s *plan.Site){
	"a T": func(s *plan.Site) {
		lead(s, orb.LineString{{4, 10}, {26, 10}}, fields{"bed_start": 9.45, "bed_end": 9.4})
		lead(s, orb.LineString{{15, 16}, {15, 10}}, fields{"bed_start": 9.6, "bed_end": 9.45, "bed_width": 0.8})
	},
	"a T whose end stops at the bed's rim": func(s *plan.Site) {
		lead(s, orb.LineString{{4, 10}, {26, 10}}, fields{"bed_start": 9.45, "bed_end": 9.4})
		lead(s, orb.LineString{{15, 16}, {15, 10.5}}, fields{"bed_start": 9.6, "bed_end": 9.45})
	},
	"an X": func(s *plan.Site) {
		lead(s, orb.LineString{{4, 10}, {26, 11}}, fields{"bed_start": 9.5, "bed_end": 9.4})
		lead(s, orb.LineString{{12, 4}, {18, 17}}, fields{"bed_start": 9.6, "bed_end": 9.3, "bed_width": 0.9})
	},
	"an X of two levels": func(s *plan.Site) {
		lead(s, orb.LineString{{4, 10}, {26, 11}}, fields{"water_level": 9.7, "bed_start": 9.5, "bed_end": 9.4})
		lead(s, orb.LineString{{12, 4}, {18, 17}}, fields{"water_level": 9.8, "bed_start": 9.6, "bed_end": 9.3})
	},
	"an arm that leaves and comes back": func(s *plan.Site) {
		lead(s, orb.LineString{{3, 10}, {27, 10}}, fields{"bed_start": 9.45, "bed_end": 9.4})
		lead(s, orb.LineString{{8, 10}, {11, 15}, {19, 15}, {22, 10}}, fields{"bed_start": 9.44, "bed_end": 9.42})
	},
	"a ring with a lead": func(s *plan.Site) {
		lead(s, round(15, 10, 5, 48), fields{"bed_start": 9.4, "bed_end": 9.4})
		lead(s, orb.LineString{{3, 10}, {10, 10}}, fields{"bed_start": 9.5, "bed_end": 9.4})
	},
	"a line that crosses itself on one level": func(s *plan.Site) {
		lead(s, orb.LineString{{4, 8}, {22, 8}, {22, 16}, {12, 16}, {12, 3}}, fields{"bed_start": 9.4, "bed_end": 9.4})
	},
}

func TestBothWaysAgreeWhereChannelsMeet(t *testing.T) {
	for name, draw := range meeting {
		s := plot(30, 20)
		draw(s)
		sections, ground := bothWays(t, s)
		for i, what := range []string{"contact", "surface", "volume"} {
			if off := math.Abs(sections[i]/ground[i] - 1); !(off <= 0.01) {
				t.Errorf("%s: %s is %.3f along the sections, %.3f on the ground (%.2f %% off)", name, what, sections[i], ground[i], 100*off)
			}
		}
	}
}
