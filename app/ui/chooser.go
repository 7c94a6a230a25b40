package ui

import (
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// A chooser asks for a file that is there, or for a folder: a path to type, and
// beneath it what the folder holds.
type chooser struct {
	path  *line
	list  *widget.List
	fault *widget.Label
	// ends are how the names of the files end; with none it asks for a folder.
	ends   []string
	folder string
	rows   []listed
	// done takes the file that is pressed twice.
	done func(path string)
}

// A listed row is something in a folder.
type listed struct {
	name   string
	folder bool
}

// askFile asks for a file to read.
func (w *Window) askFile(title string, ends []string, take func(path string)) {
	w.pickPath(title, tr("Open"), ends, func(path string) {
		w.app.Preferences().SetString(folderPreference, filepath.Dir(path))
		take(path)
	})
}

// askFolder asks for a folder.
func (w *Window) askFolder(take func(path string)) {
	w.pickPath(tr("Choose a folder"), tr("Choose"), nil, take)
}

func (w *Window) pickPath(title, word string, ends []string, take func(path string)) {
	c := &chooser{path: w.newLine(""), fault: widget.NewLabel(""), ends: ends}
	c.fault.Importance, c.fault.Truncation = widget.DangerImportance, fyne.TextTruncateEllipsis
	c.list = widget.NewList(func() int { return len(c.rows) }, func() fyne.CanvasObject {
		return container.NewHBox(widget.NewIcon(theme.FolderIcon()), widget.NewLabel(""))
	}, c.draw)
	c.list.OnSelected = c.pressed
	c.enter(w.lastFolder())
	hint := trf("The files end in %s.", strings.Join(ends, ", "))
	if len(ends) == 0 {
		hint = tr("Press a folder to go into it.")
	}
	up := newButton(tr("Folder above"), func() { c.enter(filepath.Dir(c.folder)) })
	up.keys = w.dialogKey
	hide := w.ask(prompt{
		title: title, size: fileDialog,
		content: container.NewBorder(container.NewBorder(nil, nil, nil, up, c.path),
			container.NewVBox(c.fault, paragraph(hint)), nil, nil, c.list),
		choices: []choice{{word: tr("Cancel")}, {word: word, ready: c.ready, do: func() { take(c.path.Text) }}},
	})
	c.done = func(path string) { hide(); take(path) }
	w.win.Canvas().Focus(c.path)
}

func (c *chooser) draw(i widget.ListItemID, o fyne.CanvasObject) {
	cells, r := o.(*fyne.Container).Objects, c.rows[i]
	icon := theme.FileIcon()
	if r.folder {
		icon = theme.FolderIcon()
	}
	cells[0].(*widget.Icon).SetResource(icon)
	cells[1].(*widget.Label).SetText(r.name)
}

// enter shows what a folder holds.
func (c *chooser) enter(folder string) {
	found, err := os.ReadDir(folder)
	if err != nil {
		c.fault.SetText(trf("The folder %s cannot be read; choose another.", folder))
		return
	}
	c.folder, c.rows = folder, nil
	var files []listed
	for _, f := range found {
		// What a link leads to counts, not the link.
		info, err := os.Stat(filepath.Join(folder, f.Name()))
		switch {
		case err != nil || strings.HasPrefix(f.Name(), "."):
		case info.IsDir():
			c.rows = append(c.rows, listed{f.Name(), true})
		case endsIn(f.Name(), c.ends):
			files = append(files, listed{f.Name(), false})
		}
	}
	c.rows = append(c.rows, files...)
	c.fault.SetText("")
	c.path.SetText(folder)
	c.list.UnselectAll()
	c.list.Refresh()
	c.list.ScrollTo(0)
}

// pressed goes into a folder, or takes a file up; a second press opens it.
func (c *chooser) pressed(i widget.ListItemID) {
	c.list.UnselectAll()
	path := filepath.Join(c.folder, c.rows[i].name)
	switch {
	case c.rows[i].folder:
		c.enter(path)
	case c.path.Text == path:
		c.done(path)
	default:
		c.path.SetText(path)
	}
}

// ready reports whether the path is an answer; a folder is gone into where a
// file is asked for.
func (c *chooser) ready() bool {
	path := strings.TrimSpace(c.path.Text)
	if !filepath.IsAbs(path) {
		path = filepath.Join(c.folder, path)
	}
	info, err := os.Stat(path)
	switch {
	case err != nil:
		c.fault.SetText(trf("There is nothing at %s; look at the path.", path))
		return false
	case info.IsDir() && len(c.ends) > 0:
		c.enter(path)
		return false
	case !info.IsDir() && len(c.ends) == 0:
		c.fault.SetText(trf("%s is a file; choose a folder.", path))
		return false
	}
	c.path.SetText(path)
	return true
}
