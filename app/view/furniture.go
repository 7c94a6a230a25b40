package view

import (
	"image"
	"math"
	"strconv"

	"github.com/paulmach/orb"

	"runnel/geo"
)

// Units are the units that lengths are written in.
type Units uint8

// Metres are usual; Feet are international feet.
const (
	Metres Units = iota
	Feet
)

// length returns one unit [m] and its sign.
func (u Units) length() (metres float64, sign string) {
	if u == Feet {
		return geo.Foot, "ft"
	}
	return 1, "m"
}

func (u Units) plural() string {
	if u == Feet {
		return "feet"
	}
	return "metres"
}

// FurnitureOptions places what stands on a map for its reader. The zero value
// is a metric scale bar in the lower left corner.
type FurnitureOptions struct {
	Units Units
	// Left and Bottom are the distance to the picture's corner [px]; 0 stands
	// for a usual margin.
	Left, Bottom float64
	// Show has Grid in it for lines of round coordinates.
	Show Layers
}

// Furniture draws a scale bar, a north arrow and the grid onto a picture.
func Furniture(dst *image.RGBA, c Camera, p Palette, o FurnitureOptions) {
	if dst.Rect.Empty() || c.check(dst.Rect.Dx(), dst.Rect.Dy()) != nil {
		return
	}
	k := borrowCanvas(dst, c, p)
	defer k.giveBack()
	if o.Show.Has(Grid) {
		k.graticule(o.Units)
	}
	left, bottom := o.Left, o.Bottom
	if left == 0 {
		left = furnitureMargin * k.px
	}
	if bottom == 0 {
		bottom = furnitureMargin * k.px
	}
	y := float64(k.h) - bottom
	text := k.look.Type.Small
	k.plate(orb.Bound{
		Min: orb.Point{left - 6*k.px, y - plateHeight(p) + 7*k.px},
		Max: orb.Point{left + 26*k.px + k.barWidth(widestBar*k.px, o.Units) + max(1.6*text, k.barOver(widestBar*k.px, o.Units)+0.6*text), y + 7*k.px},
	})
	k.northArrow(orb.Point{left + 7*k.px, y - 1.02*14*k.px}, 14*k.px)
	k.scaleBar(orb.Point{left + 26*k.px, y}, widestBar*k.px, o.Units)
}

// The usual margin of what stands on a map, and the widest bar of its scale [px].
const (
	furnitureMargin = 16
	widestBar       = 110
)

// mostOver is how far what is written at the end of a bar goes beyond it at most, with
// the paper after it: half of six figures, and a unit of two letters [sizes of the text].
const mostOver = 4.2

// plateHeight is how high the paper under the scale bar and the arrow is [px].
func plateHeight(p Palette) float64 { return 38 * p.unit() }

// FurnitureSize is how wide at most and how high the furniture in the corner of a
// picture is, with the margin about it [px].
func FurnitureSize(p Palette) (width, height float64) {
	return (furnitureMargin+32+widestBar+furnitureMargin/2)*p.unit() + mostOver*p.Type.Small, plateHeight(p) + (furnitureMargin-7+furnitureMargin/2)*p.unit()
}

// plate lays paper under what is to be read whatever the map shows there.
func (k *canvas) plate(b orb.Bound) {
	ring := b.ToRing()
	k.fill([]orb.Ring{ring}, faint(k.look.Paper, 0.82))
	k.stroke(ring, Pen{Width: 6 * k.px}, add)
	k.area([]orb.Ring{ring}, cut)
	k.ink(faint(k.look.Paper, 0.82))
}

// barWidth returns how wide a scale bar of at most some width is drawn [px].
func (k *canvas) barWidth(width float64, u Units) float64 {
	metre, _ := u.length()
	length, _ := barLength(width / k.camera.Scale / metre)
	return length * metre * k.camera.Scale
}

// barOver returns how far what is written at the end of such a bar goes beyond it [px].
func (k *canvas) barOver(width float64, u Units) float64 {
	text, sign := k.barText(width, u)
	look := k.barLook()
	return k.letters.measure(text+sign, look) - k.letters.measure(text, look)/2
}

// barText returns the figure at the end of such a bar, and its unit after a space.
func (k *canvas) barText(width float64, u Units) (figure, sign string) {
	metre, sign := u.length()
	length, _ := barLength(width / k.camera.Scale / metre)
	return k.look.Tongue.write(strconv.FormatFloat(length, 'f', -1, 64)), " " + sign
}

func (k *canvas) barLook() lettering {
	return lettering{size: k.look.Type.Small, weight: mediumWeight, colour: k.look.Ink, halo: faint(k.look.Paper, 0.86)}
}

// barLength returns the longest length of the series 1, 2, 5, 10 … that is at
// most the given one, and into how many parts it is divided.
func barLength(longest float64) (length float64, parts int) {
	if !(longest > 0) || math.IsInf(longest, 0) {
		return 0, 0
	}
	power := math.Pow(10, math.Floor(math.Log10(longest)))
	// The small excess keeps a length that is just 2 or 5 from being rounded away.
	switch ratio := longest / power * (1 + 1e-12); {
	case ratio >= 5:
		return 5 * power, 5
	case ratio >= 2:
		return 2 * power, 4
	}
	return power, 5
}

// scaleBar draws a bar of at most some width [px], its foot at the lower left.
func (k *canvas) scaleBar(at orb.Point, width float64, u Units) {
	metre, _ := u.length()
	length, parts := barLength(width / k.camera.Scale / metre)
	if parts == 0 {
		return
	}
	whole := length * metre * k.camera.Scale
	height := 5 * k.px
	top := at[1] - height
	frame := orb.Ring{{at[0], top}, {at[0] + whole, top}, {at[0] + whole, at[1]}, {at[0], at[1]}, {at[0], top}}
	k.draw(frame, Pen{Colour: faint(k.look.Paper, 0.85), Width: 4 * k.px})
	k.fill([]orb.Ring{frame}, k.look.Paper)
	for i := 0; i < parts; i += 2 {
		x0, x1 := at[0]+whole*float64(i)/float64(parts), at[0]+whole*float64(i+1)/float64(parts)
		k.area([]orb.Ring{{{x0, top}, {x1, top}, {x1, at[1]}, {x0, at[1]}}}, add)
	}
	k.stroke(frame, Pen{Width: k.px}, add)
	k.ink(k.look.Ink)
	look := k.barLook()
	k.write("0", look, upright(at[0]-k.letters.measure("0", look)/2, top-5*k.px))
	text, sign := k.barText(width, u)
	k.write(text+sign, look, upright(at[0]+whole-k.letters.measure(text, look)/2, top-5*k.px))
}

// northArrow draws a needle, half of it dark, with an N at its foot.
func (k *canvas) northArrow(p orb.Point, r float64) {
	tip, foot, notch := orb.Point{p[0], p[1] - r}, p[1]+0.5*r, orb.Point{p[0], p[1] + 0.22*r}
	left, right := orb.Point{p[0] - 0.42*r, foot}, orb.Point{p[0] + 0.42*r, foot}
	whole := orb.Ring{tip, right, notch, left, tip}
	k.draw(whole, Pen{Colour: faint(k.look.Paper, 0.85), Width: 4 * k.px})
	k.fill([]orb.Ring{whole}, k.look.Paper)
	k.area([]orb.Ring{{tip, notch, left}}, add)
	k.stroke(whole, Pen{Width: 1.1 * k.px}, add)
	k.ink(k.look.Ink)
	look := k.barLook()
	k.write("N", look, upright(p[0]-k.letters.measure("N", look)/2, p[1]+1.02*r))
}
