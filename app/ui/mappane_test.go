package ui

import (
	"context"
	"image/color"
	"testing"
	"time"

	"runnel/app/view"
)

func TestAFrameShowsTheMapWhereTheCameraIs(t *testing.T) {
	b := newBench(t)
	b.open()
	m := b.pane
	for range 3000 {
		if m.compose(m.width, m.height); m.stale.IsZero() {
			break
		}
		time.Sleep(time.Millisecond)
	}
	if !m.stale.IsZero() {
		t.Fatal("the map does not get sharp")
	}
	plain := *m.scene
	plain.Show = plain.Show.Without(view.Labels | view.Cautions)
	want, err := view.Draw(context.Background(), &plain, m.camera.Settled(), m.width, m.height, m.dense())
	if err != nil {
		t.Fatal(err)
	}
	got, other := m.frames[m.frame], 0
	for y := range m.height {
		for x := range m.width {
			p, q := got.RGBAAt(x, y), want.RGBAAt(x, y)
			if d := func(a, b uint8) int { return max(int(a)-int(b), int(b)-int(a)) }; d(p.R, q.R)+d(p.G, q.G)+d(p.B, q.B) > 40 {
				other++
			}
		}
	}
	// Labels, signs, the scale bar and the arrow.
	if share := float64(other) / float64(m.width*m.height); share > 0.15 {
		t.Errorf("%.0f %% of the frame is not the map", 100*share)
	}
	if got.RGBAAt(0, 0) == (color.RGBA{}) {
		t.Error("the corner is blank")
	}
}
