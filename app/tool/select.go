package tool

import (
	"fmt"
	"slices"

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
	t.drag = &drag{doc: t.doc, near: &t.near, from: p.At, adds: p.Shift}
	chosen := t.board.Chosen(t.doc.Site().Plan)
	hit, ok := t.near.index().Hit(p.At, p.Reach)
	switch {
	case t.holdTurn(chosen, p), len(chosen) == 1 && t.holdPoint(chosen[0], p):
	case ok && slices.Contains(t.board.All(), hit.ID):
		t.drag.take(whole, chosen...)
	case p.Shift:
		t.drag.hold = boxing
	}
}

// holdTurn takes hold of the handle that turns what is selected.
func (t *selection) holdTurn(chosen []plan.Feature, p Pointer) bool {
	_, handle := frame(chosen, p.Reach)
	if handle == nil || planar.Distance(*handle, p.At) > p.Reach {
		return false
	}
	t.drag.take(turning, chosen...)
	return true
}

// holdPoint takes hold of a point of the selected feature, or puts one in.
func (t *selection) holdPoint(f plan.Feature, p Pointer) bool {
	if s, ok := handle(f, p); ok {
		t.drag.takePoint(f, f, s)
		return true
	}
	for _, m := range middles(f, middleRoom*p.Reach) {
		if planar.Distance(m.at, p.At) <= p.Reach {
			t.drag.takePoint(f, inserted(f, m.before, m.at), m.before)
			t.drag.what = fmt.Sprintf("add a point to %s", f.Title())
			return true
		}
	}
	return false
}

// turnRoom is how far above what is selected its turning handle stands, in
// reaches of the pointer.
const turnRoom = 4

// frame returns the box round features and the handle that turns them; none for
// what is a point only.
func frame(features []plan.Feature, reach float64) (box *orb.Bound, handle *orb.Point) {
	if len(features) == 0 {
		return nil, nil
	}
	b := boundOf(features)
	if b.Min == b.Max {
		return nil, nil
	}
	return &b, &orb.Point{b.Center()[0], b.Max[1] + turnRoom*reach}
}

// handle returns the point of f that p presses.
func handle(f plan.Feature, p Pointer) (nearest spot, ok bool) {
	least := p.Reach
	for i, line := range f.Points() {
		for j, q := range line {
			if d := planar.Distance(q, p.At); d <= least {
				nearest, least, ok = spot{i, j}, d, true
			}
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
	switch {
	case !d.moved:
		t.click(d, p)
	case d.hold == boxing:
		t.takeBox(d.box)
	case d.hold == whole || d.hold == turning:
		t.said = Shared(t.doc, t.board)
	}
	if d.hold == onePoint && d.stands {
		t.mark(d.base.ID, d.spot)
	}
	if d.fault != "" {
		t.said = fmt.Sprintf("%s; it went back to the last shape that could stand", d.fault)
	}
}

// takeBox adds what lies in a box to what is selected.
func (t *selection) takeBox(box orb.Bound) {
	s := t.doc.Site()
	found := within(own(s.Plan, t.board.Scheme), box)
	if len(found) == 0 && len(within(s.Plan.In(t.board.Scheme), box)) > 0 {
		t.said = "A box takes the scheme's own things; Shift and a press adds one of the site"
	}
	t.board.Select(append(t.board.All(), found...)...)
}

// mark makes a point of a feature the one that Delete takes away.
func (t *selection) mark(id plan.ID, s spot) {
	f, ok := t.doc.Site().Plan.Find(id)
	if t.hotOf = 0; ok && slices.Contains(spots(f), s) {
		t.hot, t.hotOf, t.hotAt = s, id, at(f, s)
	}
}

// click is a press that did not become a drag.
func (t *selection) click(d *drag, p Pointer) {
	if d.hold == onePoint {
		if !d.stands {
			d.put([]plan.Feature{d.base})
		}
		return
	}
	t.hotOf = 0
	hit, ok := t.near.index().Hit(p.At, p.Reach)
	switch {
	case d.hold == turning:
	case !d.adds:
		t.board.Select(hit.ID)
	case ok:
		t.board.Toggle(hit.ID)
	}
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
		t.board.Select()
	default:
		return false
	}
	t.said = ""
	return true
}

// remove takes away the marked point, or what is selected where none is marked.
func (t *selection) remove() bool {
	chosen := t.board.Chosen(t.doc.Site().Plan)
	if len(chosen) == 0 || t.drag != nil {
		return t.drag != nil
	}
	hot, marked := t.hotSpot()
	if !marked || plan.SpecOf(chosen[0].Kind).Shape == plan.PointShape {
		t.removeAll(chosen)
		return true
	}
	f, ok := without(chosen[0], hot)
	if !ok {
		t.said = "A line keeps two points and an outline three; Escape, then Delete removes the whole"
		return true
	}
	if t.do(&site.Replace{After: f, What: fmt.Sprintf("remove a point of %s", f.Title())}) {
		t.hotOf = 0
	}
	return true
}

func (t *selection) removeAll(chosen []plan.Feature) { t.said = removal(t.doc, t.board, chosen) }

// removal takes away what is selected and says how it comes back.
func removal(d *site.Document, b *Board, chosen []plan.Feature) string {
	switch err := Remove(d, b); {
	case err != nil:
		return sentence(reason(err))
	case len(chosen) > 1:
		return fmt.Sprintf("%s are removed; Ctrl+Z brings them back", named(chosen))
	}
	return fmt.Sprintf("%s is removed; Ctrl+Z brings it back", named(chosen))
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

// selected returns the selected feature if it is the only one, and shown.
func (t *selection) selected() (plan.Feature, bool) {
	if chosen := t.board.Chosen(t.doc.Site().Plan); len(chosen) == 1 {
		return chosen[0], true
	}
	return plan.Feature{}, false
}

// hotSpot returns the marked point if it still is one of the selected feature's.
func (t *selection) hotSpot() (spot, bool) {
	f, ok := t.selected()
	if !ok || f.ID != t.hotOf {
		return spot{}, false
	}
	ok = slices.Contains(spots(f), t.hot) && at(f, t.hot) == t.hotAt
	return t.hot, ok
}
