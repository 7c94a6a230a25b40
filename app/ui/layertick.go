package ui

import (
	"slices"

	"runnel/analysis/fate"
	"runnel/app/view"
)

// ticked reports whether the box of a layer is ticked: it is wanted, and of what has to
// be asked for first something is shown or on its way.
func (w *Window) ticked(l view.Layers) bool {
	switch {
	case !w.show.Has(l):
		return false
	case l == view.Fates:
		return w.keepsTrails()
	case l == view.Certainty:
		return w.waters.sure.asked != nil
	}
	return true
}

// tick brings the boxes up to date.
func (c *toolColumn) tick() {
	for of, check := range c.checks {
		if is := c.w.ticked(of); check.Checked != is {
			check.Checked = is
			check.Refresh()
		}
	}
}

func (w *Window) turnLayer(l view.Layers) { w.showLayer(l, !w.ticked(l)) }

// showLayer shows a layer or hides it. What has to be asked for first is asked for.
func (w *Window) showLayer(l view.Layers, on bool) {
	w.show = w.show.Without(l)
	if on {
		w.show = turnedOn(w.show, l)
	}
	switch l {
	case view.Fates:
		w.showTrails(on)
	case view.Certainty:
		w.showHowSure(on)
	case view.Doubts:
		w.showDoubts(on)
	}
	w.askOfWater()
	w.soaking.follow()
	w.reshow()
	w.tools.tick()
	w.menu.refresh()
}

// showTrails shows the ways of the water that are chosen, all where none is, or hides
// them all.
func (w *Window) showTrails(on bool) {
	switch {
	case !on:
		w.waters.allTrails, w.waters.chosen = false, nil
	case !w.keepsTrails():
		w.waters.allTrails = true
		if w.waters.fates.of == w.scene && w.scene != nil && len(w.waters.fates.list) == 0 {
			w.tellBelow(tr("No roof and no paving is drawn whose water has an end; draw them in the step Survey"))
		}
	}
	w.retrail()
	w.ledger.refresh()
}

// showHowSure works out how sure the paths are, where that is not known, or stops.
func (w *Window) showHowSure(on bool) {
	sure := w.waters.sure
	switch {
	case on && sure.asked == nil:
		w.tellBelow(tr("How sure the paths are is being worked out; the map shows it when it is done"))
		w.askHowSure()
	case !on && sure.cancel != nil:
		w.dropHowSure()
		w.ledger.refresh()
	}
}

// showDoubts says what the colours rest on where no survey is recorded.
func (w *Window) showDoubts(on bool) {
	if on && w.doc.Site().Survey.Empty() {
		w.tellBelow(tr("Nothing is recorded of the survey of this ground, so that it is taken to be known alike everywhere"))
	}
	w.ledger.refresh()
}

// keepsTrails reports whether the way of any surface's water is to stay on the map.
func (w *Window) keepsTrails() bool {
	list := w.waters.fates.list
	return w.waters.allTrails && (len(list) > 0 || w.waters.fates.of == nil) ||
		slices.ContainsFunc(list, func(f fate.Fate) bool { return w.waters.chosen[f.Feature] || f.Feature == w.board.Selected })
}
