package view

import (
	"image"
	"image/color"
	"math"
	"strconv"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
	"runnel/geo/survey"
)

// surveyColours is how many colours tell heights of a survey apart.
const surveyColours = 24

// surveyRamp runs from the lowest height to the highest, each colour to be told from
// the sheet as a thin line.
func (p Palette) surveyRamp() [surveyColours]Colour {
	stops := [...]Colour{p.Kinds[plan.Drain].Edge.Colour, p.Kinds[plan.Channel].Edge.Colour, p.Kinds[plan.Planting].Edge.Colour,
		p.Kinds[plan.Path].Edge.Colour, p.Kinds[plan.Roof].Text}
	var ramp [surveyColours]Colour
	for i := range ramp {
		at := float64(i) / (surveyColours - 1) * float64(len(stops)-1)
		below := min(int(at), len(stops)-2)
		ramp[i] = mix(stops[below], stops[below+1], at-float64(below))
		ramp[i].A = 255
	}
	return ramp
}

// SurveyScale draws the colours of heights, lowest first, w by h pixels.
func SurveyScale(w, h int, p Palette) *image.RGBA {
	dst := image.NewRGBA(image.Rect(0, 0, w, h))
	ramp := p.surveyRamp()
	for y := range h {
		for x := range w {
			dst.SetRGBA(x, y, rgba(ramp[x*surveyColours/w]))
		}
	}
	return dst
}

func rgba(c Colour) color.RGBA { return color.RGBAModel.Convert(c).(color.RGBA) }

// UsePen is how a line of a use other than contour is drawn; one beyond the last use
// draws what is left out.
func (p Palette) UsePen(u survey.Use) Pen {
	unit := p.unit()
	switch u {
	case survey.Break:
		return Pen{Colour: p.Ink, Width: 1.8 * unit}
	case survey.Kerb:
		return Pen{Colour: p.Ink, Width: 2.4 * unit, Dash: []float64{5 * unit, 2 * unit}}
	case survey.Edge:
		return Pen{Colour: p.Ink, Width: 1.4 * unit, Dash: []float64{14 * unit, 4 * unit, 2 * unit, 4 * unit}}
	}
	return Pen{Colour: p.Muted, Width: unit, Dash: []float64{2 * unit, 3 * unit}}
}

// meanHeight is the height of a line, or the mean of those of its points; NaN where
// none is known.
func meanHeight(l survey.Line) float64 {
	var sum float64
	for _, z := range l.Z {
		sum += z
	}
	if len(l.Z) == 0 {
		return math.NaN()
	}
	return sum / float64(len(l.Z))
}

// mark writes a number on a disc of the colour of cautions.
func (k *canvas) mark(at orb.Point, number int, times float64) {
	look := lettering{size: times * k.look.Type.Small, weight: mediumWeight, colour: k.look.Paper}
	word := k.letters.set(strconv.Itoa(number), look)
	k.disc(at, max(7.5*times*k.px, word.width/2+3.5*k.px), Style{Body: k.look.Caution.Body, Edge: Pen{Colour: k.look.Paper, Width: 1.4 * k.px}})
	k.drawLabels([]label{k.upright(word, look, at[0]-word.width/2, at[1]+0.36*look.size)})
}

// Near returns the place of the line that runs nearest to a point, within a reach [m]; -1
// for none.
func (s *Surveyed) Near(at orb.Point, reach float64) int {
	found, nearest := -1, reach
	for i, l := range s.Survey.Lines {
		if !s.bounds[i].Pad(reach).Contains(at) {
			continue
		}
		for k := 1; k < len(l.At); k++ {
			if d := distanceTo(l.At[k-1], l.At[k], at); d <= nearest {
				found, nearest = i, d
			}
		}
	}
	return found
}

// distanceTo is how far p lies from the way from a to b.
func distanceTo(a, b, p orb.Point) float64 {
	dx, dy := b[0]-a[0], b[1]-a[1]
	t := 0.0
	if length := dx*dx + dy*dy; length > 0 {
		t = max(0, min(1, ((p[0]-a[0])*dx+(p[1]-a[1])*dy)/length))
	}
	return math.Hypot(a[0]+t*dx-p[0], a[1]+t*dy-p[1])
}

// LooseSample draws a sample of a contour that has no height.
func LooseSample(w, h int, p Palette) *image.RGBA {
	dst := image.NewRGBA(image.Rect(0, 0, w, h))
	k := newCanvas(dst, Camera{Scale: 1}, p)
	pen := looseLine.scaled(float64(h) / 8)
	k.stroke([]orb.Point{{0, float64(h) / 2}, {float64(w), float64(h) / 2}}, pen, add)
	k.ink(p.Accent)
	return dst
}
