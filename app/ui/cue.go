package ui

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"runnel/app/tool"
	"runnel/app/view"
	"runnel/geo/plan"
)

// cueMarks are the marks of what the pointer is drawn to.
var cueMarks = map[tool.Pull]view.CueMark{
	tool.Home: view.CloseMark, tool.OnPoint: view.PointMark, tool.Crossing: view.CrossMark, tool.Foot: view.FootMark,
	tool.OnEdge: view.EdgeMark, tool.Steps: view.StepsMark, tool.Square: view.CornerMark, tool.SquareTo: view.CornerMark,
	tool.Onward: view.OnwardMark, tool.AlongContour: view.LevelMark, tool.AcrossContour: view.DescentMark,
	tool.Stepped: view.LengthMark, tool.OnGrid: view.GridMark,
}

// cue is what is shown where the pointer is drawn to something, with the length,
// the bearing and the grade of the side that leads there.
func (w *Window) cue(s tool.Sketch) view.Cue {
	switch {
	case len(s.Answer) > 0:
		return lines(s.Answered, s.Answer...)
	case s.Done && len(s.Points) > 1:
		return lines(s.Points[len(s.Points)-1], w.tapeWords(s)...)
	case !w.pane.inside:
		s.Cue = tool.Cue{} // which is the pointer's
	}
	c := view.Cue{Mark: cueMarks[s.Cue.Pull], At: s.Cue.At, From: s.Cue.From}
	if words := w.cueWords(s.Cue); words != "" {
		c.Words = append(c.Words, lettered(words))
	}
	if s.Side != nil && s.Side.Length() > 0 {
		c.At = s.Side.To
		c.Words = append(c.Words, lettered(w.sideWords(*s.Side)))
		if w.held == taping && len(s.Marks) > 1 {
			c.Words = append(c.Words, lettered(trf("%s in all", w.units.length(s.Length))))
		}
	}
	return c
}

// lines are words beside a place that the pointer is not drawn to.
func lines(at orb.Point, words ...string) view.Cue {
	c := view.Cue{At: at}
	for _, line := range words {
		c.Words = append(c.Words, lettered(line))
	}
	return c
}

// tapeWords gives what was measured, a line each.
func (w *Window) tapeWords(s tool.Sketch) []string {
	if s.Closed {
		return []string{w.units.area(s.Area), trf("%s round it", w.units.length(s.Length))}
	}
	words := []string{w.units.length(s.Length)}
	if f := s.Fall; f != nil && f.Drop < 0 {
		words = append(words, trf("rises %s, %s in the mean", w.units.height(-f.Drop), percent(-f.Mean)))
	} else if f != nil {
		words = append(words, trf("falls %s, %s in the mean", w.units.height(f.Drop), percent(f.Mean)))
	}
	return words
}

// cueWords says in a word or two what the pointer is drawn to.
func (w *Window) cueWords(c tool.Cue) string {
	switch c.Pull {
	case tool.Home:
		return tr("closes the outline")
	case tool.OnPoint:
		return trf("a point of %s", w.titleOf(c.ID))
	case tool.Crossing:
		return trf("where %s and %s cross", w.titleOf(c.ID), w.titleOf(c.Other))
	case tool.Foot, tool.SquareTo:
		return trf("square to %s", w.titleOf(c.ID))
	case tool.OnEdge:
		return trf("on %s", w.titleOf(c.ID))
	case tool.Steps:
		return tr("steps of 45°")
	case tool.Square:
		return tr("square to the last side")
	case tool.Onward:
		return tr("straight on")
	case tool.AlongContour:
		return tr("along the contour")
	case tool.AcrossContour:
		return tr("across the contour")
	case tool.Stepped:
		return trf("steps of %s", w.units.length(w.board.Step))
	case tool.OnGrid:
		return trf("grid of %s", w.units.length(w.board.Grid))
	}
	return ""
}

// titleOf is what a feature is called.
func (w *Window) titleOf(id plan.ID) string {
	f, _ := w.doc.Site().Plan.Find(id)
	return titleOf(f)
}

// sideWords gives a side's length, bearing and grade.
func (w *Window) sideWords(s tool.Side) string {
	if s.Radius {
		return trf("radius %s", w.units.length(s.Length()))
	}
	words := trf("%s at %s", w.units.length(s.Length()), degrees(s.Bearing()))
	switch {
	case math.IsNaN(s.Grade):
		return words
	case s.Grade < 0:
		return trf("%s, falls %s", words, percent(-s.Grade))
	}
	return trf("%s, rises %s", words, percent(s.Grade))
}

// degrees writes a bearing.
func degrees(v float64) string { return decimal(v, 1) + "°" }

// percent writes a grade [m/m].
func percent(v float64) string { return with(decimal(100*v, 1), "%") }

// fallWords says how the ground falls along what is measured; empty for nothing.
func (u units) fallWords(f *tool.Fall) string {
	if f == nil {
		return ""
	}
	format := tr("falls %s, %s in the mean, %s at the steepest over %s")
	if f.Drop < 0 {
		format = tr("rises %s, %s in the mean, %s at the steepest over %s")
	}
	return fmt.Sprintf(format, u.height(math.Abs(f.Drop)), percent(math.Abs(f.Mean)), percent(f.Steepest), u.length(f.Stretch))
}
