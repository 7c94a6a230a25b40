package view

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/paulmach/orb"
	"runnel/analysis/compare"
	"runnel/analysis/synthetic"
	"runnel/geo/plan"
)

func TestProbe(t *testing.T) {
	site := &plan.Site{Ground: synthetic.Site(4096, 4096, 1), Setting: plan.UsualSetting()}
	r := rand.New(rand.NewPCG(1, 2))
	specs := plan.Specs()
	site.Plan.Schemes = []plan.Scheme{{ID: 900000, Name: "A"}}
	for i := range 2000 {
		sp := specs[i%len(specs)]
		x, y := r.Float64()*4000, r.Float64()*4000
		f := plan.Feature{ID: plan.ID(i + 1), Kind: sp.Kind, Name: fmt.Sprint(sp.Label, " ", i)}
		if sp.InScheme {
			f.Scheme = 900000
		}
		switch sp.Shape {
		case plan.PointShape:
			f.Geometry = orb.Point{x, y}
		case plan.LineShape:
			f.Geometry = orb.LineString{{x, y}, {x + 20, y - 6}, {x + 45, y - 3}, {x + 80, y - 20}}
		case plan.AreaShape:
			f.Geometry = orb.Polygon{{{x, y}, {x + 30, y}, {x + 33, y - 20}, {x + 3, y - 22}, {x, y}}}
		}
		site.Plan.Features = append(site.Plan.Features, f)
	}
	at := time.Now()
	s, err := Maker{}.Scene(context.Background(), site, &compare.Account{Scheme: 900000})
	if err != nil {
		t.Fatal(err)
	}
	fmt.Println("scene", time.Since(at))
	x := s.index()
	n := 0
	longest := 0
	for _, c := range x.contours {
		n += len(c.line)
		longest = max(longest, len(c.line))
	}
	rp := 0
	for _, q := range s.Drainage.reaches {
		rp += len(q.line)
	}
	fmt.Println("ground", s.Ground.W, s.Ground.DX, "contours", len(x.contours), n, longest, "spacing", x.spacing, "interval", s.Interval, "reaches", len(s.Drainage.reaches), rp, "hollows", len(s.Ponding.Hollows))
	for _, zoom := range []float64{1, 1.7, 3, 6, 12, 24, 60} {
		c := Fit(s.Bound(), 1920, 1080).ZoomAbout(960, 540, zoom)
		best := time.Hour
		for range 3 {
			at := time.Now()
			if _, err := Draw(context.Background(), s, c, 1920, 1080, Light()); err != nil {
				t.Fatal(err)
			}
			best = min(best, time.Since(at))
		}
		k := testCanvas(1920, 1080, c)
		at := time.Now()
		l := k.arrange(newPlate(s)).labels
		fmt.Printf("zoom %g scale %.3f draw %v arrange %v labels %d\n", zoom, c.Scale, best, time.Since(at), len(l))
	}
}
