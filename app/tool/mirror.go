package tool

import (
	"github.com/paulmach/orb"

	"runnel/app/site"
)

// mirror is the tool that mirrors what is selected about a line of two points.
type mirror struct {
	trail
	pressed bool
	said    string
	done    func()
}

// NewMirror returns the tool that mirrors what is selected about a line that is
// drawn; then it calls done.
func NewMirror(d *site.Document, b *Board, done func()) Tool {
	return &mirror{trail: trail{near: nearby{doc: d, board: b}}, done: done}
}

func (t *mirror) Down(p Pointer) { t.cursor, t.pressed = t.place(p), true }

func (t *mirror) Move(p Pointer) { t.cursor = t.place(p) }

func (t *mirror) Up(p Pointer) {
	if t.pressed {
		t.pressed = false
		t.cursor = t.place(p)
		t.put()
	}
}

// Put implements Plotter.
func (t *mirror) Put(p orb.Point) {
	t.Aim(p)
	t.put()
}

func (t *mirror) put() {
	if len(t.points) == 0 || t.onLast() {
		t.extend()
		return
	}
	err := MirrorAbout(t.near.doc, t.near.board, [2]orb.Point{t.points[0], t.cursor.at})
	t.clear()
	if err != nil {
		t.said = sentence(reason(err))
		return
	}
	t.done()
}

func (t *mirror) Key(k Key) bool {
	if len(t.points) == 0 || k != Escape && k != Backspace {
		return false
	}
	t.Cancel()
	return true
}

// Cancel drops the line.
func (t *mirror) Cancel() {
	t.clear()
	t.pressed, t.said = false, ""
}

func (t *mirror) Sketch() Sketch {
	s := Sketch{Hot: -1, Gripped: true, Points: t.reaching(), Marks: t.points, Cue: t.cursor.cue, Side: t.side(), Hint: t.said}
	switch {
	case s.Hint != "":
	case len(t.near.board.All()) == 0:
		s.Hint = "Nothing is selected; press Escape and select what is to be mirrored"
	case len(t.points) == 0:
		s.Hint = "Click where the line to mirror about begins"
	default:
		s.Hint = "Click a second place on the line to mirror about; Escape gives up"
	}
	return s
}
