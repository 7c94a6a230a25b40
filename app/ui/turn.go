package ui

import (
	"reflect"

	"fyne.io/fyne/v2"

	"runnel/geo/plan"
)

// undo takes the last change back, or does the last that was taken back again, and goes
// to the scheme that it was made in.
func (w *Window) undo(turn func()) {
	w.pane.tool.Cancel()
	before := w.doc.Site()
	turn()
	w.trace.say("undone")
	if of, ok := schemeChanged(before, w.doc.Site()); ok && w.hasScheme(of) {
		w.showChange(of)
	}
}

// showChange goes to the scheme in which something changed, unless the change is seen.
func (w *Window) showChange(of plan.SchemeID) {
	if of == w.board.Scheme {
		return
	}
	w.showScheme(of)
	w.tabs.lightUp(of)
}

// turn takes back or does again as a shortcut says, from a field with nothing of its own
// to take back.
func (w *Window) turn(s fyne.Shortcut) {
	if w.doc == nil || w.covered() {
		return
	}
	if _, ok := s.(*fyne.ShortcutRedo); ok {
		w.redoLast()
		return
	}
	w.undoLast()
}

// schemeChanged returns the one scheme whose features, or whose being there, differ
// between two sites; ok is false for none, for several and for what all schemes share.
func schemeChanged(before, after *plan.Site) (of plan.SchemeID, ok bool) {
	changed := map[plan.SchemeID]bool{}
	was := map[plan.ID]plan.Feature{}
	for _, f := range before.Plan.Features {
		was[f.ID] = f
	}
	for _, f := range after.Plan.Features {
		if old, had := was[f.ID]; !had || !reflect.DeepEqual(old, f) {
			changed[f.Scheme] = true
		}
		delete(was, f.ID)
	}
	for _, f := range was {
		changed[f.Scheme] = true
	}
	if changed[plan.AsItIs] || len(changed) != 1 {
		return 0, false
	}
	for of = range changed {
		ok = true
	}
	return of, ok
}
