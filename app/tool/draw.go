package tool

import (
	"fmt"
	"slices"

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
	t.pressed, t.double = true, p.Double
	if t.again() {
		return
	}
	t.said = ""
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

// again reports the second press of a double click whose first has finished the
// drawing.
func (t *draw) again() bool { return t.double && len(t.points) == 0 }

// put takes the place under the pointer.
func (t *draw) put() {
	switch {
	case t.again():
	case t.homeless() && len(t.points) == 0:
		t.said = t.refusal()
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
		if len(t.points) == 2 && spans(t.spec.Kind) && t.manner() == Straight {
			t.finish()
		}
	}
}

// spans reports a kind that leads from one side of something to the other, so that
// two points are all of it.
func spans(k plan.Kind) bool { return k == plan.Sill || k == plan.Culvert }

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
		return k == Delete && t.remove()
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

// remove takes away what is selected, which is what was just drawn.
func (t *draw) remove() bool {
	chosen := t.board.Chosen(t.doc.Site().Plan)
	if len(chosen) == 0 {
		return false
	}
	t.said = removal(t.doc, t.board, chosen)
	return true
}

// Cancel drops what was drawn so far; the plan has not seen it yet.
func (t *draw) Cancel() {
	t.clear()
	t.pressed, t.said = false, ""
}

// Leave implements Leaver.
func (t *draw) Leave() string {
	count := len(t.points)
	if count == 0 {
		return ""
	}
	if t.manner() != Round {
		t.finish()
	}
	if len(t.points) == 0 { // then it stands
		drawn, _ := t.doc.Site().Plan.Find(t.board.Selected)
		return fmt.Sprintf("%s is drawn; Ctrl+Z takes it away", drawn.Title())
	}
	t.Cancel()
	if count == 1 {
		return fmt.Sprintf("%s: dropped, for it had one point only", t.spec.Label)
	}
	return fmt.Sprintf("%s: dropped, for it could not stand as it was", t.spec.Label)
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
