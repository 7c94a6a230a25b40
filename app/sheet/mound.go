package sheet

import (
	"image"
	"time"

	"gonum.org/v1/plot/vg"
	plotdraw "gonum.org/v1/plot/vg/draw"
)

// A Place is where a rise of the water table is looked at.
type Place struct {
	// Name says what it is with its limit, as "Well, to rise 0.50 m at most".
	Name string
	Rise []float64
	// Limit is the most that it may rise; NaN for none.
	Limit float64
}

// Mound is how the water table rises at places over time.
type Mound struct {
	Title string
	// At are the times [days since First]; without a first day Across names the axis.
	At     []float64
	First  time.Time
	Across string
	// Up names the rise with its unit.
	Up     string
	Places []Place
	// LimitName says of a thin line that it is a limit.
	LimitName string
	Notes     []string
	// None is said where there is no place.
	None string
}

// Draw draws the chart on an image of w by h pixels.
func (m Mound) Draw(w, h int, l Look) *image.RGBA {
	if len(m.At) < 2 || len(m.Places) == 0 {
		return l.nothing(w, h, m.Title, m.None)
	}
	across := span{low: m.At[0], high: m.At[len(m.At)-1]}
	s := stack{look: l, title: m.Title, notes: m.Notes, across: across, caption: m.Across, marks: l.numbered(across)}
	if !m.First.IsZero() {
		d := dates{look: l, first: midnight(m.First), days: int(across.high + 0.5)}
		s.caption, s.marks = d.caption(), d.marks
	}
	for i, p := range m.Places {
		s.key = append(s.key, keyed{p.Name, func(c plotdraw.Canvas, r vg.Rectangle) {
			y := (r.Min.Y + r.Max.Y) / 2
			c.StrokeLine2(l.place(i), r.Min.X, y, r.Max.X, y)
		}})
	}
	s.key = append(s.key, keyLine(m.LimitName, plotdraw.LineStyle{Color: l.Ink, Width: 1, Dashes: []vg.Length{2, 2}}))
	s.panels = []panel{{m.Up, 1, m.span(), func(f frame) {
		for i, p := range m.Places {
			f.line(m.At, p.Rise, l.place(i))
		}
		m.limits(f)
	}}}
	return s.draw(w, h)
}

// place returns how the curve of a place is drawn.
func (l Look) place(i int) plotdraw.LineStyle {
	return plotdraw.LineStyle{Color: l.series(i + 1), Width: 1.8, Dashes: dashes[i%len(dashes)]}
}

// span holds the rises, and those limits that do not flatten them.
func (m Mound) span() span {
	var rises []float64
	for _, p := range m.Places {
		rises = append(rises, p.Rise...)
	}
	const flat = 2.5
	s := fromNought(rises)
	for _, p := range m.Places {
		if p.Limit <= flat*s.high {
			rises = append(rises, p.Limit)
		}
	}
	return fromNought(rises)
}

// limits draws the limits that lie on the axis. One that lies above it is an arrow at the
// head, each place's beside the last.
func (m Mound) limits(f frame) {
	for i, p := range m.Places {
		style := plotdraw.LineStyle{Color: f.look.series(i + 1), Width: 1, Dashes: []vg.Length{2, 2}}
		if !(p.Limit > f.up.high) {
			f.level(p.Limit, style) // NaN lies nowhere
			continue
		}
		const radius = 3.6
		at := vg.Point{X: f.Min.X + 10 + 12*vg.Length(i), Y: f.Max.Y - radius - 2}
		f.DrawGlyphNoClip(plotdraw.GlyphStyle{Color: style.Color, Radius: radius, Shape: plotdraw.PyramidGlyph{}}, at)
	}
}
