package sheet

import (
	"image"
	"image/color"
	"image/draw"
	"strings"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	plotdraw "gonum.org/v1/plot/vg/draw"
)

// A Page lays schemes side by side: a small map over each, a table of their figures,
// and charts. All of its texts are written already.
type Page struct {
	Title, Under string
	Columns      []Column
	Rows         []Row
	// Wide are charts over the page's whole width; they stand over the others.
	Wide []WideChart
	// Charts draws each on an image of w by h pixels.
	Charts []func(w, h int, l Look) *image.RGBA
	// Notes are what the page rests on.
	Notes []string
}

// A WideChart is so many points high.
type WideChart struct {
	High float64
	Draw func(w, h int, l Look) *image.RGBA
}

// A Column is one scheme. Map may be nil.
type Column struct {
	Name string
	Map  image.Image
}

// A Row is one figure of every scheme. Heavy marks those that the work is about.
type Row struct {
	Label string
	Heavy bool
	Cells []Cell
}

// A Cell is a scheme's figure, and beneath it, small, what there is to say of it.
type Cell struct {
	Figure string
	Small  []string
}

// The measures of a page [points].
const (
	margin      = 28
	labelWide   = 168
	leastColumn = 150
	mapHigh     = 150
	chartHigh   = 230
	chartsBy    = 3 // side by side, or two where that leaves none over
)

// Width returns how wide a page of so many schemes is [points].
func (p Page) Width() float64 {
	return max(900, 2*margin+labelWide+leastColumn*float64(len(p.Columns)))
}

// Draw draws the page in a look, as high as it needs to be.
func (p Page) Draw(l Look) *image.RGBA {
	w := layer{page: p, look: l, wide: vg.Length(p.Width())}
	w.run() // to learn how high it is
	high := w.y
	paper, c := l.canvas(int(float64(w.wide)*l.density()), int(float64(high)*l.density()))
	w.paper, w.canvas, w.high, w.y = paper, &c, high, 0
	w.run()
	return paper
}

// A layer lays a page from the top down. Without a canvas it only measures.
type layer struct {
	page       Page
	look       Look
	paper      *image.RGBA
	canvas     *plotdraw.Canvas
	wide, high vg.Length
	// y is how far down it has come.
	y vg.Length
}

func (w *layer) run() {
	l := w.look
	w.y = margin
	w.paragraph(w.page.Title, l.bold(l.Text+5))
	w.paragraph(w.page.Under, l.style(l.Small, l.Muted))
	w.y += 10
	w.maps()
	for _, r := range w.page.Rows {
		w.row(r)
	}
	w.y += 14
	for _, chart := range w.page.Wide {
		w.chart(chart.Draw, vg.Rectangle{Min: vg.Point{X: margin, Y: w.y}, Max: vg.Point{X: w.wide - margin, Y: w.y + vg.Length(chart.High)}})
		w.y += vg.Length(chart.High) + 14
	}
	w.charts()
	for _, n := range w.page.Notes {
		w.paragraph(n, l.style(l.Small, l.Muted))
		w.y += 4
	}
	w.y += margin
}

// write puts one line of text with its top at y.
func (w *layer) write(words string, s text.Style, x, y vg.Length) {
	if w.canvas != nil {
		w.canvas.FillText(s, vg.Point{X: x, Y: w.high - y}, words)
	}
}

func leading(s text.Style) vg.Length { return s.Font.Size * 1.35 }

// paragraph writes text in lines as wide as the page.
func (w *layer) paragraph(words string, s text.Style) {
	for _, line := range broken(words, s, w.wide-2*margin) {
		w.write(line, s, margin, w.y)
		w.y += leading(s)
	}
}

// broken breaks text between words into lines of a width.
func broken(words string, s text.Style, wide vg.Length) []string {
	var lines []string
	line := ""
	for _, word := range strings.Split(words, " ") {
		longer := strings.TrimSpace(line + " " + word)
		if line != "" && s.Width(longer) > wide {
			lines, longer = append(lines, line), word
		}
		line = longer
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// right returns where the figures of a column end.
func (w *layer) right(i int) vg.Length {
	each := (w.wide - 2*margin - labelWide) / vg.Length(max(1, len(w.page.Columns)))
	return margin + labelWide + each*vg.Length(i+1)
}

// maps puts the small maps and the names over their columns.
func (w *layer) maps() {
	high := vg.Length(0)
	for i, c := range w.page.Columns {
		if c.Map == nil {
			continue
		}
		high = mapHigh
		left := w.right(i-1) + 8
		w.picture(c.Map, left, w.right(i)-left)
	}
	w.y += high + 6
	s := w.look.bold(w.look.Small)
	s.XAlign = plotdraw.XRight
	for i, c := range w.page.Columns {
		const widest = 24
		w.write(shortened(c.Name, widest), s, w.right(i), w.y)
	}
	w.y += leading(s)
	w.rule(w.look.Muted)
}

// picture fits a map in a column, its pixels as they are.
func (w *layer) picture(m image.Image, left, wide vg.Length) {
	if w.canvas == nil {
		return
	}
	d := w.look.density()
	size := m.Bounds().Size()
	box := image.Rect(int(float64(left)*d), int(float64(w.y)*d), int(float64(left+wide)*d), int(float64(w.y+mapHigh)*d))
	at := image.Pt(box.Max.X-min(size.X, box.Dx()), box.Max.Y-min(size.Y, box.Dy()))
	draw.Draw(w.paper, image.Rectangle{at, box.Max}, m, m.Bounds().Min, draw.Src)
}

// MapSize is how large a small map of a column is, in pixels of a look.
func (p Page) MapSize(l Look) (w, h int) {
	each := (p.Width() - 2*margin - labelWide) / float64(max(1, len(p.Columns)))
	return int((each - 8) * l.density()), int(mapHigh * l.density())
}

func (w *layer) rule(ink color.Color) {
	w.y += 3
	if w.canvas != nil {
		w.canvas.StrokeLine2(plotdraw.LineStyle{Color: ink, Width: 0.8}, margin, w.high-w.y, w.wide-margin, w.high-w.y)
	}
	w.y += 5
}

// row writes a figure of every scheme.
func (w *layer) row(r Row) {
	l := w.look
	s, small := l.style(l.Text, l.Ink), l.style(l.Small, l.Muted)
	if r.Heavy {
		s = l.bold(l.Text)
	}
	w.write(r.Label, s, margin, w.y)
	s.XAlign, small.XAlign = plotdraw.XRight, plotdraw.XRight
	lines := 0
	for i, c := range r.Cells {
		w.write(c.Figure, s, w.right(i), w.y)
		for k, words := range c.Small {
			w.write(words, small, w.right(i), w.y+leading(s)+vg.Length(k)*leading(small))
		}
		lines = max(lines, len(c.Small))
	}
	w.y += leading(s) + vg.Length(lines)*leading(small)
	w.rule(l.Grid)
}

// chart draws one in a box, whose y runs down the page.
func (w *layer) chart(draws func(w, h int, l Look) *image.RGBA, box vg.Rectangle) {
	if w.canvas == nil {
		return
	}
	d := w.look.density()
	size := box.Size()
	drawn := draws(int(float64(size.X)*d), int(float64(size.Y)*d), w.look)
	at := image.Pt(int(float64(box.Min.X)*d), int(float64(box.Min.Y)*d))
	draw.Draw(w.paper, drawn.Rect.Add(at), drawn, image.Point{}, draw.Src)
}

// charts puts the charts in rows.
func (w *layer) charts() {
	by := chartsBy
	if n := len(w.page.Charts); n%chartsBy != 0 && n%2 == 0 {
		by = 2
	}
	each := (w.wide - 2*margin) / vg.Length(by)
	for i, chart := range w.page.Charts {
		column := i % by
		left := margin + each*vg.Length(column)
		w.chart(chart, vg.Rectangle{Min: vg.Point{X: left, Y: w.y}, Max: vg.Point{X: left + each - 12, Y: w.y + chartHigh}})
		if column == by-1 || i == len(w.page.Charts)-1 {
			w.y += chartHigh + 14
		}
	}
}
