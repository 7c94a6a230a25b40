package view

import (
	"context"
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/compare"
	"runnel/analysis/synthetic"
	"runnel/assets/demo"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// large is a ground of 4000 by 4000 cells with valleys, drawn whole.
func large(b *testing.B) *Scene {
	b.Helper()
	ground := grid.New[float32](grid.Square(4000, 4000, 0, 4000, 1))
	for y := range ground.H {
		for x := range ground.W {
			u, v := float64(x), float64(y)
			ground.Set(x, y, float32(0.03*(4000-v)+12*math.Sin(u/260)*math.Cos(v/410)+3*math.Sin(u/41+v/67)))
		}
	}
	site := plan.Site{Ground: ground}
	s := &Scene{Site: &site, Ground: ground, Show: AllLayers}
	if err := steps(context.Background(), s.shape, s.drainAfresh, s.fill); err != nil {
		b.Fatal(err)
	}
	s.Prepare()
	return s
}

func demoScene(tb testing.TB, scheme int) *Scene {
	tb.Helper()
	site := demo.Site()
	id := plan.AsItIs
	if scheme > 0 {
		id = site.Plan.Schemes[scheme-1].ID
	}
	s, err := NewScene(context.Background(), &site, id)
	if err != nil {
		tb.Fatal(err)
	}
	return s
}

func BenchmarkDraw(b *testing.B) {
	for _, of := range []struct {
		name  string
		scene func() *Scene
		zoom  float64
	}{
		{"demo whole", func() *Scene { return demoScene(b, 1) }, 1},
		{"demo near", func() *Scene { return demoScene(b, 1) }, 3},
		{"demo close", func() *Scene { return demoScene(b, 1) }, 9},
		{"16 Mcell whole", func() *Scene { return large(b) }, 1},
		{"16 Mcell near", func() *Scene { return large(b) }, 12},
	} {
		b.Run(of.name, func(b *testing.B) {
			s := of.scene()
			c := Fit(s.Bound(), 1280, 800).ZoomAbout(690, 290, of.zoom)
			for b.Loop() {
				if _, err := Draw(context.Background(), s, c, 1280, 800, Light()); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkDrawOverlay(b *testing.B) {
	s := demoScene(b, 1)
	c := Fit(s.Bound(), 1280, 800)
	dst, err := Draw(context.Background(), s, c, 1280, 800, Light())
	if err != nil {
		b.Fatal(err)
	}
	drop, err := s.Drainage.Journey(s.Ground, s.Bound().Center())
	if err != nil {
		b.Fatal(err)
	}
	channel := s.Site.Plan.Of(plan.Channel, s.Scheme)[0]
	o := Overlay{Selected: channel.ID, Handles: channel.Line(), Hot: 1, Drop: drop.Legs,
		Sketch: orb.LineString{c.ToGround(400, 500), c.ToGround(480, 470), c.ToGround(560, 520)}, Closed: true}
	for b.Loop() {
		DrawOverlay(dst, s, o, c, Light())
	}
}

func BenchmarkNewScene(b *testing.B) {
	site := demo.Site()
	for b.Loop() {
		if _, err := NewScene(context.Background(), &site, site.Plan.Schemes[0].ID); err != nil {
			b.Fatal(err)
		}
	}
}

// dragged is a ground of 2000 by 2000 cells as a survey gives it, and the same with
// a trench that is a cell further east each time.
func dragged() (site *plan.Site, trench func(step int) *compare.Account) {
	site = &plan.Site{Ground: synthetic.Site(2000, 2000, 1), Setting: plan.UsualSetting()}
	return site, func(step int) *compare.Account {
		g := site.Ground.Clone()
		for y := 900; y < 1000; y++ {
			for x := range 4 {
				g.V[y*g.W+900+step%100+x] -= 0.5
			}
		}
		return &compare.Account{Proposed: g}
	}
}

func BenchmarkFirstLookAt4Mcell(b *testing.B) {
	site, _ := dragged()
	for b.Loop() {
		if _, err := FirstLook(context.Background(), site, plan.AsItIs); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRefresh4Mcell(b *testing.B) {
	site, trench := dragged()
	for _, of := range []struct {
		name string
		show Layers
	}{{"paths", Shade | Contours | Water}, {"paths and hollows", AllLayers}} {
		b.Run(of.name, func(b *testing.B) {
			before, err := Maker{Show: of.show}.Scene(context.Background(), site, trench(0))
			if err != nil {
				b.Fatal(err)
			}
			step, routes := 0, new(Routes)
			for b.Loop() {
				step++
				if before, err = (Maker{Before: before, Show: of.show, Routes: routes, Hasty: true}).Scene(context.Background(), site, trench(step)); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
