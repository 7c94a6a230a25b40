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
	"fyne.io/fyne/v2/dialog"
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
type destination struct{ title, name, end string }

// askWhere asks where to write a file. The toolkit's own dialog empties the
// file that is chosen before anything is written, so this asks for a folder and
// a name and touches nothing.
func (w *Window) askWhere(d destination, take func(path string)) {
	folder, name := filepath.Dir(d.name), filepath.Base(d.name)
	if folder == "." {
		folder = w.lastFolder()
	}
	in, called := newLine(folder), newLine(name)
	browse := widget.NewButton("Browse…", func() {
		chooser := dialog.NewFolderOpen(func(u fyne.ListableURI, err error) {
			if err == nil && u != nil {
				in.SetText(u.Path())
			}
		}, w.win)
		chooser.Resize(fileDialog)
		chooser.Show()
	})
	form := dialog.NewForm(d.title, "Save", "Cancel", []*widget.FormItem{
		widget.NewFormItem("Folder", container.NewBorder(nil, nil, nil, browse, in)),
		widget.NewFormItem("Name", called),
	}, func(ok bool) {
		if ok {
			w.checkWhere(d, filepath.Join(in.Text, called.Text), take)
		}
	}, w.win)
	in.form, called.form = form, form
	form.Resize(fyne.NewSize(640, 180))
	form.Show()
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
	_, err := os.Stat(path)
	if errors.Is(err, fs.ErrNotExist) || path == w.doc.Path() {
		take(path)
		return
	}
	ask := dialog.NewConfirm("Replace the file?", filepath.Base(path)+" is there already.", func(ok bool) {
		if ok {
			take(path)
		}
	}, w.win)
	ask.SetConfirmText("Replace")
	ask.SetDismissText("Cancel")
	ask.Show()
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
