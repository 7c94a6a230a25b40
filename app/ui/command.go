package ui

import (
	"slices"
	"strings"
	"unicode"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"runnel/app/work"
)

// A command is something that a person can have done. The menus, the list of keys,
// the box that finds commands and the letters of the tools are all made of the
// list of commands, so a new one is one entry in one of the lists.
type command struct {
	// name is what the command is called, said by tr already; the menu's word for it.
	name string
	// now is what it is called in the menu at the moment, where that changes; nil
	// where it does not.
	now func() string
	// menu is the menu that it stands in, and part the part of that menu: a line
	// lies between one part and the next.
	menu menuName
	part int
	// keys press it wherever the keyboard is, but in a field those that a text has a
	// use for; nil for none. The toolkit has kinds of its own for Ctrl+Z, Ctrl+Y and Ctrl+A.
	keys fyne.Shortcut
	// letter presses it while the map has the keyboard; empty for none.
	letter string
	// astray says why the letter does nothing in this step; empty where it presses the
	// command. Nil is always.
	astray func() string
	// also are other words that a person may look for it by, said by tr already.
	also string
	// cannot says why it cannot run now, in a sentence; empty where it can. Nil is always.
	cannot func() string
	do     func()
	// on reports whether what it turns on is on; nil for what does not turn.
	on func() bool
	// tucked is set for what stands in no menu, though it has its keys and is found.
	tucked bool
	// quits is set for what ends the program, which some systems put elsewhere.
	quits bool
}

// menuName names one of the menus.
type menuName uint8

const (
	fileMenu menuName = iota
	editMenu
	stepsMenu
	drawMenu
	mapMenu
	schemeMenu
	windowMenu
	helpMenu
	menuCount
)

func (m menuName) String() string {
	return [menuCount]string{tr("File"), tr("Edit"), tr("Steps"), tr("Draw"), tr("Map"), tr("Scheme"), tr("Window"), tr("Help")}[m]
}

const (
	ctrl      = fyne.KeyModifierShortcutDefault
	ctrlShift = fyne.KeyModifierShortcutDefault | fyne.KeyModifierShift
)

// press is the shortcut of a key with Ctrl and perhaps Shift.
func press(key fyne.KeyName, held fyne.KeyModifier) fyne.Shortcut {
	return &desktop.CustomShortcut{KeyName: key, Modifier: held}
}

// commandLists are where the commands stand; each list is for one part of the work.
func (w *Window) commandLists() [][]command {
	return [][]command{
		w.fileCommands(), w.mendCommands(), w.exportCommands(), w.editCommands(), w.arrangeCommands(), w.toolCommands(), w.drawCommands(), w.mapCommands(), w.layerCommands(),
		w.schemeCommands(), w.stepCommands(), w.settingCommands(), w.paneCommands(), w.lookCommands(), w.languageCommands(), w.helpCommands(),
	}
}

// allCommands are the commands in the order of the menus.
func (w *Window) allCommands() []command {
	all := slices.Concat(w.commandLists()...)
	for i, c := range all {
		all[i] = w.whileSurveying(c)
	}
	slices.SortStableFunc(all, func(a, b command) int {
		if a.menu != b.menu {
			return int(a.menu) - int(b.menu)
		}
		return a.part - b.part
	})
	return all
}

// why says why the command cannot run now; empty where it can.
func (c command) why() string {
	if c.cannot == nil {
		return ""
	}
	return c.cannot()
}

// run does a command, if it can run now. A mistake in the program ends the command
// and not the program.
func (w *Window) run(c command) {
	if field := w.typing(); field != nil && ofText(c.keys) {
		field.TypedShortcut(c.keys)
		return
	}
	if w.covered() || c.why() != "" {
		return
	}
	w.trace.say("command", "name", c.name)
	w.complain(work.Guard(func() error { c.do(); return nil }))
}

// ofText reports whether a shortcut is one that a field being typed in has a use of
// its own for. The menus would take it from there.
func ofText(s fyne.Shortcut) bool {
	switch s.(type) {
	case *fyne.ShortcutUndo, *fyne.ShortcutRedo, *fyne.ShortcutSelectAll:
		return true
	}
	return false
}

// typing returns the field that is being typed in; nil for none.
func (w *Window) typing() fyne.Shortcutable {
	field, _ := w.win.Canvas().Focused().(fyne.Shortcutable)
	return field
}

// needsSite is why a command cannot run while no site is open.
func (w *Window) needsSite() string {
	if w.doc == nil {
		return tr("Open a site first.")
	}
	return ""
}

// needsSelection is why a command cannot run while nothing is selected.
func (w *Window) needsSelection() string {
	if why := w.needsSite(); why != "" {
		return why
	}
	if w.board.Selected == 0 {
		return tr("Select something on the map first.")
	}
	return ""
}

// pressLetter runs the command of a letter that can run here, or says beneath the map
// why none can.
func (w *Window) pressLetter(r rune) {
	typed, astray := string(unicode.ToUpper(r)), ""
	for _, c := range w.menu.commands {
		if c.letter != typed {
			continue
		}
		why := c.why()
		if why == "" && c.astray != nil {
			why = c.astray()
		}
		if why == "" {
			w.run(c)
			return
		}
		if astray == "" {
			astray = why
		}
	}
	if astray != "" {
		w.tellBelow(astray)
	}
}

// title is what a command is called where it stands alone, without the dots that
// promise a question.
func (c command) title() string { return strings.TrimSuffix(c.name, "…") }
