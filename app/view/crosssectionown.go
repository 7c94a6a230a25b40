package view

import (
	"math"
	"strconv"

	"github.com/paulmach/orb"

	"runnel/analysis/channel"
	"runnel/geo"
	"runnel/geo/plan"
)

// crossOwn draws what the design says of a section: the tops of its banks and how its
// sides lean.
func (k *side) crossOwn(c CrossSection) {
	for _, b := range []channel.Bank{c.Own.Left, c.Own.Right} {
		if !math.IsNaN(b.Level) && b.Off >= c.Offset[0] && b.Off <= c.Offset[len(c.Offset)-1] {
			k.bankTop(k.place(b.Off, b.Level))
		}
	}
	if len(c.Own.Line) == 0 && !c.parted() {
		k.slopeWords(c, c.Own.Left, c.Own.Section.Left)
		k.slopeWords(c, c.Own.Right, c.Own.Section.Right)
	}
}

// parted reports whether an island stands on the line.
func (c CrossSection) parted() bool {
	const alike = 0.02 // [m]; a cross-section is read at steps
	return c.proposedAt(0) > c.Own.Level+alike
}

// bankTop marks the top of a bank: a short upright over it.
func (k *side) bankTop(at orb.Point) {
	ink := k.look.Kinds[plan.Section].Core.Colour
	k.draw([]orb.Point{{at[0], at[1] - 9*k.px}, {at[0], at[1] + 2*k.px}}, Pen{Colour: ink, Width: 1.5 * k.px})
	k.fill([]orb.Ring{{{at[0] - 3.5*k.px, at[1] - 9*k.px}, {at[0] + 3.5*k.px, at[1] - 9*k.px}, {at[0], at[1] - 3*k.px}}}, ink)
}

// slopeWords writes how a bank leans in the soil behind it, where there is room between
// the bed and the bank's top.
func (k *side) slopeWords(c CrossSection, top channel.Bank, slope float64) {
	if math.IsNaN(top.Level) {
		return
	}
	half := math.Copysign(c.Own.Bed/2, top.Off)
	bed := c.proposedAt(half)
	from, to := k.place(half, bed), k.place(top.Off, top.Level)
	look := k.lifted(k.small(k.look.Ink))
	words := k.trf("1 in %s", k.number(slope))
	if slope == 0 {
		words = k.trf("upright")
	}
	width := k.letters.measure(words, look)
	if math.IsNaN(bed) || math.Abs(to[0]-from[0]) < 0.6*width {
		return
	}
	middle := orb.Point{(from[0] + to[0]) / 2, (from[1] + to[1]) / 2}
	// In the soil, below the side and toward the channel's outside.
	x, y := middle[0]+math.Copysign(0.5*width+3*k.px, top.Off)-0.5*width, middle[1]+1.5*look.size
	y = min(y, k.view.Plot.Max[1]-3*k.px)
	x = max(k.view.Plot.Min[0]+2*k.px, min(x, k.view.Plot.Max[0]-width-2*k.px))
	k.write(words, look, upright(x, y))
}

// proposedAt is the proposed ground nearest to an offset [m].
func (c CrossSection) proposedAt(off float64) float64 {
	best, least := math.NaN(), math.Inf(1)
	for i, x := range c.Offset {
		if d := math.Abs(x - off); d < least {
			best, least = c.Proposed[i], d
		}
	}
	return best
}

// number writes a number of no unit with as few decimals as say it.
func (k *side) number(v float64) string {
	return k.look.Tongue.write(strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64))
}

// formOf names the form of a section; nothing where there is none, or an island stands
// in it.
func (k *side) formOf(c CrossSection) []piece {
	look, own := k.small(k.look.Muted), c.Own
	switch {
	case own == nil || c.parted():
		return nil
	case len(own.Line) > 0:
		return []piece{{k.trf("as surveyed"), look}}
	case own.Form == channel.Rounded:
		return []piece{{k.trf("rounded, bed %s", k.level(own.Bed)), look}}
	}
	return []piece{{k.trf("trapezoid, bed %s", k.level(own.Bed)), look}}
}

// earthOf lists what is dug and filled there, and how fast the water runs.
func (k *side) earthOf(own *OwnSection) (all []piece) {
	if own == nil {
		return nil
	}
	look := k.small(k.look.Ink)
	if !math.IsNaN(own.Speed) {
		all = append(all, piece{k.trf("runs %s", k.speed(own.Speed)), look})
	}
	if own.Cut > 0 {
		all = append(all, piece{k.trf("cut %s", k.squares(own.Cut)), look})
	}
	if own.Fill > 0 {
		all = append(all, piece{k.trf("fill %s", k.squares(own.Fill)), look})
	}
	return all
}

// speed writes how fast water runs [m/s].
func (k *side) speed(v float64) string {
	unit := " m/s"
	if k.units == Feet {
		v, unit = v/geo.Foot, " ft/s"
	}
	return k.look.Tongue.write(strconv.FormatFloat(v, 'f', 2, 64)) + unit
}
