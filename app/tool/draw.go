package tool

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

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
	if t.manner() == Round && len(t.points) == 0 && !t.homeless() {
		t.extend() // so that a drag draws the radius
	}
}

func (t *draw) Move(p Pointer) { t.cursor = t.place(p) }

func (t *draw) Up(p Pointer) {
	if !t.pressed {
		return
	}
	t.pressed = false
	t.cursor = t.place(p)
	t.put()
}

// put takes the place under the pointer.
func (t *draw) put() {
	switch {
	case t.homeless() && len(t.points) == 0:
		t.said = t.refusal()
	case t.spec.Shape == plan.PointShape && t.double:
		// the first press of the double click has drawn it
	case t.spec.Shape == plan.PointShape:
		t.add(t.feature(orb.LineString{t.cursor.at}))
	case t.manner() == Round && len(t.points) > 0:
		if !t.onLast() {
			t.finish()
		}
	case t.cursor.closing, t.double && len(t.points) > 0:
		t.finish()
	default:
		t.extend()
	}
}

// Put implements Plotter.
func (t *draw) Put(p orb.Point) {
	t.Aim(p)
	t.double, t.said = false, ""
	t.put()
}

// manner is how the shape is drawn.
func (t *draw) manner() Manner { return t.board.Manner(t.spec.Kind) }

// bend goes on to the next manner; not to circles once there are two points.
func (t *draw) bend() bool {
	all := Manners(t.spec.Kind)
	if len(all) == 0 {
		return false
	}
	next := all[(slices.Index(all, t.manner())+1)%len(all)]
	if next == Round && len(t.points) > 1 {
		next = Straight
	}
	t.board.SetManner(t.spec.Kind, next)
	t.said = ""
	return true
}

func (t *draw) Key(k Key) bool {
	if k == Bend {
		return t.bend()
	}
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
	points, least := t.points, 2
	switch {
	case t.manner() == Round:
		points = t.reaching()
	case t.spec.Shape == plan.AreaShape:
		least = 3
	}
	if len(points) < least {
		lacks := [...]string{2: "%s: a line needs two points at least; click the next", 3: "%s: an outline needs three points at least; click the next"}[least]
		t.said = fmt.Sprintf(lacks, t.spec.Label)
		return
	}
	t.add(t.feature(points))
}

// feature is what points make of the kind, in the manner chosen.
func (t *draw) feature(points orb.LineString) plan.Feature {
	f := plan.Feature{Kind: t.spec.Kind}
	if t.spec.InScheme {
		f.Scheme = t.board.Scheme
	}
	switch manner := t.manner(); {
	case t.spec.Shape == plan.PointShape:
		return f.At(points[0])
	case manner == Round && len(points) > 1:
		return f.Through(plan.Circle(points[0], planar.Distance(points[0], points[1])))
	case manner == Curved:
		return f.Through(points)
	case t.spec.Shape == plan.AreaShape:
		return f.At(orb.Polygon{closed(points)})
	}
	return f.At(points)
}

func (t *draw) add(f plan.Feature) {
	if t.homeless() {
		t.said = t.refusal()
		return
	}
	edit := &site.Add{Features: []plan.Feature{f}}
	if err := t.doc.Do(edit); err != nil {
		t.said = sentence(reason(err))
		return
	}
	t.clear()
	t.said = fmt.Sprintf("%s is drawn; click to begin another", edit.Features[0].Title())
	t.board.Select(edit.Features[0].ID)
}

// homeless reports that the kind needs a scheme where none is chosen.
func (t *draw) homeless() bool { return t.spec.InScheme && t.board.Scheme == plan.AsItIs }

func (t *draw) refusal() string {
	return fmt.Sprintf("%ss belong to a scheme; choose or add a scheme first", t.spec.Label)
}

func (t *draw) Sketch() Sketch {
	s := Sketch{Kind: t.spec.Kind, Hot: -1, Gripped: true, Cue: t.cursor.cue, Hint: t.hint(), Side: t.side()}
	s.Points = t.reaching()
	s.Marks = t.points
	s.Closed = t.spec.Shape == plan.AreaShape && len(s.Points) >= 3
	switch manner := t.manner(); {
	case t.spec.Shape == plan.PointShape:
	case manner == Round && s.Side != nil && s.Side.Length() > 0:
		s.Side.Radius, s.Closed = true, true
		t.bow(&s, t.feature(s.Points))
	case manner == Curved && len(s.Points) > 2:
		t.bow(&s, t.feature(s.Points))
	}
	s.Length, s.Area = figures(s.Points, s.Closed)
	if s.Closed {
		s.Fault = fault(plan.Feature{Kind: t.spec.Kind, Geometry: orb.Polygon{closed(s.Points)}})
	}
	return s
}

// bow shows the course of a curve.
func (t *draw) bow(s *Sketch, f plan.Feature) {
	s.Curve = true
	s.Points = withoutEnd(f.Geometry, plan.Lines(f.Geometry)[0])
}

func (t *draw) hint() string {
	switch {
	case t.said != "":
		return t.said
	case t.homeless():
		return t.refusal()
	}
	return t.near.on(t.cursor.cue, t.next())
}

// next says what a press would do.
func (t *draw) next() string {
	label := strings.ToLower(t.spec.Label)
	switch {
	case t.spec.Shape == plan.PointShape:
		return fmt.Sprintf("Click where the %s stands", label)
	case len(t.points) == 0:
		return t.first(label)
	case t.manner() == Round:
		return "Click where the circle is to reach, or type its radius; Escape gives up"
	case t.cursor.closing:
		return "Click to close the outline"
	case t.closable():
		return "Click the next point; click the first, double-click or press Enter to finish; Backspace takes the last one back"
	case t.spec.Shape == plan.LineShape && len(t.points) >= 2:
		return "Click the next point; double-click or press Enter to finish; Backspace takes the last one back"
	}
	return "Click the next point; Backspace takes the last one back, Escape gives up"
}

// first says where a drawing begins, and how it may be drawn otherwise.
func (t *draw) first(label string) string {
	switch t.manner() {
	case Round:
		return fmt.Sprintf("Click the middle of the %s, or drag from there; Z for straight sides", label)
	case Curved:
		return fmt.Sprintf("Click where the %s begins; it is drawn as a smooth curve, Z for another way", label)
	}
	return fmt.Sprintf("Click where the %s begins", label)
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
