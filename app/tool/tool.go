// Package tool holds the pointer tools: what a press, a drag and a key mean on
// the map. A tool is a state machine in ground coordinates. It changes the site
// through edits only, and shows what it is about in a Sketch; it knows of no
// widget and no screen.
//
// Positions are metres in the site's reference system. Tools are used from one
// goroutine.
package tool

import (
	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// A Pointer is where the pointer is and how it is held.
type Pointer struct {
	// At is the position under the pointer.
	At orb.Point
	// Reach is how far from a thing [m] the pointer still touches it.
	Reach float64
	// Shift holds a line to steps of 45° and a turn to steps of 15°; it adds to
	// what is selected. Ctrl lets go of snapping.
	Shift, Ctrl bool
	// Double is set on the second press of a double click.
	Double bool
}

// A Key is a key that a tool may answer to.
type Key uint8

// The keys.
const (
	Enter Key = iota + 1
	Escape
	Backspace
	Delete
	// Bend goes on to the next manner of drawing.
	Bend
)

// A Sketch is what a tool shows over the map. The zero Sketch shows nothing.
type Sketch struct {
	// Points is the shape being drawn or wanted, up to the pointer.
	Points orb.LineString
	// Closed is set when the last point leads back to the first.
	Closed bool
	// Marks are the points that were put down; Curve is set while Points is the
	// smooth curve through them and the pointer.
	Marks []orb.Point
	Curve bool
	// Cue says what the pointer is drawn to.
	Cue Cue
	// Side is the side that leads to the pointer, once one is begun.
	Side *Side
	// Fall is how the ground falls along what is measured.
	Fall *Fall
	// Box is drawn round things to select them. Frame is round what is selected,
	// and Turn the handle that rotates it.
	Box, Frame *orb.Bound
	Turn       *orb.Point
	// Kind is what is being drawn, or NoKind.
	Kind plan.Kind
	// Handles are the points of the selected feature; Middles are the places
	// between them where a press puts in another.
	Handles, Middles []orb.Point
	// Hot is the handle that Delete takes away; -1 for none.
	Hot int
	// Length [m] and Area [m²] are of Points; the area is nought while they
	// cannot enclose one.
	Length, Area float64
	// Fault says why the shape cannot stand as it is; empty when it can.
	Fault string
	// Hint says what can be done next: what is needed most stands before the first
	// semicolon, in 60 letters.
	Hint string
	// Done is set where what is shown is finished, and its figures stand at its end.
	Done bool
	// Answer are lines that stand at Answered, each a figure; none where nothing was
	// asked.
	Answer   []string
	Answered orb.Point
	// Gripped is set while the pointer holds something, so that a drag is the
	// tool's. A drag with nothing gripped may pan the map; Cancel then tells
	// the tool that the press was none of its own.
	Gripped bool
}

// A Plotter is a tool whose next point can be given by figures.
type Plotter interface {
	Tool
	// Aim shows the next point at p; Put puts it down there.
	Aim(p orb.Point)
	Put(p orb.Point)
}

// A Leaver is a tool that may have something under way when another is taken up.
type Leaver interface {
	Tool
	// Leave finishes what is under way if it can stand, else drops it, and says which;
	// empty where nothing was.
	Leave() string
}

// A Tool answers to the pointer and to keys.
type Tool interface {
	// Down, Move and Up follow the pointer; Move also comes with no button down.
	Down(Pointer)
	Move(Pointer)
	Up(Pointer)
	// Key reports whether the tool had a use for k.
	Key(k Key) bool
	// Cancel gives up what is under way and gives back what it had changed.
	Cancel()
	Sketch() Sketch
}
