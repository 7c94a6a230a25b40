package sheet

import (
	"strconv"
	"time"

	"gonum.org/v1/plot/vg"
	plotdraw "gonum.org/v1/plot/vg/draw"
)

// drawYear sets a dry or a wet year off: by its ground, and by a sign at its head that
// tells the two apart without colour.
func (l Look) drawYear(c plotdraw.Canvas, r vg.Rectangle, k YearKind) {
	ink, shape := l.Sun, plotdraw.GlyphDrawer(plotdraw.RingGlyph{})
	switch k {
	case Usual:
		return
	case Wet:
		ink, shape = l.Rain, plotdraw.CircleGlyph{}
	}
	c.FillPolygon(faint(ink, 0.2), corners(r))
	radius := min(3.6, r.Size().X*0.4, r.Size().Y*0.4)
	at := vg.Point{X: (r.Min.X + r.Max.X) / 2, Y: r.Max.Y - radius - 1}
	c.DrawGlyphNoClip(plotdraw.GlyphStyle{Color: ink, Radius: radius, Shape: shape}, at)
}

func (l Look) keyYear(name string, k YearKind) keyed {
	return keyed{name, func(c plotdraw.Canvas, r vg.Rectangle) { l.drawYear(c, r, k) }}
}

// yearMarks writes the years under their bars, as many as there is room for.
func (l Look) yearMarks(years []YearFigures) func(vg.Length) []mark {
	return func(wide vg.Length) (all []mark) {
		style := l.style(l.Small, l.Ink)
		every := sparse(style.Width("2000")+6, wide/vg.Length(len(years)))
		for i, y := range years {
			m := mark{at: float64(i), middle: float64(i) + 0.5}
			if i%every == 0 {
				m.label = strconv.Itoa(y.Year)
			}
			all = append(all, m)
		}
		return all
	}
}

// twelve writes the months under their bars, by their first letters where there is no
// room for more.
func (l Look) twelve(wide vg.Length) (all []mark) {
	const months = 12
	style, widest := l.style(l.Small, l.Ink), vg.Length(0)
	for m := time.January; m <= time.December; m++ {
		widest = max(widest, style.Width(l.month(m)))
	}
	for m := time.January; m <= time.December; m++ {
		name := l.month(m)
		if widest+4 > wide/months {
			name = string([]rune(name)[:1])
		}
		all = append(all, mark{float64(m - 1), float64(m) - 0.5, name})
	}
	return all
}
