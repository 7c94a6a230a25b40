package ui

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"runnel/app/site"
	"runnel/geo/gdal"
	"runnel/geo/plan"
)

// What the file dialogs offer, by how the names end.
var (
	siteEnds   = []string{".gpkg"}
	rasterEnds = []string{".tif", ".tiff", ".asc", ".dem", ".hgt", ".xyz"}
	planEnds   = []string{".geojson", ".json", ".gpkg", ".shp", ".dxf", ".kml", ".gpx", ".fgb", ".csv"}
	// packedEnds are of files that are refused with advice.
	packedEnds = []string{".kmz", ".zip"}
)

// fileDialog is how large the file dialogs are [dp].
var fileDialog = fyne.NewSize(800, 560)

func endsIn(path string, ends []string) bool {
	return slices.Contains(ends, strings.ToLower(filepath.Ext(path)))
}

func (w *Window) askOpen() { w.askFile(tr("Open a site"), siteEnds, w.openAny) }

// openAny opens a site file, or begins a site from a raster or from measurements.
func (w *Window) openAny(path string) {
	switch {
	case endsIn(path, rasterEnds):
		w.gridOrPoints(path, func() { w.askNew(path) }, func() { w.beginFromMeasurements(path) })
		return
	case endsIn(path, measureEnds) && !endsIn(path, siteEnds):
		w.beginFromMeasurements(path)
		return
	}
	var opened *plan.Site
	w.start(job{
		doing: trf("Opening %s", filepath.Base(path)),
		run: func(ctx context.Context) (err error) {
			opened, err = w.options.In.Site(ctx, path)
			return err
		},
		done: func(err error) {
			if err != nil {
				w.report(trouble{tr("The site was not opened"), err, w.stillOpen()})
				return
			}
			w.put(site.New(*opened, path))
			w.remember(path)
		},
	})
}

// stillOpen says that the site that was open is untouched; empty where none was.
func (w *Window) stillOpen() string {
	if w.doc == nil {
		return ""
	}
	return tr("The site that was open before is still here, as it was.")
}

func (w *Window) remember(path string) {
	// A list of recent files that cannot be kept is no reason to stop.
	_ = w.recent.Add(path)
	w.recents = w.recent.Paths()
	w.menu.refresh()
}

func (w *Window) openDemo() {
	if w.options.DemoSite != nil {
		w.put(site.New(w.options.DemoSite(), ""))
	}
}

// leave runs next once the open site is saved or given up.
func (w *Window) leave(next func()) { w.surveying.guard(func() { w.leaveSite(next) }) }

func (w *Window) leaveSite(next func()) {
	if w.doc == nil || !w.doc.Dirty() {
		next()
		return
	}
	w.ask(prompt{
		title:   tr("Save what has changed?"),
		content: container.NewPadded(wrappedLabel(w.unsavedWords())),
		size:    fyne.NewSize(460, 150),
		choices: []choice{{word: tr("Cancel")}, {word: tr("Do not save"), do: next}, {word: tr("Save"), do: func() { w.save(next) }}},
	})
}

// unsavedWords says what would be lost.
func (w *Window) unsavedWords() string {
	if name := w.doc.Site().Name; name != "" {
		return trf("%s has changes that are not saved. Without saving they are lost.", name)
	}
	return tr("The site has changes that are not saved. Without saving they are lost.")
}

// quit closes the window once the site is saved or given up.
func (w *Window) quit() {
	w.leave(func() {
		if w.keeper != nil {
			w.keeper.Close()
			w.keeper, w.doc = nil, nil
		}
		w.keepSize()
		w.win.SetCloseIntercept(nil)
		w.win.Close()
	})
}

// dropped takes files that were let fall on the window.
func (w *Window) dropped(files []fyne.URI) {
	if len(files) == 0 || w.covered() {
		return
	}
	path := files[0].Path()
	w.trace.say("dropped", "path", path)
	switch {
	case w.surveying.on && endsIn(path, measureEnds):
		w.surveying.addAll(files)
	case len(tiles(files)) > 1 && w.doc != nil:
		w.askDroppedTiles(readGround{from: path, more: tiles(files)[1:]})
	case len(tiles(files)) > 1:
		w.askGround(readGround{from: path, more: tiles(files)[1:]}, w.beginSite)
	case endsIn(path, rasterEnds) && w.doc != nil:
		w.gridOrPoints(path, func() { w.askDroppedRaster(path) }, func() { w.askWhatFor(path) })
	case endsIn(path, siteEnds) || endsIn(path, rasterEnds):
		w.leave(func() { w.openAny(path) })
	case endsIn(path, pictureEnds) && w.doc != nil:
		w.layUnderlay(path)
	case endsIn(path, packedEnds):
		w.complain(fmt.Errorf("%s is packed; unpack it and give the file that was in it", filepath.Base(path)))
	case (endsIn(path, measureEnds) || endsIn(path, recordEnds)) && w.doc != nil:
		w.recordOrPoints(path)
	case endsIn(path, measureEnds):
		w.surveying.open(beginning)
		w.surveying.addAll(files)
	case endsIn(path, pictureEnds):
		w.complain(fmt.Errorf("%s is an image; open a site or begin one from a ground file first, then drop it again", filepath.Base(path)))
	default:
		w.complain(fmt.Errorf("%s is no kind of file that Runnel reads; give a site, an elevation raster or a drawing", filepath.Base(path)))
	}
}

func (w *Window) askDroppedRaster(path string) {
	w.ask(prompt{title: tr("What is this ground file for?"), content: widget.NewLabel(filepath.Base(path)), choices: []choice{
		{word: tr("Cancel")},
		{word: tr("Begin a new site"), do: func() { w.leave(func() { w.openAny(path) }) }},
		{word: tr("Lay it under the map"), do: func() { w.layUnderlay(path) }},
		{word: tr("Replace the ground"), do: func() { w.askReplacement(readGround{from: path}) }},
	}})
}

// askDroppedTiles asks what several ground files are for, which are one ground together.
func (w *Window) askDroppedTiles(all readGround) {
	w.ask(prompt{title: tr("What are these ground files for?"), content: widget.NewLabel(all.called()), choices: []choice{
		{word: tr("Cancel")},
		{word: tr("Begin a new site"), do: func() { w.leave(func() { w.askGround(all, w.beginSite) }) }},
		{word: tr("Replace the ground"), do: func() { w.askReplacement(all) }},
	}})
}

// gridOrPoints goes on with a file of heights as a grid, or as points where its name
// does not tell which it is and it holds no regular grid.
func (w *Window) gridOrPoints(path string, grid, points func()) {
	if !endsIn(path, measureEnds) {
		grid()
		return
	}
	var look gdal.Look
	w.start(job{
		doing: trf("Reading %s", filepath.Base(path)),
		run: func(ctx context.Context) (err error) {
			look, err = w.options.In.Look(ctx, path)
			return err
		},
		done: func(err error) {
			if err == nil && !look.Grid {
				points()
				return
			}
			grid() // which says what is wrong, too
		},
	})
}
