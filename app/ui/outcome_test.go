package ui

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/channel"
	"runnel/analysis/propose"
	"runnel/geo/plan"
)

// outcome waits for what comes of the drawing as it is now.
func (b *bench) outcome() *outcomePanel {
	b.t.Helper()
	b.until("what comes of it", func() bool {
		return b.outcomes.dig.current() && b.outcomes.flow.current() && b.outcomes.worth.current()
	})
	for _, p := range b.ledger.parts {
		if o, ok := p.(*outcomePanel); ok {
			return o
		}
	}
	b.t.Fatal("the ledger says nothing of what is dug")
	return nil
}

// figureOf is what a row of a panel says and notes, by the row's place.
func (p *outcomePanel) figureOf(row int) (figure, note string) {
	is := p.rows[row].write(p.w)
	return is.figure, is.note
}

func TestWhatComesOfASchemeFollowsTheDrawing(t *testing.T) {
	b := newBench(t)
	b.open()
	b.drawChannel()
	p := b.outcome()
	d := b.outcomes.dig.value
	if got, _ := p.figureOf(0); got != b.units.volume(d.earth.AverageEnd.Cut) || d.earth.AverageEnd.Cut < 1 {
		t.Errorf("the cut is %q of %g m³", got, d.earth.AverageEnd.Cut)
	}
	// Without a fill all of the cut is carted, loose.
	left := spoilLeft(d.earth.AverageEnd, d.change)
	if got, note := p.figureOf(2); got != b.units.volume(left*d.change.Loose) || !strings.Contains(note, "dug out × 1.25") {
		t.Errorf("the spoil is %q, %q", got, note)
	}
	if p.gain.Segments[0].Textual() == dash || len(b.outcomes.worth.value.sensitivity.Rows) != 3 {
		t.Errorf("the winding buys %q", p.gain.Segments[0].Textual())
	}
	f, _ := b.selected()
	b.board.Select(f.ID)
	cut := d.earth.AverageEnd.Cut
	if err := b.changeField([]plan.ID{f.ID}, "Bed width", func(f plan.Feature) plan.Feature { return f.With("bed_width", plan.Value{Number: 2}) }); err != nil {
		t.Fatal(err)
	}
	b.settle()
	b.outcome()
	if now := b.outcomes.dig.value.earth.AverageEnd.Cut; !(now > cut+1) {
		t.Errorf("a wider bed is dug with %g m³ where there were %g m³", now, cut)
	}
}

// Nothing heavy begins while a thing is dragged: what was known stays, pale.
func TestWhatComesOfASchemeWaitsWhileAThingIsDragged(t *testing.T) {
	b := newBench(t)
	b.open()
	f := b.drawChannel()
	p := b.outcome()
	b.pane.hand.dragging = true
	if err := b.changeField([]plan.ID{f.ID}, "Depth", func(f plan.Feature) plan.Feature { return f.With("depth", plan.Value{Number: 0.6}) }); err != nil {
		t.Fatal(err)
	}
	b.until("the figures", func() bool { return b.figures.known && b.figures.site == b.doc.Site() })
	b.outcomes.dig.ask()
	if b.outcomes.dig.current() {
		t.Error("the digging is worked out though a thing is dragged")
	}
	if is := p.rows[0].write(b.Window); !is.stale || is.figure == dash {
		t.Errorf("the cut before is %+v, want it stale", is)
	}
	b.pane.hand.dragging = false
	b.outcome()
}

// A flow that is not known is a dash, and the reason stands beneath.
func TestAFigureThatIsWithheldSaysWhy(t *testing.T) {
	b := newBench(t)
	b.open()
	b.goTo(2)
	b.choose(drawer(plan.Channel))
	b.press(b.at(5, 70)) // away from the drain
	b.press(b.at(12, 60))
	b.press(b.at(5, 50))
	b.key("Return")
	p := b.outcome()
	if got, _ := p.figureOf(3); got != dash {
		t.Errorf("the flow of a channel with no way in is %q", got)
	}
	if len(p.found.box.Objects) == 0 {
		t.Error("nothing says why the flow is not given")
	}
}

func TestProposalsStandAsSchemesInOneStep(t *testing.T) {
	b := newBench(t)
	b.open()
	f := b.drawChannel()
	s, before := b.doc.Site(), len(b.doc.Site().Plan.Schemes)
	q := propose.Question{Scheme: b.board.Scheme, Instead: f.ID}
	line := orb.LineString{f.Line()[0], f.Line()[2]}
	course := plan.Feature{Kind: plan.Channel, Geometry: line}
	b.takeLines(s, q, []propose.Proposal{{Channel: course, Line: line, Contact: 20, Volume: 5}, {Channel: course, Line: line, Contact: 19, Volume: 5}}, nil)
	p := b.doc.Site().Plan
	if len(p.Schemes) != before+2 || p.SchemeName(b.board.Scheme) != "Proposal A" {
		t.Fatalf("there are %d schemes and %q is shown", len(p.Schemes), p.SchemeName(b.board.Scheme))
	}
	if text, _ := b.doc.UndoText(); text != "Undo add 2 proposals" {
		t.Errorf("the menu says %q", text)
	}
	b.doc.Undo()
	if got := len(b.doc.Site().Plan.Schemes); got != before {
		t.Errorf("one step back leaves %d schemes, want %d", got, before)
	}
}

// The form takes its numbers in the units that are set and gives them in metres.
func TestALineIsAskedForInTheUnitsThatAreSet(t *testing.T) {
	b := newBench(t)
	b.open()
	b.turnUnits()
	f := b.newLineForm([]lineEnds{{"here", propose.Question{Volume: 100, Left: 2, Right: 2}}})
	if err := f.take(); err != nil {
		t.Fatal(err)
	}
	// 100 m³ are 3531.47 ft³, by the foot of 0.3048 m.
	if f.fields[0].entry.Text != "3531.47" || math.Abs(f.asked.Volume-100) > 0.001 || f.asked.Count != usualLines {
		t.Errorf("%q ft³ are asked for as %g m³, %d lines", f.fields[0].entry.Text, f.asked.Volume, f.asked.Count)
	}
	f.fields[0].entry.SetText("")
	if err := f.take(); err == nil {
		t.Error("no digging is taken for an answer")
	}
}

func TestPressingAProblemGoesToItsPlace(t *testing.T) {
	b := newBench(t)
	b.open()
	f := b.drawChannel()
	place := f.Line()[1]
	b.board.Select(0)
	b.showPlace(f.ID, place)
	if b.board.Selected != f.ID || !b.pane.camera.Bound(b.pane.width, b.pane.height).Contains(place) {
		t.Error("a problem's place is not selected and in sight")
	}
	b.board.Select(0)
	b.showPlace(f.ID, channel.Problem{}.At)
	if b.board.Selected != f.ID {
		t.Error("a problem of the whole of a feature does not select it")
	}
}
