package ui

import (
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"github.com/paulmach/orb"

	"runnel/app/site"
	"runnel/app/tool"
	"runnel/geo/plan"
)

func TestAnotherToolAnotherStepOrSchemeLosesNoLine(t *testing.T) {
	for name, leave := range map[string]func(*bench){
		"a tool":   func(b *bench) { b.choose(drawer(plan.Island)) },
		"a step":   func(b *bench) { b.goTo(3) },
		"a scheme": func(b *bench) { b.showScheme(plan.AsItIs) },
	} {
		b := newBench(t)
		b.open()
		b.goTo(2)
		b.choose(drawer(plan.Channel))
		before := len(b.doc.Site().Plan.Features)
		b.press(b.at(20, 20))
		b.press(b.at(60, 40))
		leave(b)
		if got := len(b.doc.Site().Plan.Features); got != before+1 {
			t.Errorf("%s: there are %d things, want %d", name, got, before+1)
		}
		if said := b.status.next.Text; !strings.Contains(said, "is drawn; Ctrl+Z takes it away") {
			t.Errorf("%s: it says %q", name, said)
		}
		b.doc.Undo()
		if got := len(b.doc.Site().Plan.Features); got != before {
			t.Errorf("%s: one undo leaves %d things, want %d", name, got, before)
		}
	}
}

func TestATickGivesTheKeyboardBackUnlessTabBroughtIt(t *testing.T) {
	b := newBench(t)
	b.open()
	b.goTo(2)
	pressed := b.newTick("Contours", func(bool) {})
	w := test.NewWindow(pressed)
	defer w.Close()
	test.Tap(pressed)
	if b.win.Canvas().Focused() != fyne.Focusable(b.pane) || !pressed.Checked {
		t.Errorf("pressed, the keyboard is with %T", b.win.Canvas().Focused())
	}
	b.win.Canvas().Unfocus()
	pressed.TypedRune(' ')
	if b.win.Canvas().Focused() != nil || pressed.Checked {
		t.Error("the space bar takes the keyboard away")
	}
	b.newPick([]string{"a"}).TypedRune('c')
	if b.held != drawer(plan.Channel) || b.win.Canvas().Focused() != fyne.Focusable(b.pane) {
		t.Errorf("a letter in a list takes up %q", b.held)
	}
	b.newSlide(9).TypedRune('q')
	if b.held != selecting {
		t.Errorf("a letter on a slider takes up %q", b.held)
	}
}

func TestEscapeInAFieldBringsBackItsValueAndLetsGo(t *testing.T) {
	b := newBench(t)
	b.open()
	b.drawChannel()
	b.settle()
	var field *typedField
	for _, p := range b.ledger.parts {
		if s, ok := p.(*selectedPart); ok {
			for _, f := range s.fields {
				if typed, ok := f.(*typedField); ok && typed.field.Name == "bed_width" {
					field = typed
				}
			}
		}
	}
	if field == nil {
		t.Fatal("the ledger has no bed width")
	}
	held := field.answer.Text
	b.win.Canvas().Focus(field.answer)
	field.answer.SetText("3")
	field.answer.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if field.answer.Text != held || b.win.Canvas().Focused() != nil {
		t.Errorf("it holds %q, the keyboard is with %T", field.answer.Text, b.win.Canvas().Focused())
	}
}

func TestAFieldThatIsNotSetShowsWhatIsInUse(t *testing.T) {
	b := newBench(t)
	b.open()
	f := b.drawChannel()
	b.settle()
	for _, u := range b.figures.scheme.Usuals {
		if u.ID != f.ID || math.IsNaN(u.Level) {
			continue
		}
		spec, _ := fieldNamed(plan.Channel, u.Field)
		shown := newTypedField(b.Window, []plan.ID{f.ID}, spec).inUse([]plan.Feature{f})
		if want := decimal(u.Level, 2) + " " + sourceWord(u.From); shown != want {
			t.Errorf("%s shows %q, want %q", u.Field, shown, want)
		}
		return
	}
	t.Error("no level in use is known of the channel")
}

func TestAWrongLengthIsRefusedInItsBox(t *testing.T) {
	b := newBench(t)
	b.open()
	b.goTo(2)
	b.choose(drawer(plan.Channel))
	b.press(b.at(20, 20))
	b.pane.tool.Move(tool.Pointer{At: orb.Point{500_040, 4_800_020}, Reach: 1})
	plotter := b.pane.tool.(tool.Plotter)
	p := &plot{w: b.Window, tool: plotter, side: *plotter.Sketch().Side, each: 1, lengthField: plan.Field{Label: "Length", Unit: "m", High: 100_000}, fault: text("", body)}
	p.length = newPlotEntry("", &plot{w: b.Window, tool: plotter, fault: text("", body)})
	p.length.OnChanged = nil
	p.length.SetText("12abc")
	if at, err := p.place(); err == nil || !strings.Contains(err.Error(), "12abc") {
		t.Errorf("12abc is taken as %v", at)
	}
	p.length.SetText("12")
	if at, err := p.place(); err != nil || math.Abs(p.side.From[0]-at[0])+math.Abs(p.side.From[1]-at[1]) < 8 {
		t.Errorf("12 is %v, %v", at, err)
	}
}

func TestWhatDrainsToAPlaceIsOfTheStormThatIsLookedAt(t *testing.T) {
	b := newBench(t)
	b.open()
	b.goTo(1)
	b.settle()
	b.choose(gathering)
	b.press(b.at(50, 50))
	before := b.pane.tool.Sketch()
	if len(before.Answer) != 2 || len(b.pane.overlay.Cue.Words) != 2 {
		t.Fatalf("beside the place it says %v", before.Answer)
	}
	b.lookAtRain(97)
	after := b.pane.tool.Sketch()
	if !strings.Contains(after.Answer[1], "97") || before.Answer[1] == after.Answer[1] || !strings.Contains(after.Hint, "97") {
		t.Errorf("of another storm it says %v and %q", after.Answer, after.Hint)
	}
}

func TestTheBarGoesWithWhatWasSelected(t *testing.T) {
	b := newBench(t)
	b.open()
	b.drawChannel()
	b.takeUp(selecting)
	if b.drawbar.slip.Hidden {
		t.Fatal("there is no bar for what is selected")
	}
	b.doc.Undo()
	if !b.drawbar.slip.Hidden {
		t.Error("undone, the bar of what was selected stays")
	}
	b.doc.Redo()
	b.complain(b.doc.Do(&site.RemoveScheme{ID: b.board.Scheme}))
	if !b.drawbar.slip.Hidden {
		t.Error("with the scheme deleted, the bar stays")
	}
}

func TestHintsGiveUpTheirLastPartsFirst(t *testing.T) {
	s := newStatus()
	ways := s.ways(tool.Sketch{Hint: "One; two; three", Length: 5, Points: orb.LineString{{0, 0}, {3, 4}}}, metric)
	want := []string{"One; two; three", "One; two", "One"}
	for i, words := range want {
		if !strings.HasSuffix(ways[i], "   "+words) || !strings.HasPrefix(ways[i], "5") {
			t.Errorf("way %d is %q", i, ways[i])
		}
	}
}

func TestWhatWasDoneIsSaidAloud(t *testing.T) {
	s := newStatus()
	s.object.Resize(fyne.NewSize(600, 40))
	quiet := s.next.TextSize
	s.notice("Saved; all of it")
	if s.next.TextSize <= quiet || s.flag.Hidden || s.next.Text != "Saved; all of it" {
		t.Errorf("it says %q in %g dp", s.next.Text, s.next.TextSize)
	}
	s.until = s.until.Add(-noticeFor)
	s.hint(tool.Sketch{Hint: "Click"}, metric)
	if s.next.TextSize != quiet || !s.flag.Hidden || s.next.Text != "Click" {
		t.Errorf("later it says %q in %g dp", s.next.Text, s.next.TextSize)
	}
}

func TestShortcutsAreWrittenAsTheMenusWriteThem(t *testing.T) {
	b := newBench(t)
	for name, want := range map[string]string{"Nudge to the north": "Alt+↑", "Nudge further to the west": "Alt+Shift+←", "Save as…": "Ctrl+Shift+S"} {
		if got := shortcut(b.command(name).keys); got != want {
			t.Errorf("%s is pressed by %q, want %q", name, got, want)
		}
	}
}
