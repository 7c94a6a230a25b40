package tool

import (
	"fmt"
	"strings"

	"runnel/geo/plan"
)

func (t *selection) Sketch() Sketch {
	s := Sketch{Hot: -1, Hint: t.hint()}
	chosen := t.board.Chosen(t.doc.Site().Plan)
	box, handle := frame(chosen, t.reach)
	if s.Turn = handle; len(chosen) > 1 {
		s.Frame = box
	}
	if len(chosen) == 1 {
		t.showPoints(&s, chosen[0])
	}
	if d := t.drag; d != nil {
		s.Gripped = d.hold != nothing
		d.show(&s)
	}
	return s
}

func (t *selection) showPoints(s *Sketch, f plan.Feature) {
	hot, marked := t.hotSpot()
	for i, line := range f.Points() {
		for j, p := range line {
			if marked && hot == (spot{i, j}) {
				s.Hot = len(s.Handles)
			}
			s.Handles = append(s.Handles, p)
		}
	}
	for _, m := range middles(f, middleRoom*t.reach) {
		s.Middles = append(s.Middles, m.at)
	}
}

// show puts what a drag wants into a sketch.
func (d *drag) show(s *Sketch) {
	switch {
	case !d.moved:
		return
	case d.hold == boxing:
		s.Box = &d.box
		return
	case len(d.wanted) != 1:
		s.Fault, s.Side = d.fault, d.side
		return
	}
	f := d.wanted[0]
	s.Kind, s.Cue, s.Fault, s.Side = f.Kind, d.cue, d.fault, d.side
	s.Points = withoutEnd(f.Geometry, plan.Lines(f.Geometry)[d.spot.line])
	s.Marks, s.Curve = f.Points()[d.spot.line], f.Curved() && d.spot.line == 0
	s.Closed = plan.SpecOf(f.Kind).Shape == plan.AreaShape
	s.Length, s.Area = figures(s.Points, s.Closed)
}

func (t *selection) hint() string {
	f, ok := t.selected()
	_, marked := t.hotSpot()
	switch {
	case t.drag != nil && t.drag.fault != "":
		return t.drag.fault
	case t.drag != nil && t.drag.moved:
		return t.drag.hint()
	case t.said != "":
		return t.said
	case len(t.board.All()) > 1:
		return "Drag them to move them; the round handle rotates; Shift and a press adds one or takes it away"
	case !ok:
		return "Click something to select it; hold Shift and drag for a box"
	case plan.SpecOf(f.Kind).Shape == plan.PointShape:
		return fmt.Sprintf("Drag the %s to move it; Delete removes it", strings.ToLower(f.Kind.String()))
	case marked:
		return "Drag the marked point to move it; Delete takes it away"
	}
	return "Drag it or one of its points; press between two to put one in; Delete removes it"
}

// hint says what can be done while the pointer holds something.
func (d *drag) hint() string {
	switch d.hold {
	case boxing:
		return "Let go to select what lies wholly in the box"
	case turning:
		return "Let go to leave it here; Shift keeps to steps of 15°, Escape gives it back"
	}
	return d.near.on(d.cue, "Let go to leave it here; Shift keeps to steps of 45°, Ctrl lets go of snapping, Escape gives it back")
}
