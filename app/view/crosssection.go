package view

import (
	"cmp"
	"image"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/channel"
	"runnel/geo/plan"
)

// A CrossSection is a cross-section as it is drawn, seen down its line.
type CrossSection struct {
	channel.CrossSection
	Units Units
	// Own is the channel's or drain's section there; nil where the line has none.
	Own *OwnSection
}

// An OwnSection is what a channel's design says of one of its sections.
type OwnSection struct {
	channel.Section
	// Level is that of its bed on the line [m].
	Level float64
	// Left and Right are the tops of its banks.
	Left, Right channel.Bank
	// Cut and Fill are the areas that are dug and filled [m²], NaN where they are not
	// known, and Speed how fast the water runs there [m/s], NaN where that is not known.
	Cut, Fill, Speed float64
}

// steepestShown is how many times heights may be drawn larger in a cross-section:
// banks are to look like banks.
const steepestShown = 4

// Draw draws the section over the whole of a picture.
func (c CrossSection) Draw(dst *image.RGBA, p Palette) {
	k := newSide(dst, SideView{}, p, c.Units)
	k.sheet()
	if len(c.Offset) < 2 || dst.Rect.Empty() {
		return
	}
	k.view = c.fit(k)
	if !k.view.sound() {
		return
	}
	k.crossBodies(c)
	k.axes(c.Offset[len(c.Offset)-1], offsetsApart)
	k.crossLines(c)
	if c.Own != nil {
		k.crossOwn(c)
	}
	k.crossTitle(c)
}

func (c CrossSection) fit(k *side) SideView {
	last := len(c.Offset) - 1
	e := extent{from: c.Offset[0], to: c.Offset[last], low: math.Inf(1), high: math.Inf(-1)}.with(c.Ground...).with(c.Proposed...)
	if c.WettedPerimeter > 0 {
		e = e.with(c.Level)
	}
	spare := 0.08 * max(e.high-e.low, leastRise)
	e.low, e.high = e.low-spare, e.high+spare
	top := (titleRoom+4)*k.px + k.figuresHigh(k.crossFigures(c.fullest(e), 2))
	v := fitSide(e, orb.Bound{
		Min: orb.Point{10*k.px + k.levelRoom(e), top},
		Max: orb.Point{float64(k.w) - sideRoom*k.px, float64(k.h) - axisRoom*k.px},
	}, steepestShown)
	// What the heights leave over goes to both sides.
	v.From -= ((v.Plot.Max[0]-v.Plot.Min[0])/v.Along - (e.to - e.from)) / 2
	return v
}

func (c CrossSection) curves() (ground, proposed, water curve) {
	ground, proposed = curve{c.Offset, c.Ground}, curve{c.Offset, c.Proposed}
	if water = (curve{c.Offset, c.Water}); c.Water == nil {
		water = ground.flat(math.NaN()) // across no channel or drain
	}
	return ground, proposed, water
}

// arms returns the waters of the section, as they are seen.
func (k *side) arms(c CrossSection) []orb.Ring {
	_, proposed, water := c.curves()
	return k.between(water, proposed)
}

func (k *side) crossBodies(c CrossSection) {
	ground, proposed, _ := c.curves()
	k.soil(proposed)
	k.body(ground, proposed, k.look.Kinds[plan.Channel].Body)
	k.body(proposed, ground, k.look.Kinds[plan.Island].Body)
	for _, ring := range k.arms(c) {
		k.area([]orb.Ring{ring}, add)
	}
	if c.Other != nil {
		for _, ring := range k.between(curve{c.Offset, c.Other}, proposed) {
			k.area([]orb.Ring{ring}, add)
		}
	}
	k.ink(faint(k.look.Pond.Middle, 0.8))
}

func (k *side) crossLines(c CrossSection) {
	ground, proposed, _ := c.curves()
	was := k.groundPen()
	was.Dash = []float64{5 * k.px, 3 * k.px}
	k.drawCurve(ground, was)
	k.drawCurve(proposed, k.groundPen())
	arms := k.arms(c)
	shore := Pen{Colour: k.look.Pond.Shore.Colour, Width: 1.5 * k.px}
	for _, ring := range arms {
		half := (len(ring) - 1) / 2
		k.stroke(ring[:half], shore, add)
	}
	k.ink(shore.Colour)
	bold := Pen{Colour: k.look.Drop, Width: 4.6 * k.px}
	for _, ring := range arms {
		half := (len(ring) - 1) / 2
		k.stroke(ring[half:2*half], bold, add)
	}
	k.ink(bold.Colour)
	if len(arms) > 0 {
		k.crossLevel(c, widestArm(arms))
	}
}

// crossLevel marks the water's level; its figure stands with the others.
func (k *side) crossLevel(c CrossSection, ring orb.Ring) {
	b := ring.Bound()
	at := orb.Point{(b.Min[0] + b.Max[0]) / 2, k.place(0, c.Level)[1]}
	k.surfaceMark(at)
}

// widestArm returns the widest of some waters.
func widestArm(arms []orb.Ring) orb.Ring {
	return slices.MaxFunc(arms, func(a, b orb.Ring) int {
		return cmp.Compare(a.Bound().Max[0]-a.Bound().Min[0], b.Bound().Max[0]-b.Bound().Min[0])
	})
}

// crossTitle says above the plot where the section is, and its figures.
func (k *side) crossTitle(c CrossSection) {
	quiet, end := k.small(k.look.Muted), float64(k.w)-figureMargin*k.px
	title := k.bold(k.look.Ink)
	words := k.shortened(k.trf("Section at %s", k.chainage(c.Station)), title, end-figureMargin*k.px)
	k.row(figureMargin*k.px, end, 15*k.px, append([]piece{{words, title}}, append(k.formOf(c), piece{k.times(), quiet})...))
	k.flow(k.crossFigures(c, len(k.arms(c))))
}

// crossFigures lists what is known of a section of so many waters, what counts most first.
func (k *side) crossFigures(c CrossSection, arms int) []piece {
	look := k.small(k.look.Ink)
	if !(c.WettedPerimeter > 0) {
		if math.IsNaN(c.Level) {
			return nil
		}
		return append([]piece{{k.trf("no water here"), look}}, k.earthOf(c.Own)...)
	}
	all := []piece{k.perimeterOf(c, arms), {k.trf("water %s", k.level(c.Level)), look}, {k.trf("depth %s", k.level(c.Depth())), look},
		{k.trf("top width %s", k.level(c.TopWidth)), look}, {k.trf("area %s", k.squares(c.Area)), look}}
	return append(all, k.earthOf(c.Own)...)
}

// perimeterOf says how long the wetted perimeter is, in as many words as there is room for.
func (k *side) perimeterOf(c CrossSection, arms int) piece {
	look, figure := k.bold(k.look.Drop), k.level(c.WettedPerimeter)
	ways := []string{k.trf("wetted perimeter %s", figure), k.trf("perimeter %s", figure)}
	if arms > 1 {
		ways = append([]string{k.trf("wetted perimeter of %[1]d arms %[2]s", arms, figure)}, ways...)
	}
	for _, words := range ways {
		if k.letters.measure(words, look) <= float64(k.w)-2*figureMargin*k.px {
			return piece{words, look}
		}
	}
	return piece{ways[len(ways)-1], look}
}

// fullest is a section whose figures take as much room as any along its line, so that the
// plot keeps its place.
func (c CrossSection) fullest(e extent) CrossSection {
	const figure = 10.0
	if math.IsNaN(c.Level) && c.Own == nil {
		return c
	}
	c.Level, c.WettedPerimeter, c.TopWidth, c.Area = e.high, figure, figure, figure
	if c.Own != nil {
		own := *c.Own
		own.Cut, own.Fill = figure, figure
		c.Own = &own
	}
	return c
}
