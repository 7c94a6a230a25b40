package ui

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"runnel/app/site"
	"runnel/geo/plan"
)

// tabs are the schemes, over the map.
type tabs struct {
	w      *Window
	object fyne.CanvasObject
	row    *fyne.Container
	shown  string
}

func newTabs(w *Window) *tabs {
	t := &tabs{w: w, row: container.NewHBox()}
	compare := newButton("Compare", w.compareSchemes)
	compare.Importance = widget.HighImportance
	scroll := container.NewHScroll(t.row)
	t.object = container.New(layout.NewCustomPaddedLayout(gap, gap, 2*gap, 2*gap),
		container.NewBorder(nil, nil, nil, container.NewCenter(compare), scroll))
	return t
}

func (t *tabs) refresh() {
	schemes := t.w.doc.Site().Plan.Schemes
	shown := fmt.Sprint(schemes, t.w.board.Scheme)
	if shown == t.shown {
		return
	}
	t.shown = shown
	t.row.RemoveAll()
	t.add(plan.Scheme{ID: plan.AsItIs, Name: "As it is"})
	for _, s := range schemes {
		t.add(s)
	}
	more := newPressable("", "+", lying, nil)
	more.onPress = func() { t.w.menuAt(more, t.w.schemeMenu(t.w.board.Scheme)) }
	t.row.Add(more)
	t.row.Refresh()
}

func (t *tabs) add(s plan.Scheme) {
	b := newPressable("", s.Name, lying, func() { t.w.showScheme(s.ID) })
	b.mark(s.ID == t.w.board.Scheme)
	b.onMenu = func(fyne.Position) { t.w.menuAt(b, t.w.schemeMenu(s.ID)) }
	t.row.Add(b)
}

func (w *Window) menuAt(o fyne.CanvasObject, items []*fyne.MenuItem) {
	at := w.app.Driver().AbsolutePositionForObject(o).AddXY(0, o.Size().Height)
	widget.ShowPopUpMenuAtPosition(fyne.NewMenu("", items...), w.win.Canvas(), at)
}

// schemeMenu offers what can be done with the schemes, one of them at hand.
func (w *Window) schemeMenu(of plan.SchemeID) []*fyne.MenuItem {
	items := []*fyne.MenuItem{fyne.NewMenuItem("Add an empty scheme", w.addScheme)}
	if of == plan.AsItIs {
		return items
	}
	name := w.doc.Site().Plan.SchemeName(of)
	return append(items,
		fyne.NewMenuItem("Copy "+name, func() { w.copyScheme(of) }),
		fyne.NewMenuItemSeparator(),
		fyne.NewMenuItem("Rename "+name+"…", func() { w.renameScheme(of) }),
		fyne.NewMenuItem("Delete "+name, func() { w.complain(w.doc.Do(&site.RemoveScheme{ID: of})) }))
}

// showScheme puts a scheme on the map and in the ledger.
func (w *Window) showScheme(id plan.SchemeID) {
	if w.board.Scheme == id {
		return
	}
	w.pane.tool.Cancel()
	w.board.Scheme = id
	if f, ok := w.selected(); ok && f.Scheme != plan.AsItIs && f.Scheme != id {
		w.board.Select(0)
	}
	w.trace.say("scheme", "name", w.schemeName())
	w.figures = figures{}
	w.refresh()
}

func (w *Window) addScheme() {
	edit := &site.AddScheme{Name: site.NextSchemeName(w.doc.Site())}
	if err := w.doc.Do(edit); err != nil {
		w.complain(err)
		return
	}
	w.showScheme(edit.ID)
}

func (w *Window) copyScheme(of plan.SchemeID) {
	edit := &site.CopyScheme{Of: of, Name: site.NextSchemeName(w.doc.Site())}
	if err := w.doc.Do(edit); err != nil {
		w.complain(err)
		return
	}
	w.showScheme(edit.ID)
}

func (w *Window) renameScheme(id plan.SchemeID) {
	name := w.newLine(w.doc.Site().Plan.SchemeName(id))
	w.askForm(prompt{title: "Rename the scheme", size: fyne.NewSize(400, 150), choices: []choice{{word: "Cancel"}, {word: "Rename"}}},
		[]*widget.FormItem{widget.NewFormItem("Name", name)},
		func() error { return w.doc.Do(&site.RenameScheme{ID: id, Name: name.Text}) })
	w.win.Canvas().Focus(name)
}
