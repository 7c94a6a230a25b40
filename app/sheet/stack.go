package sheet

import (
	"image"
	"math"
	"unicode/utf8"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	plotdraw "gonum.org/v1/plot/vg/draw"
)

// A stack is panels over one another that share the axis across. What the panels' lines
// and bars mean, and what there is to say of them, stands over and under them in as many
// rows as the width calls for, so that nothing lies on the figures.
type stack struct {
	look   Look
	title  string
	key    []keyed
	notes  []string
	across span
	// caption names the axis across, marks are where it is marked.
	caption string
	marks   func(wide vg.Length) []mark
	panels  []panel
}

// A panel is one figure with its own axis up.
type panel struct {
	// caption names the figure with its unit.
	caption string
	// share is the panel's part of the height, in no unit.
	share float64
	up    span
	draw  func(f frame)
}

// A mark is a place on the axis across, and where its label stands.
type mark struct {
	at, middle float64
	label      string
}

// The measures of a stack [points].
const (
	edge       = 6
	tickLong   = 4
	leastPanel = 14
)

// draw draws the stack on an image of w by h pixels.
func (s stack) draw(w, h int) *image.RGBA {
	paper, c := s.look.canvas(w, h)
	if size := c.Size(); size.X > 8*edge && size.Y > 8*edge {
		c = plotdraw.Crop(c, edge, -2*edge, edge, -edge)
		c.Max.Y -= s.head(c)
		c.Max.Y -= s.look.drawKey(c, named(s.key))
		c.Min.Y += s.foot(c)
		s.body(c)
	}
	return paper
}

// head writes the title, and returns how high it is.
func (s stack) head(c plotdraw.Canvas) vg.Length {
	if s.title == "" {
		return 0
	}
	style := s.look.bold(s.look.Text)
	style.XAlign = plotdraw.XCenter
	y := c.Max.Y
	for _, line := range broken(s.title, style, c.Size().X) {
		c.FillText(style, vg.Point{X: c.Center().X, Y: y}, fitted(line, style, c.Size().X))
		y -= leading(style)
	}
	return c.Max.Y - y + 2
}

// foot writes the notes and the caption of the axis across, and returns how high they are.
func (s stack) foot(c plotdraw.Canvas) vg.Length {
	style := s.look.style(s.look.Small, s.look.Muted)
	var lines []string
	for _, n := range s.notes {
		lines = append(lines, broken(n, style, c.Size().X)...)
	}
	most := int(c.Size().Y / 3 / leading(style))
	lines = lines[:max(0, min(len(lines), most))]
	y := c.Min.Y + leading(style)*vg.Length(len(lines))
	high := y - c.Min.Y
	for _, line := range lines {
		c.FillText(style, vg.Point{X: c.Min.X, Y: y}, fitted(line, style, c.Size().X))
		y -= leading(style)
	}
	if s.caption == "" {
		return high
	}
	style.XAlign = plotdraw.XCenter
	caption := broken(s.caption, style, c.Size().X)
	for i, line := range caption {
		up := leading(style) * vg.Length(len(caption)-i)
		c.FillText(style, vg.Point{X: c.Center().X, Y: c.Min.Y + high + up}, fitted(line, style, c.Size().X))
	}
	if len(lines) > 0 {
		high += 2
	}
	return high + leading(style)*vg.Length(len(caption)) + 2
}

// body draws the panels from the top down.
func (s stack) body(c plotdraw.Canvas) {
	small := s.look.style(s.look.Small, s.look.Muted)
	var captions [][]string
	for _, p := range s.panels {
		captions = append(captions, broken(p.caption, small, c.Size().X))
	}
	frames, left := s.frames(c, captions)
	marks := s.marks(c.Size().X - left)
	for i, p := range s.panels {
		f := frames[i]
		f.Min.X += left
		high := f.Max.Y + s.gap() + leading(small)*vg.Length(len(captions[i]))
		for k, line := range captions[i] {
			c.FillText(small, vg.Point{X: c.Min.X, Y: high - leading(small)*vg.Length(k)}, fitted(line, small, c.Size().X))
		}
		s.grid(f, marks)
		p.draw(f)
		s.axes(f)
		if i == len(s.panels)-1 {
			s.label(f, marks)
		}
	}
}

// gap is the room over and under a panel, where the labels at the ends of its axis reach.
func (s stack) gap() vg.Length { return vg.Length(s.look.Small)*0.6 + 3 }

// frames shares a canvas out to the panels under their captions, and returns how much of
// its left side the labels of the axes up take.
func (s stack) frames(c plotdraw.Canvas, captions [][]string) (frames []frame, left vg.Length) {
	line, shares := leading(s.look.style(s.look.Small, s.look.Muted)), 0.0
	free := c.Size().Y - line - tickLong + s.gap() // there is none under the last
	for i, p := range s.panels {
		free -= line*vg.Length(len(captions[i])) + 2*s.gap()
		shares += p.share
	}
	y := c.Max.Y
	for i, p := range s.panels {
		f := frame{Canvas: c, look: s.look, across: s.across, up: p.up}
		f.Max.Y = y - line*vg.Length(len(captions[i])) - s.gap()
		f.Min.Y = f.Max.Y - max(leastPanel, free*vg.Length(p.share/shares))
		y = f.Min.Y - s.gap()
		frames, left = append(frames, f), max(left, s.widest(f))
	}
	return frames, left
}

// ticks marks an axis up as closely as its height allows.
func (s stack) ticks(f frame) []float64 {
	step, _ := s.step(f)
	var at []float64
	for i := int(math.Ceil(f.up.low/step - 1e-9)); float64(i)*step <= f.up.high+step*1e-9; i++ {
		at = append(at, float64(i)*step)
	}
	return at
}

func (s stack) step(f frame) (step float64, places int) {
	about := float64(f.Size().Y)/(s.look.Small*1.6) - 1
	return stepOf(f.up.high-f.up.low, max(1, min(usualMarks, about)))
}

// widest is how much room the labels of an axis up take.
func (s stack) widest(f frame) vg.Length {
	style, wide := s.look.style(s.look.Small, s.look.Ink), vg.Length(0)
	_, places := s.step(f)
	for _, v := range s.ticks(f) {
		wide = max(wide, style.Width(s.look.number(v+0, places)))
	}
	return wide + tickLong + 4
}

func (s stack) grid(f frame, marks []mark) {
	style := plotdraw.LineStyle{Color: s.look.Grid, Width: 0.8}
	for _, m := range marks {
		if x := f.at(m.at, 0).X; x > f.Min.X && x < f.Max.X {
			f.StrokeLine2(style, x, f.Min.Y, x, f.Max.Y)
		}
	}
	for _, v := range s.ticks(f) {
		f.level(v, style)
	}
}

// axes draws the axes over the figures, and writes the labels of the axis up.
func (s stack) axes(f frame) {
	line := plotdraw.LineStyle{Color: s.look.Muted, Width: 0.8}
	f.StrokeLine2(line, f.Min.X, f.Min.Y, f.Min.X, f.Max.Y)
	nought := f.Min.Y
	if f.up.hangs {
		nought = f.Max.Y
	}
	f.StrokeLine2(line, f.Min.X, nought, f.Max.X, nought)
	style := s.look.style(s.look.Small, s.look.Ink)
	style.XAlign, style.YAlign = plotdraw.XRight, plotdraw.YCenter
	_, places := s.step(f)
	for _, v := range s.ticks(f) {
		y := f.at(0, v).Y
		f.StrokeLine2(line, f.Min.X-tickLong, y, f.Min.X, y)
		f.FillText(style, vg.Point{X: f.Min.X - tickLong - 3, Y: y}, s.look.number(v+0, places))
	}
}

// label writes the labels of the axis across under the lowest panel.
func (s stack) label(f frame, marks []mark) {
	style := s.look.style(s.look.Small, s.look.Ink)
	line := plotdraw.LineStyle{Color: s.look.Muted, Width: 0.8}
	for _, m := range marks {
		if x := f.at(m.at, 0).X; x >= f.Min.X-0.1 && x <= f.Max.X+0.1 {
			f.StrokeLine2(line, x, f.Min.Y-tickLong, x, f.Min.Y)
		}
		wide := style.Width(m.label)
		x := max(f.Min.X, min(f.Max.X-wide+edge, f.at(m.middle, 0).X-wide/2))
		f.FillText(style, vg.Point{X: x, Y: f.Min.Y - tickLong}, m.label)
	}
}

// numbered marks an axis across that counts something.
func (l Look) numbered(over span) func(vg.Length) []mark {
	return func(wide vg.Length) (marks []mark) {
		figure := float64(utf8.RuneCountInString(l.number(over.high, 1))+2) * l.Small * 0.6
		about := max(1, min(10, float64(wide)/figure-1))
		for _, t := range (steps{look: l, about: about}).Ticks(over.low, over.high) {
			marks = append(marks, mark{t.Value, t.Value, t.Label})
		}
		return marks
	}
}

// fitted cuts a text to a width.
func fitted(words string, s text.Style, wide vg.Length) string {
	runes := []rune(words)
	for n := len(runes); s.Width(words) > wide && n > 1; n-- {
		words = string(runes[:n-1]) + "…"
	}
	return words
}
