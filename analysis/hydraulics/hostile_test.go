package hydraulics

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"runnel/analysis/channel"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// scrawl draws anything anywhere: lines that double back, loops, islands on each
// other, levels far out, channels off the ground, flows from none to a river.
func scrawl(t *rapid.T) *plan.Site {
	s := siteOf(24, 24, func(p orb.Point) float64 { return 10 + 0.04*p[0] })
	for range rapid.IntRange(0, 20).Draw(t, "holes") {
		s.Ground.V[rapid.IntRange(0, len(s.Ground.V)-1).Draw(t, "hole")] = grid.NoData
	}
	d := scrawler{t, s}
	for range rapid.IntRange(2, 9).Draw(t, "features") {
		switch kind := rapid.IntRange(0, 8).Draw(t, "kind"); kind {
		case 0, 1, 2:
			d.channel()
		case 3:
			ring := orb.Ring(d.points(3, 5))
			add(s, plan.Island, orb.Polygon{append(ring, ring[0])})
			d.maybe("top", levels)
		default:
			d.small(kind)
		}
	}
	return s
}

// A scrawler draws features on a site, with some of their fields set.
type scrawler struct {
	*rapid.T
	site *plan.Site
}

var levels = rapid.SampledFrom([]float64{-500, 9, 9.5, 9.8, 10, 10.4, 11, 40})

func (d scrawler) points(least, most int) orb.LineString {
	coordinate := func(name string) float64 { return float64(rapid.IntRange(-2, 13).Draw(d.T, name)) * 2 }
	var l orb.LineString
	for range rapid.IntRange(least, most).Draw(d.T, "n") {
		l = append(l, at(coordinate("x"), coordinate("y")))
	}
	return l
}

// maybe sets a field of the feature that was drawn last.
func (d scrawler) maybe(name string, of *rapid.Generator[float64]) {
	if rapid.IntRange(0, 2).Draw(d.T, name) > 0 {
		f := &d.site.Plan.Features[len(d.site.Plan.Features)-1]
		*f = f.With(name, plan.Value{Number: of.Draw(d.T, name)})
	}
}

func (d scrawler) channel() {
	l := d.points(2, 5)
	if rapid.IntRange(0, 3).Draw(d.T, "ring") == 0 {
		l = append(l, l[0])
	}
	add(d.site, plan.Channel, l, "lining", rapid.SampledFrom(plan.Linings()).Draw(d.T, "lining"))
	d.maybe("side_left", rapid.SampledFrom([]float64{0, 2, 20}))
	d.maybe("bed_start", levels)
	d.maybe("bed_end", levels)
	d.maybe("water_level", levels)
	d.maybe("flow", rapid.SampledFrom([]float64{0, 1e-6, 5, 80, 1e5}))
}

// small draws a drain, a sill, a section or a spillway.
func (d scrawler) small(kind int) {
	switch kind {
	case 4:
		add(d.site, plan.Drain, d.points(2, 4))
		d.maybe("water_depth", rapid.SampledFrom([]float64{0, .1, .5, 3}))
	case 5:
		add(d.site, plan.Sill, d.points(2, 3))
		d.maybe("crest", levels)
	case 6:
		add(d.site, plan.Section, d.points(1, 1)[0], "surveyed", "-2 0.3; -1 0.3; -0.5 0; 0.4 -0.1; 1 0.2; 2 0.2; 2.2 0.5")
		d.maybe("drop", rapid.SampledFrom([]float64{0, .3, 5}))
	default:
		add(d.site, plan.Spillway, d.points(1, 1)[0])
		d.maybe("crest", levels)
	}
}

// studied works out the parts of scheme 1, for what is inside them to be looked at.
func studied(t *rapid.T, s *plan.Site) (*study, []*part) {
	n, _ := channel.NewNetwork(s, 1)
	st := &study{ctx: t.Context(), site: s, options: Options{Step: 2, Freeboard: .05}, features: map[plan.ID]plan.Feature{}, network: n, graph: n.Graph(2), full: rapid.Bool().Draw(t, "full")}
	for _, f := range n.Features() {
		st.features[f.ID] = f
	}
	parts, err := st.run()
	if err != nil {
		t.Fatal(err)
	}
	return st, parts
}

func TestNoDrawingBreaksTheFlow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := scrawl(t)
		st, parts := studied(t, s)
		for _, w := range st.result.Withheld {
			if _, ok := s.Plan.Find(w.ID); !ok || w.Err == nil {
				t.Fatalf("%+v is of no feature", w)
			}
		}
		for _, p := range parts {
			continuous(t, p)
		}
		for _, r := range st.result.Reaches {
			sane(t, &r)
		}
		var in, out float64
		for _, i := range st.result.Inflows {
			if !math.IsNaN(i.Flow) {
				in += i.Flow // what runs over a bank is not known
			}
		}
		for _, o := range st.result.Outflows {
			out += o.Flow
		}
		if !(math.Abs(in-out) <= 1e-9*(1+in)) {
			t.Fatalf("%v comes in and %v leaves", in, out)
		}
	})
}

// continuous fails the test where more or less leaves a node than comes to it.
func continuous(t *rapid.T, p *part) {
	if len(p.net.branches) == 0 {
		return
	}
	left := append([]float64(nil), p.net.inflow...)
	total := 0.0
	for _, q := range left {
		total += q
	}
	for i, b := range p.net.branches {
		left[b.from] -= p.net.flow[i]
		left[b.to] += p.net.flow[i]
	}
	for k, q := range left[:len(left)-1] {
		if !(math.Abs(q) <= 1e-9*(1+total)) {
			t.Fatalf("%v m³/s is lost at node %d of %+v", q, k, p.net)
		}
	}
}

// sane fails the test where a reach has figures that no water has.
func sane(t *rapid.T, r *Reach) {
	for _, st := range r.Stations {
		for _, v := range []float64{st.Depth, math.Abs(st.Velocity), st.Froude, st.Shear} {
			if !(v >= 0) || math.IsInf(v, 0) {
				t.Fatalf("%s of flow %v has %+v", r.Title, r.Flow, st)
			}
		}
		if r.Flow != 0 && !(st.Depth > -1) {
			t.Fatalf("%s flows on the dry: %+v", r.Title, st)
		}
	}
}
