package tool

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/app/site"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// onSlope is a bench on a plane of 1 m cells that falls 1 in 10 to a bearing.
func onSlope(bearing float64, features ...plan.Feature) *bench {
	b := newBench(features...)
	s := b.doc.Site().Clone()
	s.Ground = grid.New[float32](grid.Square(100, 100, -20, 80, 1))
	sin, cos := math.Sincos(bearing * math.Pi / 180)
	for y := range 100 {
		for x := range 100 {
			s.Ground.V[y*100+x] = float32(20 - 0.1*(float64(x)*sin-float64(y)*cos))
		}
	}
	b.doc = site.New(s, "")
	return b
}

func TestWhatThePointerIsDrawnTo(t *testing.T) {
	lane := plan.Feature{ID: 5, Kind: plan.Kerb, Geometry: orb.LineString{{0, 30}, {50, 30}}}
	cross := plan.Feature{ID: 6, Kind: plan.Wall, Geometry: orb.LineString{{10, 20}, {10, 60}}}
	tests := []struct {
		name string
		down []orb.Point
		p    Pointer
		step float64
		grid float64
		pull Pull
		at   orb.Point
	}{
		{"nothing on bare ground", nil, free(30, 70), 0, 0, Free, orb.Point{30, 70}},
		{"a point before all else", nil, free(0.4, 30.3), 0, 1, OnPoint, orb.Point{0, 30}},
		{"a crossing before an edge", nil, free(10.5, 30.2), 0, 0, Crossing, orb.Point{10, 30}},
		{"an edge", nil, free(30, 30.4), 0, 0, OnEdge, orb.Point{30, 30}},
		{"the foot of the side on an edge", []orb.Point{{30, 50}}, free(30.6, 30.3), 0, 0, Foot, orb.Point{30, 30}},
		{"an edge where the foot is out of reach", []orb.Point{{30, 50}}, free(33, 30.3), 0, 0, OnEdge, orb.Point{33, 30}},
		{"square to the last side", []orb.Point{{60, 0}, {70, 0}}, free(70.3, 15), 0, 0, Square, orb.Point{70, 15}},
		{"square the other way", []orb.Point{{60, 0}, {70, 0}}, free(70.3, -15), 0, 0, Square, orb.Point{70, -15}},
		{"in line with the last side", []orb.Point{{60, 0}, {70, 0}}, free(85, -0.4), 0, 0, Onward, orb.Point{85, 0}},
		{"not back along it", []orb.Point{{60, 0}, {70, 0}}, free(63, -1.4), 0, 0, Free, orb.Point{63, -1.4}},
		{"square to the edge that the side starts on", []orb.Point{{30, 30}}, free(30.2, 55), 0, 0, SquareTo, orb.Point{30, 55}},
		{"steps of 45° with Shift", []orb.Point{{60, 0}}, shifting(70, 9), 0, 0, Steps, orb.Point{69.5, 9.5}},
		{"a length in whole steps", []orb.Point{{60, 0}}, free(63, 4.2), 2.5, 0, Stepped, orb.Point{62.906191, 4.068667}},
		{"a direction and a length", []orb.Point{{60, 0}, {70, 0}}, free(70.3, 14), 2.5, 0, Square, orb.Point{70, 15}},
		{"the grid last", nil, free(30.3, 70.8), 0, 0.5, OnGrid, orb.Point{30.5, 71}},
		{"nothing with Ctrl", []orb.Point{{60, 0}, {70, 0}}, Pointer{At: orb.Point{70.3, 15}, Reach: reach, Ctrl: true}, 2.5, 0.5, Free, orb.Point{70.3, 15}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			b := drawing(plan.ServiceLine, lane, cross)
			for _, p := range test.down {
				b.click(Pointer{At: p, Reach: reach, Ctrl: true})
			}
			b.board.Step, b.board.Grid = test.step, test.grid
			b.tool.Move(test.p)
			cue := b.tool.Sketch().Cue
			if cue.Pull != test.pull || planar.Distance(cue.At, test.at) > 1e-4 {
				t.Errorf("drawn to %+v, want pull %d at %v", cue, test.pull, test.at)
			}
		})
	}
}

func TestASideFollowsTheContour(t *testing.T) {
	b := onSlope(60) // so that contours lead to bearings 150 and 330
	b.tool = NewDraw(b.doc, b.board, plan.Kerb)
	b.clicks(orb.Point{30, 30})
	start := Side{From: orb.Point{30, 30}}
	for _, test := range []struct {
		bearing float64
		want    Pull
		to      float64
	}{{151, AlongContour, 150}, {329, AlongContour, 330}, {61, AcrossContour, 60}, {239, AcrossContour, 240}, {20, Free, 20}} {
		p := start.At(20, test.bearing)
		b.tool.Move(free(p[0], p[1]))
		s := b.tool.Sketch()
		if s.Cue.Pull != test.want || math.Abs(s.Side.Bearing()-test.to) > 0.05 {
			t.Errorf("at %g° drawn to %+v, bearing %g", test.bearing, s.Cue, s.Side.Bearing())
		}
	}
}

func TestASideTellsItsFigures(t *testing.T) {
	b := onSlope(90)
	b.tool = NewDraw(b.doc, b.board, plan.Kerb)
	b.clicks(orb.Point{10, 10})
	b.tool.Move(Pointer{At: orb.Point{13, 14}, Reach: 0.1, Ctrl: true})
	s := b.tool.Sketch().Side
	if s == nil || s.Length() != 5 || math.Abs(s.Bearing()-36.8699) > 1e-4 || math.Abs(s.Grade+0.06) > 1e-6 {
		t.Errorf("the side is %+v", s) // 3-4-5: 3 m east of 5 at a fall of 1 in 10
	}
	p := b.tool.(Plotter)
	p.Put(s.At(12.5, 90))
	b.tool.Key(Enter)
	if got := b.geometry(t, 11).(orb.LineString)[1]; planar.Distance(got, orb.Point{22.5, 10}) > 1e-9 {
		t.Errorf("12.5 m at 90° leads to %v", got)
	}
}

func TestTheTapeTellsTheFall(t *testing.T) {
	b := onSlope(90)
	b.tool = NewMeasure(b.doc, b.board)
	b.clicks(orb.Point{10, 10})
	b.tool.Move(free(40, 10))
	f := b.tool.Sketch().Fall
	if f == nil || math.Abs(f.Drop-3) > 1e-5 || math.Abs(f.Mean-0.1) > 1e-6 || math.Abs(f.Steepest-0.1) > 1e-4 {
		t.Errorf("the fall of 30 m at 1 in 10 is %+v", f)
	}
	b.clicks(orb.Point{40, 10})
	b.tool.Move(free(40, 40))
	if f = b.tool.Sketch().Fall; f == nil || math.Abs(f.Drop-3) > 1e-5 || math.Abs(f.Mean-0.05) > 1e-6 || math.Abs(f.Steepest-0.1) > 1e-3 {
		t.Errorf("with 30 m more along the contour it is %+v", f)
	}
	b.tool.Move(free(500, 10))
	if f = b.tool.Sketch().Fall; f != nil {
		t.Errorf("off the ground it is %+v", f)
	}
}

func TestDrawingInCurves(t *testing.T) {
	b := drawingBy(Curved, plan.Channel)
	b.clicks(orb.Point{40, 40}, orb.Point{50, 46})
	b.tool.Move(free(60, 38))
	knots := orb.LineString{{40, 40}, {50, 46}, {60, 38}}
	s := b.tool.Sketch()
	if !s.Curve || !orb.Equal(s.Points, plan.Curve(knots)) || len(s.Marks) != 2 {
		t.Errorf("the sketch is %+v", s)
	}
	b.clicks(orb.Point{60, 38})
	b.tool.Key(Enter)
	b.want(t, 11, plan.Curve(knots))
	if f, _ := b.doc.Site().Plan.Find(11); !orb.Equal(f.Knots, knots) {
		t.Errorf("its knots are %v", f.Knots)
	}
	b.undone(t, 1)
}

func TestTheMannerChangesWhileDrawing(t *testing.T) {
	b := drawingBy(Straight, plan.Island)
	for _, want := range []Manner{Curved, Round, Straight} {
		if !b.tool.Key(Bend) || b.board.Manner(plan.Island) != want {
			t.Fatalf("the manner is %d, want %d", b.board.Manner(plan.Island), want)
		}
	}
	b.clicks(orb.Point{40, 40}, orb.Point{50, 46})
	for _, want := range []Manner{Curved, Straight} {
		b.tool.Key(Bend)
		if got := b.board.Manner(plan.Island); got != want {
			t.Errorf("with two points down the manner is %d, want %d", got, want)
		}
	}
	well := drawing(plan.Well)
	if well.tool.Key(Bend) {
		t.Error("a well has another manner")
	}
}

func TestCirclesByMiddleAndRadius(t *testing.T) {
	want := plan.Feature{Kind: plan.Island}.Through(plan.Circle(orb.Point{40, 40}, 5)).Geometry
	for name, do := range map[string]func(*bench){
		"two clicks": func(b *bench) { b.clicks(orb.Point{40, 40}, orb.Point{43, 44}) },
		"a drag":     func(b *bench) { b.drag(orb.Point{40, 40}, orb.Point{41, 41}, orb.Point{43, 44}) },
		"a typed radius": func(b *bench) {
			b.clicks(orb.Point{40, 40})
			b.tool.Move(free(60, 61))
			s := b.tool.Sketch().Side
			if s == nil || !s.Radius {
				t.Fatalf("the side is %+v", s)
			}
			b.tool.(Plotter).Put(s.At(5, 12))
		},
	} {
		b := drawingBy(Round, plan.Island)
		do(b)
		if got := (plan.Feature{Geometry: b.geometry(t, 11)}); apart(got, plan.Feature{Geometry: want}) > 1e-9 {
			t.Errorf("%s: the circle is %v", name, got.Geometry)
		}
		b.undone(t, 1)
	}
}
