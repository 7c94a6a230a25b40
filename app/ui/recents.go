package ui

import (
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// A recentFile is a file that was opened of late, as it is now.
type recentFile struct {
	path string
	// name is the site's, where that is known, with the file's.
	name string
	// from says in which folder it is and when it was last written, or that it is gone.
	from string
	gone bool
}

// recentFiles are the files that were opened of late, the last one first; those that
// are gone are among them.
func (w *Window) recentFiles() (list []recentFile) {
	for _, path := range w.recents {
		r := recentFile{path: path, name: filepath.Base(path)}
		if at, _ := w.placeOf(path); at.Name != "" {
			r.name = trf("%[1]s – %[2]s", at.Name, r.name)
		}
		folder := homely(filepath.Dir(path))
		if info, err := os.Stat(path); err != nil || info.IsDir() {
			r.gone, r.from = true, trf("no longer in %s", folder)
		} else {
			r.from = trf("%[1]s, %[2]s", folder, info.ModTime().Local().Format("2006-01-02 15:04"))
		}
		list = append(list, r)
	}
	return list
}

// homely writes a folder of the person's own with a ~ for the long way there.
func homely(folder string) string {
	home, err := os.UserHomeDir()
	if rest, ok := strings.CutPrefix(folder, home); err == nil && ok && home != "/" {
		return "~" + rest
	}
	return folder
}

// recentRow shows a file that opens when it is pressed; one that is gone offers to be
// taken off the list.
func (w *Window) recentRow(r recentFile, open func()) fyne.CanvasObject {
	name, from := text(r.name, strong), text(r.from, caption)
	lines := container.New(layout.NewCustomPaddedVBoxLayout(0), name, from)
	line := container.New(layout.NewCustomPaddedLayout(gap, gap, 2*gap, 2*gap), &fyne.Container{Layout: &cutting{texts: []*canvas.Text{name, from}}, Objects: []fyne.CanvasObject{lines}})
	if !r.gone {
		return newPressRow(line, open)
	}
	name.Color = theme.Color(theme.ColorNameDisabled)
	off := newButton(tr("Take off the list"), func() { w.forget(r.path) })
	off.keys = w.dialogKey
	return container.NewBorder(nil, nil, nil, container.NewCenter(off), line)
}

// forget takes a file off the list of recent ones.
func (w *Window) forget(path string) {
	w.complain(w.recent.Forget(path))
	w.recents = w.recent.Paths()
	if w.covered() {
		w.win.Canvas().Overlays().Top().Hide()
		w.askRecent()
	}
	if w.doc == nil {
		w.build()
	}
}

// askRecent lists the files that were opened of late.
func (w *Window) askRecent() {
	rows := container.New(layout.NewCustomPaddedVBoxLayout(0))
	hide := func() {}
	for _, r := range w.recentFiles() {
		rows.Add(w.recentRow(r, func() {
			hide()
			w.leave(func() { w.openAny(r.path) })
		}))
	}
	if len(w.recents) == 0 {
		rows.Add(widget.NewLabel(tr("No site has been opened yet.")))
	}
	size := w.win.Canvas().Size()
	hide = w.ask(prompt{
		title: tr("Open a recent site"), content: container.NewVScroll(rows), choices: []choice{{word: tr("Cancel")}},
		size: fyne.NewSize(min(620, size.Width-80), min(float32(140+44*max(2, len(w.recents))), size.Height-80)),
	})
	w.win.Canvas().FocusNext()
}

// cutting lays out one object whose texts are cut short where the width ends.
type cutting struct {
	texts []*canvas.Text
	whole []string
}

// Layout implements fyne.Layout.
func (c *cutting) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	if c.whole == nil {
		for _, t := range c.texts {
			c.whole = append(c.whole, t.Text)
		}
	}
	for i, t := range c.texts {
		say(t, fitting(t, size.Width, []string{c.whole[i]}))
	}
	objects[0].Resize(size)
	objects[0].Move(fyne.NewPos(0, 0))
}

// MinSize is the texts' height; the width is what there is.
func (c *cutting) MinSize(objects []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(0, objects[0].MinSize().Height)
}
