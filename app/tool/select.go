package tool

import (
	"slices"
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/app/site"
	"runnel/geo/plan"
)

// middleRoom is how long an edge is, in reaches of the pointer, before its
// middle can be pressed apart from its ends.
const middleRoom = 4

// selection is the tool that selects features and changes their shape.
type selection struct {
	doc   *site.Document
	board *Board
	near  nearby
	drag  *drag
	reach float64
	// hot is the marked point of the feature numbered hotOf, where it then stood.
	hot   spot
	hotAt orb.Point
	hotOf plan.ID
	// said is what the last press or key came to, shown until the next one.
	said string
}

// NewSelect returns the tool that selects features, moves them and their
// points, puts points in and takes them away.
func NewSelect(d *site.Document, b *Board) Tool {
	return &selection{doc: d, board: b, near: nearby{doc: d, board: b}}
}

func (t *selection) Down(p Pointer) {
	t.said, t.reach = "", p.Reach
	t.drag = &drag{doc: t.doc, near: t.near.index(), from: p.At}
	f, ok := t.selected()
	if !ok {
		return
	}
	if s, ok := handle(f.Geometry, p); ok {
		t.drag.take(onePoint, f, f.Geometry)
		t.drag.spot = s
		return
	}
	for _, m := range middles(f.Geometry, middleRoom*p.Reach) {
		if planar.Distance(m.at, p.At) <= p.Reach {
			t.drag.take(onePoint, f, inserted(f.Geometry, m.before, m.at))
			t.drag.spot, t.drag.what = m.before, "add a point to "+f.Title()
			return
		}
	}
	if hit, ok := t.drag.near.Hit(p.At, p.Reach); ok && hit.ID == f.ID {
		t.drag.take(whole, f, f.Geometry)
	}
}

// handle returns the point of g that p presses.
func handle(g orb.Geometry, p Pointer) (nearest spot, ok bool) {
	least := p.Reach
	for _, s := range spots(g) {
		if d := planar.Distance(at(g, s), p.At); d <= least {
			nearest, least, ok = s, d, true
		}
	}
	return nearest, ok
}

func (t *selection) Move(p Pointer) {
	t.reach = p.Reach
	if t.drag != nil {
		t.drag.move(p)
	}
}

func (t *selection) Up(p Pointer) {
	t.Move(p)
	d := t.drag
	if d == nil {
		return
	}
	t.drag = nil
	if !d.moved {
		t.click(d, p)
	}
	if d.hold == onePoint && d.stands {
		t.mark(d.id, d.spot)
	}
	if d.fault != "" {
		t.said = d.fault + "; it went back to the last shape that could stand"
	}
}

// mark makes a point of a feature the one that Delete takes away.
func (t *selection) mark(id plan.ID, s spot) {
	f, _ := t.doc.Site().Plan.Find(id)
	if t.hotOf = 0; slices.Contains(spots(f.Geometry), s) {
		t.hot, t.hotOf, t.hotAt = s, id, at(f.Geometry, s)
	}
}

// click is a press that did not become a drag.
func (t *selection) click(d *drag, p Pointer) {
	if d.hold == onePoint {
		if !orb.Equal(d.base, d.original) {
			d.put(d.base)
		}
		return
	}
	t.hotOf = 0
	hit, _ := d.near.Hit(p.At, p.Reach)
	t.board.Select(hit.ID)
}

func (t *selection) Key(k Key) bool {
	switch k {
	case Escape:
		return t.escape()
	case Delete, Backspace:
		return t.remove()
	}
	return false
}

// escape gives up the innermost of drag, marked point and selection.
func (t *selection) escape() bool {
	_, marked := t.hotSpot()
	switch {
	case t.drag != nil:
		t.Cancel()
	case marked:
		t.hotOf = 0
	case t.board.Selected != 0:
		t.board.Select(0)
	default:
		return false
	}
	t.said = ""
	return true
}

// remove takes away the marked point, or the feature where none is marked.
func (t *selection) remove() bool {
	f, ok := t.selected()
	if !ok || t.drag != nil {
		return t.drag != nil
	}
	hot, marked := t.hotSpot()
	if !marked || plan.SpecOf(f.Kind).Shape == plan.PointShape {
		gone := t.do(&site.Remove{IDs: []plan.ID{f.ID}})
		t.board.Select(0)
		if gone {
			t.said = f.Title() + " is removed; Ctrl+Z brings it back"
		}
		return true
	}
	shape, ok := without(f.Geometry, hot)
	if !ok {
		t.said = "A line keeps two points and an outline three; press Escape, then Delete to remove the whole"
		return true
	}
	if t.do(&site.Replace{After: f.At(shape), What: "remove a point of " + f.Title()}) {
		t.hotOf = 0
	}
	return true
}

func (t *selection) do(e site.Edit) bool {
	t.said = ""
	if err := t.doc.Do(e); err != nil {
		t.said = sentence(reason(err))
	}
	return t.said == ""
}

// Cancel gives up a drag and puts the shape back as it was.
func (t *selection) Cancel() {
	if t.drag != nil {
		t.drag.giveBack()
		t.drag = nil
	}
}

// selected returns the selected feature if it is shown.
func (t *selection) selected() (plan.Feature, bool) {
	f, ok := t.doc.Site().Plan.Find(t.board.Selected)
	return f, ok && (f.Scheme == plan.AsItIs || f.Scheme == t.board.Scheme)
}

// hotSpot returns the marked point if it still is one of the selected feature's.
func (t *selection) hotSpot() (spot, bool) {
	f, ok := t.selected()
	if !ok || f.ID != t.hotOf {
		return spot{}, false
	}
	ok = slices.Contains(spots(f.Geometry), t.hot) && at(f.Geometry, t.hot) == t.hotAt
	return t.hot, ok
}

func (t *selection) Sketch() Sketch {
	s := Sketch{Hot: -1, Hint: t.hint()}
	f, ok := t.selected()
	if !ok {
		return s
	}
	hot, marked := t.hotSpot()
	for i, spot := range spots(f.Geometry) {
		s.Handles = append(s.Handles, at(f.Geometry, spot))
		if marked && spot == hot {
			s.Hot = i
		}
	}
	for _, m := range middles(f.Geometry, middleRoom*t.reach) {
		s.Middles = append(s.Middles, m.at)
	}
	if d := t.drag; d != nil {
		s.Gripped = d.hold != nothing
		d.show(&s, f.Kind)
	}
	return s
}

// show puts the wanted shape of a drag into a sketch.
func (d *drag) show(s *Sketch, kind plan.Kind) {
	if !d.moved {
		return
	}
	s.Kind, s.Snap, s.Fault = kind, d.snap, d.fault
	s.Points = openEnd(d.wanted, plan.Lines(d.wanted)[d.spot.line])
	s.Closed = plan.SpecOf(kind).Shape == plan.AreaShape
	s.Length, s.Area = figures(s.Points, s.Closed)
}

func (t *selection) hint() string {
	f, ok := t.selected()
	_, marked := t.hotSpot()
	switch {
	case t.drag != nil && t.drag.fault != "":
		return t.drag.fault
	case t.drag != nil && t.drag.moved:
		return t.near.on(t.drag.snap, "Let go to leave it here; Shift keeps to steps of 45°, Ctrl lets go of snapping, Escape gives it back")
	case t.said != "":
		return t.said
	case !ok:
		return "Click something to select it"
	case plan.SpecOf(f.Kind).Shape == plan.PointShape:
		return "Drag the " + strings.ToLower(f.Kind.String()) + " to move it; Delete removes it"
	case marked:
		return "Drag the marked point to move it; Delete takes it away"
	}
	return "Drag it or one of its points; press between two points to put one in; Delete removes it"
}
