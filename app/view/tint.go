package view

import (
	"context"
	"encoding/binary"

	"runnel/analysis/terrain"
	"runnel/geo/grid"
)

// A Tint is a measure of the ground prepared for colouring it. It is not changed
// once made.
type Tint struct {
	// Low and High are the measures at the ends of the colours.
	Low, High float64

	// graded holds a grade for each cell, 1 to 255, 0 where the ground is not known;
	// then copies of a half, a quarter and so on of the size.
	graded []grid.Grid[uint8]
}

// steepest is the slope [m/m] from which all ground has one colour.
const steepest = 0.3

// newTint grades a measure between two ends.
func newTint(measure grid.Ground, low, high float64) *Tint {
	g := grid.New[uint8](measure.Frame)
	perUnit := 254 / max(high-low, 1e-6)
	eachRow(g.H, func(y int) {
		row := g.Row(y)
		for x, v := range measure.Row(y) {
			if v == v {
				row[x] = uint8(1.5 + max(0, min(254, (float64(v)-low)*perUnit)))
			}
		}
	})
	return &Tint{Low: low, High: high, graded: halves(g, mean)}
}

// at returns the grade of a measure, in quarters, as the colour tables count.
func (t *Tint) at(measure float64) float64 {
	return 4 * (1 + 254*(measure-t.Low)/max(t.High-t.Low, 1e-6))
}

// tint works out the colours that are shown, where they are not known. While a
// large ground is shaped in haste those of before will do.
func (s *Scene) tint(show Layers) func(context.Context) error {
	return func(ctx context.Context) (err error) {
		if show.Has(Heights) && s.Heights == nil {
			s.Heights, err = s.heights(ctx)
		}
		if err == nil && show.Has(Slopes) && s.Slopes == nil {
			s.Slopes, err = s.slopes(ctx)
		}
		if err == nil && show.Has(Doubts) && s.Doubt == nil && s.Site != nil {
			s.Doubt, err = newDoubt(ctx, s.Site)
		}
		return err
	}
}

// tints are the layers for which the ground has been graded.
func (s *Scene) tints() (made Layers) {
	if s.Heights != nil {
		made = made.With(Heights)
	}
	if s.Slopes != nil {
		made = made.With(Slopes)
	}
	if s.Doubt != nil || s.Site == nil {
		made = made.With(Doubts)
	}
	return made
}

// heights are coloured between the lowest and the highest of the ground as it is,
// so that all schemes of a site are coloured alike.
func (s *Scene) heights(ctx context.Context) (*Tint, error) {
	low, high, _ := grid.Extent(s.surveyed())
	return newTint(s.Ground, low, high), ctx.Err()
}

func (s *Scene) slopes(ctx context.Context) (*Tint, error) {
	slope, err := terrain.Slope(ctx, s.Ground)
	if err != nil {
		return nil, err
	}
	return newTint(slope, 0, steepest), ctx.Err()
}

// tinted returns what the ground is coloured by and the colour of each quarter
// grade; nil for nothing.
func (s *Scene) tinted(p Palette) (*Tint, *[reliefSteps]Colour) {
	var colours [reliefSteps]Colour
	switch {
	case s.Show.Has(Heights) && s.Heights != nil:
		for i := range colours {
			colours[i] = rampColour(p.Heights, (float64(i)/4-1)/254)
		}
		return s.Heights, &colours
	case s.Show.Has(Slopes) && s.Slopes != nil:
		for i := range colours {
			colours[i] = p.Slopes[0]
			for class, limit := range slopeLimits {
				if float64(i) >= s.Slopes.at(limit) {
					colours[i] = p.Slopes[class+1]
				}
			}
		}
		return s.Slopes, &colours
	case s.Show.Has(Doubts) && s.Doubt != nil:
		colours = s.Doubt.colours(p)
		return s.Doubt.tint, &colours
	}
	return nil, nil
}

// slopeLimits part the classes of slope [m/m]. A paved place may fall 1 in 48 and
// a walk rise 1 in 20, a ramp 1 in 12, a short one where there is no room 1 in 8
// (2010 ADA Standards for Accessible Design, 403.3, 405.2 and its exception; from
// memory). A bank that is mown or dug without steps is 1 in 4 at most: common
// practice, no source.
var slopeLimits = [...]float64{0.02, 0.05, 1.0 / 12, 0.125, 0.25}

// rampColour returns the colour a share t of the way along evenly spaced colours.
func rampColour(ramp []Colour, t float64) Colour {
	if len(ramp) == 0 {
		return Colour{}
	}
	at := max(0, min(1, t)) * float64(len(ramp)-1)
	i := min(int(at), max(len(ramp)-2, 0))
	return mix(ramp[i], ramp[min(i+1, len(ramp)-1)], at-float64(i))
}

// drawTint colours the ground that is drawn; its relief shades the colours.
func (k *canvas) drawTint(ctx context.Context, s *Scene) error {
	tint, colours := s.tinted(k.look)
	if tint == nil {
		return nil
	}
	light := k.look.lights()
	if !s.Show.Has(Shade) {
		light = [256]uint32{}
	}
	g := k.closeUp(k.suited(tint.graded))
	columns, lines := k.columns(g.Frame), k.lines(g.Frame)
	first, last := within(columns)
	top, bottom := within(lines)
	return rows(ctx, top, bottom, func(y int) {
		row := lines[y]
		b := tintBrush{colours: colours, light: &light, rows: [2][]uint8{g.Row(int(row.a)), g.Row(int(row.b))}, down: row.t}
		b.row(k.dst.Pix[y*k.dst.Stride+4*first:y*k.dst.Stride+4*last], columns[first:last])
	})
}

// lights returns how much a pixel of the relief, by its green, lightens what it
// lies under, in 256ths: level ground leaves a colour as it is. The relief of the
// dark look is far stronger than that of the light one, so both are brought to
// one strength.
func (p Palette) lights() (light [256]uint32) {
	const darkest, brightest = 0.62, 1.14
	if len(p.Relief) < 3 {
		return light
	}
	first, last := float64(p.Relief[0].Colour.G), float64(p.Relief[len(p.Relief)-1].Colour.G)
	level := float64(p.shadeColour(levelShade).G)
	for g := range light {
		t := darkest + (1-darkest)*(float64(g)-first)/max(level-first, 1)
		if float64(g) > level {
			t = 1 + (brightest-1)*(float64(g)-level)/max(last-level, 1)
		}
		light[g] = uint32(256 * max(darkest, min(brightest, t)))
	}
	return light
}

// levelShade is the shade of level ground under a light 45 degrees high.
const levelShade = 181

// A tintBrush colours one row of pixels.
type tintBrush struct {
	colours *[reliefSteps]Colour
	// light is by how much relief of a green lightens, in 256ths; 0 for no relief.
	light *[256]uint32
	rows  [2][]uint8
	down  int32
}

func (b tintBrush) row(pix []uint8, columns []tap) {
	top, bottom := b.rows[0], b.rows[1]
	for x, c := range columns {
		p, q, r, s := int32(top[c.a]), int32(top[c.b]), int32(bottom[c.a]), int32(bottom[c.b])
		var v int32
		if p == 0 || q == 0 || r == 0 || s == 0 {
			v = nearest([4]int32{p, q, r, s}, c.t, b.down) << 2
		} else {
			v = ((p<<8+(q-p)*c.t)*(256-b.down) + (r<<8+(s-r)*c.t)*b.down) >> 14
		}
		if v == 0 {
			continue
		}
		at := pix[4*x : 4*x+4 : 4*x+4]
		t, light := b.colours[v], b.light[at[1]]
		if light == 0 {
			light = 256
		}
		binary.LittleEndian.PutUint32(at, uint32(lit(t.R, light))|uint32(lit(t.G, light))<<8|uint32(lit(t.B, light))<<16|255<<24)
	}
}

func lit(v uint8, light uint32) uint8 { return uint8(min(255, uint32(v)*light>>8)) }
