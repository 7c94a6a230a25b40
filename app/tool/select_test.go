package tool

import (
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"runnel/app/site"
	"runnel/geo/plan"
)

func TestClickSelects(t *testing.T) {
	boundary := plan.Feature{ID: 9, Kind: plan.Boundary, Geometry: orb.Polygon{{{-50, -50}, {90, -50}, {90, 90}, {-50, 90}, {-50, -50}}}}
	elsewhere := channel(6)
	elsewhere.Scheme, elsewhere.Geometry = 8, orb.LineString{{0, 120}, {9, 120}}
	tests := []struct {
		name string
		at   orb.Point
		want plan.ID
	}{
		{"an area by its inside", orb.Point{10, 10}, 1},
		{"a line within reach", orb.Point{50, 0.9}, 2},
		{"a point within reach", orb.Point{30.5, 30.5}, 3},
		{"the boundary by its outline", orb.Point{50, 90}, 9},
		{"nothing on bare ground within the boundary", orb.Point{50, 50}, 0},
		{"nothing outside all", orb.Point{200, 200}, 0},
		{"nothing of a scheme that is not shown", orb.Point{5, 120}, 0},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			b := selecting(boundary, roof(1), channel(2), well(3), elsewhere)
			b.board.Selected = 99
			b.clicks(test.at)
			if b.board.Selected != test.want || b.changed != 1 {
				t.Errorf("selected %d, told %d times; want %d, once", b.board.Selected, b.changed, test.want)
			}
			b.undone(t, 0, boundary, roof(1), channel(2), well(3), elsewhere)
		})
	}
}

func TestDragging(t *testing.T) {
	tests := []struct {
		name     string
		selected plan.ID
		do       func(*bench)
		id       plan.ID
		want     orb.Geometry
		steps    int
		menu     string
	}{
		{"a point of a line", 2, func(b *bench) { b.drag(orb.Point{60, 0}, orb.Point{62, -3}, orb.Point{65, -6}) },
			2, orb.LineString{{40, 0}, {65, -6}, {60, 20}}, 1, "Undo move Channel 2"},
		{"a point by its rim moves as far as the pointer", 2, func(b *bench) { b.drag(orb.Point{60.5, 0.5}, orb.Point{65.5, -5.5}) },
			2, orb.LineString{{40, 0}, {65, -6}, {60, 20}}, 1, "Undo move Channel 2"},
		{"the corner where a ring begins and ends", 1, func(b *bench) { b.drag(orb.Point{0, 0}, orb.Point{-5, -5}) },
			1, orb.Polygon{{{-5, -5}, {20, 0}, {20, 20}, {0, 20}, {-5, -5}}}, 1, "Undo move Roof 1"},
		{"a whole area by its inside", 1, func(b *bench) { b.drag(orb.Point{10, 12}, orb.Point{11, 13}, orb.Point{13, 12}) },
			1, orb.Polygon{{{3, 0}, {23, 0}, {23, 20}, {3, 20}, {3, 0}}}, 1, "Undo move Roof 1"},
		{"a whole line by an edge", 2, func(b *bench) { b.drag(orb.Point{45, 0}, orb.Point{45, 4}) },
			2, orb.LineString{{40, 4}, {60, 4}, {60, 24}}, 1, "Undo move Channel 2"},
		{"a well", 3, func(b *bench) { b.drag(orb.Point{30, 30}, orb.Point{35, 38}) },
			3, orb.Point{35, 38}, 1, "Undo move Well 3"},
		{"a middle, which puts a point in", 2, func(b *bench) { b.drag(orb.Point{50, 0}, orb.Point{50, 5}, orb.Point{50, 8}) },
			2, orb.LineString{{40, 0}, {50, 8}, {60, 0}, {60, 20}}, 1, "Undo add a point to Channel 2"},
		{"a click on the middle of the closing edge", 1, func(b *bench) { b.clicks(orb.Point{0, 10}) },
			1, orb.Polygon{{{0, 0}, {20, 0}, {20, 20}, {0, 20}, {0, 10}, {0, 0}}}, 1, "Undo add a point to Roof 1"},
		{"what is not selected stays", 0, func(b *bench) { b.drag(orb.Point{10, 12}, orb.Point{30, 12}) },
			1, roof(1).Geometry, 0, "Undo"},
		{"a hand that trembles drags nothing", 2, func(b *bench) { b.drag(orb.Point{60, 0}, orb.Point{60.2, 0.1}) },
			2, channel(2).Geometry, 0, "Undo"},
		{"a point that snaps to another feature's", 2, func(b *bench) { b.drag(orb.Point{40, 0}, orb.Point{20.5, 0.5}) },
			2, orb.LineString{{20, 0}, {60, 0}, {60, 20}}, 1, "Undo move Channel 2"},
		{"two drags one after the other", 3, func(b *bench) {
			b.drag(orb.Point{30, 30}, orb.Point{35, 30})
			b.drag(orb.Point{35, 30}, orb.Point{35, 35})
		}, 3, orb.Point{35, 35}, 2, "Undo move Well 3"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			b := selecting(roof(1), channel(2), well(3))
			b.board.Selected = test.selected
			test.do(b)
			b.want(t, test.id, test.want)
			if text, _ := b.doc.UndoText(); text != test.menu {
				t.Errorf("the menu says %q, want %q", text, test.menu)
			}
			b.undone(t, test.steps, roof(1), channel(2), well(3))
		})
	}
}

func TestDraggingWithKeysHeld(t *testing.T) {
	b := selecting(roof(1), channel(2))
	b.board.Selected = 2
	b.press(free(60, 20))
	b.tool.Move(Pointer{At: orb.Point{63, 30}, Reach: reach, Shift: true})
	b.tool.Up(Pointer{At: orb.Point{63, 30}, Reach: reach, Shift: true})
	if got := b.geometry(t, 2).(orb.LineString)[2]; got[1] != 30 || got[0]-60 > 1e-9 || got[0] < 60-1e-9 { // rounding [m]
		t.Errorf("Shift leads the point to %v, want north of (60, 0)", got)
	}
	b.press(free(40, 0))
	b.tool.Up(Pointer{At: orb.Point{20.5, 0.5}, Reach: reach, Ctrl: true})
	if got := b.geometry(t, 2).(orb.LineString)[0]; got != (orb.Point{20.5, 0.5}) {
		t.Errorf("with Ctrl the point lies at %v, want where it was let go", got)
	}
}

func TestTheSiteFollowsEachStepOfADrag(t *testing.T) {
	b := selecting(well(3))
	b.board.Selected = 3
	b.press(free(30, 30))
	for east := 32.0; east < 40; east++ {
		b.tool.Move(free(east, 30))
		b.want(t, 3, orb.Point{east, 30})
		s := b.tool.Sketch()
		if !s.Gripped || len(s.Points) != 1 || s.Points[0] != (orb.Point{east, 30}) {
			t.Errorf("the sketch is %+v", s)
		}
	}
	b.tool.Up(free(39, 30))
	if b.tool.Sketch().Gripped {
		t.Error("still gripped after letting go")
	}
}

func TestAShapeThatCannotStand(t *testing.T) {
	b := selecting(roof(1))
	b.board.Selected = 1
	b.press(free(0, 0))
	b.tool.Move(free(5, 5))
	last := orb.Polygon{{{5, 5}, {20, 0}, {20, 20}, {0, 20}, {5, 5}}}
	b.want(t, 1, last)
	b.tool.Move(free(30, 8))
	b.want(t, 1, last)
	s := b.tool.Sketch()
	const wrong = "Its outline crosses or touches itself; move a point so that it does not"
	if s.Fault != wrong || s.Hint != wrong || !s.Closed {
		t.Errorf("fault %q, hint %q, closed %v", s.Fault, s.Hint, s.Closed)
	}
	wantPoints(t, s.Points, []orb.Point{{30, 8}, {20, 0}, {20, 20}, {0, 20}})
	b.tool.Up(free(30, 8))
	b.want(t, 1, last)
	b.hint(t, wrong+"; it went back to the last shape that could stand")
	if s := b.tool.Sketch(); len(s.Points) != 0 || s.Fault != "" {
		t.Errorf("the wanted shape is still shown: %+v", s)
	}
	b.undone(t, 1, roof(1))
}

func TestADragThatNeverCouldStandIsNoStep(t *testing.T) {
	b := selecting(roof(1))
	b.board.Selected = 1
	b.drag(orb.Point{0, 0}, orb.Point{30, 10})
	b.want(t, 1, roof(1).Geometry)
	b.undone(t, 0, roof(1))
}

func TestEscapeGivesTheShapeBack(t *testing.T) {
	for name, at := range map[string]orb.Point{"a corner": {0, 0}, "a middle": {10, 0}, "the whole": {10, 12}} {
		t.Run(name, func(t *testing.T) {
			b := selecting(roof(1))
			b.board.Selected = 1
			b.press(free(at[0], at[1]))
			b.tool.Move(free(at[0]-1, at[1]-2))
			b.tool.Move(free(at[0]-2, at[1]-4))
			if orb.Equal(b.geometry(t, 1), roof(1).Geometry) {
				t.Fatal("the drag has done nothing")
			}
			if !b.tool.Key(Escape) {
				t.Error("Escape was not taken")
			}
			b.tool.Up(free(at[0]-2, at[1]-4))
			b.want(t, 1, roof(1).Geometry)
			if text, ok := b.doc.RedoText(); ok {
				t.Errorf("what was given up can be done again: %q", text)
			}
			b.undone(t, 0, roof(1))
			if b.board.Selected != 1 {
				t.Error("Escape in a drag took the selection too")
			}
		})
	}
}

func TestEscapeAfterASaveInMidDragGivesTheShapeBack(t *testing.T) {
	b := selecting(well(3))
	b.board.Selected = 3
	b.press(free(30, 30))
	b.tool.Move(free(35, 30))
	b.doc.Saved("field.gpkg")
	b.tool.Move(free(38, 30))
	b.tool.Key(Escape)
	b.want(t, 3, orb.Point{30, 30})
	if !b.doc.Dirty() {
		t.Error("the file holds the well at 35, and the site counts as saved")
	}
}

func TestEscapeLeavesPointThenFeature(t *testing.T) {
	b := selecting(channel(2))
	b.clicks(orb.Point{50, 0}, orb.Point{60, 0})
	if s := b.tool.Sketch(); s.Hot != 1 {
		t.Fatalf("marked %d, want the second point", s.Hot)
	}
	for _, want := range []plan.ID{2, 0} {
		if !b.tool.Key(Escape) || b.board.Selected != want || b.tool.Sketch().Hot != -1 {
			t.Errorf("selected %d, want %d", b.board.Selected, want)
		}
	}
	if b.tool.Key(Escape) {
		t.Error("Escape with nothing selected is not the tool's")
	}
}

func TestDelete(t *testing.T) {
	courtyard := roof(1)
	courtyard.Geometry = append(roof(1).Area(), orb.Ring{{5, 5}, {9, 5}, {9, 12}, {5, 5}})
	triangle := roof(4)
	triangle.Geometry = orb.Polygon{{{0, 0}, {20, 0}, {20, 20}, {0, 0}}}
	tests := []struct {
		name    string
		feature plan.Feature
		marked  orb.Point
		want    orb.Geometry // nil when the feature goes
		menu    string
	}{
		{"a marked point of a line", channel(2), orb.Point{60, 0}, orb.LineString{{40, 0}, {60, 20}}, "Undo remove a point of Channel 2"},
		{"the corner where a ring begins", roof(1), orb.Point{0, 0}, orb.Polygon{{{20, 0}, {20, 20}, {0, 20}, {20, 0}}}, "Undo remove a point of Roof 1"},
		{"a point of a hole of three takes the hole", courtyard, orb.Point{9, 12}, roof(1).Geometry, "Undo remove a point of Roof 1"},
		{"a point of a triangle stays", triangle, orb.Point{20, 0}, triangle.Geometry, "Undo"},
		{"a well has no point to spare", well(3), orb.Point{30, 30}, nil, "Undo remove Well 3"},
		{"with no point marked the feature goes", channel(2), orb.Point{45, 0}, nil, "Undo remove Channel 2"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			for _, key := range []Key{Delete, Backspace} {
				b := selecting(test.feature)
				b.board.Selected = test.feature.ID
				b.clicks(test.marked)
				if !b.tool.Key(key) {
					t.Error("the key was not taken")
				}
				if text, _ := b.doc.UndoText(); text != test.menu {
					t.Errorf("the menu says %q, want %q", text, test.menu)
				}
				if test.want == nil {
					if n := len(b.doc.Site().Plan.Features); n != 0 || b.board.Selected != 0 {
						t.Errorf("%d features left, selected %d", n, b.board.Selected)
					}
					continue
				}
				b.want(t, test.feature.ID, test.want)
			}
		})
	}
}

func TestWhatIsDeletedIsNamedWithTheWayBack(t *testing.T) {
	b := selecting(channel(1))
	b.clicks(orb.Point{50, 0.2})
	b.tool.Key(Delete)
	b.hint(t, "Channel 1 is removed; Ctrl+Z brings it back")
	b.clicks(orb.Point{-90, -90})
	b.hint(t, "Click something to select it; hold Shift and drag for a box")
}

func TestADraggedPointNamesWhatItIsDrawnTo(t *testing.T) {
	drain := plan.Feature{ID: 1, Kind: plan.Drain, Name: "Lane drain", Geometry: orb.LineString{{0, 0}, {0, 50}}}
	bed := plan.Feature{ID: 2, Kind: plan.Planting, Scheme: scheme, Geometry: orb.Polygon{{{0.4, 10}, {0.4, 30}, {-9, 30}, {0.4, 10}}}}
	b := selecting(drain, bed, channel(3))
	b.clicks(orb.Point{50, 0.2})
	b.press(free(40, 0))
	b.tool.Move(free(0.5, 20))
	b.hint(t, "On Lane drain: let go to leave it here; Shift keeps to steps of 45°, Ctrl lets go of snapping, Escape gives it back")
	b.tool.Up(free(0.5, 20))
	b.want(t, 3, orb.LineString{{0, 20}, {60, 0}, {60, 20}})
}

// A mark is of a place: when undo brings another point under its number, Delete
// must not take that one.
func TestAMarkDoesNotPassToAnotherPoint(t *testing.T) {
	b := selecting(channel(2))
	b.board.Selected = 2
	b.clicks(orb.Point{50, 0})
	if b.tool.Sketch().Hot != 1 {
		t.Fatal("the point put in is not marked")
	}
	b.doc.Undo()
	if s := b.tool.Sketch(); s.Hot != -1 {
		t.Errorf("point %d is marked after undo", s.Hot)
	}
}

func TestAFeatureThatGoesInMidDrag(t *testing.T) {
	b := selecting(roof(1), well(3))
	b.board.Selected = 3
	b.press(free(30, 30))
	b.tool.Move(free(35, 30))
	b.doc.Do(&site.Remove{IDs: []plan.ID{3}})
	b.tool.Move(free(36, 30))
	b.tool.Sketch()
	b.tool.Up(free(37, 30))
	b.hint(t, "It is not on the site any more; it went back to the last shape that could stand")
	b.tool.Key(Delete)
	if got := len(b.doc.Site().Plan.Features); got != 1 {
		t.Errorf("%d features, want the roof alone", got)
	}
}

func TestASelectionOfAnotherSchemeShowsNoHandles(t *testing.T) {
	b := selecting(channel(2))
	b.board.Selected = 2
	if got := len(b.tool.Sketch().Handles); got != 3 {
		t.Errorf("%d handles, want 3", got)
	}
	b.board.Scheme = plan.AsItIs
	if got := len(b.tool.Sketch().Handles); got != 0 {
		t.Errorf("%d handles of a scheme that is not shown", got)
	}
	b.tool.Key(Delete)
	b.undone(t, 0, channel(2))
}

func TestMiddlesAreOfEdgesLongEnoughToPress(t *testing.T) {
	b := selecting(channel(2))
	b.board.Selected = 2
	b.tool.Move(free(0, 0))
	wantPoints(t, b.tool.Sketch().Middles, []orb.Point{{50, 0}, {60, 10}})
	b.tool.Move(Pointer{Reach: 5})
	if got := b.tool.Sketch().Middles; len(got) != 0 {
		t.Errorf("zoomed out, the middles %v would hide the ends", got)
	}
}

// Whatever the pointer does, the plan holds sound shapes only, no tool panics,
// and undo leads back to the start.
func TestAnyHandLeavesASoundPlan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := selecting(everything()...)
		tools := []Tool{b.tool, NewMeasure(b.doc, b.board), NewMirror(b.doc, b.board, func() {})}
		for _, kind := range []plan.Kind{plan.Roof, plan.Channel, plan.Island, plan.Spillway} {
			tools = append(tools, NewDraw(b.doc, b.board, kind))
		}
		pointer := func(t *rapid.T) Pointer {
			return Pointer{
				At:    orb.Point{float64(rapid.IntRange(-2, 13).Draw(t, "east") * 5), float64(rapid.IntRange(-2, 6).Draw(t, "north") * 5)},
				Reach: rapid.SampledFrom([]float64{0, 1, 6}).Draw(t, "reach"),
				Shift: rapid.Bool().Draw(t, "shift"), Ctrl: rapid.Bool().Draw(t, "ctrl"), Double: rapid.Bool().Draw(t, "double"),
			}
		}
		t.Repeat(map[string]func(*rapid.T){
			"down": func(t *rapid.T) { b.tool.Down(pointer(t)) },
			"move": func(t *rapid.T) { b.tool.Move(pointer(t)) },
			"up":   func(t *rapid.T) { b.tool.Up(pointer(t)) },
			"key": func(t *rapid.T) {
				b.tool.Key(rapid.SampledFrom([]Key{Enter, Escape, Backspace, Delete, Bend}).Draw(t, "key"))
			},
			"select": func(t *rapid.T) { b.board.Select(plan.ID(rapid.IntRange(0, 14).Draw(t, "id"))) },
			"all":    func(t *rapid.T) { SelectAll(b.doc, b.board) },
			"arrange": func(t *rapid.T) {
				b.tool.Cancel()
				amount := rapid.Float64Range(-40, 40).Draw(t, "amount")
				rapid.SampledFrom([]func(){
					func() { Shift(b.doc, b.board, orb.Point{amount, 1}) },
					func() { Rotate(b.doc, b.board, amount) },
					func() { Mirror(b.doc, b.board, amount) },
					func() { Copy(b.doc, b.board, orb.Point{amount, 1}) },
					func() { Smooth(b.doc, b.board) },
					func() { Straighten(b.doc, b.board) },
					func() { Remove(b.doc, b.board) },
				}).Draw(t, "arrangement")()
			},
			"snap": func(t *rapid.T) {
				b.board.Step, b.board.Grid = rapid.SampledFrom([]float64{0, 2.5}).Draw(t, "step"), rapid.SampledFrom([]float64{0, 1}).Draw(t, "grid")
			},
			"undo": func(t *rapid.T) { b.doc.Undo() },
			"redo": func(t *rapid.T) { b.doc.Redo() },
			"scheme": func(t *rapid.T) {
				b.board.Scheme = rapid.SampledFrom([]plan.SchemeID{plan.AsItIs, scheme}).Draw(t, "scheme")
			},
			"tool": func(t *rapid.T) {
				b.tool.Cancel()
				b.tool = rapid.SampledFrom(tools).Draw(t, "tool")
			},
			"": func(t *rapid.T) {
				if s := b.tool.Sketch(); s.Hint == "" || s.Hot >= len(s.Handles) {
					t.Fatalf("the sketch is %+v", s)
				}
				for _, f := range b.doc.Site().Plan.Features {
					if err := plan.Check(f); err != nil {
						t.Fatal(err)
					}
				}
			},
		})
		for _, ok := b.doc.UndoText(); ok; _, ok = b.doc.UndoText() {
			b.doc.Undo()
		}
		b.same(t, everything(), 0)
	})
}
