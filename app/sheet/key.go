package sheet

import (
	"image/color"
	"slices"

	"gonum.org/v1/plot/vg"
	plotdraw "gonum.org/v1/plot/vg/draw"
)

// A keyed is one line of a chart's key: what is drawn in a way, and a sample of it.
type keyed struct {
	name   string
	sample func(c plotdraw.Canvas, r vg.Rectangle)
}

// sampleWide is the width of a sample [points].
const sampleWide = 20

// A spot is where one line of a key lies: its sample at the left.
type spot struct {
	vg.Rectangle
	name string
}

// named leaves out of a key what has no name.
func named(key []keyed) []keyed {
	return slices.DeleteFunc(slices.Clone(key), func(k keyed) bool { return k.name == "" })
}

// spots lays a key in rows from the top of a canvas down.
func (l Look) spots(c plotdraw.Canvas, key []keyed) (all []spot, high vg.Length) {
	const apart = 14
	style := l.style(l.Small, l.Ink)
	x, y := c.Min.X, c.Max.Y
	for _, k := range key {
		name := fitted(k.name, style, c.Size().X-sampleWide-6)
		wide := sampleWide + 5 + style.Width(name)
		if x > c.Min.X && x+wide > c.Max.X {
			x, y = c.Min.X, y-leading(style)
		}
		all = append(all, spot{vg.Rectangle{Min: vg.Point{X: x, Y: y - leading(style)}, Max: vg.Point{X: x + wide, Y: y}}, name})
		x += wide + apart
	}
	if len(all) > 0 {
		high = c.Max.Y - y + leading(style) + 4
	}
	return all, high
}

// drawKey draws a key at the top of a canvas, and returns how high it is.
func (l Look) drawKey(c plotdraw.Canvas, key []keyed) vg.Length {
	all, high := l.spots(c, key)
	style := l.style(l.Small, l.Ink)
	for i, s := range all {
		middle := s.Max.Y - style.Font.Size*0.62
		half := style.Font.Size * 0.42
		key[i].sample(c, vg.Rectangle{Min: vg.Point{X: s.Min.X, Y: middle - half}, Max: vg.Point{X: s.Min.X + sampleWide, Y: middle + half}})
		c.FillText(style, vg.Point{X: s.Min.X + sampleWide + 5, Y: s.Max.Y}, s.name)
	}
	return high
}

// keyLine is the key of a line.
func keyLine(name string, s plotdraw.LineStyle) keyed {
	return keyed{name, func(c plotdraw.Canvas, r vg.Rectangle) {
		y := (r.Min.Y + r.Max.Y) / 2
		c.StrokeLine2(s, r.Min.X, y, r.Max.X, y)
	}}
}

// keyBar is the key of a bar with a hatch.
func (l Look) keyBar(name string, ink color.NRGBA, with int) keyed {
	return keyed{name, func(c plotdraw.Canvas, r vg.Rectangle) { l.paint(c, r, ink, with) }}
}

// keyPlain is the key of what is filled with one colour.
func keyPlain(name string, ink color.NRGBA) keyed {
	return keyed{name, func(c plotdraw.Canvas, r vg.Rectangle) { c.FillPolygon(ink, corners(r)) }}
}

// keyRange is the key of a whisker.
func (l Look) keyRange(name string) keyed {
	return keyed{name, func(c plotdraw.Canvas, r vg.Rectangle) {
		x := (r.Min.X + r.Max.X) / 2
		l.whisker(c, vg.Point{X: x, Y: r.Min.Y}, vg.Point{X: x, Y: r.Max.Y}, 4)
	}}
}

// A Mark is a level to hold a figure against. Name says it whole, as "Brim 84.35 m".
type Mark struct {
	Name string
	At   float64
	Kind MarkKind
}

// A MarkKind says what a level means.
type MarkKind uint8

// The kinds of marks.
const (
	Bed   MarkKind = iota // where water ends below
	Crest                 // from where it leaves as is meant
	Brim                  // above which it leaves anyhow
)

// mark returns how a mark is drawn.
func (l Look) mark(k MarkKind) plotdraw.LineStyle {
	switch k {
	case Crest:
		return plotdraw.LineStyle{Color: l.Soak, Width: 1.4, Dashes: []vg.Length{7, 3}}
	case Brim:
		return plotdraw.LineStyle{Color: l.Limit, Width: 1.4, Dashes: []vg.Length{7, 3, 2, 3}}
	}
	return plotdraw.LineStyle{Color: l.Muted, Width: 2}
}

// drawMarks draws marks in a frame, and under the bed the ground.
func drawMarks(f frame, marks []Mark) {
	for _, m := range marks {
		if m.Kind == Bed {
			ground := f.look.Muted
			ground.A = 45
			f.FillPolygon(ground, corners(f.box(f.across.low, f.across.high, f.up.low, m.At)))
		}
		f.level(m.At, f.look.mark(m.Kind))
	}
}

func (l Look) keyMarks(marks []Mark) (key []keyed) {
	for _, m := range marks {
		key = append(key, keyLine(m.Name, l.mark(m.Kind)))
	}
	return key
}

// levels are those of marks.
func levels(marks []Mark) (all []float64) {
	for _, m := range marks {
		all = append(all, m.At)
	}
	return all
}
