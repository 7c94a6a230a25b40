package tool

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

func TestEveryKindCanBeDrawn(t *testing.T) {
	for _, spec := range plan.Specs() {
		t.Run(spec.Name, func(t *testing.T) {
			b := drawing(spec.Kind)
			var want orb.Geometry
			switch spec.Shape {
			case plan.PointShape:
				b.clicks(orb.Point{5, 5})
				want = orb.Point{5, 5}
			case plan.LineShape:
				b.clicks(orb.Point{0, 0}, orb.Point{10, 0}, orb.Point{10, 5})
				b.tool.Key(Enter)
				want = orb.LineString{{0, 0}, {10, 0}, {10, 5}}
				if spans(spec.Kind) {
					want = orb.LineString{{0, 0}, {10, 0}}
				}
			default:
				b.clicks(orb.Point{0, 0}, orb.Point{10, 0}, orb.Point{10, 5}, orb.Point{0.2, 0.1})
				want = orb.Polygon{{{0, 0}, {10, 0}, {10, 5}, {0, 0}}}
			}
			b.want(t, 11, want)
			f, _ := b.doc.Site().Plan.Find(11)
			if f.Kind != spec.Kind || (f.Scheme == scheme) != spec.InScheme {
				t.Errorf("drew a %v in scheme %d", f.Kind, f.Scheme)
			}
			if b.board.Selected != 11 || b.changed != 1 {
				t.Errorf("selected %d after %d calls, want what was drawn, told once", b.board.Selected, b.changed)
			}
			b.undone(t, 1)
		})
	}
}

func TestWaysToFinish(t *testing.T) {
	double := func(x, y float64) Pointer { return Pointer{At: orb.Point{x, y}, Reach: reach, Double: true} }
	tests := []struct {
		name string
		kind plan.Kind
		do   func(*bench)
		want orb.Geometry // nil when nothing is drawn
		hint string
	}{
		{"a double click ends a line where its first click fell", plan.Kerb, func(b *bench) {
			b.clicks(orb.Point{0, 0}, orb.Point{9, 0})
			b.click(double(9.1, 0))
		}, orb.LineString{{0, 0}, {9, 0}}, "Kerb 11 is drawn; click to begin another"},
		{"a double click closes an outline", plan.Roof, func(b *bench) {
			b.clicks(orb.Point{0, 0}, orb.Point{9, 0}, orb.Point{9, 9})
			b.click(double(9, 9.2))
		}, orb.Polygon{{{0, 0}, {9, 0}, {9, 9}, {0, 0}}}, "Roof 11 is drawn; click to begin another"},
		{"one point is no line", plan.Kerb, func(b *bench) {
			b.clicks(orb.Point{0, 0})
			b.tool.Key(Enter)
		}, nil, "Kerb: a line needs two points at least; click the next"},
		{"two points are no outline", plan.Roof, func(b *bench) {
			b.clicks(orb.Point{0, 0}, orb.Point{9, 0})
			b.tool.Key(Enter)
		}, nil, "Roof: an outline needs three points at least; click the next"},
		{"two clicks on one place are one point", plan.Kerb, func(b *bench) {
			b.clicks(orb.Point{0, 0}, orb.Point{0, 0})
			b.tool.Key(Enter)
		}, nil, "Kerb: a line needs two points at least; click the next"},
		{"Backspace takes the last point back", plan.Kerb, func(b *bench) {
			b.clicks(orb.Point{0, 0}, orb.Point{9, 0}, orb.Point{9, 9})
			b.tool.Key(Backspace)
			b.tool.Key(Enter)
		}, orb.LineString{{0, 0}, {9, 0}}, "Kerb 11 is drawn; click to begin another"},
		{"Escape gives up", plan.Kerb, func(b *bench) {
			b.clicks(orb.Point{0, 0}, orb.Point{9, 0})
			b.tool.Key(Escape)
			b.tool.Key(Enter)
		}, nil, "Click where the kerb begins"},
		{"a double click plants one tree", plan.Tree, func(b *bench) {
			b.clicks(orb.Point{5, 5})
			b.click(double(5, 5.1))
		}, orb.Point{5, 5}, "Tree 11 is drawn; click to begin another"},
		{"an outline that crosses itself waits to be mended", plan.Roof, func(b *bench) {
			b.clicks(orb.Point{0, 0}, orb.Point{9, 9}, orb.Point{9, 0}, orb.Point{0, 5})
			b.tool.Key(Enter)
		}, nil, "Its outline crosses or touches itself; move a point so that it does not"},
		{"and is taken once it is", plan.Roof, func(b *bench) {
			b.clicks(orb.Point{0, 0}, orb.Point{9, 9}, orb.Point{9, 0}, orb.Point{0, 5})
			b.tool.Key(Enter)
			b.tool.Key(Backspace)
			b.tool.Key(Enter)
		}, orb.Polygon{{{0, 0}, {9, 9}, {9, 0}, {0, 0}}}, "Roof 11 is drawn; click to begin another"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			b := drawing(test.kind)
			test.do(b)
			b.hint(t, test.hint)
			if test.want == nil {
				b.undone(t, 0)
				return
			}
			b.want(t, 11, test.want)
			b.undone(t, 1)
		})
	}
}

func TestAKeyWithNothingDrawnIsNotTheTools(t *testing.T) {
	b := drawing(plan.Kerb)
	for _, k := range []Key{Enter, Escape, Backspace, Delete} {
		if b.tool.Key(k) {
			t.Errorf("key %d was taken", k)
		}
	}
}

func TestADesignedKindNeedsAScheme(t *testing.T) {
	for _, spec := range plan.Specs() {
		b := drawing(spec.Kind)
		b.board.Scheme = plan.AsItIs
		b.clicks(orb.Point{0, 0}, orb.Point{9, 0}, orb.Point{9, 9})
		b.tool.Key(Enter)
		drawn := len(b.doc.Site().Plan.Features) > 0
		if drawn == spec.InScheme {
			t.Errorf("%s: drawn %v on the site as it is", spec.Name, drawn)
		}
		if refused := strings.HasSuffix(b.tool.Sketch().Hint, "s belong to a scheme; choose or add a scheme first"); refused != spec.InScheme {
			t.Errorf("%s: the hint is %q", spec.Name, b.tool.Sketch().Hint)
		}
	}
}

func TestAChannelBegunInASchemeThatIsLeft(t *testing.T) {
	b := drawing(plan.Channel)
	b.clicks(orb.Point{0, 0}, orb.Point{9, 0})
	b.board.Scheme = plan.AsItIs
	b.tool.Key(Enter)
	b.hint(t, "Channels belong to a scheme; choose or add a scheme first")
	b.board.Scheme = scheme
	b.tool.Key(Enter)
	b.want(t, 11, orb.LineString{{0, 0}, {9, 0}})
}

func TestSnappingWhileDrawing(t *testing.T) {
	other := channel(5)
	other.Scheme = 9
	other.Geometry = orb.LineString{{0, 50}, {9, 50}}
	tests := []struct {
		name   string
		p      Pointer
		want   orb.Point
		vertex bool
		snaps  bool
	}{
		{"to a point rather than to an edge", free(20.6, 0.2), orb.Point{20, 0}, true, true},
		{"to the nearest place on an edge", free(10, -0.7), orb.Point{10, 0}, false, true},
		{"to a well", free(30.3, 30.3), orb.Point{30, 30}, true, true},
		{"not past the reach", free(10, -1.1), orb.Point{10, -1.1}, false, false},
		{"not with Ctrl", Pointer{At: orb.Point{20.6, 0.2}, Reach: reach, Ctrl: true}, orb.Point{20.6, 0.2}, false, false},
		{"not to what another scheme holds", free(0, 50.2), orb.Point{0, 50.2}, false, false},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			b := drawing(plan.Kerb, roof(1), well(3), other)
			b.clicks(orb.Point{-30, -30})
			b.tool.Move(test.p)
			cue := b.tool.Sketch().Cue
			drawn := cue.Pull == OnPoint || cue.Pull == OnEdge
			if drawn != test.snaps || drawn && (cue.Pull == OnPoint) != test.vertex {
				t.Errorf("the sketch shows the cue %+v", cue)
			}
			b.click(test.p)
			b.tool.Key(Enter)
			b.want(t, 11, orb.LineString{{-30, -30}, test.want})
		})
	}
}

// A lane's drain runs 0.6 m inside the plot's boundary.
func TestTheHintNamesWhatAPointIsDrawnTo(t *testing.T) {
	drain := plan.Feature{ID: 1, Kind: plan.Drain, Name: "Lane drain", Geometry: orb.LineString{{0, 0}, {0, 50}}}
	plot := plan.Feature{ID: 2, Kind: plan.Boundary, Geometry: orb.Polygon{{{0.6, -50}, {90, -50}, {90, 90}, {0.6, 90}, {0.6, -50}}}}
	tests := []struct {
		name, want string
		kind       plan.Kind
		p          Pointer
		at         orb.Point
	}{
		{"a channel by the drain and the boundary", "On Lane drain: click where the channel begins", plan.Channel, free(0.5, 20), orb.Point{0, 20}},
		{"a kerb nearer to the boundary", "On Boundary 2: click where the kerb begins", plan.Kerb, free(0.5, 20), orb.Point{0.6, 20}},
		{"with Ctrl", "Click where the channel begins", plan.Channel, Pointer{At: orb.Point{0.5, 20}, Reach: reach, Ctrl: true}, orb.Point{0.5, 20}},
		{"far from both", "Click where the channel begins", plan.Channel, free(30, 20), orb.Point{30, 20}},
	}
	for _, test := range tests {
		b := drawing(test.kind, drain, plot)
		b.tool.Move(test.p)
		b.hint(t, test.want)
		if got := b.tool.Sketch().Points; len(got) != 1 || got[0] != test.at {
			t.Errorf("%s: the point would be put at %v, want %v", test.name, got, test.at)
		}
	}
}

// An island whose corners are closer together than the pointer reaches, beside
// the corner of a bed that all of them could be drawn to.
func TestPointsCloseTogetherStayApart(t *testing.T) {
	bed := plan.Feature{ID: 1, Kind: plan.Planting, Scheme: scheme, Geometry: orb.Polygon{{{0, 0}, {-9, 0}, {-9, -9}, {0, 0}}}}
	b := drawing(plan.Island, bed)
	b.clicks(orb.Point{0.1, 0.1}, orb.Point{0.7, 0.2}, orb.Point{0.9, 0.9}, orb.Point{0.4, 1.3}, orb.Point{-0.1, 1.2})
	b.tool.Key(Enter)
	ring := b.geometry(t, 11).(orb.Polygon)[0]
	if want := (orb.Ring{{0, 0}, {0.7, 0.2}, {0.9, 0.9}, {0.4, 1.3}, {-0.1, 1.2}, {0, 0}}); !ring.Equal(want) {
		t.Errorf("drew %v, want %v", ring, want)
	}
}

func TestAPressOnTheSamePlaceAddsNoPoint(t *testing.T) {
	b := drawing(plan.Kerb, roof(1))
	b.clicks(orb.Point{20.6, 0.2}, orb.Point{20.7, 0.3}, orb.Point{30, 0}, orb.Point{30, 0.2}, orb.Point{30, 0.5})
	b.tool.Key(Enter)
	b.want(t, 11, orb.LineString{{20, 0}, {30, 0}, {30, 0.5}})
}

func TestShiftHoldsToSteps(t *testing.T) {
	tests := []struct {
		name string
		to   orb.Point
		want orb.Point
	}{
		{"east", orb.Point{10, 2}, orb.Point{10, 0}},
		{"north-east", orb.Point{10, 8}, orb.Point{9, 9}},
		{"north", orb.Point{-1, 10}, orb.Point{0, 10}},
		{"south-west", orb.Point{-10, -8}, orb.Point{-9, -9}},
	}
	for _, test := range tests {
		b := drawing(plan.Kerb)
		b.clicks(orb.Point{0, 0})
		b.click(Pointer{At: test.to, Reach: reach, Shift: true})
		b.tool.Key(Enter)
		got := b.geometry(t, 11).(orb.LineString)[1]
		if math.Hypot(got[0]-test.want[0], got[1]-test.want[1]) > 1e-9 { // rounding of a 45° turn [m]
			t.Errorf("%s: got %v, want %v", test.name, got, test.want)
		}
	}
}

func TestFiguresRunWithThePointer(t *testing.T) {
	b := drawing(plan.Roof)
	b.clicks(orb.Point{0, 0}, orb.Point{4, 0})
	if s := b.tool.Sketch(); s.Length != 4 || s.Area != 0 || s.Closed {
		t.Errorf("after two points %g m, %g m², closed %v", s.Length, s.Area, s.Closed)
	}
	b.tool.Move(free(4, 3))
	s := b.tool.Sketch()
	if s.Length != 12 || s.Area != 6 || !s.Closed || s.Fault != "" {
		t.Errorf("with the pointer at the third %g m, %g m², closed %v, fault %q; want 12, 6, true and none", s.Length, s.Area, s.Closed, s.Fault)
	}
	wantPoints(t, s.Points, []orb.Point{{0, 0}, {4, 0}, {4, 3}})
	b.clicks(orb.Point{4, 3})
	b.tool.Move(free(2, -3))
	if s := b.tool.Sketch(); s.Fault == "" {
		t.Error("an outline about to cross itself shows no fault")
	}
	b.tool.Move(free(0, 0.5))
	s = b.tool.Sketch()
	if s.Hint != "Click to close the outline" || s.Area != 6 || len(s.Points) != 3 {
		t.Errorf("over the first point: hint %q, %g m², points %v", s.Hint, s.Area, s.Points)
	}
}

// Every state of every drawing tool says what can be done next.
func TestThereIsAlwaysAHint(t *testing.T) {
	for _, spec := range plan.Specs() {
		b := drawing(spec.Kind)
		for i := range 6 {
			s := b.tool.Sketch()
			if s.Hint == "" || s.Kind != spec.Kind || s.Hot != -1 {
				t.Errorf("%s, click %d: %+v", spec.Name, i, s)
			}
			b.clicks(orb.Point{float64(i * 10), float64(i * i)})
		}
	}
}
