package ui

import (
	"math"
	"slices"

	"runnel/geo/plan"
)

// crossingFacts say what a crossing spans, and how high what lies on both banks is above
// the water; of one that is waded or stepped over how deep the water is.
func (w *Window) crossingFacts(f plan.Feature) []reading {
	n, u := w.figures.scheme.Network, w.units
	if n == nil {
		return nil
	}
	over, ok := n.Over(f.Point())
	if !ok {
		return []reading{{tr("Leads over"), tr("no channel"), "crossing"}}
	}
	facts := []reading{{tr("Span between the tops of the banks"), u.length(over.Span()), "crossing"}}
	water, bed := n.WaterAt(over.ID, over.Chainage), n.BedAt(over.ID, over.Chainage)
	wet := water > bed
	if slices.Contains([]string{"bridge", "boards"}, f.Text("by")) {
		facts = append(facts, reading{tr("Deck, on the higher bank's top"), u.height(over.Deck()), "crossing"})
		if wet && !math.IsNaN(over.Deck()) {
			facts = append(facts, reading{tr("Clear above the water"), u.length(over.Deck() - water), "crossing"})
		}
	} else if wet {
		facts = append(facts, reading{tr("Depth of the water there"), u.length(water - bed), "crossing"})
	}
	return facts
}

// lineAt is the channel or drain in which an island, a sill, a spillway, a section or a
// crossing stands; stands is false for all else.
func (w *Window) lineAt(f plan.Feature) (of plan.ID, stands bool) {
	if !slices.Contains([]plan.Kind{plan.Island, plan.Sill, plan.Spillway, plan.Section, plan.Crossing}, f.Kind) {
		return 0, false
	}
	n := w.figures.scheme.Network
	if n == nil {
		return 0, true
	}
	if f.Kind == plan.Island {
		of, _ = n.LineOf(f.ID)
		return of, true
	}
	over, _ := n.Over(middleOf(f))
	return over.ID, true
}
