package ui

import (
	"fmt"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"

	"runnel/app/site"
	"runnel/geo/plan"
)

// lengthy is a name of 70 letters.
var lengthy = strings.Repeat("Rosie's winding beck ", 4)[:70]

// callAllLengthy gives every scheme and everything that is drawn a long name.
func (b *bench) callAllLengthy() {
	b.t.Helper()
	for i, s := range b.doc.Site().Plan.Schemes {
		if err := b.doc.Do(&site.RenameScheme{ID: s.ID, Name: fmt.Sprint(lengthy, i)}); err != nil {
			b.t.Fatal(err)
		}
	}
	var named []plan.Feature
	for _, f := range b.doc.Site().Plan.Features {
		f.Name = lengthy
		named = append(named, f)
	}
	if err := b.doc.Do(&site.Alter{After: named, What: "name all"}); err != nil {
		b.t.Fatal(err)
	}
	b.settle()
}

// wantInside reports what is seen in a pane and reaches out of it to the right. What
// lies in a scroll is cut off there, and is to be no wider either.
func (b *bench) wantInside(name string, pane fyne.CanvasObject) {
	b.t.Helper()
	driver := b.app.Driver()
	end := driver.AbsolutePositionForObject(pane).X + pane.Size().Width
	for _, words := range wordsIn(pane) {
		if right := driver.AbsolutePositionForObject(words).X + max(words.Size().Width, words.MinSize().Width); right > end+0.5 {
			b.t.Errorf("%s: %q ends at %.0f, its pane at %.0f", name, words.Text, right, end)
		}
	}
}

// wordsIn lists the texts that are seen in an object, without those in fields, which
// scroll there.
func wordsIn(o fyne.CanvasObject) (all []*canvas.Text) {
	if _, field := o.(interface{ SelectedText() string }); field || !o.Visible() {
		return nil
	}
	var parts []fyne.CanvasObject
	switch o := o.(type) {
	case *canvas.Text:
		return []*canvas.Text{o}
	case *fyne.Container:
		parts = o.Objects
	case fyne.Widget:
		parts = test.WidgetRenderer(o).Objects()
	}
	for _, part := range parts {
		all = append(all, wordsIn(part)...)
	}
	return all
}

func TestLongNamesMakeNoPaneWider(t *testing.T) {
	b := newBench(t)
	b.open()
	b.win.Resize(fyne.NewSize(1240, 660))
	b.drawChannel()
	b.callAllLengthy()
	b.showGhost(plan.AsItIs)
	for i := range steps {
		b.goTo(i)
		b.board.Select(b.doc.Site().Plan.Of(plan.Channel, b.board.Scheme)[0].ID)
		b.ledger.box.Refresh()
		b.win.Canvas().Capture()
		b.wantInside(steps[i].word()+", the ledger", b.panes.ledger)
		b.wantInside(steps[i].word()+", the status", b.panes.status)
		if wide := b.ledger.box.MinSize().Width; wide > ledgerWidth {
			t.Errorf("%s: the ledger needs %.0f and has %d", steps[i].word(), wide, ledgerWidth)
		}
	}
	part := b.ledger.parts[0]
	b.goTo(2)
	if p, ok := b.ledger.parts[0].(*selectedPart); !ok || !strings.HasSuffix(p.title.text.Text, "…") {
		t.Errorf("what is selected is not cut short: %T", part)
	}
}

func TestWhatStandsAfterTheTabsStaysInView(t *testing.T) {
	for _, c := range []struct {
		size fyne.Size
		text int
	}{
		{fyne.NewSize(1240, 660), 0}, {fyne.NewSize(1240, 660), 2}, {fyne.NewSize(1024, 700), 0}, {fyne.NewSize(1024, 700), 1}, {fyne.NewSize(1024, 700), 2},
	} {
		b := newBench(t)
		b.win.Resize(c.size)
		b.setTextSize(c.text)
		b.open()
		for range 4 {
			b.addScheme()
		}
		b.callAllLengthy()
		b.showGhost(b.doc.Site().Plan.Schemes[0].ID)
		b.win.Canvas().Capture()
		driver := b.app.Driver()
		left, width := driver.AbsolutePositionForObject(b.tabs.strip).X, b.tabs.strip.Size().Width
		for _, o := range []*pressable{b.tabs.more, b.tabs.ghost, b.tabs.compare} {
			at := driver.AbsolutePositionForObject(o)
			if at.X < left-0.5 || at.X+o.MinSize().Width > left+width+0.5 {
				t.Errorf("%v, text %d: %q lies from %.0f to %.0f, the strip from %.0f to %.0f", c.size, c.text, o.word, at.X, at.X+o.MinSize().Width, left, left+width)
			}
		}
		for _, id := range []plan.SchemeID{plan.AsItIs, b.doc.Site().Plan.Schemes[4].ID} {
			b.showScheme(id)
			b.win.Canvas().Capture()
			tab := b.tabs.buttons[id]
			from, to := b.tabs.scroll.Offset.X, b.tabs.scroll.Offset.X+b.tabs.scroll.Size().Width
			if at := tab.Position().X; at < from-0.5 || at+min(tab.Size().Width, to-from) > to+0.5 {
				t.Errorf("%v, text %d: the tab that is shown lies from %.0f to %.0f, %.0f to %.0f is seen", c.size, c.text, at, at+tab.Size().Width, from, to)
			}
		}
	}
}

func TestABriefIsCutShortInItsName(t *testing.T) {
	test.NewTempApp(t)
	b := newBrief(body)
	b.sayWith("A very long name", func(name string) string { return name + ": 12 m³" })
	b.object.Resize(fyne.NewSize(400, 20))
	if b.text.Text != "A very long name: 12 m³" {
		t.Errorf("with room it says %q", b.text.Text)
	}
	b.object.Resize(fyne.NewSize(90, 20))
	if got := b.text.Text; !strings.HasSuffix(got, "…: 12 m³") || !strings.HasPrefix(got, "A v") || b.text.MinSize().Width > 90 {
		t.Errorf("in 90 it says %q", got)
	}
}
