package sheet

import (
	"image"

	plotdraw "gonum.org/v1/plot/vg/draw"
)

// A Storm is how a storm goes through one pool: rain from the top down, what comes and
// what leaves, and the level with its crest and its brim.
type Storm struct {
	Title string
	// Step is the time between figures [h]. Rain is that of each step; the rest is at its
	// end, NaN where it is not known.
	Step                         float64
	Rain, Inflow, Outflow, Level []float64
	Marks                        []Mark
	// The axes name their figures with their units, and the names what is drawn.
	TimeAxis, RainAxis, FlowAxis, LevelAxis string
	InflowName, OutflowName, LevelName      string
	Notes                                   []string
	// None is said where there is no figure.
	None string
}

// Draw draws the chart on an image of w by h pixels.
func (s Storm) Draw(w, h int, l Look) *image.RGBA {
	n := max(len(s.Rain), len(s.Inflow), len(s.Outflow), len(s.Level))
	if n == 0 || !(s.Step > 0) {
		return l.nothing(w, h, s.Title, s.None)
	}
	x := make([]float64, n)
	for i := range x {
		x[i] = float64(i+1) * s.Step
	}
	in, out, level := plotdraw.LineStyle{Color: l.Rain, Width: 1.8}, plotdraw.LineStyle{Color: l.Sun, Width: 1.8, Dashes: dashes[1]},
		plotdraw.LineStyle{Color: l.Water, Width: 1.8}
	down := fromNought(s.Rain)
	down.hangs = true
	across := span{high: float64(n) * s.Step}
	return stack{
		look: l, title: s.Title, notes: s.Notes, across: across, caption: s.TimeAxis, marks: l.numbered(across),
		key: append([]keyed{keyLine(s.InflowName, in), keyLine(s.OutflowName, out), keyLine(s.LevelName, level)}, l.keyMarks(s.Marks)...),
		panels: []panel{
			{s.RainAxis, 0.24, down, func(f frame) { f.bars(s.Rain, s.Step, l.Rain) }},
			{s.FlowAxis, 0.38, fromNought(s.Inflow, s.Outflow), func(f frame) {
				f.area(x, make([]float64, n), s.Inflow, faint(l.Rain, 0.2))
				f.line(x, s.Inflow, in)
				f.line(x, s.Outflow, out)
			}},
			{s.LevelAxis, 0.38, spanOf(s.Level, levels(s.Marks)), func(f frame) {
				drawMarks(f, s.Marks)
				f.line(x, s.Level, level)
			}},
		},
	}.draw(w, h)
}
