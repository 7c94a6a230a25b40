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
	doc, s := w.doc, w.doc.Site()
	w.start(job{
		doing: trf("Saving %s", filepath.Base(path)),
		whole: true,
		run:   func(context.Context) error { return gdal.SaveSite(path, s) },
		done: func(err error) {
			if err != nil {
				w.report(trouble{tr("The site was not saved"), err,
					tr("Nothing is lost: the site is still open with all its changes, and the file is as it was before. Try again, or save it elsewhere with File, Save as.")})
				return
			}
			doc.SavedAt(path, s)
			if w.doc != doc {
				return
			}
			w.remember(path)
			w.keepPlace()
			w.trace.say("saved", "path", path)
			w.tellBelow(trf("Saved in %s", path))
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
	w.askWhere(destination{title: tr("Save the site"), name: name, end: ".gpkg"}, func(path string) { w.saveIn(path, next) })
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
		return tr("site")
	}
	return strings.ToLower(strings.ReplaceAll(clean, " ", "-"))
}

// A destination is what is to be written: the dialog's title, a name to start
// from and how names of its kind end.
type destination struct {
	title, name, end string
	// says is what the file will hold, in a sentence; empty where the title says it.
	says string
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
	browse := newButton(tr("Browse…"), func() { w.askFolder(in.SetText) })
	browse.keys = w.dialogKey
	form := widget.NewForm(
		widget.NewFormItem(tr("Folder"), container.NewBorder(nil, nil, nil, browse, in)),
		widget.NewFormItem(tr("Name"), called))
	size, content := fyne.NewSize(640, 180), fyne.CanvasObject(form)
	if d.says != "" {
		size.Height += 40
		content = container.NewVBox(flush(wrapped(d.says)), form)
	}
	w.ask(prompt{
		title: d.title, size: size, content: content,
		choices: []choice{{word: tr("Cancel")}, {word: tr("Save"), do: func() {
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
		title: tr("Replace the file?"), content: widget.NewLabel(trf("%s is there already.", filepath.Base(there))),
		choices: []choice{{word: tr("Cancel")}, {word: tr("Replace"), do: func() { take(path) }}},
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
