package ui

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
	"github.com/paulmach/orb"

	"runnel/analysis/accuracy"
	"runnel/analysis/flow"
	"runnel/app/view"
	"runnel/geo/grid"
)

// follow shows the place under the pointer and the path of a drop that falls there.
func (w *Window) follow() {
	if w.following {
		return
	}
	w.following = true
	w.soon(func() {
		w.following = false
		w.followNow()
	})
}

func (w *Window) followNow() {
	if w.doc == nil {
		return
	}
	w.section.followMap(w.pane.at, w.pane.inside && !math.IsNaN(w.pane.at[0]))
	if w.scene == nil || w.scene.Drainage == nil || !w.pane.inside || math.IsNaN(w.pane.at[0]) {
		w.pane.overlay.Drop = nil
		w.status.place(nil, nil)
		w.pane.raster.Refresh()
		return
	}
	at := w.pane.at
	// Eastings and northings are in the site's system, whose unit is the metre
	// whatever units are shown.
	place := trf("E\u00a0%[1]s\u00a0m   N\u00a0%[2]s\u00a0m   height\u00a0%[3]s", decimal(at[0], 1), decimal(at[1], 1), w.heightAt(at))
	short := trf("E\u00a0%[1]s   N\u00a0%[2]s   %[3]s", decimal(at[0], 0), decimal(at[1], 0), w.heightAt(at))
	w.status.place([]string{place, short}, w.dropFrom(at))
	w.pane.raster.Refresh()
}

// heightAt writes the height of the ground at a place; with how far it may be off, as a
// standard deviation, where the map shows that or the survey is thin there.
func (w *Window) heightAt(at orb.Point) string {
	height, d := w.units.height(grid.Sample(w.scene.Ground, at)), w.scene.Doubt
	if d == nil {
		return height
	}
	x, y, ok := d.Doubt.Cell(at)
	if !ok {
		return height
	}
	i := y*d.Doubt.W + x
	off := float64(d.Doubt.V[i])
	if off-off != 0 || !w.ticked(view.Doubts) && d.Thin.V[i] == accuracy.Enough {
		return height
	}
	return trf("%[1]s\u00a0±\u00a0%[2]s", height, w.units.height(max(off, 0.01)))
}

// dropFrom shows the way of a drop that falls at a place, and returns what is said of
// it. While a thing is dragged it would only lie in the way.
func (w *Window) dropFrom(at orb.Point) []string {
	w.pane.overlay.Drop = nil
	if w.dragging() || w.held == placing {
		return nil
	}
	path, err := w.scene.Drainage.Journey(w.scene.Ground, at)
	if err != nil {
		return nil
	}
	w.pane.overlay.Drop, w.pane.overlay.DropStays = path.Legs, path.End == flow.StayEnd
	return w.units.drop(path.Length, path.Drop, w.told(path))
}

// showMapMenu offers what can be done at a place on the map.
func (w *Window) showMapMenu(at fyne.Position) {
	remove := fyne.NewMenuItem(tr("Delete what is selected"), w.removeSelected)
	remove.Disabled = w.board.Selected == 0
	menu := fyne.NewMenu("", remove, fyne.NewMenuItem(tr("Fit the whole ground"), w.pane.fit))
	widget.ShowPopUpMenuAtPosition(menu, w.win.Canvas(), at)
}
