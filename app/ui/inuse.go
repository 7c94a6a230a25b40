package ui

import (
	"math"

	"github.com/paulmach/orb/planar"

	"runnel/analysis/channel"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// standsIn is what stands in for a field that is not set, and whose it is in a word: the
// flow of a drain, or of a section what its channel has there. It is NaN where nothing
// is known to.
func (w *Window) standsIn(f plan.Feature, field string) (v float64, from string) {
	if in, ok := w.inflowOf(f.ID); ok && field == "flow" {
		return in * litres, tr("drain")
	}
	if f.Kind == plan.Channel && field == "grade" {
		return w.fallOf(f)
	}
	n := w.figures.scheme.Network
	if f.Kind != plan.Section || n == nil {
		return math.NaN(), ""
	}
	of, chainage, ok := w.channelUnder(f)
	if !ok {
		return math.NaN(), ""
	}
	s, err := n.SectionAt(of, chainage)
	switch {
	case err != nil:
	case field == "bed_width":
		return s.Bed, tr("channel")
	case field == "side_left":
		return s.Left, tr("channel")
	case field == "side_right":
		return s.Right, tr("channel")
	case field == "bed_level":
		return n.BedAt(of, chainage), tr("channel")
	}
	return math.NaN(), ""
}

// litres is how many litres a cubic metre holds.
const litres = 1000

// channelUnder is the channel that a point lies on, and how far along it [m].
func (w *Window) channelUnder(f plan.Feature) (of plan.ID, chainage float64, ok bool) {
	least := math.Inf(1)
	for _, c := range w.doc.Site().Plan.In(w.board.Scheme) {
		if c.Kind != plan.Channel || len(c.Line()) < 2 {
			continue
		}
		if at, off := channel.Chainage(c.Line(), f.Point()); off <= max(plan.BesideChannel, c.Width()/2) && off < least {
			of, chainage, least, ok = c.ID, at, off, true
		}
	}
	return of, chainage, ok
}

// sourceWord names what a level comes from, in a word that a field has room for.
func sourceWord(s channel.Source) string {
	switch s {
	case channel.FromDrain:
		return tr("drain")
	case channel.FromBank:
		return tr("bank")
	case channel.FromWater:
		return tr("water")
	}
	return tr("ground")
}

// usualOf is the level that the newest figures take in place of a field; a culvert's
// bed lies on the ground.
func (w *Window) usualOf(f plan.Feature, field string) (channel.Usual, bool) {
	for _, u := range w.figures.scheme.Usuals {
		if u.ID == f.ID && u.Field == field {
			return u, true
		}
	}
	end := map[string]int{"bed_start": 0, "bed_end": len(f.Line()) - 1}
	i, ok := end[field]
	if !ok || f.Kind != plan.Culvert {
		return channel.Usual{}, false
	}
	level := grid.Sample(w.doc.Site().Ground, f.Line()[i])
	return channel.Usual{ID: f.ID, Field: field, Level: level, From: channel.FromGround}, !math.IsNaN(level)
}

// fallOf is how much the bed of a channel falls along its line [%], and where from in a
// word: the usual fall, or the levels that are set on it.
func (w *Window) fallOf(f plan.Feature) (v float64, from string) {
	n, length := w.figures.scheme.Network, planar.Length(f.Line())
	if n == nil || !(length > 0) {
		return channel.UsualGrade, tr("usual")
	}
	v = 100 * (n.BedAt(f.ID, 0) - n.BedAt(f.ID, length)) / length
	const alike = 0.005 // which two decimals do not show
	if math.IsNaN(v) || math.Abs(v-channel.UsualGrade) < alike {
		return channel.UsualGrade, tr("usual")
	}
	return v, tr("levels")
}

// dry reports whether a line holds no water.
func dry(m channel.Measure) bool { return m.Wet == 0 && m.Contact == 0 }

// whyIdle says why a field of features does nothing as they are; nothing where it does.
// A channel's depth lays its bed beneath the ground where no level does.
func (w *Window) whyIdle(all []plan.Feature, field string) string {
	if len(all) != 1 || all[0].Kind != plan.Channel || field != "depth" || !w.figures.known {
		return ""
	}
	f := all[0]
	if _, laid := w.measureOf(f.ID); !laid {
		return ""
	}
	drained := false
	for _, end := range []string{"bed_start", "bed_end"} {
		u, ok := w.usualOf(f, end)
		if ok && u.From == channel.FromGround {
			return ""
		}
		drained = drained || ok && u.From == channel.FromDrain
	}
	if drained {
		return tr("Does nothing here: the bed takes its level from the drain. Set the bed levels to dig deeper.")
	}
	return tr("Does nothing here: the bed levels are set. Empty them to lay the bed so deep below the ground.")
}
