package tool

import (
	"slices"

	"github.com/paulmach/orb"

	"runnel/app/site"
)

// measure is the tool that measures along a line, or round an area.
type measure struct {
	trail
	pressed, double bool
	// ended is set when the line is as long as it gets; closed when it went
	// back to its first point.
	ended, closed bool
}

// NewMeasure returns the tool that measures along clicked points, and the area
// within them once the first is clicked again. It leaves the site as it is.
func NewMeasure(d *site.Document, b *Board) Tool {
	return &measure{trail: trail{near: nearby{doc: d, board: b}, closes: true}}
}

func (t *measure) Down(p Pointer) {
	if t.ended {
		t.Cancel()
	}
	t.cursor = t.place(p)
	t.pressed, t.double = true, p.Double
}

func (t *measure) Move(p Pointer) {
	if !t.ended {
		t.cursor = t.place(p)
	}
}

func (t *measure) Up(p Pointer) {
	if !t.pressed {
		return
	}
	t.pressed = false
	t.cursor = t.place(p)
	t.put()
}

// Put implements Plotter.
func (t *measure) Put(p orb.Point) {
	t.Aim(p)
	t.double = false
	t.put()
}

func (t *measure) put() {
	switch {
	case t.cursor.closing:
		t.ended, t.closed = true, true
	case t.double && len(t.points) >= 2:
		t.ended = true
	default:
		t.extend()
	}
}

func (t *measure) Key(k Key) bool {
	if len(t.points) == 0 {
		return false
	}
	switch k {
	case Enter:
		t.ended = true
	case Escape:
		t.Cancel()
	case Backspace, Delete:
		t.ended, t.closed = false, false
		t.shorten()
	default:
		return false
	}
	return true
}

// Cancel drops what was measured.
func (t *measure) Cancel() {
	t.clear()
	t.pressed, t.ended, t.closed = false, false, false
}

func (t *measure) Sketch() Sketch {
	s := Sketch{Hot: -1, Gripped: true, Hint: t.hint(), Marks: t.points, Closed: t.closed || t.cursor.closing}
	if t.ended {
		s.Points, s.Done = slices.Clone(t.points), true
	} else {
		s.Points, s.Cue, s.Side = t.reaching(), t.cursor.cue, t.side()
	}
	s.Length, s.Area = figures(s.Points, s.Closed)
	if fall, ok := NewFall(t.near.doc.Site().Ground, s.Points); ok && !s.Closed {
		s.Fall = &fall
	}
	return s
}

func (t *measure) hint() string {
	if t.ended {
		return "Click to measure something else"
	}
	return t.near.on(t.cursor.cue, t.next())
}

// next says what a press would do.
func (t *measure) next() string {
	switch {
	case len(t.points) == 0:
		return "Click where to measure from"
	case t.cursor.closing:
		return "Click to measure the area within"
	case t.closable():
		return "Click the next point; the first for the area within; double-click or Enter to end; Backspace takes the last one back"
	}
	return "Click the next point; double-click or Enter to end; Backspace takes the last one back"
}
