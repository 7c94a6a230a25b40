package sheet

import (
	"image"
	"image/color"
	"math"

	plotdraw "gonum.org/v1/plot/vg/draw"
)

// sums adds up what is known of each run of days.
func sums(of []float64, runs [][2]int) []float64 {
	all := make([]float64, len(runs))
	for i, r := range runs {
		for _, v := range part(of, r[0], r[1]) {
			if !math.IsNaN(v) {
				all[i] += v
			}
		}
	}
	return all
}

// spread returns the least, the mean and the greatest of each run of days, at its
// middle; NaN where nothing is known.
func spread(of []float64, runs [][2]int) (x, low, mean, high []float64) {
	for _, r := range runs {
		least, most, sum, n := math.NaN(), math.NaN(), 0.0, 0.0
		for _, v := range part(of, r[0], r[1]) {
			if math.IsNaN(v) {
				continue
			}
			if n == 0 {
				least, most = v, v
			}
			least, most, sum, n = min(least, v), max(most, v), sum+v, n+1
		}
		x = append(x, float64(r[0]+r[1])/2)
		low, high = append(low, least), append(high, most)
		mean = append(mean, sum/n) // nought by nought is not known
	}
	return x, low, mean, high
}

// drawMonths draws a bar for each month of some days.
func drawMonths(f frame, d dates, figures []float64) {
	for i, m := range d.months() {
		shy := 0.12 * float64(m[1]-m[0])
		r := f.box(float64(m[0])+shy, float64(m[1])-shy, 0, figures[i])
		f.FillPolygon(f.look.Rain, corners(r))
	}
}

// faint returns a colour at a share of its opacity.
func faint(c color.NRGBA, share float64) color.NRGBA {
	c.A = uint8(float64(c.A) * share)
	return c
}

// nothing is a chart that says why it is empty.
func (l Look) nothing(w, h int, title, why string) *image.RGBA {
	s := stack{look: l, title: title, marks: l.numbered(span{high: 1})}
	paper, c := l.canvas(w, h)
	if size := c.Size(); size.X <= 8*edge || size.Y <= 8*edge {
		return paper
	}
	c = plotdraw.Crop(c, edge, -edge, edge, -edge)
	c.Max.Y -= s.head(c)
	style := l.style(l.Small, l.Muted)
	style.XAlign = plotdraw.XCenter
	at := c.Center()
	for _, line := range broken(why, style, c.Size().X) {
		c.FillText(style, at, fitted(line, style, c.Size().X))
		at.Y -= leading(style)
	}
	return paper
}
