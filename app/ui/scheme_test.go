package ui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"runnel/geo/plan"
)

func TestEachSchemeHasATab(t *testing.T) {
	b := newBench(t)
	b.open()
	b.addScheme()
	b.drawChannel()
	b.copyScheme(b.board.Scheme)
	if shown := texts(b.tabs.row); shown != "As it is\nMeander\nScheme A\nScheme B\n" {
		t.Errorf("the tabs are:\n%s", shown)
	}
	if channels := b.doc.Site().Plan.Of(plan.Channel, b.board.Scheme); len(channels) != 1 {
		t.Errorf("the copy has %d channels", len(channels))
	}
	b.deleteScheme(b.board.Scheme)
	if b.covered() || b.board.Scheme != plan.AsItIs || !strings.Contains(b.trace.String(), "Scheme B deleted; Ctrl+Z brings it back") {
		t.Error("a scheme is not deleted at once with a word on how it comes back, or is still shown")
	}
	b.doc.Undo()
	if shown := texts(b.tabs.row); !strings.Contains(shown, "Scheme B") {
		t.Errorf("undo does not bring it back:\n%s", shown)
	}
}

func TestATabPressedTwiceOrF2AsksForAName(t *testing.T) {
	b := newBench(t)
	b.open()
	id := b.doc.Site().Plan.Schemes[0].ID
	b.tabs.press(id)
	if b.covered() {
		t.Fatal("one press asks already")
	}
	b.tabs.press(id)
	if !b.covered() {
		t.Fatal("two presses do not ask")
	}
	b.dialogKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	b.tabs.press(plan.AsItIs)
	b.tabs.press(id)
	if b.covered() {
		t.Error("presses of two tabs are taken for one pressed twice")
	}
	if !b.schemeKey(&fyne.KeyEvent{Name: fyne.KeyF2}) || !b.covered() {
		t.Error("F2 does not ask")
	}
	b.dialogKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	b.showScheme(plan.AsItIs)
	if b.schemeKey(&fyne.KeyEvent{Name: fyne.KeyF2}); b.covered() {
		t.Error("the site as it is can be renamed")
	}
}

func TestAGhostShowsThroughUnderAnotherScheme(t *testing.T) {
	b := newBench(t)
	b.open()
	b.drawChannel()
	of := b.board.Scheme
	b.showGhost(of)
	if b.ghostNow() != nil {
		t.Error("a scheme is its own ghost")
	}
	b.showScheme(plan.AsItIs)
	b.settle()
	if g := b.pane.scene.Ghost; g == nil || g.Name != "Meander" {
		t.Errorf("the map shows the ghost %v", g)
	}
	if b.ghostNow() != b.pane.scene.Ghost {
		t.Error("the ghost of one site is made twice")
	}
	if !strings.Contains(texts(b.tabs.object), "Ghost: Meander") {
		t.Errorf("the tabs do not name it:\n%s", texts(b.tabs.object))
	}
	if items := b.ghostMenu(); len(items) != 4 || items[0].Checked || !items[3].Checked || !items[2].Disabled {
		t.Errorf("the menu of ghosts has %d items", len(items))
	}
	b.deleteScheme(of)
	if b.ghostNow() != nil || !strings.Contains(texts(b.tabs.object), "Ghost: none") {
		t.Error("a scheme that is gone still shows through")
	}
}

func TestTheMapLeavesF2ToTheSchemes(t *testing.T) {
	b := newBench(t)
	b.open()
	b.showScheme(b.doc.Site().Plan.Schemes[0].ID)
	b.settle()
	b.key(fyne.KeyF2)
	if !b.covered() {
		t.Error("F2 on the map does not ask for the scheme's name")
	}
}
