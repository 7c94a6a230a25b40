package ui

import (
	"fmt"
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"runnel/app/site"
	"runnel/app/view"
	"runnel/assets"
	"runnel/geo/plan"
)

// menus is the menu bar. Its shortcuts fire whatever has the keyboard, greyed
// items and open dialogs too, so every command asks again whether it may run.
type menus struct {
	w          *Window
	main       *fyne.MainMenu
	undo, redo *fyne.MenuItem
	recent     *fyne.MenuItem
	// withSite are the items that need an open site, with what else they need.
	withSite map[*fyne.MenuItem]func() bool
	checks   map[*fyne.MenuItem]func() bool
	shown    string
}

const (
	ctrl      = fyne.KeyModifierShortcutDefault
	ctrlShift = fyne.KeyModifierShortcutDefault | fyne.KeyModifierShift
)

func newMenus(w *Window) *menus {
	m := &menus{w: w, withSite: map[*fyne.MenuItem]func() bool{}, checks: map[*fyne.MenuItem]func() bool{}}
	m.main = fyne.NewMainMenu(m.file(), m.edit(), m.view(), m.scheme(), m.help())
	return m
}

func always() bool { return true }

// item makes a command that runs while no dialog is open.
func (m *menus) item(words string, do func()) *fyne.MenuItem {
	return fyne.NewMenuItem(words, func() {
		if !m.w.covered() {
			do()
		}
	})
}

// keyed gives a command its shortcut.
func keyed(i *fyne.MenuItem, key fyne.KeyName, held fyne.KeyModifier) *fyne.MenuItem {
	i.Shortcut = &desktop.CustomShortcut{KeyName: key, Modifier: held}
	return i
}

// siteItem makes a command that needs an open site, and may need more.
func (m *menus) siteItem(words string, may func() bool, do func()) *fyne.MenuItem {
	i := m.item(words, func() {
		if m.w.doc != nil && may() {
			do()
		}
	})
	m.withSite[i] = may
	return i
}

// checked makes a command that shows whether what it turns on is on.
func (m *menus) checked(i *fyne.MenuItem, on func() bool) *fyne.MenuItem {
	m.checks[i] = on
	return i
}

func (m *menus) file() *fyne.Menu {
	w := m.w
	m.recent = fyne.NewMenuItem("Open recent", nil)
	m.recent.ChildMenu = fyne.NewMenu("")
	demo := m.item("Open the demo site", func() { w.leave(w.openDemo) })
	demo.Disabled = w.options.DemoSite == nil
	quit := keyed(m.item("Quit", w.quit), fyne.KeyQ, ctrl)
	quit.IsQuit = true
	return fyne.NewMenu("File",
		keyed(m.item("New from an elevation raster…", func() { w.leave(w.newFromRaster) }), fyne.KeyN, ctrl),
		keyed(m.item("Open…", func() { w.leave(w.askOpen) }), fyne.KeyO, ctrl),
		m.recent, demo, fyne.NewMenuItemSeparator(),
		keyed(m.siteItem("Save", always, func() { w.save(nil) }), fyne.KeyS, ctrl),
		keyed(m.siteItem("Save as…", always, func() { w.saveAs(nil) }), fyne.KeyS, ctrlShift),
		fyne.NewMenuItemSeparator(),
		keyed(m.siteItem("Import plan…", always, w.importPlan), fyne.KeyI, ctrl),
		m.siteItem("Replace the ground…", always, w.replaceGround),
		keyed(m.siteItem("Export…", always, func() { w.goTo(stepHandOver) }), fyne.KeyE, ctrl),
		fyne.NewMenuItemSeparator(), quit)
}

func (m *menus) edit() *fyne.Menu {
	w := m.w
	m.undo = fyne.NewMenuItem("Undo", func() { w.undo(&fyne.ShortcutUndo{}) })
	m.redo = fyne.NewMenuItem("Redo", func() { w.undo(&fyne.ShortcutRedo{}) })
	// The toolkit reports Ctrl+Z and Ctrl+Y as shortcuts of their own kind.
	m.undo.Shortcut, m.redo.Shortcut = &fyne.ShortcutUndo{}, &fyne.ShortcutRedo{}
	remove := m.siteItem("Delete", func() bool { return w.board.Selected != 0 }, w.removeSelected)
	return fyne.NewMenu("Edit", m.undo, m.redo, fyne.NewMenuItemSeparator(), remove)
}

// undo takes back or does again: in the field that is being typed in, else in
// the site.
func (w *Window) undo(s fyne.Shortcut) {
	if w.covered() || w.doc == nil {
		return
	}
	if field, ok := w.win.Canvas().Focused().(fyne.Shortcutable); ok {
		field.TypedShortcut(s)
		return
	}
	w.pane.tool.Cancel()
	if _, again := s.(*fyne.ShortcutRedo); again {
		w.doc.Redo()
	} else {
		w.doc.Undo()
	}
	w.trace.say("undone")
}

func (m *menus) view() *fyne.Menu {
	w := m.w
	items := []*fyne.MenuItem{
		keyed(m.siteItem("Fit the whole ground", always, func() { w.pane.fit() }), fyne.KeyF, ctrl),
		fyne.NewMenuItemSeparator(),
		m.checked(keyed(m.item("Dark", w.turnLook), fyne.KeyD, ctrlShift), func() bool { return w.look.dark }),
		m.checked(m.item("US units", w.turnUnits), func() bool { return w.units == usFeet }),
		fyne.NewMenuItemSeparator(),
	}
	for _, l := range layers {
		toggle := m.siteItem(l.word, always, func() { w.turnLayer(l.of) })
		items = append(items, m.checked(toggle, func() bool { return w.doc != nil && w.show.Has(l.of) }))
	}
	items = append(items, fyne.NewMenuItemSeparator())
	for i, s := range steps {
		key := fyne.KeyName(fmt.Sprint(i + 1))
		items = append(items, keyed(m.siteItem("Step: "+s.word, always, func() { w.goTo(i) }), key, ctrl))
	}
	return fyne.NewMenu("View", items...)
}

func (m *menus) scheme() *fyne.Menu {
	w := m.w
	shown := func() bool { return w.board.Scheme != plan.AsItIs }
	return fyne.NewMenu("Scheme",
		keyed(m.siteItem("Add an empty scheme", always, w.addScheme), fyne.KeyN, ctrlShift),
		keyed(m.siteItem("Copy this scheme", shown, func() { w.copyScheme(w.board.Scheme) }), fyne.KeyC, ctrlShift),
		m.siteItem("Rename this scheme…", shown, func() { w.renameScheme(w.board.Scheme) }),
		m.siteItem("Delete this scheme", shown, func() { w.complain(w.doc.Do(&site.RemoveScheme{ID: w.board.Scheme})) }),
		fyne.NewMenuItemSeparator(),
		keyed(m.siteItem("Compare the schemes", always, w.compareSchemes), fyne.KeyK, ctrl))
}

func (m *menus) help() *fyne.Menu {
	return fyne.NewMenu("Help",
		m.item("Keys", func() { m.w.read("Keys", m.keys()) }),
		m.item("What's new", func() { m.w.read("What's new", assets.Changes) }),
		m.item("About Runnel", m.w.about))
}

// refresh brings words, marks and greying up to date. The bar is built again
// only where something has changed.
func (m *menus) refresh() {
	w := m.w
	m.undo.Label, m.undo.Disabled = "Undo", true
	m.redo.Label, m.redo.Disabled = "Redo", true
	if w.doc != nil {
		for item, of := range map[*fyne.MenuItem]func() (string, bool){m.undo: w.doc.UndoText, m.redo: w.doc.RedoText} {
			words, ok := of()
			item.Label, item.Disabled = words, !ok
		}
	}
	shown := m.undo.Label + m.redo.Label
	for _, menu := range m.main.Items {
		for _, item := range menu.Items {
			if may, ok := m.withSite[item]; ok {
				item.Disabled = w.doc == nil || !may()
			}
			if on, ok := m.checks[item]; ok {
				item.Checked = on()
			}
			shown += fmt.Sprint(item.Disabled, item.Checked)
		}
	}
	if shown += fmt.Sprint(w.recents); shown == m.shown {
		return
	}
	m.shown = shown
	m.listRecent(w.recents)
	m.main.Refresh()
}

func (m *menus) listRecent(paths []string) {
	m.recent.ChildMenu.Items = nil
	for _, path := range paths {
		m.recent.ChildMenu.Items = append(m.recent.ChildMenu.Items,
			m.item(filepath.Base(path), func() { m.w.leave(func() { m.w.openAny(path) }) }))
	}
	m.recent.Disabled = len(paths) == 0
}

func (w *Window) turnLayer(l view.Layers) {
	w.show ^= l
	w.tools.build()
	w.tools.refresh()
	w.askOfWater()
	w.reshow()
	w.menu.refresh()
}

func (w *Window) turnLook() {
	if w.look.dark {
		w.look = lightLook()
	} else {
		w.look = darkLook()
	}
	w.app.Preferences().SetBool(darkPreference, w.look.dark)
	w.app.Settings().SetTheme(w.look)
	w.build()
	w.reshow()
}

func (w *Window) turnUnits() {
	w.units = usFeet - w.units
	w.app.Preferences().SetInt(unitsPreference, int(w.units))
	w.menu.refresh()
	if w.doc != nil {
		w.ledger.refresh()
		w.reshow()
		w.used()
		w.follow()
	}
}
