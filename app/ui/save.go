package ui

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"runnel/geo/gdal"
)

// save writes the site into its file, and then does what comes next.
func (w *Window) save(next func()) {
	if w.doc.Path() == "" {
		w.saveAs(next)
		return
	}
	w.saveIn(w.doc.Path(), next)
}

func (w *Window) saveIn(path string, next func()) {
	s := w.doc.Site()
	w.start(job{
		doing: "Saving " + filepath.Base(path),
		run:   func(context.Context) error { return gdal.SaveSite(path, s) },
		done: func(err error) {
			if err != nil {
				w.complain(err)
				return
			}
			w.doc.SavedAt(path, s)
			w.remember(path)
			w.trace.say("saved", "path", path)
			w.tellBelow("Saved in " + path)
			if next != nil {
				next()
			}
		},
	})
}

func (w *Window) saveAs(next func()) {
	name := w.doc.Path()
	if name == "" {
		name = fileName(w.doc.Site().Name) + ".gpkg"
	}
	w.askWhere(destination{title: "Save the site", name: name, end: ".gpkg"}, func(path string) { w.saveIn(path, next) })
}

// fileName makes a name for a file of a name for people.
func fileName(name string) string {
	clean := strings.Map(func(r rune) rune {
		if strings.ContainsRune(`/\:*?"<>|`, r) || r < ' ' {
			return '-'
		}
		return r
	}, strings.TrimSpace(name))
	if clean == "" {
		return "site"
	}
	return strings.ToLower(strings.ReplaceAll(clean, " ", "-"))
}

// A destination is what is to be written: the dialog's title, a name to start
// from and how names of its kind end.
type destination struct {
	title, name, end string
	// beside is how a second file ends that is written beside the first; empty
	// for none.
	beside string
}

// askWhere asks where to write a file. The toolkit's own dialog empties the
// file that is chosen before anything is written, so this asks for a folder and
// a name and touches nothing.
func (w *Window) askWhere(d destination, take func(path string)) {
	folder, name := filepath.Dir(d.name), filepath.Base(d.name)
	if folder == "." {
		folder = w.lastFolder()
	}
	in, called := w.newLine(folder), w.newLine(name)
	browse := newButton("Browse…", func() { w.askFolder(in.SetText) })
	browse.keys = w.dialogKey
	w.ask(prompt{
		title: d.title, size: fyne.NewSize(640, 180),
		content: widget.NewForm(
			widget.NewFormItem("Folder", container.NewBorder(nil, nil, nil, browse, in)),
			widget.NewFormItem("Name", called)),
		choices: []choice{{word: "Cancel"}, {word: "Save", do: func() {
			w.checkWhere(d, filepath.Join(in.Text, called.Text), take)
		}}},
	})
	w.win.Canvas().Focus(called)
}

// checkWhere sees that a file can stand there, and asks before one is replaced.
func (w *Window) checkWhere(d destination, path string, take func(string)) {
	if !strings.EqualFold(filepath.Ext(path), d.end) {
		path += d.end
	}
	if strings.TrimSuffix(filepath.Base(path), d.end) == "" {
		w.complain(fmt.Errorf("the file has no name; give it one"))
		return
	}
	if info, err := os.Stat(filepath.Dir(path)); err != nil || !info.IsDir() {
		w.complain(fmt.Errorf("there is no folder %s; choose another or make it first", filepath.Dir(path)))
		return
	}
	w.app.Preferences().SetString(folderPreference, filepath.Dir(path))
	there := d.standing(path)
	if there == "" || path == w.doc.Path() {
		take(path)
		return
	}
	w.ask(prompt{
		title: "Replace the file?", content: widget.NewLabel(filepath.Base(there) + " is there already."),
		choices: []choice{{word: "Cancel"}, {word: "Replace", do: func() { take(path) }}},
	})
}

// standing returns the first of the files to be written that is there already;
// empty for none.
func (d destination) standing(path string) string {
	for _, p := range []string{path, d.second(path)} {
		if _, err := os.Stat(p); p != "" && !errors.Is(err, fs.ErrNotExist) {
			return p
		}
	}
	return ""
}

// second names the file beside one; empty for none.
func (d destination) second(path string) string {
	if d.beside == "" {
		return ""
	}
	return strings.TrimSuffix(path, filepath.Ext(path)) + d.beside
}

const folderPreference = "folder"

// lastFolder is where a file was last written, else the person's own folder.
func (w *Window) lastFolder() string {
	if dir := w.app.Preferences().String(folderPreference); dir != "" {
		return dir
	}
	if dir, err := os.UserHomeDir(); err == nil {
		return dir
	}
	return "."
}
