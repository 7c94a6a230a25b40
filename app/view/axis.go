package view

import (
	"image"
	"math"
	"strconv"

	"github.com/paulmach/orb"
)

// A SideView says where a section is seen on its picture: distances along it run
// to the right, levels up.
type SideView struct {
	// Plot is the room for the section itself [px].
	Plot orb.Bound
	// From and Low are the distance and the level [m] at the plot's lower left.
	From, Low float64
	// Along and Up are how many pixels go into a metre, along and up.
	Along, Up float64
}

// ToScreen returns where a place of the section is seen [px].
func (v SideView) ToScreen(along, level float64) (x, y float64) {
	return v.Plot.Min[0] + (along-v.From)*v.Along, v.Plot.Max[1] - (level-v.Low)*v.Up
}

// ToSection returns the place of the section that is seen at a pixel [m].
func (v SideView) ToSection(x, y float64) (along, level float64) {
	return v.From + (x-v.Plot.Min[0])/v.Along, v.Low + (v.Plot.Max[1]-y)/v.Up
}

// Exaggeration is how many times heights are drawn larger than distances.
func (v SideView) Exaggeration() float64 { return v.Up / v.Along }

func (v SideView) sound() bool {
	return v.Along > 0 && v.Up > 0 && finite(orb.Point{v.From, v.Low}) && finite(v.Plot.Min) && finite(v.Plot.Max)
}

// exaggerations are the scales of heights that a section is drawn at.
var exaggerations = []float64{1, 1.5, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 60, 80, 100}

// An extent is the distances and levels [m] that are to be seen.
type extent struct{ from, to, low, high float64 }

// with widens the levels to those that are known.
func (e extent) with(levels ...float64) extent {
	for _, z := range levels {
		if !math.IsNaN(z) {
			e.low, e.high = min(e.low, z), max(e.high, z)
		}
	}
	return e
}

// leastRise is the least range of levels that a section shows [m].
const leastRise = 0.25

// fitSide shows an extent in a plot, heights at most so many times larger.
func fitSide(e extent, plot orb.Bound, most float64) SideView {
	w, h := max(1, plot.Max[0]-plot.Min[0]), max(1, plot.Max[1]-plot.Min[1])
	if !(e.low <= e.high) {
		e.low, e.high = 0, 0
	}
	run, rise := max(e.to-e.from, 0.1), max(e.high-e.low, leastRise)
	v := SideView{Plot: plot, From: e.from, Along: w / run, Up: h / rise}
	if v.Up < v.Along {
		v.Along = v.Up
	}
	times := 1.0
	for _, t := range exaggerations {
		if t <= min(most, v.Up/v.Along) {
			times = t
		}
	}
	v.Up = v.Along * times
	v.Low = (e.low+e.high)/2 - h/2/v.Up
	return v
}

// axisStep returns the least round step of the series 1, 2, 5, 10 … that is no
// smaller than the given one.
func axisStep(least float64) float64 {
	if !(least > 0) || math.IsInf(least, 0) {
		return 1
	}
	power := math.Pow(10, math.Floor(math.Log10(least)))
	for _, t := range []float64{1, 2, 5} {
		if t*power >= least*(1-1e-12) {
			return t * power
		}
	}
	return 10 * power
}

// A side is a section while it is drawn.
type side struct {
	*canvas
	view  SideView
	units Units
}

func newSide(dst *image.RGBA, v SideView, p Palette, u Units) *side {
	return &side{canvas: newCanvas(dst, Camera{Scale: 1}, p), view: v, units: u}
}

func (k *side) place(along, level float64) orb.Point {
	x, y := k.view.ToScreen(along, level)
	return orb.Point{x, y}
}

func (k *side) small(c Colour) lettering {
	return lettering{size: k.look.Type.Small, weight: regularWeight, colour: c}
}

func (k *side) bold(c Colour) lettering {
	return lettering{size: k.look.Type.Text, weight: mediumWeight, colour: c}
}

// lifted gives letters a halo of paper.
func (k *side) lifted(l lettering) lettering {
	l.halo = faint(k.look.Paper, 0.9)
	return l
}

// level writes a level or a length [m].
func (k *side) level(v float64) string {
	if math.IsNaN(v) {
		return "–"
	}
	metres, sign := k.units.length()
	return k.look.Tongue.write(strconv.FormatFloat(v/metres, 'f', 2, 64)) + "\u00a0" + sign
}

// chainage writes a distance along a line [m].
func (k *side) chainage(v float64) string {
	metres, sign := k.units.length()
	return k.look.Tongue.write(strconv.FormatFloat(v/metres, 'f', 1, 64)) + "\u00a0" + sign
}

// squares writes an area [m²].
func (k *side) squares(v float64) string {
	metres, sign := k.units.length()
	return k.look.Tongue.write(strconv.FormatFloat(v/metres/metres, 'f', 2, 64)) + "\u00a0" + sign + "²"
}

// times says how much larger heights are drawn.
func (k *side) times() string {
	if k.view.Exaggeration() < 1+1e-9 {
		return k.trf("true scale")
	}
	return k.trf("heights %s\u00a0×", k.look.Tongue.write(strconv.FormatFloat(math.Round(10*k.view.Exaggeration())/10, 'f', -1, 64)))
}

// gridPen draws the lines of the axes, frame what bounds the plot.
func (k *side) gridPen() Pen { return Pen{Colour: faint(k.look.Ink, 0.10), Width: k.px} }

const (
	levelsApart    = 24 // of the levels on their axis at least [px]
	chainagesApart = 72 // of the distances along a line
	offsetsApart   = 40 // of the distances from it
)

// axes draws lines at round levels and round distances, these at least so far
// apart [px], with their figures.
func (k *side) axes(to, apart float64) {
	k.levelAxis()
	k.chainageAxis(to, apart)
	b := k.view.Plot
	k.draw([]orb.Point{{b.Min[0], b.Min[1]}, {b.Min[0], b.Max[1]}, {b.Max[0], b.Max[1]}}, Pen{Colour: faint(k.look.Ink, 0.45), Width: k.px})
}

func (k *side) levelAxis() {
	b, look := k.view.Plot, k.small(k.look.Muted)
	metre, sign := k.units.length()
	step := axisStep(levelsApart * k.px / k.view.Up / metre)
	high := (k.view.Low + (b.Max[1]-b.Min[1])/k.view.Up) / metre
	first, last := math.Ceil(k.view.Low/metre/step), math.Floor(high/step)
	for i := first; i <= last; i++ {
		y := k.place(0, i*step*metre)[1]
		k.stroke([]orb.Point{{b.Min[0] - 4*k.px, y}, {b.Max[0], y}}, k.gridPen(), add)
		text := k.look.Tongue.write(levelText(i*step, step))
		if i == last {
			text += "\u00a0" + sign
		}
		k.write(text, look, upright(b.Min[0]-7*k.px-k.letters.measure(text, look), y+0.35*look.size))
	}
	k.ink(k.gridPen().Colour)
}

func (k *side) chainageAxis(to, apart float64) {
	b, look := k.view.Plot, k.small(k.look.Muted)
	metre, sign := k.units.length()
	step := axisStep(apart * k.px / k.view.Along / metre)
	first, last := math.Ceil(k.view.From/metre/step), math.Floor(to/metre/step+1e-9)
	for i := first; i <= last; i++ {
		x := k.place(i*step*metre, 0)[0]
		k.stroke([]orb.Point{{x, b.Min[1]}, {x, b.Max[1] + 4*k.px}}, k.gridPen(), add)
		text := k.look.Tongue.write(levelText(math.Abs(i)*step, step)) // to the left and to the right of a line
		half := k.letters.measure(text, look) / 2
		if i == last {
			text += "\u00a0" + sign
		}
		x = min(x-half, float64(k.w)-k.letters.measure(text, look)-k.px)
		k.write(text, look, upright(x, b.Max[1]+5*k.px+look.size))
	}
	k.ink(k.gridPen().Colour)
}

// levelRoom is the width that the figures of the levels of an extent take [px].
func (k *side) levelRoom(e extent) float64 {
	metre, sign := k.units.length()
	return k.letters.measure(levelText(max(math.Abs(e.low), math.Abs(e.high), 1)/metre, 0.01)+"\u00a0"+sign, k.small(k.look.Ink)) + 10*k.px
}

// A piece is some words in one lettering.
type piece struct {
	text string
	look lettering
}

// pieceGap lies between pieces of a row [px].
const pieceGap = 11

// rows parts pieces into rows that a width holds, mostRows at most.
func (k *side) rows(pieces []piece, width float64) (rows [][]piece) {
	from := 0
	for i := range pieces {
		if i > from && k.width(pieces[from:i+1]) > width && len(rows) < mostRows-1 {
			rows, from = append(rows, pieces[from:i]), i
		}
	}
	return append(rows, pieces[from:])
}

// mostRows is how many rows figures take at most.
const mostRows = 4

// flow writes the figures of a section beneath its title, in as many rows as they take.
func (k *side) flow(pieces []piece) {
	x, end := figureMargin*k.px, float64(k.w)-figureMargin*k.px
	for i, row := range k.rows(pieces, end-x) {
		k.row(x, end, (titleRoom+12+float64(i)*figureRoom)*k.px, row)
	}
}

// figuresHigh is the room that the figures of a section take [px].
func (k *side) figuresHigh(pieces []piece) float64 {
	return float64(len(k.rows(pieces, float64(k.w)-2*figureMargin*k.px))) * figureRoom * k.px
}

// width is how wide a row of pieces is [px].
func (k *side) width(pieces []piece) float64 {
	sum := 0.0
	for i, p := range pieces {
		if i > 0 {
			sum += pieceGap * k.px
		}
		sum += k.letters.measure(p.text, p.look)
	}
	return sum
}

// row writes pieces after each other from x to before end, as many as there is
// room for, and returns where the last one ends.
func (k *side) row(x, end, baseline float64, pieces []piece) float64 {
	for i, p := range pieces {
		gap := 0.0
		if i > 0 {
			gap = pieceGap * k.px
		}
		line := k.letters.set(p.text, p.look)
		if x+gap+line.width > end {
			break
		}
		k.write(p.text, p.look, upright(x+gap, baseline))
		x += gap + line.width
	}
	return x
}
