package ui

import (
	"math"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/flow"
	"runnel/app/view"
	"runnel/geo/plan"
)

// A telling is what is said of a drop's way besides how far it runs and falls.
type telling struct {
	// from says where it comes off, through what it is led on; empty for neither.
	from, through string
	// end says what it does at last, such as "leaves on the south edge".
	end string
}

// told puts a drop's way into words.
func (w *Window) told(j view.Journey) telling {
	t := telling{end: w.ending(j)}
	if j.Roof != 0 {
		t.from = trf("leaves %s by its downpipe", w.called(j.Roof))
	}
	var names []string
	for _, id := range j.Through {
		names = append(names, w.called(id))
	}
	if len(names) > 0 {
		t.through = trf("through %s", strings.Join(names, tr(" and ")))
	}
	return t
}

// called returns what a feature of the site is called.
func (w *Window) called(id plan.ID) string {
	f, ok := w.doc.Site().Plan.Find(id)
	if !ok {
		return tr("what is no longer drawn")
	}
	return titleOf(f)
}

// ending says what a drop does at the end of its way.
func (w *Window) ending(j view.Journey) string {
	switch {
	case j.Inlet != 0:
		return trf("goes down %s", w.called(j.Inlet))
	case j.End == flow.StayEnd:
		return tr("stays there")
	case j.End == flow.NoDataEnd:
		return tr("leaves where the ground is not known")
	}
	last := j.Legs[len(j.Legs)-1]
	return trf("leaves on the %s edge", side4(last[len(last)-1], w.scene.Ground.Bound()))
}

// side4 names the side of a rectangle that a point is nearest to.
func side4(p orb.Point, b orb.Bound) string {
	middle := b.Center()
	across, up := (p[0]-middle[0])/(b.Max[0]-b.Min[0]), (p[1]-middle[1])/(b.Max[1]-b.Min[1])
	switch {
	case math.Abs(across) > math.Abs(up) && across > 0:
		return tr("east")
	case math.Abs(across) > math.Abs(up):
		return tr("west")
	case up < 0:
		return tr("south")
	}
	return tr("north")
}

// drop says what a drop of water does that runs so far [m] and ends so much lower
// [m], at full length and then shorter. Where it falls into standing water it ends
// higher than it began.
func (u units) drop(length, fall float64, t telling) []string {
	run, down := u.length(length), u.length(fall)
	if fall < 0 {
		rise := u.length(-fall)
		return []string{
			trf("A drop here must rise %[1]s to get out, runs %[2]s and %[3]s", rise, joined(run, t.through), t.end),
			trf("Drop: must rise %s to get out", rise),
			trf("Must rise %s", rise),
		}
	}
	falls := trf("falls %s", down)
	return []string{
		trf("A drop here %[1]s and %[2]s", joined(t.from, trf("runs %s", run), falls, t.through), t.end),
		trf("Drop: %s", joined(run, falls, t.through, t.end)),
		trf("Drop: %s", joined(run, falls, t.end)),
		trf("Drop: %s", joined(run, falls)),
		joined(run, falls),
	}
}

// joined joins what is not empty by commas.
func joined(words ...string) string {
	var said []string
	for _, w := range words {
		if w != "" {
			said = append(said, w)
		}
	}
	return strings.Join(said, ", ")
}
