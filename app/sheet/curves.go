package sheet

import (
	"image"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	plotdraw "gonum.org/v1/plot/vg/draw"
)

// A Curve is how one scheme's figure follows another.
type Curve struct {
	Name   string
	X, Y   []float64
	Series int
}

// Curves is a chart of one figure of several schemes against another.
type Curves struct {
	Title string
	// Across and Up name the two figures with their units, as "Water level [m]".
	Across, Up string
	Curves     []Curve
	// None is said in place of the curves where there is none.
	None string
}

// dashes and glyphs tell schemes apart without colour.
var (
	dashes = [][]vg.Length{nil, {7, 3}, {2, 3}, {9, 3, 2, 3}, {4, 4}, {12, 4}, {2, 2, 6, 2}, {1, 4}}
	glyphs = []plotdraw.GlyphDrawer{plotdraw.RingGlyph{}, plotdraw.CircleGlyph{}, plotdraw.TriangleGlyph{}, plotdraw.BoxGlyph{},
		plotdraw.CrossGlyph{}, plotdraw.PyramidGlyph{}, plotdraw.SquareGlyph{}, plotdraw.PlusGlyph{}}
)

// Draw draws the chart on an image of w by h pixels.
func (s Curves) Draw(w, h int, l Look) *image.RGBA {
	paper, c := l.canvas(w, h)
	p := l.plot(s.Title)
	p.X.Label.Text, p.Y.Label.Text = s.Across, s.Up
	p.Add(lines{look: l})
	p.Legend.Top, p.Legend.Left, p.Legend.XOffs, p.Legend.ThumbnailWidth, p.Legend.Padding = true, true, 8, 26, 3
	p.Y.Min = 0
	drawn := 0
	for _, curve := range s.Curves {
		if len(curve.X) > 1 {
			s.add(p, curve, l)
			drawn++
		}
	}
	if drawn == 0 {
		style := l.style(l.Small, l.Muted)
		style.XAlign = plotdraw.XCenter
		c.FillText(style, c.Center(), s.None)
		return paper
	}
	p.Y.Max *= 1.05
	if p.Y.Max <= p.Y.Min {
		p.Y.Max = p.Y.Min + 1
	}
	p.Draw(plotdraw.Crop(c, 2, -12, 2, -2))
	return paper
}

func (s Curves) add(p *plot.Plot, curve Curve, l Look) {
	points := make(plotter.XYs, len(curve.X))
	for i := range points {
		points[i].X, points[i].Y = curve.X[i], curve.Y[i]
		if math.IsNaN(points[i].X + points[i].Y) {
			return
		}
	}
	line, err := plotter.NewLine(points)
	if err != nil {
		return // only what is not a number is refused
	}
	ink := l.series(curve.Series)
	line.LineStyle = plotdraw.LineStyle{Color: ink, Width: 1.8, Dashes: dashes[curve.Series%len(dashes)]}
	var marked plotter.XYs
	const every = 4
	for i := curve.Series % every; i < len(points); i += every {
		marked = append(marked, points[i])
	}
	p.Add(line)
	thumbs := []plot.Thumbnailer{line}
	if spots, err := plotter.NewScatter(marked); err == nil && len(marked) > 0 {
		spots.GlyphStyle = plotdraw.GlyphStyle{Color: ink, Radius: 3.2, Shape: glyphs[curve.Series%len(glyphs)]}
		p.Add(spots)
		thumbs = append(thumbs, spots)
	}
	const widest = 26
	p.Legend.Add(shortened(curve.Name, widest), thumbs...)
}
