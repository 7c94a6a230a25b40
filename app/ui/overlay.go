package ui

import (
	"github.com/paulmach/orb"

	"runnel/app/tool"
	"runnel/app/view"
)

// overlay turns what a tool is about into what is drawn over the map; the path
// of the drop stays as it is.
func (w *Window) overlay(s tool.Sketch) view.Overlay {
	o := w.pane.overlay
	o = view.Overlay{
		Selected: w.board.Selected, Sketch: s.Points, Closed: s.Closed,
		Handles: s.Handles, Hot: s.Hot, Middles: s.Middles, Drop: o.Drop, DropStays: o.DropStays, Region: o.Region, Outline: o.Outline,
	}
	if w.held != selecting && len(s.Points) > 0 {
		loose := s.Points[len(s.Points)-1]
		o.Sketch, o.Rubber = s.Points[:len(s.Points)-1], &loose
	}
	if s.Snap != nil {
		o.Snap = new(orb.Point)
		*o.Snap = s.Snap.At
	}
	return o
}
