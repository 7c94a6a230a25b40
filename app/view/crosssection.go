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
	top := (titleRoom + 2*figureRoom + 4) * k.px
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
	return ground, proposed, ground.flat(c.Level)
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

// crossLevel writes the water's level on it.
func (k *side) crossLevel(c CrossSection, ring orb.Ring) {
	b := ring.Bound()
	at := orb.Point{(b.Min[0] + b.Max[0]) / 2, k.place(0, c.Level)[1]}
	k.surfaceMark(at)
	look := k.lifted(k.bold(k.look.Pond.Shore.Colour))
	text := k.level(c.Level)
	k.write(text, look, upright(at[0]-k.letters.measure(text, look)/2, at[1]-11*k.px))
}

// widestArm returns the widest of some waters.
func widestArm(arms []orb.Ring) orb.Ring {
	return slices.MaxFunc(arms, func(a, b orb.Ring) int {
		return cmp.Compare(a.Bound().Max[0]-a.Bound().Min[0], b.Bound().Max[0]-b.Bound().Min[0])
	})
}

// crossTitle says above the plot where the section is, and its figures.
func (k *side) crossTitle(c CrossSection) {
	quiet, end := k.small(k.look.Muted), float64(k.w)-6*k.px
	k.row(10*k.px, end, 15*k.px, []piece{{k.trf("Section at %s", k.chainage(c.Station)), k.bold(k.look.Ink)}, {k.times(), quiet}})
	baseline := (titleRoom + 12) * k.px
	if !(c.WettedPerimeter > 0) {
		if !math.IsNaN(c.Level) {
			k.row(10*k.px, end, baseline, []piece{{k.trf("no water here"), k.small(k.look.Ink)}})
		}
		return
	}
	look := k.small(k.look.Ink)
	first := []piece{{k.trf("P %s", k.level(c.WettedPerimeter)), k.bold(k.look.Drop)}}
	second := []piece{{k.trf("depth %s", k.level(c.Depth())), look}, {k.trf("top width %s", k.level(c.TopWidth)), look}, {k.trf("area %s", k.squares(c.Area)), look}}
	arms := len(k.arms(c))
	words := k.trf("wetted perimeter")
	if arms > 1 {
		words = k.trf("wetted perimeter of %d arms", arms)
	}
	if k.width(second) > end-10*k.px { // where it is narrow, figures go before words
		first = append(first, second[2])
		second = second[:2]
		if words = ""; arms > 1 {
			words = k.trf("%d arms", arms)
		}
	}
	k.row(10*k.px, end, baseline, append(first, piece{words, quiet}))
	k.row(10*k.px, end, baseline+figureRoom*k.px, second)
}
