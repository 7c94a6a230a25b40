package ui

import (
	"cmp"
	"context"
	"slices"

	"runnel/analysis/fate"
	"runnel/app/view"
	"runnel/geo/plan"
)

// fated is where the water of roofs and paving ends on one scene, the most water
// first.
type fated struct {
	of   *view.Scene
	list []fate.Fate
}

// followFates asks where the water of roofs and paving ends, where that is shown.
func (w *Window) followFates() {
	s := w.scene
	wanted := w.show.Has(view.Fates) || slices.Contains(steps[w.step].ledger, fates)
	if s == nil || s.Ponding == nil || !wanted || w.waters.fates.of == s {
		return
	}
	w.fates.Request(func(ctx context.Context) (fated, error) {
		list, err := fate.Of(ctx, fate.Input{
			Site: s.Site, Scheme: s.Scheme, Surface: s.Drainage.Surface, Wet: s.Wet, Least: s.Ponding.Least.Depth,
		})
		slices.SortStableFunc(list, func(a, b fate.Fate) int { return cmp.Compare(b.Year, a.Year) })
		return fated{s, list}, err
	})
}

// takeFates shows where water ends. What comes in for another scene is dropped.
func (w *Window) takeFates(f fated, err error) {
	switch {
	case w.doc == nil || w.scene == nil:
	case err != nil:
		w.status.fault(err)
	case f.of == w.scene:
		w.waters.fates = f
		w.retrail()
		w.ledger.refresh()
		w.trace.say("fates", "sources", len(f.list))
	}
}

// leastShare is the share of a surface's water from which its way is drawn.
const leastShare = 0.02

// retrail draws the ways of the surfaces that are chosen, pointed at or selected.
func (w *Window) retrail() {
	w.waters.trails = nil
	for i, f := range w.waters.fates.list {
		id := f.Feature
		kept := w.waters.allTrails || w.waters.chosen[id] || id == w.board.Selected
		if kept && w.show.Has(view.Fates) || id == w.waters.pointed {
			w.waters.trails = append(w.waters.trails, w.trail(i+1, f))
		}
	}
	w.reshow()
}

// trail is what the map shows of a fate.
func (w *Window) trail(number int, f fate.Fate) view.Trail {
	t := view.Trail{Number: number, Name: w.called(f.Feature)}
	for _, p := range f.Parts {
		if p.Share >= leastShare {
			t.Lines = append(t.Lines, p.Path)
			t.Stays = append(t.Stays, p.Kind != fate.Edge)
		}
	}
	return t
}

// chooseTrail shows or hides the way of one surface's water.
func (w *Window) chooseTrail(id plan.ID) {
	if w.waters.chosen == nil {
		w.waters.chosen = map[plan.ID]bool{}
	}
	if w.waters.chosen[id] = !w.waters.chosen[id]; w.waters.chosen[id] {
		w.show = w.show.With(view.Fates)
	}
	w.retrail()
	w.ledger.refresh()
	w.trace.say("trail", "id", id, "shown", w.waters.chosen[id])
}

// pointAt shows the way of one surface's water while the pointer is on its row; 0
// for none.
func (w *Window) pointAt(id plan.ID) {
	if w.waters.pointed != id {
		w.waters.pointed = id
		w.retrail()
	}
}
