package ui

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"github.com/paulmach/orb"

	"runnel/analysis/compare"
	"runnel/analysis/synthetic"
	"runnel/app/view"
	"runnel/geo/plan"
)

// crowded is a ground of 16 million cells with 2,000 features of all kinds on it.
func crowded() *plan.Site {
	s := &plan.Site{Ground: synthetic.Site(4096, 4096, 1), Setting: plan.UsualSetting()}
	s.Plan.Schemes = []plan.Scheme{{ID: 1, Name: "Crowded"}}
	r := rand.New(rand.NewPCG(1, 2))
	for i := range 2000 {
		spec := plan.Specs()[i%len(plan.Specs())]
		f := plan.Feature{ID: plan.ID(i + 2), Kind: spec.Kind, Name: fmt.Sprint(spec.Label, " ", i)}
		if spec.InScheme {
			f.Scheme = 1
		}
		x, y := 40+r.Float64()*3900, 40+r.Float64()*3900
		switch spec.Shape {
		case plan.PointShape:
			f.Geometry = orb.Point{x, y}
		case plan.LineShape:
			f.Geometry = orb.LineString{{x, y}, {x + 20, y - 6}, {x + 45, y - 3}, {x + 80, y - 20}}
		case plan.AreaShape:
			f.Geometry = orb.Polygon{{{x, y}, {x + 30, y}, {x + 33, y - 20}, {x + 3, y - 22}, {x, y}}}
		}
		s.Plan.Features = append(s.Plan.Features, f)
	}
	return s
}

// benchPane is a map of 1920 by 1080 of a site, as the window has it: its tiles are
// drawn on goroutines of their own.
func benchPane(b *testing.B, s *plan.Site) *mapPane {
	scene, err := view.Maker{}.Scene(context.Background(), s, &compare.Account{Scheme: 1})
	if err != nil {
		b.Fatal(err)
	}
	m := newMapPane(func(func()) {}, mapEvents{})
	b.Cleanup(m.tiles.Stop)
	m.site = func() *plan.Site { return s }
	m.Resize(fyne.NewSize(1920, 1080))
	m.width, m.height = 1920, 1080
	m.show(scene, view.Light())
	m.overlay.Selected = 2
	return m
}

// frames drives the pane at 60 frames a second, each after a step of the way, and
// reports how long composing took and how old what was shown was.
func frames(b *testing.B, m *mapPane, step func(frame int)) {
	const between = time.Second / 60
	for m.compose(1920, 1080); !m.stale.IsZero(); m.compose(1920, 1080) {
		time.Sleep(between)
	}
	var took, age []float64
	tick := time.NewTicker(between)
	defer tick.Stop()
	for i := 0; b.Loop(); i++ {
		<-tick.C
		step(i)
		start := time.Now()
		m.compose(1920, 1080)
		took = append(took, time.Since(start).Seconds()*1000)
		old := 0.0
		if !m.stale.IsZero() {
			old = time.Since(m.stale).Seconds() * 1000
		}
		age = append(age, old)
	}
	slices.Sort(took)
	slices.Sort(age)
	at := func(of []float64, share float64) float64 { return of[min(len(of)-1, int(share*float64(len(of))))] }
	b.ReportMetric(at(took, 0.5), "compose-p50-ms")
	b.ReportMetric(at(took, 0.95), "compose-p95-ms")
	b.ReportMetric(at(age, 0.95), "age-p95-ms")
	b.ReportMetric(at(age, 1), "age-max-ms")
}

// BenchmarkTheMapInHand drags the map about, and turns the wheel ten times a second
// eight clicks in and eight out again about a pointer that wanders. Run it with
// -benchtime 600x: ten seconds each.
func BenchmarkTheMapInHand(b *testing.B) {
	s := crowded()
	for _, scale := range []float64{0.3, 1.2, 5, 20} {
		near := func(m *mapPane) {
			m.fit()
			m.camera = m.camera.ZoomAbout(960, 540, scale/m.camera.Scale)
			m.redraw()
		}
		b.Run(fmt.Sprintf("pan at %g px a metre", scale), func(b *testing.B) {
			m := benchPane(b, s)
			near(m)
			frames(b, m, func(i int) {
				sin, cos := math.Sincos(float64(i) / 60)
				m.pan(float32(14*cos), float32(9*sin))
			})
		})
		b.Run(fmt.Sprintf("zoom from %g px a metre", scale), func(b *testing.B) {
			m := benchPane(b, s)
			near(m)
			frames(b, m, func(i int) {
				if i%6 != 0 {
					return
				}
				factor := zoomStep
				if i/6%16 >= 8 {
					factor = 1 / zoomStep
				}
				sin, cos := math.Sincos(float64(i/96) * 2)
				m.zoom(fyne.NewPos(float32(960+500*cos), float32(540+300*sin)), factor)
			})
		})
	}
}
