package ui

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// keys lists what the keyboard does, in Markdown: the commands' shortcuts menu by
// menu, what the map does with keys of its own, and the letters of the tools.
func (m *menus) keys() string {
	var b strings.Builder
	last := menuCount
	for _, c := range m.commands {
		held := shortcut(c.keys)
		if held == "" {
			continue
		}
		if c.menu != last {
			last = c.menu
			fmt.Fprintf(&b, "\n# %s\n\n", c.menu)
		}
		fmt.Fprintf(&b, "- **%s**  %s\n", held, c.title())
	}
	fmt.Fprintf(&b, "\n# %s\n\n%s", tr("On the map"), mapKeys())
	fmt.Fprintf(&b, "\n# %s\n\n", tr("Tools, while the map has the keyboard"))
	for _, c := range m.commands {
		if c.letter != "" {
			fmt.Fprintf(&b, "- **%s**  %s\n", c.letter, c.title())
		}
	}
	fmt.Fprintf(&b, "\n# %s\n\n%s", tr("Everywhere"), everywhereKeys())
	return b.String()
}

// A keyUse is a key and what it does.
type keyUse struct{ key, does string }

func keyList(uses []keyUse) string {
	var b strings.Builder
	for _, u := range uses {
		fmt.Fprintf(&b, "- **%s**  %s\n", u.key, u.does)
	}
	return b.String()
}

func mapKeys() string {
	return keyList([]keyUse{
		{tr("Arrows"), tr("move the map; with a tool in the hand, move the cross")},
		{tr("Space"), tr("bring the cross, or press where it is; Shift+Space takes hold of a thing there and lets go")},
		{"+ −", tr("come closer, go further off")},
		{"F", tr("fit the whole ground")},
		{tr("Return"), tr("finish what is being drawn")},
		{tr("Backspace"), tr("take back its last point")},
		{tr("Escape"), tr("give up what is being drawn, lay down the tool, select nothing")},
		{tr("Delete"), tr("remove what is selected")},
		{tr("Shift held"), tr("lines at steps of 45°")},
		{tr("Ctrl held"), tr("no snapping")},
	})
}

func everywhereKeys() string {
	return keyList([]keyUse{
		{tr("Tab"), tr("go to the next thing that can be pressed or typed in; Shift+Tab to the one before")},
		{tr("Space, Return"), tr("press what has the keyboard")},
		{tr("Alt"), tr("open the menus; arrows walk through them")},
		{tr("Escape"), tr("close what is open, take back what is typed")},
	})
}

// shortcut writes a shortcut as it is read on the keys; empty for none.
func shortcut(s fyne.Shortcut) string {
	switch s := s.(type) {
	case *fyne.ShortcutUndo:
		return "Ctrl+Z"
	case *fyne.ShortcutRedo:
		return "Ctrl+Y"
	case *fyne.ShortcutSelectAll:
		return "Ctrl+A"
	case *desktop.CustomShortcut:
		return heldKeys(s.Modifier) + keyName(s.KeyName)
	}
	return ""
}

// heldKeys writes the keys that are held, in the order of the menus.
func heldKeys(m fyne.KeyModifier) (held string) {
	for _, key := range []struct {
		of   fyne.KeyModifier
		name string
	}{{ctrl, "Ctrl+"}, {fyne.KeyModifierAlt, tr("Alt") + "+"}, {fyne.KeyModifierShift, tr("Shift") + "+"}} {
		if m&key.of != 0 {
			held += key.name
		}
	}
	return held
}

// keyName is what stands on a key.
func keyName(k fyne.KeyName) string {
	switch k {
	case fyne.KeyPageUp:
		return tr("Page up")
	case fyne.KeyPageDown:
		return tr("Page down")
	case fyne.KeyTab:
		return tr("Tab")
	case fyne.KeyUp:
		return "↑"
	case fyne.KeyDown:
		return "↓"
	case fyne.KeyLeft:
		return "←"
	case fyne.KeyRight:
		return "→"
	case fyne.KeyMinus:
		return "−"
	case fyne.KeyEqual:
		return "+"
	}
	return string(k)
}

// pressed is what a command is pressed by: its shortcut, else its letter.
func (c command) pressed() string {
	if held := shortcut(c.keys); held != "" {
		return held
	}
	return c.letter
}
