package ui

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// keys lists what the keyboard does, in Markdown: the menus' own shortcuts, and
// those of the map and of the tools.
func (m *menus) keys() string {
	var b strings.Builder
	b.WriteString("# Commands\n\n")
	for _, menu := range m.main.Items {
		for _, item := range menu.Items {
			if held := shortcut(item.Shortcut); held != "" {
				fmt.Fprintf(&b, "- **%s**  %s\n", held, strings.TrimSuffix(m.plain(item), "…"))
			}
		}
	}
	b.WriteString("\n# On the map\n\n" + mapKeys + "\n# Tools, while the map has the keyboard\n\n")
	seen := map[instrument]bool{}
	for _, s := range steps {
		tools := append([]instrument{selecting}, s.asks...)
		for _, kind := range s.kinds {
			tools = append(tools, drawer(kind))
		}
		for _, i := range tools {
			if !seen[i] {
				seen[i] = true
				fmt.Fprintf(&b, "- **%s**  %s\n", i.letter(), i.word())
			}
		}
	}
	return b.String()
}

// plain is what an item is called whatever it would undo now.
func (m *menus) plain(item *fyne.MenuItem) string {
	switch item {
	case m.undo:
		return "Undo"
	case m.redo:
		return "Redo"
	}
	return item.Label
}

const mapKeys = `- **Arrows**  move the map
- **+** and **−**  come closer, go further off
- **F**  fit the whole ground
- **Return**  finish what is being drawn
- **Backspace**  take back its last point
- **Escape**  give up what is being drawn, lay down the tool, select nothing
- **Delete**  remove what is selected
- **Shift** held  lines at steps of 45°
- **Ctrl** held  no snapping
`

// shortcut writes a shortcut as it is read on the keys; empty for none.
func shortcut(s fyne.Shortcut) string {
	switch s := s.(type) {
	case *fyne.ShortcutUndo:
		return "Ctrl+Z"
	case *fyne.ShortcutRedo:
		return "Ctrl+Y"
	case *desktop.CustomShortcut:
		held := "Ctrl+"
		if s.Modifier&fyne.KeyModifierShift != 0 {
			held += "Shift+"
		}
		return held + string(s.KeyName)
	}
	return ""
}
