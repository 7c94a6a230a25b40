package ui

import (
	"slices"

	"runnel/app/tool"
	"runnel/app/view"
)

// overlay turns what a tool is about into what is drawn over the map; the path
// of the drop stays as it is.
func (w *Window) overlay(s tool.Sketch) view.Overlay {
	o := w.pane.overlay
	o = view.Overlay{
		Selected: w.board.Selected, Also: w.board.Others, Sketch: s.Points, Marks: s.Marks, Cue: w.cue(s), Frame: s.Frame, Turn: s.Turn, Box: s.Box, Closed: s.Closed,
		Handles: s.Handles, Hot: s.Hot, Middles: s.Middles, Drop: o.Drop, DropStays: o.DropStays, Region: o.Region, Outline: o.Outline,
		Station: o.Station, Section: o.Section, Pins: slices.Concat(w.inquiry.pins(), w.channels.pins(), w.year.pins()),
	}
	if w.held != selecting && !s.Curve && len(s.Points) > len(s.Marks) {
		loose := s.Points[len(s.Points)-1]
		o.Sketch, o.Rubber = s.Points[:len(s.Points)-1], &loose
	}
	if w.pane.hand.dragging && len(o.Sketch) > 0 {
		o.Selected, o.Also = 0, nil // the sketch stands for them
	}
	return o
}
