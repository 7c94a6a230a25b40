package ui

import (
	"context"
	"testing"

	"fyne.io/fyne/v2"

	"runnel/app/view"
	"runnel/assets/demo"
	"runnel/geo/plan"
)

// demoPane is the map of the demo site's first scheme at 1920 by 1080.
func demoPane(b *testing.B) (*mapPane, *plan.Site) {
	s := demo.Site()
	f, err := new(measurer).measure(context.Background(), &s, s.Plan.Schemes[0].ID)
	if err != nil {
		b.Fatal(err)
	}
	scene, err := view.Maker{}.Scene(context.Background(), &s, &f.scheme)
	if err != nil {
		b.Fatal(err)
	}
	m := newMapPane(func(func()) {}, mapEvents{})
	m.site = func() *plan.Site { return &s }
	m.Resize(fyne.NewSize(1920, 1080))
	m.width, m.height = 1920, 1080
	m.show(scene, view.Light())
	m.pictures.Stop()
	camera := m.camera.Pan(480, 270)
	drawn, err := view.Draw(context.Background(), scene, camera, 2880, 1620, view.Light())
	if err != nil {
		b.Fatal(err)
	}
	m.settled = picture{camera, drawn}
	return m, &s
}

func BenchmarkAFrameWhilePanning(b *testing.B) {
	m, _ := demoPane(b)
	for b.Loop() {
		m.camera = m.camera.Pan(1, 0)
		m.compose(1920, 1080)
	}
}

func BenchmarkAFrameWhileZooming(b *testing.B) {
	m, _ := demoPane(b)
	m.camera = m.camera.ZoomAbout(960, 540, 1.01)
	for b.Loop() {
		m.compose(1920, 1080)
	}
}

func BenchmarkTheFiguresOfTheDemoSite(b *testing.B) {
	s := demo.Site()
	for b.Loop() {
		if _, err := new(measurer).measure(context.Background(), &s, s.Plan.Schemes[0].ID); err != nil {
			b.Fatal(err)
		}
	}
}
