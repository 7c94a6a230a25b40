package tool

import (
	"maps"
	"math"
	"reflect"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"pgregory.net/rapid"

	"runnel/geo/plan"
)

// winding is a curved channel with a bed that is steeper on its left.
func winding(id plan.ID) plan.Feature {
	f := plan.Feature{ID: id, Kind: plan.Channel, Scheme: scheme, Name: "Winding channel",
		Fields: map[string]plan.Value{"side_left": {Number: 2}, "bed_width": {Number: 0.8}}}
	return f.Through(orb.LineString{{40, 40}, {50, 46}, {60, 38}, {75, 44}})
}

func everything() []plan.Feature {
	return []plan.Feature{roof(1), channel(2), well(3), winding(4)}
}

// apart returns the greatest distance between the points of two features.
func apart(a, b plan.Feature) float64 {
	most := 0.0
	for i, line := range plan.Lines(a.Geometry) {
		other := plan.Lines(b.Geometry)[i]
		if len(line) != len(other) {
			return math.Inf(1)
		}
		for j, p := range line {
			most = max(most, planar.Distance(p, other[j]))
		}
	}
	return most
}

func (b *bench) same(t *rapid.T, want []plan.Feature, slack float64) {
	t.Helper()
	got := b.doc.Site().Plan.Features
	if len(got) != len(want) {
		t.Fatalf("%d features, want %d", len(got), len(want))
	}
	for i, f := range got {
		if d := apart(f, want[i]); d > slack || f.ID != want[i].ID || !maps.Equal(f.Fields, want[i].Fields) {
			t.Fatalf("%s is %g m off, or has other fields", f.Title(), d)
		}
		if err := plan.Check(f); err != nil {
			t.Fatal(err)
		}
	}
}

func chooseSome(t *rapid.T, b *bench) {
	b.board.Select(rapid.SliceOfNDistinct(rapid.SampledFrom([]plan.ID{1, 2, 3, 4}), 1, 4, rapid.ID).Draw(t, "chosen")...)
}

func TestRotatingBackIsAsBefore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := selecting(everything()...)
		b.board.Select(4, 1) // whose middle is that of their box, so a turn of the box moves it
		chosen := b.board.Chosen(b.doc.Site().Plan)
		about, degrees := boundOf(chosen).Center(), rapid.Float64Range(-720, 720).Draw(t, "degrees")
		for _, f := range chosen {
			if d := apart(turned(turned(f, about, degrees), about, -degrees), f); d > 1e-9 {
				t.Fatalf("%s is %g m off", f.Title(), d)
			}
		}
	})
}

func TestMirroringTwiceIsAsBefore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := selecting(everything()...)
		chooseSome(t, b)
		axis := [2]orb.Point{
			{rapid.Float64Range(-50, 50).Draw(t, "x"), rapid.Float64Range(-50, 50).Draw(t, "y")},
			{rapid.Float64Range(60, 90).Draw(t, "x"), rapid.Float64Range(-50, 50).Draw(t, "y")}}
		for range 2 {
			if err := MirrorAbout(b.doc, b.board, axis); err != nil {
				t.Fatal(err)
			}
		}
		b.same(t, everything(), 1e-9)
		b.doc.Undo()
		b.doc.Undo()
		b.same(t, everything(), 0)
	})
}

func TestAMirroredBankChangesSides(t *testing.T) {
	b := selecting(winding(4))
	b.board.Select(4)
	if err := Mirror(b.doc, b.board, 0); err != nil {
		t.Fatal(err)
	}
	f, _ := b.doc.Site().Plan.Find(4)
	if f.Num("side_right") != 2 || f.Num("side_left") != 3 { // 3 is the usual
		t.Errorf("the bank of 1 in 2 is on the %v", f.Fields)
	}
	if got, want := f.Knots[0], (orb.Point{75, 40}); planar.Distance(got, want) > 1e-9 {
		t.Errorf("the first knot is at %v, want %v", got, want)
	}
	if text, _ := b.doc.UndoText(); text != "Undo mirror Winding channel" {
		t.Errorf("the menu says %q", text)
	}
}

func TestDuplicateAndDeleteIsAsBefore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := selecting(everything()...)
		chooseSome(t, b)
		chosen := b.board.All()
		if err := Copy(b.doc, b.board, orb.Point{3, -2}); err != nil {
			t.Fatal(err)
		}
		for _, id := range b.board.All() {
			f, _ := b.doc.Site().Plan.Find(id)
			if slices.Contains(chosen, id) || id <= 10 || f.Kind == plan.Channel && f.Scheme != scheme || f.Name != "" {
				t.Fatalf("a copy is %+v", f)
			}
		}
		if len(b.board.All()) != len(chosen) {
			t.Fatalf("%d copies are selected of %d", len(b.board.All()), len(chosen))
		}
		if err := Remove(b.doc, b.board); err != nil {
			t.Fatal(err)
		}
		b.same(t, everything(), 0)
		if len(b.board.All()) != 0 {
			t.Fatal("what was deleted is selected")
		}
	})
}

func TestStepsAreNamed(t *testing.T) {
	for want, do := range map[string]func(*bench) error{
		"Undo move Winding channel": func(b *bench) error {
			b.board.Select(4)
			return Shift(b.doc, b.board, orb.Point{0.1, 0})
		},
		"Undo rotate 3 things": func(b *bench) error {
			b.board.Select(4, 1, 2)
			return Rotate(b.doc, b.board, 15)
		},
		"Undo duplicate 2 things": func(b *bench) error {
			b.board.Select(3, 1)
			return Copy(b.doc, b.board, orb.Point{1, 1})
		},
		"Undo straighten Winding channel": func(b *bench) error {
			b.board.Select(4)
			return Straighten(b.doc, b.board)
		},
		"Undo curve Channel 2": func(b *bench) error {
			b.board.Select(2)
			return Smooth(b.doc, b.board)
		},
	} {
		b := selecting(everything()...)
		if err := do(b); err != nil {
			t.Fatal(err)
		}
		if text, _ := b.doc.UndoText(); text != want {
			t.Errorf("the menu says %q, want %q", text, want)
		}
		b.undone(t, 1, everything()...)
	}
}

func TestNothingSelectedIsNoStep(t *testing.T) {
	b := selecting(everything()...)
	for _, err := range []error{Shift(b.doc, b.board, orb.Point{1, 1}), Rotate(b.doc, b.board, 9), Mirror(b.doc, b.board, 90),
		Copy(b.doc, b.board, orb.Point{1, 1}), Smooth(b.doc, b.board), Remove(b.doc, b.board)} {
		if err != nil {
			t.Error(err)
		}
	}
	b.undone(t, 0, everything()...)
}

func shifting(x, y float64) Pointer { return Pointer{At: orb.Point{x, y}, Reach: reach, Shift: true} }

func TestShiftAddsAndTakesAway(t *testing.T) {
	b := selecting(everything()...)
	b.clicks(orb.Point{10, 10})
	b.click(shifting(30, 30))
	if got := b.board.All(); !slices.Equal(got, []plan.ID{1, 3}) {
		t.Errorf("selected %v, want the roof and the well", got)
	}
	b.click(shifting(200, 200))
	b.click(shifting(10, 10))
	if got := b.board.All(); !slices.Equal(got, []plan.ID{3}) {
		t.Errorf("selected %v, want the well alone", got)
	}
	b.clicks(orb.Point{200, 200})
	if got := b.board.All(); len(got) != 0 {
		t.Errorf("selected %v after a press on bare ground", got)
	}
}

func TestABoxSelectsWhatLiesWhollyInIt(t *testing.T) {
	b := selecting(everything()...)
	b.board.Select(3)
	b.press(shifting(25, -5))
	if !b.tool.Sketch().Gripped {
		t.Error("the map would be moved with the box")
	}
	b.tool.Move(shifting(62, 25))
	if s := b.tool.Sketch(); s.Box == nil || s.Box.Max != (orb.Point{62, 25}) {
		t.Errorf("the box is %v", s.Box)
	}
	b.tool.Up(shifting(62, 25))
	if got := b.board.All(); !slices.Equal(got, []plan.ID{3, 2}) {
		t.Errorf("selected %v, want the well and the channel", got)
	}
	b.press(free(25, -5))
	if b.tool.Sketch().Gripped {
		t.Error("a drag on bare ground without Shift does not move the map")
	}
	b.undone(t, 0, everything()...)
}

func TestABoxMayBeginOnAThing(t *testing.T) {
	b := selecting(everything()...)
	b.board.Scheme = plan.AsItIs
	b.press(shifting(10, 10))
	b.tool.Move(shifting(62, 35))
	b.tool.Up(shifting(62, 35))
	if got := b.board.All(); !slices.Equal(got, []plan.ID{3}) {
		t.Errorf("selected %v, want the well alone", got)
	}
	b.undone(t, 0, everything()...)
}

func TestSeveralAreMovedTogether(t *testing.T) {
	b := selecting(everything()...)
	b.board.Select(1, 3, 4)
	b.drag(orb.Point{10, 10}, orb.Point{12, 10}, orb.Point{15, 13})
	b.want(t, 3, orb.Point{35, 33})
	b.want(t, 1, shifted(roof(1), 5, 3).Geometry)
	b.want(t, 4, shifted(winding(4), 5, 3).Geometry)
	if text, _ := b.doc.UndoText(); text != "Undo move 3 things" {
		t.Errorf("the menu says %q", text)
	}
	b.undone(t, 1, everything()...)
}

func TestTheRoundHandleTurns(t *testing.T) {
	b := selecting(everything()...)
	b.board.Select(1)
	b.tool.Move(free(0, 0))
	handle := b.tool.Sketch().Turn
	if handle == nil || *handle != (orb.Point{10, 24}) {
		t.Fatalf("the handle stands at %v", handle)
	}
	b.press(free(10, 24))
	b.tool.Move(shifting(25, 11)) // near east of the middle: a quarter turn
	b.tool.Up(shifting(25, 11))
	if d := apart(plan.Feature{Geometry: b.geometry(t, 1)}, turned(roof(1), orb.Point{10, 10}, 90)); d > 1e-9 {
		t.Errorf("the roof is %g m from a quarter turn", d)
	}
	if text, _ := b.doc.UndoText(); text != "Undo rotate Roof 1" {
		t.Errorf("the menu says %q", text)
	}
	b.undone(t, 1, everything()...)
}

func TestKnotsAreTheHandlesOfACurve(t *testing.T) {
	b := selecting(winding(4))
	b.board.Select(4)
	b.tool.Move(free(0, 0))
	wantPoints(t, b.tool.Sketch().Handles, winding(4).Knots)
	for _, middle := range b.tool.Sketch().Middles {
		if d := plan.Distance(winding(4).Geometry, middle); d > 1e-9 {
			t.Errorf("a middle lies %g m off the curve", d)
		}
	}
	b.drag(orb.Point{50, 46}, orb.Point{50, 50})
	f, _ := b.doc.Site().Plan.Find(4)
	if f.Knots[1] != (orb.Point{50, 50}) || !slices.Equal(f.Line(), plan.Curve(f.Knots)) {
		t.Errorf("the channel runs through %v", f.Knots)
	}
	b.tool.Key(Delete)
	if f, _ = b.doc.Site().Plan.Find(4); len(f.Knots) != 3 || !slices.Equal(f.Line(), plan.Curve(f.Knots)) {
		t.Errorf("with a knot less it runs through %v", f.Knots)
	}
	middle := b.tool.Sketch().Middles[0]
	b.clicks(middle)
	if f, _ = b.doc.Site().Plan.Find(4); len(f.Knots) != 4 || f.Knots[1] != middle {
		t.Errorf("with a knot more it runs through %v", f.Knots)
	}
	if text, _ := b.doc.UndoText(); text != "Undo add a point to Winding channel" {
		t.Errorf("the menu says %q", text)
	}
	b.undone(t, 3, winding(4))
}

func TestMirrorAboutADrawnLine(t *testing.T) {
	b := newBench(everything()...)
	b.board.Select(1)
	done := 0
	b.tool = NewMirror(b.doc, b.board, func() { done++ })
	b.clicks(orb.Point{-10, -30}, orb.Point{-10, 70.3})
	b.want(t, 1, orb.Polygon{{{-20, 0}, {-40, 0}, {-40, 20}, {-20, 20}, {-20, 0}}})
	if done != 1 {
		t.Errorf("told %d times that it is done", done)
	}
	b.undone(t, 1, everything()...)
}

func TestAFieldOfAllIsOneStep(t *testing.T) {
	b := selecting(everything()...)
	b.board.Select(2, 4)
	if err := alter(b.doc, b.board, "change bed width of %s", func(f plan.Feature) plan.Feature {
		return f.With("bed_width", plan.Value{Number: 1.1})
	}); err != nil {
		t.Fatal(err)
	}
	if text, _ := b.doc.UndoText(); text != "Undo change bed width of 2 things" {
		t.Errorf("the menu says %q", text)
	}
	b.undone(t, 1, everything()...)
}

func TestPressesThatMoveOneSelectionAreOneStep(t *testing.T) {
	b := selecting(everything()...)
	shift := func() {
		t.Helper()
		if err := Shift(b.doc, b.board, orb.Point{0.1, 0}); err != nil {
			t.Fatal(err)
		}
	}
	start := b.doc.Site()
	b.board.Select(4)
	shift()
	shift()
	b.doc.Undo()
	if !reflect.DeepEqual(b.doc.Site().Plan, start.Plan) {
		t.Fatal("one undo does not take both presses back")
	}
	shift()
	between := b.doc.Site()
	b.board.Select(1)
	shift()
	b.doc.Undo()
	if !reflect.DeepEqual(b.doc.Site().Plan, between.Plan) {
		t.Error("one undo takes back the moves of two selections, or none")
	}
}
