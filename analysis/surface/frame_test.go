package surface

import (
	"context"
	"math"
	"testing"

	"runnel/geo/survey"

	"github.com/paulmach/orb"
)

func TestFramesLieAtWholeCells(t *testing.T) {
	s := survey.Survey{Lines: []survey.Line{contourAt(5, orb.Point{100.3, 50.2}, orb.Point{140, 80.9})}}
	f, err := FrameFor(s, 0.5)
	if err != nil || f.West != 100 || f.North != 81 || f.W != 80 || f.H != 62 {
		t.Errorf("the frame is %+v, %v", f, err)
	}
	for _, cell := range []float64{-1, math.NaN(), 1e-9} {
		if _, err := FrameFor(s, cell); err == nil {
			t.Errorf("a cell of %g m is taken", cell)
		}
	}
	if _, err := FrameFor(survey.Survey{}, 1); err == nil {
		t.Error("a frame is made round nothing")
	}
	if f, err := FrameFor(survey.Survey{Spots: []survey.Spot{{At: orb.Point{3, 4}}}}, 0); err != nil || f.W != 1 || f.H != 1 {
		t.Errorf("one spot has the frame %+v, %v", f, err)
	}
}

func TestTheCellSuitsTheSpacing(t *testing.T) {
	if f, err := FrameFor(wavy(20, 100), 0); err != nil || f.DX < 5 || f.DX > 20 {
		t.Errorf("contours 50 m apart are given cells of %g m, %v", f.DX, err)
	}
	var s survey.Survey
	for i := range 400 {
		s.Spots = append(s.Spots, survey.Spot{At: orb.Point{float64(i%20) * 3, float64(i/20) * 3}})
	}
	if f, err := FrameFor(s, 0); err != nil || f.DX != 1 {
		t.Errorf("spots 3 m apart are given cells of %g m, %v", f.DX, err)
	}
}

func TestTheTensionIsChosenByWhatIsLeftOut(t *testing.T) {
	s := circles(0.5, 10, 0.5, func(z float64) float64 { return math.Sqrt(z / 0.004) })
	f, err := FrameFor(s, 1)
	if err != nil {
		t.Fatal(err)
	}
	m, err := Make(context.Background(), s, f, Options{Tension: -1, Drainage: Left})
	if err != nil || m.Tension != tensions[0] {
		t.Errorf("a smooth bowl is given tension %g, %v; want the least, %g", m.Tension, err, tensions[0])
	}
	m, err = Make(context.Background(), survey.Survey{Spots: []survey.Spot{{At: orb.Point{50, 50}, Z: 1}}}, f, Options{Tension: -1, Drainage: Left})
	if err != nil || m.Tension != tensions[usual] {
		t.Errorf("one spot is given tension %g, %v; want the usual", m.Tension, err)
	}
}

func TestRegionsLieBetweenTheirContours(t *testing.T) {
	s := circles(1, 3.5, 1, func(z float64) float64 { return 60 - 15*z })
	f, _ := FrameFor(s, 1)
	p, err := newProblem(context.Background(), s, f)
	if err != nil {
		t.Fatal(err)
	}
	known := p.between()
	middle := p.w/2 + p.h/2*p.w
	for _, c := range []struct {
		off    int
		lo, hi float64
	}{{0, 3, 4}, {20, 2, 3}, {37, 1, 2}} {
		b := known[middle+c.off]
		if math.Abs(float64(b.lo)+p.datum-c.lo) > 1e-5 || math.Abs(float64(b.hi)+p.datum-c.hi) > 1e-5 {
			t.Errorf("%d m from the top the ground lies between %.2f and %.2f m, want %g and %g",
				c.off, float64(b.lo)+p.datum, float64(b.hi)+p.datum, c.lo, c.hi)
		}
	}
}
