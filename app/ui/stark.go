package ui

import (
	"image/color"
	"math"

	"runnel/app/view"
	"runnel/geo/plan"
)

// The least contrasts of the looks of high contrast (WCAG 2.2): text at level AAA,
// 1.4.6, and what is no text, 1.4.11.
const (
	starkText  = 7
	starkLines = 3
)

// stark is a palette of high contrast: black on white or white on black, with every
// hue darkened or lightened until it can be told from the sheet.
func stark(p view.Palette, dark bool) view.Palette {
	p.Paper, p.Desk, p.Ink, p.Muted = greyOf(255), greyOf(236), greyOf(0), greyOf(60)
	if dark {
		p.Paper, p.Desk, p.Ink, p.Muted = greyOf(0), greyOf(22), greyOf(255), greyOf(205)
	}
	p.Thin.Colour = p.Ink
	s := starkener{p.Desk, p.Ink} // what stands out on the desk does on the sheet
	p.Relief = nil
	for _, stop := range view.Light().Relief {
		share := float64(stop.Shade) / 255
		grey := greyOf(uint8(150 + 105*share))
		if dark {
			grey = greyOf(uint8(80 * share))
		}
		p.Relief = append(p.Relief, view.Stop{Shade: stop.Shade, Colour: grey})
	}
	p.Contour, p.Index = s.pen(p.Contour), s.pen(p.Index)
	p.Paths.Small, p.Paths.Large = s.reach(p.Paths.Small, starkLines), s.reach(p.Paths.Large, starkText)
	p.Pond.Shore = s.pen(p.Pond.Shore)
	p.Hollow, p.Caution, p.Fault = s.style(p.Hollow), s.style(p.Caution), s.style(p.Fault)
	p.Caution.Body, p.Fault.Body = s.reach(p.Caution.Body, starkText), s.reach(p.Fault.Body, starkText)
	p.Accent, p.Drop = s.reach(p.Accent, starkText), s.reach(p.Drop, starkText)
	for i := range p.Sure {
		p.Sure[i] = s.reach(p.Sure[i], starkLines)
	}
	trails := p.Trails
	p.Trails = nil
	for _, c := range trails {
		p.Trails = append(p.Trails, s.reach(c, starkText))
	}
	for i := range p.Kinds {
		p.Kinds[i] = s.style(p.Kinds[i])
	}
	channel := &p.Kinds[plan.Channel].Edge.Colour // the window's first colour, which draws text too
	*channel = s.reach(*channel, starkText)
	return p
}

func greyOf(grey uint8) view.Colour { return view.Colour{R: grey, G: grey, B: grey, A: 255} }

// A starkener brings colours away from what they lie on, toward the ink.
type starkener struct{ on, ink view.Colour }

// reach is the nearest colour to c, on the way to the ink, that has at least a
// contrast with the sheet.
func (s starkener) reach(c view.Colour, least float64) view.Colour {
	for share := 0.0; share < 1; share += 0.02 {
		if mixed := blend(c, s.ink, share); contrastOf(mixed, s.on) >= least {
			return mixed
		}
	}
	return s.ink
}

// pen keeps what is drawn in the sheet's own colour, as the rim of a mark is.
func (s starkener) pen(p view.Pen) view.Pen {
	if p.Colour.A > 0 && contrastOf(p.Colour, s.on) > 1.3 {
		p.Colour = s.reach(p.Colour, starkLines)
	}
	return p
}

func (s starkener) style(k view.Style) view.Style {
	k.Edge, k.Core = s.pen(k.Edge), s.pen(k.Core)
	if k.Text.A > 0 {
		k.Text = s.reach(k.Text, starkText)
	}
	if k.Body.A == 255 && contrastOf(k.Body, s.on) > 1.3 {
		k.Body = s.reach(k.Body, starkLines)
	}
	return k
}

// contrastOf is the contrast ratio of two opaque colours, 1 to 21 (WCAG 2.2).
func contrastOf(a, b color.NRGBA) float64 {
	la, lb := relativeLuminance(a), relativeLuminance(b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

// relativeLuminance runs from 0, black, to 1, white (WCAG 2.2, of sRGB).
func relativeLuminance(c color.NRGBA) float64 {
	linear := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B)
}
