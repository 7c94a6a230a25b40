package view

import (
	"image"
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/channel"
)

// A Grip is a level of a long section that can be dragged up and down.
type Grip struct {
	Chainage, Level float64
	// Words stand in it; one without words is a small square.
	Words string
	// Over is what stands beside it while it is held, such as why it goes no further.
	Over string
}

// A SectionOverlay is what is drawn over a long section while a person works with
// it. Hot is the place in the list of the grip under the pointer, -1 for none.
type SectionOverlay struct {
	// Station is the chainage that is pointed at [m], NaN for none.
	Station float64
	Grips   []Grip
	Hot     int
	// Focused is set while the keyboard is here.
	Focused bool
}

// DrawOver draws an overlay over a section that is drawn already.
func (l LongSection) DrawOver(dst *image.RGBA, o SectionOverlay, p Palette) {
	if dst.Rect.Empty() || !l.View.sound() || len(l.Places) == 0 {
		return
	}
	k := l.side(dst, p)
	if !math.IsNaN(o.Station) {
		k.stationLine(l, o.Station)
	}
	for i, g := range o.Grips {
		k.grip(g, i == o.Hot)
	}
	if o.Focused {
		ring := orb.Bound{Min: orb.Point{1.5 * k.px, 1.5 * k.px}, Max: orb.Point{float64(k.w) - 1.5*k.px, float64(k.h) - 1.5*k.px}}.ToRing()
		k.draw(ring, Pen{Colour: faint(k.look.Accent, 0.8), Width: 1.5 * k.px})
	}
}

// stationLine draws the station that is pointed at, and its figures above.
func (k *side) stationLine(l LongSection, station float64) {
	b, at := k.view.Plot, l.At(station)
	x := k.place(station, 0)[0]
	k.draw([]orb.Point{{x, b.Min[1]}, {x, b.Max[1]}}, Pen{Colour: k.look.Accent, Width: 1.3 * k.px})
	for _, z := range []float64{at.Ground, at.Bed} {
		if !math.IsNaN(z) {
			k.disc(k.place(station, z), 2.6*k.px, Style{Body: k.look.Paper, Edge: Pen{Colour: k.look.Accent, Width: 1.4 * k.px}})
		}
	}
	k.flow(k.stationFigures(station, at))
}

// stationFigures lists what is known at a station.
func (k *side) stationFigures(station float64, at channel.Place) []piece {
	look := k.small(k.look.Ink)
	all := []piece{{k.trf("at %s", k.chainage(station)), lettering{size: look.size, weight: mediumWeight, colour: k.look.Accent}},
		{k.trf("ground %s", k.level(at.Ground)), look}}
	switch {
	case !math.IsNaN(at.Bed):
		all = append(all, piece{k.trf("bed %s", k.level(at.Bed)), look})
	case at.Proposed != at.Ground:
		all = append(all, piece{k.trf("proposed %s", k.level(at.Proposed)), look})
	}
	if depth := at.Water - at.Bed; depth > leastIsland {
		all = append(all, piece{k.trf("water %s", k.level(at.Water)), look}, piece{k.trf("depth %s", k.level(depth)), look})
		if bank := at.Bank(); !math.IsNaN(bank) {
			all = append(all, piece{k.trf("freeboard %s", k.level(bank-at.Water)), look})
		}
	}
	return all
}

// grip draws a level that can be dragged: its figure between two arrows, or a
// small square.
func (k *side) grip(g Grip, hot bool) {
	at := k.gripPlace(g)
	body, ink := k.look.Paper, k.look.Accent
	if hot {
		body, ink = ink, body
	}
	aside := 10 * k.px
	if g.Words == "" {
		ring := square(at[0], at[1], 4*k.px).ToRing()
		k.fill([]orb.Ring{ring}, body)
		k.draw(ring, Pen{Colour: k.look.Accent, Width: 1.6 * k.px})
	} else {
		k.pill(at, g.Words, body, ink)
		aside = k.pillWidth(g.Words)/2 + 8*k.px
	}
	if g.Over != "" {
		k.beside(at, aside, g.Over)
	}
}

// gripPlace returns where a grip is seen: in the plot, and one of words not on its frame.
func (k *side) gripPlace(g Grip) orb.Point {
	at, b := k.place(g.Chainage, g.Level), k.view.Plot
	at[1] = max(b.Min[1], min(b.Max[1], at[1]))
	if g.Words != "" {
		half := k.pillWidth(g.Words)/2 + 3*k.px
		at[0] = max(b.Min[0]+half, min(b.Max[0]-half, at[0]))
	}
	return at
}

// beside writes words on paper some way to the right of a place, or to the left of
// it where there is no room.
func (k *side) beside(at orb.Point, aside float64, words string) {
	look := k.bold(k.look.Accent)
	width, half := k.letters.measure(words, look), 0.65*look.size
	x := at[0] + aside
	if x+width > k.view.Plot.Max[0] {
		x = at[0] - aside - width
	}
	k.fill([]orb.Ring{orb.Bound{Min: orb.Point{x - 4*k.px, at[1] - half}, Max: orb.Point{x + width + 4*k.px, at[1] + half}}.ToRing()}, faint(k.look.Paper, 0.92))
	k.write(words, look, upright(x, at[1]+0.36*look.size))
}

// Sizes of the grip of the water's level [px of the unscaled palette].
const (
	pillHeight = 18
	pillArrow  = 14 // what the arrows take of its width
)

// pillWidth returns how wide the grip of some words is [px].
func (k *side) pillWidth(words string) float64 {
	return k.letters.measure(words, k.bold(k.look.Ink)) + (pillArrow+16)*k.px
}

// pill draws a grip of words about a place.
func (k *side) pill(at orb.Point, words string, body, ink Colour) {
	look, width, half := k.bold(ink), k.pillWidth(words), pillHeight/2*k.px
	axis := []orb.Point{{at[0] - width/2 + half, at[1]}, {at[0] + width/2 - half, at[1]}}
	for _, pen := range []Pen{{Colour: k.look.Accent, Width: 2*half + 2.4*k.px}, {Colour: body, Width: 2 * half}} {
		k.area([]orb.Ring{circle(axis[0], pen.Width/2)}, add)
		k.area([]orb.Ring{circle(axis[1], pen.Width/2)}, add)
		k.area([]orb.Ring{orb.Bound{Min: orb.Point{axis[0][0], at[1] - pen.Width/2}, Max: orb.Point{axis[1][0], at[1] + pen.Width/2}}.ToRing()}, add)
		k.ink(pen.Colour)
	}
	x, r := axis[0][0]+2*k.px, 3.6*k.px
	for _, way := range []float64{-1, 1} {
		k.area([]orb.Ring{{{x - r, at[1] + way*1.8*k.px}, {x + r, at[1] + way*1.8*k.px}, {x, at[1] + way*6.2*k.px}, {x - r, at[1] + way*1.8*k.px}}}, add)
	}
	k.ink(ink)
	k.write(words, look, upright(x+9*k.px, at[1]+0.36*look.size))
}

// GripPlace returns the chainage at which the level of a pool is best held [m].
func (l LongSection) GripPlace(p channel.Pool) float64 { return poolPlace(l, p) }

// Level writes a level in the section's units [m].
func (l LongSection) Level(v float64) string {
	return (&side{canvas: &canvas{look: Palette{Tongue: l.tongue}}, units: l.Units}).level(v)
}

// GripAt returns the place in a list of the grip at a pixel, -1 for none.
func (l LongSection) GripAt(grips []Grip, x, y float64, p Palette) int {
	k := newSide(image.NewRGBA(image.Rectangle{}), l.View, p, l.Units)
	best, least := -1, math.Inf(1)
	for i, g := range grips {
		at := k.gripPlace(g)
		wide, tall := 9*k.px, 9*k.px
		if g.Words != "" {
			wide, tall = k.pillWidth(g.Words)/2+2*k.px, pillHeight/2*k.px+3*k.px
		}
		dx, dy := math.Abs(x-at[0]), math.Abs(y-at[1])
		if off := dx/wide + dy/tall; dx <= wide && dy <= tall && off < least {
			best, least = i, off
		}
	}
	return best
}
