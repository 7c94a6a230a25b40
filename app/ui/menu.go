package ui

import (
	"fmt"
	"runtime"
	"strings"

	"fyne.io/fyne/v2"
)

// menus is the menu bar, made of the commands. Its shortcuts fire whatever has the
// keyboard, greyed items and open dialogs too, so run asks again whether a command may.
type menus struct {
	w        *Window
	main     *fyne.MainMenu
	commands []command
	// items are the menus' items, each in the place of its command.
	items      []*fyne.MenuItem
	undo, redo *fyne.MenuItem
	shown      string
}

func newMenus(w *Window) *menus {
	m := &menus{w: w, commands: w.allCommands()}
	list := make([]*fyne.Menu, menuCount)
	for name := range menuCount {
		list[name] = fyne.NewMenu(name.String())
	}
	var parts [menuCount]int
	for _, c := range m.commands {
		item := m.item(c)
		m.items = append(m.items, item)
		if c.tucked {
			m.tuck(c)
			continue
		}
		menu := list[c.menu]
		if len(menu.Items) > 0 && parts[c.menu] != c.part {
			menu.Items = append(menu.Items, fyne.NewMenuItemSeparator())
		}
		parts[c.menu] = c.part
		menu.Items = append(menu.Items, item)
	}
	m.main = fyne.NewMainMenu(list...)
	return m
}

// tuck has the keys of a command work that stands in no menu.
func (m *menus) tuck(c command) {
	if c.keys != nil {
		m.w.win.Canvas().AddShortcut(c.keys, func(fyne.Shortcut) { m.w.run(c) })
	}
}

// beforeKeys is room after an item's words, which the toolkit has touch its keys.
const beforeKeys = "\u00a0\u00a0"

func (m *menus) item(c command) *fyne.MenuItem {
	item := fyne.NewMenuItem(c.name+beforeKeys, func() { m.w.run(c) })
	item.Shortcut = c.keys
	switch c.keys.(type) {
	case *fyne.ShortcutUndo:
		m.undo = item
	case *fyne.ShortcutRedo:
		m.redo = item
	}
	item.IsQuit = c.quits
	// A letter is shown as a shortcut without a held key, which the toolkit never
	// reports, so that it presses nothing here. The menus of macOS would press it, in
	// the middle of what is being typed.
	if c.letter != "" && runtime.GOOS != "darwin" {
		item.Shortcut = press(fyne.KeyName(c.letter), 0)
	}
	return item
}

// refresh brings words, marks and greying up to date. The bar is built again
// only where something has changed.
func (m *menus) refresh() {
	var shown strings.Builder
	for i, c := range m.commands {
		item := m.items[i]
		item.Disabled = c.why() != ""
		item.Checked = c.on != nil && c.on()
		if c.now != nil {
			item.Label = c.now() + beforeKeys
		}
		fmt.Fprint(&shown, item.Label, item.Disabled, item.Checked)
	}
	if shown.String() == m.shown {
		return
	}
	m.shown = shown.String()
	m.main.Refresh()
}
