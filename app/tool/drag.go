package tool

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/app/site"
	"runnel/geo/plan"
)

// slack is the share of the reach that a pressed pointer may tremble before it
// drags.
const slack = 0.3

// turnStep is what Shift holds a turn to [°].
const turnStep = 15

// hold says what a press has taken hold of.
type hold uint8

const (
	nothing hold = iota
	whole
	onePoint
	turning
	boxing
)

// A drag is a press of the pointer and what has come of it so far.
type drag struct {
	doc  *site.Document
	near *nearby
	// adds is set where the press adds to what is selected.
	adds bool
	from orb.Point
	hold hold
	// original are the features held, as they were at the press; base is the one
	// of a held point, with the point put in where the press was on a middle.
	original []plan.Feature
	base     plan.Feature
	spot     spot
	// about is what a turn goes round.
	about   orb.Point
	what    string
	gesture site.Gesture
	moved   bool
	// stands is set while the held point is one of the plan's.
	stands bool

	// wanted is what is under the pointer. While fault is set the plan keeps the
	// last that could stand.
	wanted []plan.Feature
	fault  string
	cue    Cue
	side   *Side
	box    orb.Bound
}

// take holds features for dragging.
func (d *drag) take(h hold, features ...plan.Feature) {
	d.hold, d.original, d.base, d.stands = h, features, features[0], true
	what := "move %s"
	if h == turning {
		what, d.about = "rotate %s", boundOf(features).Center()
	}
	d.what = fmt.Sprintf(what, named(features))
	d.gesture = d.doc.Gesture()
}

// takePoint holds a point of a feature; base has it put in where it is new.
func (d *drag) takePoint(f, base plan.Feature, s spot) {
	d.take(onePoint, f)
	d.base, d.spot = base, s
	d.stands = sameShape(base, f)
}

func (d *drag) move(p Pointer) {
	if d.hold == nothing || !d.moved && planar.Distance(p.At, d.from) <= slack*p.Reach {
		return
	}
	d.moved = true
	if d.hold == boxing {
		d.box = orb.MultiPoint{d.from, p.At}.Bound()
		return
	}
	d.put(d.shape(p))
}

// shape is what the held features become with the pointer at p.
func (d *drag) shape(p Pointer) []plan.Feature {
	d.cue, d.side = Cue{}, nil
	switch d.hold {
	case whole:
		return d.shift(p)
	case turning:
		return d.turn(p)
	}
	start := at(d.base, d.spot)
	to := orb.Point{start[0] + p.At[0] - d.from[0], start[1] + p.At[1] - d.from[1]}
	p.At = to
	from := d.neighbours()
	d.cue = d.near.pull(aim{pointer: p, drawing: plan.Drawing{Kind: d.base.Kind, ID: d.base.ID}, from: from})
	if len(from) > 0 {
		d.side = newSide(d.doc.Site().Ground, from[0], d.cue.At)
	}
	return []plan.Feature{moved(d.base, d.spot, d.cue.At)}
}

func (d *drag) shift(p Pointer) []plan.Feature {
	to := p.At
	if p.Shift {
		to = constrain(d.from, to)
	}
	d.side = newSide(d.doc.Site().Ground, d.from, to)
	return each(d.original, func(f plan.Feature) plan.Feature { return shifted(f, to[0]-d.from[0], to[1]-d.from[1]) })
}

func (d *drag) turn(p Pointer) []plan.Feature {
	degrees := Side{From: d.about, To: p.At}.Bearing() - Side{From: d.about, To: d.from}.Bearing()
	if p.Shift {
		degrees = math.Round(degrees/turnStep) * turnStep
	}
	return each(d.original, func(f plan.Feature) plan.Feature { return turned(f, d.about, degrees) })
}

func each(features []plan.Feature, change func(plan.Feature) plan.Feature) []plan.Feature {
	changed := make([]plan.Feature, len(features))
	for i, f := range features {
		changed[i] = change(f)
	}
	return changed
}

// neighbours are the points that the held one's side comes from: the two before
// it, the two after it at the start of a line, none where it stands alone.
func (d *drag) neighbours() []orb.Point {
	line := d.base.Points()[d.spot.line]
	n, i := len(line), d.spot.point
	_, ring := d.base.Geometry.(orb.Polygon)
	switch {
	case n == 1:
		return nil
	case ring:
		return []orb.Point{line[(i+n-1)%n], line[(i+n-2)%n]}
	case i > 1:
		return []orb.Point{line[i-1], line[i-2]}
	case i == 1:
		return []orb.Point{line[0]}
	case n > 2:
		return []orb.Point{line[1], line[2]}
	}
	return []orb.Point{line[1]}
}

// put asks the plan to take what is wanted.
func (d *drag) put(wanted []plan.Feature) {
	d.wanted, d.fault = wanted, ""
	for _, f := range wanted {
		if d.doc.Site().Plan.Index(f.ID) < 0 {
			d.fault = "It is not on the site any more"
			return
		}
	}
	if err := d.doc.Do(&site.Alter{After: wanted, What: d.what, Gesture: d.gesture}); err != nil {
		d.fault = sentence(reason(err))
		return
	}
	d.stands = true
}

// giveBack leaves the features as they were at the press.
func (d *drag) giveBack() {
	if !d.moved || d.hold == boxing {
		return
	}
	d.doc.Abandon(d.gesture)
	if slices.ContainsFunc(d.original, func(f plan.Feature) bool {
		now, ok := d.doc.Site().Plan.Find(f.ID)
		return ok && !sameShape(now, f)
	}) {
		d.put(d.original)
	}
}

func sameShape(a, b plan.Feature) bool {
	return orb.Equal(a.Geometry, b.Geometry) && slices.Equal(a.Knots, b.Knots)
}
