package tool

import (
	"maps"
	"reflect"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/app/site"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// reach is the pointer's in all scripts [m].
const reach = 1

// scheme is the one that the scripts draw in.
const scheme plan.SchemeID = 2

// bench is a document with a board and one tool at work.
type bench struct {
	doc   *site.Document
	board *Board
	tool  Tool
	// changed counts the board's calls.
	changed int
}

func newBench(features ...plan.Feature) *bench {
	s := plan.Site{Name: "Lower field", Ground: grid.Parse("1 1", "1 1")}
	s.Plan = plan.Plan{Features: features, Schemes: []plan.Scheme{{ID: scheme, Name: "Two arms"}}, Last: 10}
	b := &bench{doc: site.New(s, "")}
	b.board = &Board{Scheme: scheme, Changed: func() { b.changed++ }}
	return b
}

func selecting(features ...plan.Feature) *bench {
	b := newBench(features...)
	b.tool = NewSelect(b.doc, b.board)
	return b
}

// drawing draws with straight sides, drawingBy in any manner.
func drawing(kind plan.Kind, features ...plan.Feature) *bench {
	return drawingBy(Straight, kind, features...)
}

func drawingBy(m Manner, kind plan.Kind, features ...plan.Feature) *bench {
	b := newBench(features...)
	b.board.SetManner(kind, m)
	b.tool = NewDraw(b.doc, b.board, kind)
	return b
}

func free(x, y float64) Pointer { return Pointer{At: orb.Point{x, y}, Reach: reach} }

// Features of the scripts: a 20 m square roof, a channel with a bend, a well.
func roof(id plan.ID) plan.Feature {
	return plan.Feature{ID: id, Kind: plan.Roof, Geometry: orb.Polygon{{{0, 0}, {20, 0}, {20, 20}, {0, 20}, {0, 0}}}}
}

func channel(id plan.ID) plan.Feature {
	return plan.Feature{ID: id, Kind: plan.Channel, Scheme: scheme, Geometry: orb.LineString{{40, 0}, {60, 0}, {60, 20}}}
}

func well(id plan.ID) plan.Feature {
	return plan.Feature{ID: id, Kind: plan.Well, Geometry: orb.Point{30, 30}}
}

func (b *bench) press(p Pointer) {
	b.tool.Move(p)
	b.tool.Down(p)
}

func (b *bench) click(p Pointer) {
	b.press(p)
	b.tool.Up(Pointer{At: p.At, Reach: p.Reach, Shift: p.Shift, Ctrl: p.Ctrl})
}

func (b *bench) clicks(points ...orb.Point) {
	for _, p := range points {
		b.click(free(p[0], p[1]))
	}
}

// drag presses, moves through points and lets go at the last.
func (b *bench) drag(points ...orb.Point) {
	b.press(free(points[0][0], points[0][1]))
	for _, p := range points[1:] {
		b.tool.Move(free(p[0], p[1]))
	}
	end := points[len(points)-1]
	b.tool.Up(free(end[0], end[1]))
}

func (b *bench) geometry(t *testing.T, id plan.ID) orb.Geometry {
	t.Helper()
	f, ok := b.doc.Site().Plan.Find(id)
	if !ok {
		t.Fatalf("feature %d is gone", id)
	}
	return f.Geometry
}

func (b *bench) want(t *testing.T, id plan.ID, want orb.Geometry) {
	t.Helper()
	if got := b.geometry(t, id); !orb.Equal(got, want) {
		t.Errorf("feature %d is\n%v\nwant\n%v", id, got, want)
	}
}

// undone takes back n steps, which must be all, and wants the site as it began.
func (b *bench) undone(t *testing.T, n int, features ...plan.Feature) {
	t.Helper()
	for range n {
		if _, ok := b.doc.UndoText(); !ok {
			t.Errorf("fewer than %d steps to undo", n)
		}
		b.doc.Undo()
	}
	if text, ok := b.doc.UndoText(); ok {
		t.Errorf("after %d undos there is still %q", n, text)
	}
	same := slices.EqualFunc(b.doc.Site().Plan.Features, features, func(a, b plan.Feature) bool {
		return a.ID == b.ID && orb.Equal(a.Geometry, b.Geometry) && maps.Equal(a.Fields, b.Fields)
	})
	if !same {
		t.Errorf("undo leaves\n%v\nwant\n%v", b.doc.Site().Plan.Features, features)
	}
}

func (b *bench) hint(t *testing.T, want string) {
	t.Helper()
	if got := b.tool.Sketch().Hint; got != want {
		t.Errorf("the hint is %q, want %q", got, want)
	}
}

func wantPoints(t *testing.T, got, want []orb.Point) {
	t.Helper()
	if len(got) != len(want) || len(got) > 0 && !reflect.DeepEqual(got, want) {
		t.Errorf("points are %v, want %v", got, want)
	}
}
