package ui

import (
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
)

func TestUndoInAFieldTakesBackWhatWasTyped(t *testing.T) {
	b := newBench(t)
	b.open()
	b.drawChannel()
	edits, _ := b.doc.UndoText()
	name := b.ledger.parts[0].(*selectedPart).fields[0].(*nameField).answer
	b.win.Canvas().Focus(name)
	test.Type(name, "North arm")
	b.menu.undo.Action()
	if name.Text == "North arm" {
		t.Error("the typed name still stands")
	}
	if now, _ := b.doc.UndoText(); now != edits {
		t.Errorf("the site's history went from %q to %q", edits, now)
	}
}

func TestAFieldChangesTheFeatureOrSaysWhatIsWrong(t *testing.T) {
	b := newBench(t)
	b.open()
	b.drawChannel()
	field := b.ledger.parts[0].(*selectedPart).typed("bed_width")
	field.answer.SetText("0,8")
	field.answer.FocusLost()
	if f, _ := b.selected(); f.Num("bed_width") != 0.8 {
		t.Errorf("the bed is %g m wide", f.Num("bed_width"))
	}
	field.answer.SetText("wide")
	field.answer.OnSubmitted("wide")
	if !field.fault.Visible() || !strings.Contains(field.fault.Text, "give a number") {
		t.Errorf("nothing is said of a width of \"wide\": %q", field.fault.Text)
	}
	if f, _ := b.selected(); f.Num("bed_width") != 0.8 {
		t.Errorf("the bed is %g m wide", f.Num("bed_width"))
	}
	field.answer.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if field.answer.Text != "0.8" {
		t.Errorf("Escape leaves %q", field.answer.Text)
	}
}

func TestUSUnitsAreTypedAndShownInFeet(t *testing.T) {
	b := newBench(t)
	b.open()
	b.drawChannel()
	b.turnUnits()
	field := b.ledger.parts[0].(*selectedPart).typed("bed_width")
	field.answer.SetText("3")
	field.answer.FocusLost()
	// 3 ft is 0.9144 m exactly.
	if f, _ := b.selected(); math.Abs(f.Num("bed_width")-0.9144) > 1e-12 {
		t.Errorf("a bed of 3 ft is %g m", f.Num("bed_width"))
	}
	if shown := texts(b.ledger.object); !strings.Contains(shown, "ft²") || strings.Contains(shown, "m²") {
		t.Errorf("the ledger is not in feet:\n%s", shown)
	}
}
