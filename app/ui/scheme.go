package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"runnel/app/site"
	"runnel/app/view"
	"runnel/geo/plan"
)

// schemeMenu offers what can be done with the schemes, one of them at hand.
func (w *Window) schemeMenu(of plan.SchemeID) []*fyne.MenuItem {
	items := []*fyne.MenuItem{fyne.NewMenuItem(tr("Add an empty scheme"), w.addScheme)}
	if of == plan.AsItIs {
		return items
	}
	name := shortened(w.doc.Site().Plan.SchemeName(of), mostOfName)
	items = append(items,
		fyne.NewMenuItem(trf("Duplicate %s", name), func() { w.copyScheme(of) }),
		fyne.NewMenuItemSeparator(),
		fyne.NewMenuItem(trf("Rename %s…", name), func() { w.renameScheme(of) }),
		fyne.NewMenuItem(trf("Delete %s", name), func() { w.deleteScheme(of) }))
	if of != w.board.Scheme {
		items = append(items, fyne.NewMenuItemSeparator(),
			fyne.NewMenuItem(trf("Show %s as a ghost", name), func() { w.showGhost(of) }))
	}
	return items
}

// showScheme puts a scheme on the map and in the ledger.
func (w *Window) showScheme(id plan.SchemeID) {
	if w.board.Scheme == id {
		return
	}
	w.layDown()
	w.board.Scheme = id
	if f, ok := w.selected(); ok && f.Scheme != plan.AsItIs && f.Scheme != id {
		w.board.Select(0)
	}
	w.trace.say("scheme", "name", w.schemeName())
	w.figures = figures{}
	w.refresh()
	w.keepPlace()
}

// tellWhereDrawn says that another scheme is shown than the one whose tab was pressed,
// and lights its tab up for a moment.
func (w *Window) tellWhereDrawn() {
	w.tellBelow(trf("Drawing in %s; ‘As it is’ holds only what is there already", w.schemeName()))
	w.tabs.lightUp(w.board.Scheme)
}

func (w *Window) addScheme() {
	edit := &site.AddScheme{Name: site.NextSchemeName(w.doc.Site(), tr("Scheme %s"))}
	if err := w.doc.Do(edit); err != nil {
		w.complain(err)
		return
	}
	w.showScheme(edit.ID)
}

func (w *Window) copyScheme(of plan.SchemeID) {
	edit := &site.CopyScheme{Of: of, Name: site.NextSchemeName(w.doc.Site(), tr("Scheme %s"))}
	if err := w.doc.Do(edit); err != nil {
		w.complain(err)
		return
	}
	w.showScheme(edit.ID)
}

// deleteScheme takes a scheme away without asking, and says how it comes back.
func (w *Window) deleteScheme(id plan.SchemeID) {
	name := w.nameOf(id)
	if err := w.doc.Do(&site.RemoveScheme{ID: id}); err != nil {
		w.complain(err)
		return
	}
	w.tellBelow(trf("%s deleted; Ctrl+Z brings it back", name))
}

// renameScheme asks for another name; that of the site as it is stays.
func (w *Window) renameScheme(id plan.SchemeID) {
	if id == plan.AsItIs {
		w.tellBelow(tr("The site as it is keeps its name; add a scheme and name that"))
		return
	}
	name := w.newLine(w.doc.Site().Plan.SchemeName(id))
	w.askForm(prompt{title: tr("Rename the scheme"), size: fyne.NewSize(400, 150), choices: []choice{{word: tr("Cancel")}, {word: tr("Rename")}}},
		[]*widget.FormItem{widget.NewFormItem(tr("Name"), name)},
		func() error { return w.doc.Do(&site.RenameScheme{ID: id, Name: name.Text}) })
	w.win.Canvas().Focus(name)
	name.TypedShortcut(&fyne.ShortcutSelectAll{})
}

// A ghost is the scheme that shows through under the one on the map.
type ghost struct {
	on bool
	of plan.SchemeID
	// drawn is it as it was drawn last, of a site.
	drawn *view.Ghost
	site  *plan.Site
}

// showGhost has a scheme show through.
func (w *Window) showGhost(of plan.SchemeID) { w.setGhost(ghost{on: true, of: of}) }

func (w *Window) setGhost(g ghost) {
	w.ghost = g
	w.tabs.refresh()
	w.reshow()
	w.trace.say("ghost", "on", g.on, "of", g.of)
}

// ghostNow returns what shows through on the map; nil where nothing does.
func (w *Window) ghostNow() *view.Ghost {
	g, s := &w.ghost, w.doc.Site()
	if !g.on || g.of == w.board.Scheme || !w.hasScheme(g.of) {
		return nil
	}
	if g.site != s || g.drawn == nil {
		g.site, g.drawn = s, view.NewGhost(s, g.of)
	}
	return g.drawn
}

// ghostWord names what shows through.
func (w *Window) ghostWord() string {
	switch {
	case !w.ghost.on || !w.hasScheme(w.ghost.of):
		return tr("Ghost: none")
	case w.ghost.of == plan.AsItIs:
		return tr("Ghost: as it is")
	}
	const most = 16 // letters, so that the tabs keep their room
	return trf("Ghost: %s", shortened(w.doc.Site().Plan.SchemeName(w.ghost.of), most))
}

// ghostMenu offers what may show through: any scheme but the one that is shown.
func (w *Window) ghostMenu() []*fyne.MenuItem {
	none := fyne.NewMenuItem(tr("None"), func() { w.setGhost(ghost{}) })
	none.Checked = !w.ghost.on
	items := []*fyne.MenuItem{none, fyne.NewMenuItemSeparator()}
	for _, s := range append([]plan.Scheme{{ID: plan.AsItIs, Name: tr("As it is")}}, w.doc.Site().Plan.Schemes...) {
		item := fyne.NewMenuItem(shortened(s.Name, mostOfName), func() { w.showGhost(s.ID) })
		item.Checked = w.ghost.on && w.ghost.of == s.ID
		item.Disabled = s.ID == w.board.Scheme
		items = append(items, item)
	}
	return items
}

// schemeKey takes the keys that are the schemes' wherever no field has the keyboard:
// F2 names the one that is shown, and the pages in the map's place have their own.
func (w *Window) schemeKey(e *fyne.KeyEvent) bool {
	switch {
	case w.doc == nil || w.covered():
		return false
	case e.Name == fyne.KeyF2:
		w.renameScheme(w.board.Scheme)
		return true
	}
	return w.comparing.key(e) || w.channels.key(e) || w.year.key(e)
}
