package tool

import (
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/app/site"
	"runnel/geo/plan"
)

// slack is the share of the reach that a pressed pointer may tremble before it
// drags.
const slack = 0.3

// hold says what of a feature a press has taken hold of.
type hold uint8

const (
	nothing hold = iota
	whole
	onePoint
)

// A drag is a press of the pointer and what has come of it so far.
type drag struct {
	doc  *site.Document
	near *plan.Index
	from orb.Point
	hold hold
	// id is the feature held and original its shape at the press; base is that
	// shape with the point put in, where the press was on a middle.
	id             plan.ID
	kind           plan.Kind
	original, base orb.Geometry
	spot           spot
	what           string
	gesture        site.Gesture
	moved          bool
	// stands is set while the held point is one of the plan's.
	stands bool

	// wanted is the shape under the pointer. While fault is set the plan keeps
	// the last one that could stand.
	wanted orb.Geometry
	fault  string
	snap   *plan.Snap
}

// take holds a feature, or one point of it, for dragging.
func (d *drag) take(h hold, f plan.Feature, base orb.Geometry) {
	d.hold, d.id, d.kind, d.original, d.base = h, f.ID, f.Kind, f.Geometry, base
	d.what, d.stands = "move "+f.Title(), orb.Equal(base, f.Geometry)
	d.gesture = d.doc.Gesture()
}

func (d *drag) move(p Pointer) {
	if d.hold == nothing || !d.moved && planar.Distance(p.At, d.from) <= slack*p.Reach {
		return
	}
	d.moved = true
	d.put(d.shape(p))
}

// shape is what the held geometry becomes with the pointer at p.
func (d *drag) shape(p Pointer) orb.Geometry {
	d.snap = nil
	to := p.At
	if d.hold == whole {
		if p.Shift {
			to = constrain(d.from, to)
		}
		return shifted(d.base, to[0]-d.from[0], to[1]-d.from[1])
	}
	start := at(d.base, d.spot)
	to = orb.Point{start[0] + to[0] - d.from[0], start[1] + to[1] - d.from[1]}
	if p.Shift {
		return moved(d.base, d.spot, constrain(d.neighbour(), to))
	}
	if !p.Ctrl {
		if snap, ok := d.near.Snap(to, p.Reach, plan.Drawing{Kind: d.kind, ID: d.id}); ok {
			d.snap, to = &snap, snap.At
		}
	}
	return moved(d.base, d.spot, to)
}

// neighbour is the point that the held one is constrained from: the one before
// it, the one after it at the start of a line, itself where it stands alone.
func (d *drag) neighbour() orb.Point {
	line := openEnd(d.base, plan.Lines(d.base)[d.spot.line])
	_, ring := d.base.(orb.Polygon)
	switch i := d.spot.point; {
	case len(line) == 1:
		return line[0]
	case i > 0:
		return line[i-1]
	case ring:
		return line[len(line)-1]
	}
	return line[1]
}

// put asks the plan to take the wanted shape.
func (d *drag) put(wanted orb.Geometry) {
	d.wanted, d.fault = wanted, ""
	f, ok := d.doc.Site().Plan.Find(d.id)
	if !ok {
		d.fault = "It is not on the site any more"
		return
	}
	if err := d.doc.Do(&site.Replace{After: f.At(wanted), What: d.what, Gesture: d.gesture}); err != nil {
		d.fault = sentence(reason(err))
		return
	}
	d.stands = true
}

// giveBack leaves the feature as it was at the press.
func (d *drag) giveBack() {
	if !d.moved {
		return
	}
	d.doc.Abandon(d.gesture)
	if f, ok := d.doc.Site().Plan.Find(d.id); ok && !orb.Equal(f.Geometry, d.original) {
		d.put(d.original)
	}
}
