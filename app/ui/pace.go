package ui

import "time"

// A pace keeps the figures from running ahead: while they are worked out for one
// change to the site, the next change waits, and then the newest is taken. The map
// of one change is drawn while the figures of the next are worked out.
type pace struct {
	busy, again bool
	// began counts what was begun.
	began int
}

// stride is how long a change waits at most for the one before: on a large ground
// the figures go ahead of the map.
const stride = 60 * time.Millisecond

// dragging reports whether a thing or a level is being dragged.
func (w *Window) dragging() bool { return w.pane.hand.dragging || w.section.hold.on }

// begin reports whether the site may be worked out now; if not, it is later.
func (w *Window) begin() bool {
	if w.pace.busy {
		w.pace.again = true
		return false
	}
	w.pace.busy, w.pace.again = true, false
	w.pace.began++
	began := w.pace.began
	time.AfterFunc(stride, func() {
		w.post(func() {
			if began == w.pace.began {
				w.goOn()
			}
		})
	})
	return true
}

// goOn lets the next change be worked out.
func (w *Window) goOn() {
	w.pace.busy = false
	if w.pace.again && w.doc != nil {
		w.work()
	}
}
