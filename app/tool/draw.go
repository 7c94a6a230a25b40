package tool

import (
	"errors"
	"strings"

	"github.com/paulmach/orb"

	"runnel/app/site"
	"runnel/geo/plan"
)

// draw is the tool that draws features of one kind.
type draw struct {
	trail
	doc   *site.Document
	board *Board
	spec  plan.Spec

	pressed bool
	double  bool
	// said is what the last press came to, shown until the next one.
	said string
}

// NewDraw returns the tool that draws features of a kind: a point at a click, a
// line or an outline point by point.
func NewDraw(d *site.Document, b *Board, kind plan.Kind) Tool {
	spec := plan.SpecOf(kind)
	return &draw{
		trail: trail{near: nearby{doc: d, board: b}, kind: kind, closes: spec.Shape == plan.AreaShape},
		doc:   d, board: b, spec: spec,
	}
}

func (t *draw) Down(p Pointer) {
	t.cursor = t.place(p)
	t.pressed, t.double, t.said = true, p.Double, ""
}

func (t *draw) Move(p Pointer) { t.cursor = t.place(p) }

func (t *draw) Up(p Pointer) {
	if !t.pressed {
		return
	}
	t.pressed = false
	t.cursor = t.place(p)
	switch {
	case t.homeless() && len(t.points) == 0:
		t.said = t.refusal()
	case t.spec.Shape == plan.PointShape && t.double:
		// the first press of the double click has drawn it
	case t.spec.Shape == plan.PointShape:
		t.add(t.cursor.at)
	case t.cursor.closing, t.double && len(t.points) > 0:
		t.finish()
	default:
		t.extend()
	}
}

func (t *draw) Key(k Key) bool {
	if len(t.points) == 0 {
		return false
	}
	t.said = ""
	switch k {
	case Enter:
		t.finish()
	case Escape:
		t.Cancel()
	case Backspace, Delete:
		t.shorten()
	default:
		return false
	}
	return true
}

// Cancel drops what was drawn so far; the plan has not seen it yet.
func (t *draw) Cancel() {
	t.clear()
	t.pressed, t.said = false, ""
}

// finish puts the drawn shape into the plan, or says what it lacks.
func (t *draw) finish() {
	least, shape := 2, orb.Geometry(t.points)
	if t.spec.Shape == plan.AreaShape {
		least, shape = 3, orb.Polygon{closed(t.points)}
	}
	if len(t.points) < least {
		t.said = t.spec.Label + ": " + [...]string{2: "a line needs two points", 3: "an outline needs three points"}[least] + " at least; click the next"
		return
	}
	t.add(shape)
}

func (t *draw) add(shape orb.Geometry) {
	if t.homeless() {
		t.said = t.refusal()
		return
	}
	f := plan.Feature{Kind: t.spec.Kind, Geometry: shape}
	if t.spec.InScheme {
		f.Scheme = t.board.Scheme
	}
	edit := &site.Add{Features: []plan.Feature{f}}
	if err := t.doc.Do(edit); err != nil {
		t.said = sentence(reason(err))
		return
	}
	t.clear()
	t.said = edit.Features[0].Title() + " is drawn; click to begin another"
	t.board.Select(edit.Features[0].ID)
}

// homeless reports that the kind needs a scheme where none is chosen.
func (t *draw) homeless() bool { return t.spec.InScheme && t.board.Scheme == plan.AsItIs }

func (t *draw) refusal() string {
	return t.spec.Label + "s belong to a scheme; choose or add a scheme first"
}

func (t *draw) Sketch() Sketch {
	s := Sketch{Kind: t.spec.Kind, Hot: -1, Gripped: true, Snap: t.cursor.snap, Hint: t.hint()}
	s.Points = t.reaching()
	s.Closed = t.spec.Shape == plan.AreaShape && len(s.Points) >= 3
	s.Length, s.Area = figures(s.Points, s.Closed)
	if s.Closed {
		s.Fault = fault(plan.Feature{Kind: t.spec.Kind, Geometry: orb.Polygon{closed(s.Points)}})
	}
	return s
}

func (t *draw) hint() string {
	switch {
	case t.said != "":
		return t.said
	case t.homeless():
		return t.refusal()
	}
	return t.near.on(t.cursor.snap, t.next())
}

// next says what a press would do.
func (t *draw) next() string {
	label := strings.ToLower(t.spec.Label)
	switch {
	case t.spec.Shape == plan.PointShape:
		return "Click where the " + label + " stands"
	case len(t.points) == 0:
		return "Click where the " + label + " begins"
	case t.cursor.closing:
		return "Click to close the outline"
	case t.closable():
		return "Click the next point; click the first, double-click or press Enter to finish; Backspace takes the last one back"
	case t.spec.Shape == plan.LineShape && len(t.points) >= 2:
		return "Click the next point; double-click or press Enter to finish; Backspace takes the last one back"
	}
	return "Click the next point; Backspace takes the last one back, Escape gives up"
}

// fault says why a feature cannot stand as it is; empty when it can.
func fault(f plan.Feature) string {
	if err := plan.Check(f); err != nil {
		return sentence(reason(err))
	}
	return ""
}

// reason leaves out the name of the feature, which is under the pointer.
func reason(err error) error {
	if inner := errors.Unwrap(err); inner != nil {
		return inner
	}
	return err
}

func sentence(err error) string {
	text := err.Error()
	return strings.ToUpper(text[:1]) + text[1:]
}
