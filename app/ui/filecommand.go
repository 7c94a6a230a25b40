package ui

import (
	"fyne.io/fyne/v2"
)

func (w *Window) fileCommands() []command {
	noDemo := func() string {
		if w.options.DemoSite == nil {
			return tr("This build holds no demo site.")
		}
		return ""
	}
	return []command{
		{menu: fileMenu, name: tr("New from an elevation raster…"), keys: press(fyne.KeyN, ctrl), also: tr("begin create start ground dem terrain"),
			do: func() { w.leave(w.newFromRaster) }},
		{menu: fileMenu, name: tr("New from contours or points…"), also: tr("begin create start ground survey levels spot heights csv dxf"),
			do: func() { w.leave(w.newFromMeasurements) }},
		{menu: fileMenu, name: tr("Open…"), keys: press(fyne.KeyO, ctrl), also: tr("load site file"), do: func() { w.leave(w.askOpen) }},
		{menu: fileMenu, name: tr("Open a recent site…"), keys: press(fyne.KeyO, ctrlShift), also: tr("last history again"), do: w.askRecent},
		{menu: fileMenu, name: tr("Open the demo site"), also: tr("example sample"), cannot: noDemo, do: func() { w.leave(w.openDemo) }},
		{menu: fileMenu, part: 1, name: tr("Save"), keys: press(fyne.KeyS, ctrl), also: tr("keep write"), cannot: w.needsSite, do: func() { w.save(nil) }},
		{menu: fileMenu, part: 1, name: tr("Save as…"), keys: press(fyne.KeyS, ctrlShift), also: tr("copy write elsewhere"), cannot: w.needsSite, do: func() { w.saveAs(nil) }},
		{menu: fileMenu, part: 2, name: tr("Import a plan…"), keys: press(fyne.KeyI, ctrl), also: tr("bring in drawing survey geojson dxf shapefile"), cannot: w.needsSite, do: w.importPlan},
		{menu: fileMenu, part: 2, name: tr("Replace the ground…"), also: tr("elevation raster dem terrain"), cannot: w.needsSite, do: w.replaceGround},
		{menu: fileMenu, part: 2, name: tr("Work on the survey…"), also: tr("contours points heights ground quality"), cannot: w.needsMeasured, do: w.workOnSurvey},
		{menu: fileMenu, part: 2, name: tr("Lay an image under the map…"), also: tr("aerial picture photograph raster underlay background"), cannot: w.needsSite, do: w.askUnderlay},
		{menu: fileMenu, part: 2, name: tr("Daily record of the weather…"), also: tr("bring in climate rain temperature csv series"), cannot: w.needsSite, do: w.askRecord},
		{menu: fileMenu, part: 2, tucked: true, name: tr("Remove the daily record"), also: tr("climate weather rain delete"), cannot: w.needsRecord, do: w.removeRecord},
		{menu: fileMenu, part: 3, name: tr("Choose what to export…"), keys: press(fyne.KeyE, ctrl), also: tr("hand over write out products"), cannot: w.needsSite,
			do: func() { w.goTo(stepHandOver) }},
		{menu: fileMenu, part: 4, name: tr("Quit"), keys: press(fyne.KeyQ, ctrl), also: tr("close exit end leave"), quits: true, do: w.quit},
	}
}

// exportCommands write one product each.
func (w *Window) exportCommands() (list []command) {
	for i, a := range w.exports() {
		list = append(list, command{menu: fileMenu, part: 3, name: trf("Export: %s", a.word), also: tr("write out hand over save"),
			cannot: w.needsSite, do: func() { w.exports()[i].do() }})
	}
	return list
}

func (w *Window) editCommands() []command {
	return []command{
		{menu: editMenu, name: tr("Undo"), keys: &fyne.ShortcutUndo{}, also: tr("take back revert"), now: func() string { return w.undoWords(tr("Undo")) },
			cannot: w.nothingToUndo, do: w.undoLast},
		{menu: editMenu, name: tr("Redo"), keys: &fyne.ShortcutRedo{}, also: tr("again repeat"), now: func() string { return w.redoWords(tr("Redo")) },
			cannot: w.nothingToRedo, do: w.redoLast},
		{menu: editMenu, part: 1, name: tr("Delete what is selected"), also: tr("remove erase"), cannot: w.needsSelection, do: w.removeSelected},
		{menu: editMenu, part: 1, name: tr("Select nothing"), also: tr("deselect clear"), cannot: w.needsSelection, do: func() { w.board.Select(0) }},
		{menu: editMenu, part: 2, name: tr("Limits of the cautions…"), also: tr("setback distance depth freeboard drawdown set change"), cannot: w.needsSite, do: w.askLimits},
	}
}

// undoWords names what would be taken back.
func (w *Window) undoWords(plain string) string {
	if w.doc != nil && !w.surveying.on {
		if words, ok := w.doc.UndoText(); ok {
			return w.units.told(words)
		}
	}
	return plain
}

// redoWords names what would be done again.
func (w *Window) redoWords(plain string) string {
	if w.doc != nil && !w.surveying.on {
		if words, ok := w.doc.RedoText(); ok {
			return w.units.told(words)
		}
	}
	return plain
}

func (w *Window) nothingToUndo() string {
	if w.surveying.on {
		return w.surveying.nothingToUndo()
	}
	if w.doc == nil {
		return w.needsSite()
	}
	if _, ok := w.doc.UndoText(); !ok && w.typing() == nil {
		return tr("Nothing has been done yet that could be taken back.")
	}
	return ""
}

func (w *Window) nothingToRedo() string {
	if w.surveying.on {
		return w.surveying.nothingToRedo()
	}
	if w.doc == nil {
		return w.needsSite()
	}
	if _, ok := w.doc.RedoText(); !ok && w.typing() == nil {
		return tr("Nothing has been taken back that could be done again.")
	}
	return ""
}

// undoLast takes the last change back, of the survey's page where that is shown.
func (w *Window) undoLast() {
	if w.surveying.on {
		w.surveying.undo()
		return
	}
	w.undo(func() { w.doc.Undo() })
}

// redoLast does again what was taken back last.
func (w *Window) redoLast() {
	if w.surveying.on {
		w.surveying.redo()
		return
	}
	w.undo(func() { w.doc.Redo() })
}
