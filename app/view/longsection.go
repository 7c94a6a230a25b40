package view

import (
	"image"
	"image/draw"
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/channel"
	"runnel/geo/plan"
)

// A LongSection is a long section as it is drawn.
type LongSection struct {
	channel.LongSection
	View  SideView
	Units Units
	// Note stands beside the title; empty for none.
	Note string
	// Running is the level of the water while it runs [m], by the chainage [m]; none where
	// no flow is known.
	Running []RunningPlace
	// tongue is the language of what is written of it apart from its picture.
	tongue *Tongue
}

// A RunningPlace is the level of running water at one chainage [m].
type RunningPlace struct{ Chainage, Level float64 }

// Rooms round the plot of a section [px of the unscaled palette].
const (
	titleRoom  = 20 // above: what it is
	figureRoom = 17 // then: the figures at a station
	nameRoom   = 15 // then: one row of the names of what stands along it
	axisRoom   = 22 // below
	sideRoom   = 14 // right
	nameRows   = 2
	// figureMargin is left and right of titles and figures.
	figureMargin = 8
)

// NewLongSection shows a long section on a picture of some size [px].
func NewLongSection(l channel.LongSection, w, h int, p Palette, u Units) LongSection {
	k := newSide(image.NewRGBA(image.Rectangle{}), SideView{}, p, u)
	k.w, k.h = w, h
	e := extent{to: l.Length, low: math.Inf(1), high: math.Inf(-1)}
	for _, at := range l.Places {
		e = e.with(at.Ground, at.Proposed, at.Bed, at.Water, at.Left, at.Right)
	}
	for _, m := range l.Marks {
		e = e.with(m.Level)
	}
	spare := 0.06 * max(e.high-e.low, leastRise) // so that a line never lies on the frame
	e.low, e.high = e.low-spare, e.high+spare
	top := (titleRoom+2)*k.px + k.figuresHigh(k.stationFigures(l.Length, fullest(l, e)))
	if len(l.Marks)+len(l.Islands) > 0 {
		top += nameRows * nameRoom * k.px
	}
	v := fitSide(e, orb.Bound{
		Min: orb.Point{10*k.px + k.levelRoom(e), top},
		Max: orb.Point{float64(w) - sideRoom*k.px, float64(h) - axisRoom*k.px},
	}, exaggerations[len(exaggerations)-1])
	return LongSection{LongSection: l, View: v, Units: u, tongue: p.Tongue}
}

// fullest is a place whose figures take as much room as any along the section.
func fullest(l channel.LongSection, e extent) channel.Place {
	p := channel.Place{Ground: e.high, Proposed: e.high, Bed: math.NaN(), Water: math.NaN()}
	for _, at := range l.Places {
		if !math.IsNaN(at.Bed) {
			p.Bed = e.low
		}
		if at.Water-at.Bed > leastIsland {
			p.Water, p.Left, p.Right = e.high, e.high, e.high
		}
	}
	return p
}

// column returns one of the levels along the section.
func (l LongSection) column(of func(channel.Place) float64) curve {
	c := curve{make([]float64, len(l.Places)), make([]float64, len(l.Places))}
	for i, p := range l.Places {
		c.along[i], c.level[i] = p.Chainage, of(p)
	}
	return c
}

func (l LongSection) side(dst *image.RGBA, p Palette) *side {
	return newSide(dst, l.View, p, l.Units)
}

// Draw draws the section over the whole of a picture.
func (l LongSection) Draw(dst *image.RGBA, p Palette) {
	k := l.side(dst, p)
	k.sheet()
	if dst.Rect.Empty() || !l.View.sound() || len(l.Places) == 0 {
		return
	}
	k.longBodies(l)
	k.axes(l.Length, chainagesApart)
	k.longLines(l)
	k.longMarks(l)
	k.longTitle(l)
}

// sheet covers the picture with paper.
func (k *side) sheet() {
	draw.Draw(k.dst, k.dst.Rect, image.NewUniform(k.look.Paper), image.Point{}, draw.Src)
}

// leastIsland is how far ground must rise above the bed to be drawn as an island
// that stands in the water [m].
const leastIsland = 0.005

// longBodies draws earth, what is dug and filled, water, and islands in it.
func (k *side) longBodies(l LongSection) {
	ground := l.column(func(p channel.Place) float64 { return p.Ground })
	proposed := l.column(func(p channel.Place) float64 { return p.Proposed })
	bed := l.column(func(p channel.Place) float64 { return p.Bed })
	water := l.column(func(p channel.Place) float64 { return p.Water })
	k.soil(proposed.lower(bed))
	island := k.look.Kinds[plan.Island]
	k.body(ground, proposed, k.look.Kinds[plan.Channel].Body)
	k.body(proposed, ground, island.Body)
	k.body(water, bed, faint(k.look.Pond.Middle, 0.8))
	if l.Kind != plan.Channel {
		return
	}
	k.mask(proposed, bed.plus(leastIsland))
	k.wash(k.look.Paper)
	k.wash(island.Body)
	k.washHatch(island.Hatch)
	k.clear()
}

// bankPens tell the banks apart from the ground and from each other.
func (k *side) bankPens() (left, right Pen) {
	return Pen{Colour: k.look.Muted, Width: 1.2 * k.px, Dash: []float64{6 * k.px, 3 * k.px}},
		Pen{Colour: k.look.Muted, Width: 1.4 * k.px, Dash: []float64{1.4 * k.px, 2.6 * k.px}}
}

func (k *side) groundPen() Pen { return Pen{Colour: k.look.Ink, Width: 1.5 * k.px} }

func (k *side) designPen() Pen {
	return Pen{Colour: k.look.Kinds[plan.Channel].Edge.Colour, Width: 1.9 * k.px}
}

func (k *side) longLines(l LongSection) {
	left, right := k.bankPens()
	k.drawCurve(l.column(func(p channel.Place) float64 { return p.Left }), left)
	k.drawCurve(l.column(func(p channel.Place) float64 { return p.Right }), right)
	k.drawCurve(l.column(func(p channel.Place) float64 { return p.Ground }), k.groundPen())
	design := k.designPen()
	if l.Kind == plan.Drain {
		design.Colour = k.look.Kinds[plan.Drain].Edge.Colour
	}
	k.drawCurve(l.column(func(p channel.Place) float64 { return p.Bed }), design)
	k.drawCurve(l.shaped(), design)
	k.drawCurve(l.running(), k.runningPen())
	k.drawCurve(l.column(func(p channel.Place) float64 {
		if p.Water-p.Bed > leastIsland && !(l.Kind == plan.Channel && p.Proposed > p.Water) {
			return p.Water
		}
		return math.NaN()
	}), Pen{Colour: k.look.Pond.Shore.Colour, Width: 1.5 * k.px})
}

// running is the level of the water while it runs.
func (l LongSection) running() (c curve) {
	for _, p := range l.Running {
		c.along, c.level = append(c.along, p.Chainage), append(c.level, p.Level)
	}
	return c
}

func (k *side) runningPen() Pen {
	return Pen{Colour: k.look.Drop, Width: 1.8 * k.px, Dash: []float64{7 * k.px, 2.5 * k.px}}
}

// shaped returns the proposed ground where it is not the ground, from where it
// leaves it to where it comes back.
func (l LongSection) shaped() curve {
	c := l.column(func(p channel.Place) float64 { return p.Proposed })
	same := func(i int) bool {
		return i < 0 || i >= len(l.Places) || l.Places[i].Proposed == l.Places[i].Ground
	}
	for i := range c.level {
		if same(i-1) && same(i) && same(i+1) {
			c.level[i] = math.NaN()
		}
	}
	return c
}

// longTitle says above the plot what is shown and how, and what its lines are.
func (k *side) longTitle(l LongSection) {
	quiet := k.small(k.look.Muted)
	y := 15 * k.px
	title := k.bold(k.look.Ink)
	what := []piece{{k.shortened(k.look.Tongue.say(l.Title), title, titleShare*float64(k.w)), title}, {k.trf("%s long", k.chainage(l.Length)), quiet}, {k.times(), quiet}}
	if l.Note != "" {
		what = append(what, piece{l.Note, quiet})
	}
	x := k.row(figureMargin*k.px, float64(k.w)-figureMargin*k.px, y, what)
	left, right := k.bankPens()
	keys := []legendLine{{k.trf("ground"), k.groundPen()}}
	if l.Kind == plan.Channel || l.Kind == plan.Drain {
		keys = append(keys, legendLine{k.trf("left bank"), left}, legendLine{k.trf("right bank"), right})
	}
	var water []legendLine
	if len(l.Running) > 0 {
		water = []legendLine{{k.trf("standing"), Pen{Colour: k.look.Pond.Shore.Colour, Width: 1.5 * k.px}}, {k.trf("running"), k.runningPen()}}
	}
	if !k.legendRow(x+20*k.px, y, append(keys, water...)) { // two waters are told apart before banks are
		k.legendRow(x+20*k.px, y, water)
	}
}

// titleShare is the share of the width that a title takes at most, so that there is
// room for its figures.
const titleShare = 0.45

// shortened returns as much of a text as a width holds.
func (k *side) shortened(text string, look lettering, width float64) string {
	letters := []rune(text)
	for n := len(letters) - 1; n > 0 && k.letters.measure(text, look) > width; n-- {
		text = string(letters[:n]) + "…"
	}
	return text
}

// A legendLine is a pen and what it draws.
type legendLine struct {
	text string
	pen  Pen
}

// legendRow shows pens at the right end of a row, and reports whether there is room for
// them from x on.
func (k *side) legendRow(x, baseline float64, keys []legendLine) bool {
	look := k.small(k.look.Muted)
	const swatch, gap = 20, 12
	width := 0.0
	for _, key := range keys {
		width += (swatch+4+gap)*k.px + k.letters.measure(key.text, look)
	}
	at := float64(k.w) - width - 2*k.px
	if at < x {
		return false
	}
	for _, key := range keys {
		y := baseline - 0.32*look.size
		k.draw([]orb.Point{{at, y}, {at + swatch*k.px, y}}, key.pen)
		at += (swatch + 4) * k.px
		k.write(key.text, look, upright(at, baseline))
		at += k.letters.measure(key.text, look) + gap*k.px
	}
	return true
}
