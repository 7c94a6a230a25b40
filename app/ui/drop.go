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
		t.from = "leaves " + w.called(j.Roof) + " by its downpipe"
	}
	var names []string
	for _, id := range j.Through {
		names = append(names, w.called(id))
	}
	if len(names) > 0 {
		t.through = "through " + strings.Join(names, " and ")
	}
	return t
}

// called returns what a feature of the site is called.
func (w *Window) called(id plan.ID) string {
	f, ok := w.doc.Site().Plan.Find(id)
	if !ok {
		return "what is no longer drawn"
	}
	return f.Title()
}

// ending says what a drop does at the end of its way.
func (w *Window) ending(j view.Journey) string {
	switch {
	case j.Inlet != 0:
		return "goes down " + w.called(j.Inlet)
	case j.End == flow.StayEnd:
		return "stays there"
	case j.End == flow.NoDataEnd:
		return "leaves where the ground is not known"
	}
	last := j.Legs[len(j.Legs)-1]
	return "leaves on the " + side4(last[len(last)-1], w.scene.Ground.Bound()) + " edge"
}

// side4 names the side of a rectangle that a point is nearest to.
func side4(p orb.Point, b orb.Bound) string {
	middle := b.Center()
	across, up := (p[0]-middle[0])/(b.Max[0]-b.Min[0]), (p[1]-middle[1])/(b.Max[1]-b.Min[1])
	switch {
	case math.Abs(across) > math.Abs(up) && across > 0:
		return "east"
	case math.Abs(across) > math.Abs(up):
		return "west"
	case up < 0:
		return "south"
	}
	return "north"
}

// drop says what a drop of water does that runs so far [m] and ends so much lower
// [m], at full length and then shorter. Where it falls into standing water it ends
// higher than it began.
func (u units) drop(length, fall float64, t telling) []string {
	run, down := u.length(length), u.length(fall)
	if fall < 0 {
		rise := u.length(-fall)
		return []string{
			"A drop here must rise " + rise + " to get out, runs " + joined(run, t.through) + " and " + t.end,
			"Drop: must rise " + rise + " to get out",
			"Must rise " + rise,
		}
	}
	return []string{
		"A drop here " + joined(t.from, "runs "+run, "falls "+down, t.through) + " and " + t.end,
		"Drop: " + joined(run, "falls "+down, t.through, t.end),
		"Drop: " + joined(run, "falls "+down, t.end),
		"Drop: " + run + ", falls " + down,
		run + ", falls " + down,
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
