package tool

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

func TestAnotherToolFinishesWhatCanStand(t *testing.T) {
	tests := []struct {
		name  string
		kind  plan.Kind
		down  []orb.Point
		said  string
		stays bool
	}{
		{"nothing begun", plan.Sill, nil, "", false},
		{"one point of a sill", plan.Sill, []orb.Point{{0, 0}}, "Sill: dropped, for it had one point only", false},
		{"a line of two points", plan.Kerb, []orb.Point{{0, 0}, {9, 0}}, "Kerb 11 is drawn; Ctrl+Z takes it away", true},
		{"two points of an outline", plan.Roof, []orb.Point{{0, 0}, {9, 0}}, "Roof: dropped, for it could not stand as it was", false},
		{"three points of an outline", plan.Roof, []orb.Point{{0, 0}, {9, 0}, {9, 9}}, "Roof 11 is drawn; Ctrl+Z takes it away", true},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			b := drawing(test.kind)
			b.clicks(test.down...)
			if said := b.tool.(Leaver).Leave(); said != test.said {
				t.Errorf("it says %q, want %q", said, test.said)
			}
			if again := b.tool.(Leaver).Leave(); again != "" {
				t.Errorf("the second time it says %q", again)
			}
			steps := 0
			if test.stays {
				steps = 1
			}
			b.undone(t, steps)
		})
	}
}

// A sill and a culvert lead from one side to the other: the second press is the
// last, and a second click out of habit begins no other.
func TestTwoPointsAreAllOfASill(t *testing.T) {
	for _, kind := range []plan.Kind{plan.Sill, plan.Culvert} {
		b := drawing(kind)
		b.clicks(orb.Point{0, 0}, orb.Point{9, 0})
		b.click(Pointer{At: orb.Point{9, 0}, Reach: reach, Double: true})
		b.want(t, 11, orb.LineString{{0, 0}, {9, 0}})
		if s := b.tool.Sketch(); len(s.Marks) != 0 || !strings.Contains(s.Hint, "is drawn") {
			t.Errorf("after a double click it shows %+v", s)
		}
		b.undone(t, 1)
	}
	curved := drawingBy(Curved, plan.Sill)
	curved.clicks(orb.Point{0, 0}, orb.Point{9, 0})
	if len(curved.tool.Sketch().Marks) != 2 {
		t.Error("a curve ends at its second point")
	}
}

func TestDeleteTakesAwayWhatWasJustDrawn(t *testing.T) {
	b := drawing(plan.Tree)
	b.clicks(orb.Point{3, 3})
	if !b.tool.Key(Delete) {
		t.Error("Delete is not taken")
	}
	b.hint(t, "Tree 11 is removed; Ctrl+Z brings it back")
	if b.tool.Key(Delete) {
		t.Error("Delete is taken with nothing selected")
	}
	b.undone(t, 2)
}

func TestNothingIsDrawnToWhatWasFinished(t *testing.T) {
	b := drawing(plan.Kerb, roof(1))
	b.clicks(orb.Point{40, 0}, orb.Point{20, 0.2})
	if b.tool.Sketch().Cue.Pull == Free {
		t.Fatal("the pointer is not drawn to the roof's corner")
	}
	b.tool.Key(Enter)
	if s := b.tool.Sketch(); s.Cue != (Cue{}) {
		t.Errorf("once it is finished the pointer is still drawn to %+v", s.Cue)
	}
}

func TestABoxLeavesTheSiteAloneInAScheme(t *testing.T) {
	for _, test := range []struct {
		scheme plan.SchemeID
		want   []plan.ID
	}{{scheme, []plan.ID{2}}, {plan.AsItIs, []plan.ID{1, 3}}} {
		b := selecting(roof(1), channel(2), well(3))
		b.board.Scheme = test.scheme
		b.press(shifting(-5, -5))
		b.tool.Up(shifting(90, 90))
		if got := b.board.All(); !slices.Equal(got, test.want) {
			t.Errorf("in scheme %d a box selects %v, want %v", test.scheme, got, test.want)
		}
		b.board.Select()
		SelectAll(b.doc, b.board)
		if got := b.board.All(); !slices.Equal(got, test.want) {
			t.Errorf("in scheme %d all is %v, want %v", test.scheme, got, test.want)
		}
	}
	b := selecting(roof(1))
	b.press(shifting(-5, -5))
	b.tool.Up(shifting(30, 30))
	b.hint(t, "A box takes the scheme's own things; Shift and a press adds one of the site")
}

func TestWhatIsTheSitesIsSaidToMoveInEveryScheme(t *testing.T) {
	b := selecting(roof(1), channel(2), well(3))
	if said := Shared(b.doc, b.board); said != "" {
		t.Errorf("with nothing selected it says %q", said)
	}
	b.board.Select(1, 2, 3)
	if said := Shared(b.doc, b.board); said != "2 of these belong to the site as it is; they change in every scheme" {
		t.Errorf("it says %q", said)
	}
	b.drag(orb.Point{50, 0}, orb.Point{55, 0})
	b.hint(t, Shared(b.doc, b.board))
	b.board.Select(2)
	if said := Shared(b.doc, b.board); said != "" {
		t.Errorf("of the scheme's own it says %q", said)
	}
	b.board.Select(1)
	b.board.Scheme = plan.AsItIs
	if said := Shared(b.doc, b.board); said != "" {
		t.Errorf("with the site as it is shown it says %q", said)
	}
}

func TestAFinishedTapeKeepsItsFigures(t *testing.T) {
	b := newBench()
	b.tool = NewMeasure(b.doc, b.board)
	b.clicks(orb.Point{0, 0}, orb.Point{3, 4})
	if b.tool.Sketch().Done {
		t.Error("it is done while it is measured")
	}
	b.tool.Key(Enter)
	b.tool.Move(free(60, 60))
	if s := b.tool.Sketch(); !s.Done || s.Length != 5 {
		t.Errorf("once it is finished it shows %+v", s)
	}
}

// mostLetters is what there is always room for beneath the map.
const mostLetters = 60

// What a hint says first must be read whole. The sentences are taken from the
// source: those that the functions of hints return.
func TestHintsSayFirstWhatIsNeededMost(t *testing.T) {
	files, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	hints := 0
	for _, file := range files {
		if !strings.HasSuffix(file.Name(), ".go") || strings.HasSuffix(file.Name(), "_test.go") {
			continue
		}
		source, err := parser.ParseFile(token.NewFileSet(), file.Name(), nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range source.Decls {
			f, ok := d.(*ast.FuncDecl)
			if !ok || !slices.Contains([]string{"hint", "next", "first", "Shared", "removal"}, f.Name.Name) {
				continue
			}
			ast.Inspect(f, func(n ast.Node) bool {
				if literal, ok := n.(*ast.BasicLit); ok && literal.Kind == token.STRING {
					text, _ := strconv.Unquote(literal.Value)
					first, _, _ := strings.Cut(text, ";")
					if first = strings.ReplaceAll(first, "%s", "septic field"); len([]rune(first)) > mostLetters {
						t.Errorf("%s: %q is %d letters long before its first semicolon", file.Name(), first, len([]rune(first)))
					}
					hints++
				}
				return true
			})
		}
	}
	if hints < 20 {
		t.Errorf("only %d hints are found", hints)
	}
}
