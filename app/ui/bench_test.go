package ui

import (
	"context"
	"math"
	"slices"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"runnel/analysis/compare"
	"runnel/analysis/synthetic"
	"runnel/app/view"
	"runnel/assets/demo"
	"runnel/geo/plan"
)

func BenchmarkTheFiguresOfTheDemoSite(b *testing.B) {
	s := demo.Site()
	for b.Loop() {
		if _, err := new(measurer).measure(context.Background(), &s, s.Plan.Schemes[0].ID); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkARefresh is what follows when a vertex of a channel is dragged: figures,
// scene and picture. p95 is the time that 19 of 20 keep within.
func BenchmarkARefresh(b *testing.B) {
	large := demo.Site()
	large.Ground = synthetic.Site(2000, 2000, 1)
	large.Plan.Features = []plan.Feature{{
		ID: 1, Kind: plan.Channel, Scheme: large.Plan.Schemes[0].ID,
		Geometry: orb.LineString{{500, 1300}, {640, 1230}, {700, 1200}, {800, 1000}},
	}}
	for _, of := range []struct {
		name string
		site plan.Site
		step int
	}{{"demo, Shape", demo.Site(), 2}, {"demo, Water", demo.Site(), 1}, {"4 Mcell, Shape", large, 2}, {"4 Mcell, Water", large, 1}} {
		b.Run(of.name, func(b *testing.B) { refreshes(b, of.site, of.step) })
	}
}

func refreshes(b *testing.B, s plan.Site, step int) {
	var (
		m      measurer
		routes view.Routes
		before *view.Scene
		took   []float64
	)
	scheme, look := s.Plan.Schemes[0].ID, view.Light()
	for b.Loop() {
		s = s.Clone()
		for i, f := range s.Plan.Features {
			if f.Kind == plan.Channel && f.Scheme == scheme {
				line := f.Line().Clone()
				line[1][0] += 0.05 * float64(1-2*(len(took)%2))
				s.Plan.Features[i].Geometry = line
			}
		}
		start := time.Now()
		f, err := m.measure(context.Background(), &s, scheme)
		if err != nil {
			b.Fatal(err)
		}
		scene, err := view.Maker{Before: before, Show: steps[step].show, Routes: &routes, Hasty: true}.Scene(context.Background(), &s, &f.scheme)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := view.Draw(context.Background(), scene, view.Fit(scene.Bound(), 1220, 1160), 1220, 1160, look); err != nil {
			b.Fatal(err)
		}
		before, took = scene, append(took, time.Since(start).Seconds()*1000)
	}
	slices.Sort(took)
	b.ReportMetric(took[len(took)*19/20], "p95-ms")
}

func BenchmarkAStormOn4Mcell(b *testing.B) {
	s := plan.Site{Ground: synthetic.Site(2000, 2000, 1), Setting: plan.UsualSetting()}
	scene, err := view.Maker{Show: view.Stormwater}.Scene(context.Background(), &s, &compare.Account{})
	if err != nil {
		b.Fatal(err)
	}
	var rains stormer
	d := downpour{of: scene.Drainage, ponds: scene.Ponding, hours: 2}
	for b.Loop() {
		d.rain = math.Mod(d.rain+0.007, 0.15)
		if _, err := rains.fill(context.Background(), d); err != nil {
			b.Fatal(err)
		}
	}
}
