package ui

import (
	"context"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"runnel/app/site"
	"runnel/geo/crs"
	"runnel/geo/gdal"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A readGround is a ground as it was read from a file.
type readGround struct {
	from   string
	ground grid.Ground
	system crs.CRS
	notes  []string
}

func (w *Window) newFromRaster() {
	w.askFile(rasterEnds, func(path string) { w.askGround(path, w.beginSite) })
}

func (w *Window) replaceGround() {
	w.askFile(rasterEnds, func(path string) { w.askGround(path, w.takeGround) })
}

// heightUnits are what a raster's heights may be in, as the dialog offers them
// and as the reader takes them.
var heightUnits = []struct{ word, unit string }{
	{"as the file says", ""}, {"metres", "m"}, {"feet", "ft"}, {"US survey feet", "us-ft"},
}

// askGround asks how a raster is to be brought in, reads it and hands it over.
func (w *Window) askGround(path string, take func(readGround)) {
	system, cell := newLine(""), newLine("")
	system.SetPlaceHolder("as the file, or its UTM zone")
	if w.doc != nil && len(w.doc.Site().Plan.Features) > 0 && w.doc.Site().CRS.Code != 0 {
		system.SetText(fmt.Sprintf("EPSG:%d", w.doc.Site().CRS.Code))
	}
	cell.SetPlaceHolder("as the file")
	var words []string
	for _, u := range heightUnits {
		words = append(words, u.word)
	}
	unit := widget.NewSelect(words, nil)
	unit.SetSelectedIndex(0)
	d := dialog.NewForm("Bring in "+filepath.Base(path), "Read it", "Cancel", []*widget.FormItem{
		hinted("Reference system", system, "A metric system, such as EPSG:32632. Leave it empty to keep the file's."),
		hinted("Cell size, m", cell, "A channel should be four cells wide at least. Leave it empty to keep the file's."),
		hinted("Heights are in", unit, "Heights become metres."),
	}, func(ok bool) {
		if !ok {
			return
		}
		o := gdal.GroundOptions{CRS: strings.TrimSpace(system.Text), HeightUnit: heightUnits[unit.SelectedIndex()].unit}
		var err error
		if o.Cell, err = cellSize(cell.Text); err != nil {
			w.complain(err)
			return
		}
		w.readGround(path, o, take)
	}, w.win)
	system.form, cell.form = d, d
	d.Resize(fyne.NewSize(560, 260))
	d.Show()
	w.win.Canvas().Focus(system)
}

func hinted(label string, o fyne.CanvasObject, hint string) *widget.FormItem {
	item := widget.NewFormItem(label, o)
	item.HintText = hint
	return item
}

// cellSize reads the size of a cell [m]; nothing typed is nought.
func cellSize(typed string) (float64, error) {
	typed = strings.Replace(strings.TrimSpace(typed), ",", ".", 1)
	if typed == "" {
		return 0, nil
	}
	v, err := strconv.ParseFloat(typed, 64)
	if err != nil || !(v > 0) {
		return 0, fmt.Errorf("the cell size is %q; give a number of metres above 0, or leave it empty", typed)
	}
	return v, nil
}

func (w *Window) readGround(path string, o gdal.GroundOptions, take func(readGround)) {
	read := readGround{from: path}
	w.start(job{
		doing: "Reading " + filepath.Base(path),
		run: func(ctx context.Context) (err error) {
			read.ground, read.system, read.notes, err = w.options.In.Ground(ctx, path, o)
			return err
		},
		done: func(err error) {
			if err != nil {
				w.complain(err)
				return
			}
			take(read)
			w.note(read)
		},
	})
}

// note says what was found and assumed when a ground was read.
func (w *Window) note(read readGround) {
	if len(read.notes) == 0 {
		return
	}
	var lines []string
	for _, n := range read.notes {
		lines = append(lines, sentence(n))
	}
	w.tell("About this ground", strings.Join(lines, "\n\n"))
}

// beginSite opens a new site on a ground. It counts as not saved.
func (w *Window) beginSite(read readGround) {
	name := strings.TrimSuffix(filepath.Base(read.from), filepath.Ext(read.from))
	w.put(site.Recovered(plan.Site{Name: name, CRS: read.system, Ground: read.ground, Setting: plan.UsualSetting()}, ""))
}

// takeGround puts a ground in the place of the open site's.
func (w *Window) takeGround(read readGround) {
	w.complain(w.doc.Do(&site.SetGround{Ground: read.ground, CRS: read.system}))
	w.pane.fitted = false
}
