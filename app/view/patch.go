package view

import (
	"context"

	"github.com/paulmach/orb"

	"runnel/geo/survey"
)

// patched is how ground is drawn whose heights were worked out from around it.
func (p Palette) patched() Style {
	unit := p.unit()
	colour := p.Ink
	colour.A = 120
	return Style{
		Hatch: hatch(colour, 7*unit, 0.9*unit, crossed),
		Edge:  Pen{Colour: colour, Width: unit, Dash: []float64{4 * unit, 2.5 * unit}},
	}
}

// crossed is short dashes that fall, so that it is told from ground not known, whose lines
// run through, and from ground too thin, whose lines rise.
var crossed = []Stroke{{0.1, 0.1, 0.5, 0.5}}

// patches are the parts of the ground that were worked out.
func (s *Scene) patches() []survey.Patch {
	if s.Site == nil {
		return nil
	}
	return s.Site.Survey.Patches
}

// drawPatches hatches what was worked out and not measured.
func (k *canvas) drawPatches(ctx context.Context, patches []survey.Patch) error {
	look := k.look.patched()
	var seen []orb.Polygon
	for i, p := range patches {
		if i%1024 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		if len(p.Outline) > 0 && k.sees(p.Outline.Bound(), 2) {
			seen = append(seen, p.Outline)
		}
	}
	if len(seen) == 0 {
		return nil
	}
	for _, outline := range seen {
		k.area(k.rings(outline), add)
	}
	k.washHatch(look.Hatch)
	k.clear()
	for _, outline := range seen {
		for _, ring := range k.rings(outline) {
			k.stroke(ring, look.Edge, add)
		}
	}
	k.ink(look.Edge.Colour)
	return ctx.Err()
}

func samplePatch(k *canvas, b orb.Bound) {
	look := k.look.patched()
	look.Body = k.look.Paper
	sampleArea(k, b, look)
}
