package view

import (
	"context"
	"testing"

	"runnel/analysis/compare"
	"runnel/analysis/synthetic"
	"runnel/assets/demo"
	"runnel/geo/plan"

	"github.com/paulmach/orb"
)

// BenchmarkASceneWhileDragging makes the scene of a site with a channel's vertex
// somewhere else each time, as the step Shape shows it.
func BenchmarkASceneWhileDragging(b *testing.B) {
	large := demo.Site()
	large.Ground = synthetic.Site(1000, 1000, 1)
	large.Plan.Features = []plan.Feature{{
		ID: 1, Kind: plan.Channel, Scheme: large.Plan.Schemes[0].ID,
		Geometry: orb.LineString{{500, 300}, {640, 230}, {700, 200}, {800, 100}},
	}}
	b.Run("demo", func(b *testing.B) { scenes(b, demo.Site()) })
	b.Run("1 Mcell", func(b *testing.B) { scenes(b, large) })
}

func scenes(b *testing.B, s plan.Site) {
	var (
		routes Routes
		before *Scene
		sites  [8]plan.Site
		made   [8]compare.Account
		err    error
	)
	scheme := s.Plan.Schemes[0].ID
	for i := range sites {
		sites[i] = pulled(s, scheme, 0.3*float64(i))
		if made[i], err = compare.Measure(context.Background(), &sites[i], scheme, compare.Options{}); err != nil {
			b.Fatal(err)
		}
	}
	for i := 0; b.Loop(); i++ {
		k := i % len(sites)
		maker := Maker{Before: before, Show: Shade | Contours | Drawn | Labels | Water | Standing | Cautions, Routes: &routes, Hasty: true}
		if before, err = maker.Scene(context.Background(), &sites[k], &made[k]); err != nil {
			b.Fatal(err)
		}
	}
}

// pulled is a site with the middle vertex of a scheme's channels moved to the east [m].
func pulled(s plan.Site, scheme plan.SchemeID, by float64) plan.Site {
	s = s.Clone()
	for i, f := range s.Plan.Features {
		if f.Kind == plan.Channel && f.Scheme == scheme {
			line := f.Line().Clone()
			line[len(line)/2][0] += by
			s.Plan.Features[i].Geometry = line
		}
	}
	return s
}
