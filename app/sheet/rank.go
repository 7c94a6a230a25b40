package sheet

import (
	"image"
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"
	plotdraw "gonum.org/v1/plot/vg/draw"

	"runnel/geo"
)

// A Rank is one input and its share [0 to 1] of how far a figure spreads.
type Rank struct {
	Name string
	// Detail is what is known of it, as "3.4 to 13.2 mm/h"; it may be empty.
	Detail string
	Share  float64
}

// Ranking is what the spread of a figure comes from, the most first, and the rest that no
// input explains on its own.
type Ranking struct {
	Title string
	Ranks []Rank
	// Rest is the remainder; no name leaves it out.
	Rest  Rank
	Notes []string
	None  string
}

// rankHigh is the height of one rank, in sizes of small type.
const rankHigh = 3.1

// Draw draws the chart on an image of w by h pixels.
func (r Ranking) Draw(w, h int, l Look) *image.RGBA {
	if len(r.Ranks) == 0 {
		return l.nothing(w, h, r.Title, r.None)
	}
	paper, c := l.canvas(w, h)
	if size := c.Size(); size.X <= 8*edge || size.Y <= 8*edge {
		return paper
	}
	c = plotdraw.Crop(c, edge, -edge, edge, -edge)
	s := stack{look: l, title: r.Title, notes: r.Notes}
	c.Max.Y -= s.head(c)
	c.Min.Y += s.foot(c)
	rows := make([]row, 0, len(r.Ranks)+1)
	for i, k := range r.Ranks {
		rows = append(rows, row{name: k.Name, detail: k.Detail, value: geo.Range{Likely: k.Share}, figure: l.percent(k.Share), ink: l.Soak, with: min(i, 1)})
	}
	if r.Rest.Name != "" {
		rows = append(rows, row{name: r.Rest.Name, detail: r.Rest.Detail, value: geo.Range{Likely: r.Rest.Share}, figure: l.percent(r.Rest.Share), ink: l.Muted, with: 2})
	}
	l.drawRows(c, rows, rankHigh)
	return paper
}

func (l Look) percent(share float64) string {
	if math.IsNaN(share) {
		return "–"
	}
	places := 0
	if share < 0.01 {
		places = 1
	}
	return l.number(100*share, places) + "\u00a0%"
}

// A row is a name over a level bar with its figure.
type row struct {
	name, detail, figure string
	value                geo.Range
	ink                  color.NRGBA
	with                 int
}

// drawRows draws rows from the top of a canvas down, each so many sizes of small type
// high or lower where there is no room.
func (l Look) drawRows(c plotdraw.Canvas, rows []row, high float64) {
	small := l.style(l.Small, l.Ink)
	each := min(small.Font.Size*vg.Length(high), c.Size().Y/vg.Length(max(1, len(rows))))
	top, room := 0.0, vg.Length(0)
	for _, r := range rows {
		for _, v := range []float64{r.value.Likely, r.value.High} {
			if !math.IsNaN(v) {
				top = max(top, v)
			}
		}
		room = max(room, small.Width(r.figure))
	}
	perUnit := (c.Size().X - room - 8) / vg.Length(max(top, 1e-12))
	for i, r := range rows {
		y := c.Max.Y - each*vg.Length(i)
		l.drawRow(plotdraw.Canvas{Canvas: c.Canvas, Rectangle: vg.Rectangle{Min: vg.Point{X: c.Min.X, Y: y - each}, Max: vg.Point{X: c.Max.X, Y: y}}}, r, perUnit)
	}
}

// drawRow writes a row's name, and what there is to say of it if that has room, over its
// bar.
func (l Look) drawRow(c plotdraw.Canvas, r row, perUnit vg.Length) {
	style, muted := l.style(l.Small, l.Ink), l.style(l.Small, l.Muted)
	name := fitted(r.name, style, c.Size().X)
	c.FillText(style, vg.Point{X: c.Min.X, Y: c.Max.Y}, name)
	if style.Width(name)+muted.Width(r.detail)+12 <= c.Size().X {
		muted.XAlign = plotdraw.XRight
		c.FillText(muted, vg.Point{X: c.Max.X, Y: c.Max.Y}, r.detail)
	}
	c.Max.Y -= leading(style)
	c.Min.Y += style.Font.Size * 0.35
	x := func(v float64) vg.Length { return c.Min.X + perUnit*vg.Length(v) }
	end, middle := c.Min.X, (c.Min.Y+c.Max.Y)/2
	if v := r.value; !math.IsNaN(v.Likely) {
		bar := c.Rectangle
		bar.Max.X = x(v.Likely)
		l.paint(c, bar, r.ink, r.with)
		end = bar.Max.X
		if v.Low < v.High {
			l.whisker(c, vg.Point{X: x(v.Low), Y: middle}, vg.Point{X: x(v.High), Y: middle}, c.Size().Y*0.3)
			end = max(end, x(v.High))
		}
	}
	style.YAlign = plotdraw.YCenter
	c.FillText(style, vg.Point{X: end + 6, Y: middle}, r.figure)
}
