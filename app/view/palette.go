package view

import (
	"image/color"

	"runnel/geo/plan"
)

// A Colour is red, green and blue with an opacity, not multiplied by it.
type Colour = color.NRGBA

// A Palette is the whole look of the map: every colour, line width and type
// size. Lengths are pixels. Start from Light or Dark; the zero Palette draws
// nothing that can be seen.
type Palette struct {
	// Paper is the sheet; Desk is what lies outside the ground.
	Paper, Desk Colour
	// Ink draws text and boundaries, Muted what stands back.
	Ink, Muted Colour
	// Relief runs from the deepest shade to the brightest light.
	Relief []Stop
	// Contour draws every line of equal height, Index every fifth.
	Contour, Index Pen
	Paths          Flow
	Pond           Pond
	Hollow         Style
	// Sure colours how sure the paths are, the surest first.
	Sure [len(grades)]Colour
	// Trails are the colours in which the water of roofs and paving is told apart.
	Trails  []Colour
	Caution Style
	// Fault marks what cannot be measured as it is drawn.
	Fault Style
	// Heights run evenly from the lowest ground to the highest, Slopes are the
	// classes of slope, the least first.
	Heights []Colour
	Slopes  [len(slopeLimits) + 1]Colour
	// Doubts run evenly from heights that are well known to those that may be far off,
	// and Thin hatches where that is too far to say which way water runs.
	Doubts []Colour
	Thin   Hatch
	// Days are the classes of how long ground is under water, the shortest first.
	Days [len(dayLimits)]Colour
	// Unknown covers ground whose height is not known.
	Unknown Hatch
	// Accent marks what is selected and drawn, Drop the path of a drop.
	Accent, Drop Colour
	// Shadow falls from what stands above the ground.
	Shadow Colour
	Type   Sizes
	// Tongue is the language of the words and figures; nil is English.
	Tongue *Tongue
	// Kinds holds the style of each kind of feature, by plan.Kind.
	Kinds [plan.Planting + 1]Style
}

// A Stop sets a colour of the relief at a shade from 1, dark, to 255, bright.
type Stop struct {
	Shade  int
	Colour Colour
}

// Flow is how water paths are drawn: from Small and Thin to Large and Thick.
type Flow struct {
	Small, Large Colour
	Thin, Thick  float64
}

// Pond is how standing water is drawn, by depth, and its shoreline.
type Pond struct {
	Shallow, Middle, Deep Colour
	Shore                 Pen
}

// Sizes are the type sizes [px].
type Sizes struct{ Small, Text, Title float64 }

// A Style is how one kind of thing is drawn; what its painter has no use for
// is empty.
type Style struct {
	// Body fills an area or the width of a line.
	Body Colour
	// Edge draws an outline, Core the middle of a line.
	Edge, Core Pen
	Hatch      Hatch
	// Least is the narrowest that a line with a width is drawn, and half the
	// size of a symbol [px].
	Least float64
	// Lift is how far the shadow of a standing thing falls [px].
	Lift float64
	// Text is the colour of its name.
	Text Colour
}

// hues are what the light and the dark look are both made of.
type hues struct {
	paper, desk, ink, muted, accent    string
	contour, small, large, water, deep string
	channel, island, roof, paving      string
	path, caution, drain, service      string
	septic, well, plant, tree, drop    string
	soil                               string
	shallow, shadow                    string
	relief                             []Stop
	sure                               [len(grades)]string
	trails                             []string
	heights                            []string
	slopes                             [len(slopeLimits) + 1]string
	doubts                             []string
	days                               [len(dayLimits)]string
	// body is the opacity of what lies on the ground.
	body uint8
}

// Light is ink on warm paper.
func Light() Palette {
	return hues{
		paper: "F6F2E8", desk: "E9E3D4", ink: "23302E", muted: "616C66", accent: "D6336C",
		contour: "8C7355", small: "7FB2D9", large: "173F66", water: "3C8DC5", deep: "2A73AD", shallow: "93C8E8",
		channel: "0E7C7B", island: "7DA453", roof: "A9493F", paving: "9C9B94", path: "C58A2A", caution: "C77700",
		drain: "2F6690", service: "7A4A8C", septic: "7B5B3A", well: "17557F", plant: "5E8A3A", tree: "4F8A45",
		drop: "0B6FD0", shadow: "2B2A20", soil: "96632B", body: 205,
		sure: [...]string{"6A1B6E", "B05AA8", "DDAFD2"}, trails: []string{"C4460C", "0B7A5C", "9C2C77", "8A6A00", "4B3FB0", "7A3B10", "46606E"},
		heights: []string{"7B9F79", "94AA7D", "ACB581", "C6BE89", "DFC792", "EED2A8", "F9DEC0", "FBEAD7", "FCF5EF"},
		slopes:  [...]string{"F4F1E5", "F8E0A9", "F4C07B", "E79D66", "D77B5C", "BB5D60"},
		days:    [...]string{"D3EAF3", "A3D0E8", "6FB1DB", "3C8DC5", "23639E", "123A63"},
		doubts:  []string{"F4F1E6", "E8E2C6", "DAD3A8", "C9C18B", "B4AC70", "9C9458"},
		relief:  []Stop{{1, hex("9DA79A")}, {90, hex("CFCFBE")}, {150, hex("E8E3D3")}, {181, hex("F3EEE1")}, {215, hex("FAF7EE")}, {255, hex("FFFEFA")}},
	}.palette()
}

// Dark is the same hues on deep green.
func Dark() Palette {
	return hues{
		paper: "1B2422", desk: "141B1A", ink: "E9E4D6", muted: "93A09A", accent: "FF7AA8",
		contour: "A38762", small: "3E719A", large: "A9DBFA", water: "3C8DC5", deep: "57A5DA", shallow: "2A638E",
		channel: "35B5AE", island: "8DB862", roof: "B5574B", paving: "8A8C87", path: "D9A548", caution: "F2A234",
		drain: "6BA6D3", service: "B98BCB", septic: "B89468", well: "7FC0EA", plant: "8FBF66", tree: "7DB277",
		drop: "5CC0FF", shadow: "060908", soil: "D2A06A", body: 190,
		sure: [...]string{"F4C4F0", "BC7ABF", "71497B"}, trails: []string{"FF9A5C", "4FD0A5", "F08AC8", "E5C64A", "A99CF5", "D9A37C", "A9C0CC"},
		heights: []string{"182C25", "243728", "2F422B", "434B2E", "555432", "695E38", "7E6841", "927651", "A58665"},
		slopes:  [...]string{"212A25", "3B3A2C", "5F4A2E", "8A5B36", "B9694B", "DA8077"},
		days:    [...]string{"264A60", "2C6A94", "3C8DC5", "64B0E2", "97D0F5", "D2EEFF"},
		doubts:  []string{"1C2421", "2F3224", "43442A", "595831", "706D3A", "898446"},
		relief:  []Stop{{1, hex("0B1110")}, {90, hex("121918")}, {150, hex("182120")}, {181, hex("202B29")}, {215, hex("30403B")}, {255, hex("50635B")}},
	}.palette()
}

func (h hues) palette() Palette {
	paper, ink := hex(h.paper), hex(h.ink)
	return Palette{
		Paper: paper, Desk: hex(h.desk), Ink: ink, Muted: hex(h.muted), Relief: h.relief,
		Contour: Pen{Colour: hexA(h.contour, 150), Width: 0.8},
		Index:   Pen{Colour: hexA(h.contour, 225), Width: 1.3},
		Paths:   Flow{Small: hexA(h.small, 215), Large: hex(h.large), Thin: 0.9, Thick: 5},
		Pond: Pond{Shallow: hexA(h.shallow, 225), Middle: hexA(h.water, 235), Deep: hexA(h.deep, 245),
			Shore: Pen{Colour: hex(h.large), Width: 1.1}},
		Hollow: Style{Body: hexA(h.small, 38), Edge: Pen{hexA(h.water, 220), 1.1, []float64{5, 2.5}},
			Hatch: hatch(hexA(h.water, 150), 9, 1, levelLines), Text: hex(h.drain)},
		Caution: Style{Body: hex(h.caution), Edge: Pen{Colour: paper, Width: 1.6}, Core: Pen{Colour: paper, Width: 2}, Least: 9.5, Text: hex(h.caution)},
		Fault:   Style{Body: hex(h.roof), Edge: Pen{Colour: paper, Width: 1.6}, Core: Pen{Colour: paper, Width: 2}, Least: 9.5, Text: hex(h.roof)},
		Unknown: hatch(hexA(h.muted, 95), 11, 0.9, falling),
		Accent:  hex(h.accent), Drop: hex(h.drop), Shadow: hexA(h.shadow, 60),
		Sure: h.grades(), Trails: opaque(h.trails), Heights: opaque(h.heights),
		Slopes: [len(slopeLimits) + 1]Colour(opaque(h.slopes[:])),
		Doubts: opaque(h.doubts),
		Days:   [len(dayLimits)]Colour(opaque(h.days[:])),
		Thin:   hatch(hexA(h.ink, 150), 8, 1.1, rising),
		Type:   Sizes{Small: 10.5, Text: 12.5, Title: 22},
		Kinds:  h.kinds(),
	}
}

func (h hues) grades() (c [len(grades)]Colour) {
	for i, hue := range h.sure {
		c[i] = hexA(hue, 215)
	}
	return c
}

func opaque(hues []string) (all []Colour) {
	for _, hue := range hues {
		all = append(all, hex(hue))
	}
	return all
}

// kinds tells the kinds apart by shape, line and hatch as well as by colour.
func (h hues) kinds() (k [plan.Planting + 1]Style) {
	paper, ink := hex(h.paper), hex(h.ink)
	k[plan.Boundary] = Style{Edge: Pen{ink, 1.7, []float64{14, 4, 2, 4}}, Text: ink}
	k[plan.Roof] = Style{Body: hexA(h.roof, h.body+35), Edge: Pen{Colour: mix(hex(h.roof), ink, 0.45), Width: 1.4},
		Hatch: hatch(hexA(h.paper, 70), 7, 1, rising), Lift: 3, Text: mix(hex(h.roof), ink, 0.35)}
	k[plan.Downpipe] = Style{Body: paper, Edge: Pen{Colour: mix(hex(h.roof), ink, 0.3), Width: 1.4},
		Core: Pen{Colour: hex(h.drain), Width: 1.2}, Least: 4.5, Text: mix(hex(h.roof), ink, 0.35)}
	k[plan.Paving] = Style{Body: hexA(h.paving, h.body-45), Edge: Pen{Colour: mix(hex(h.paving), ink, 0.35), Width: 1},
		Hatch: hatch(hexA(h.paper, 90), 12, 1, pavers), Text: mix(hex(h.paving), ink, 0.6)}
	k[plan.Cover] = Style{Body: hexA(h.septic, 22), Edge: Pen{hexA(h.septic, 170), 1, []float64{2, 3}},
		Hatch: hatch(hexA(h.septic, 120), 11, 1.2, stipple), Text: mix(hex(h.septic), ink, 0.4)}
	k[plan.Drain] = Style{Body: hexA(h.drain, 45), Edge: Pen{hex(h.drain), 1.2, nil},
		Core: Pen{hex(h.drain), 1.4, []float64{8, 4}}, Least: 5, Text: hex(h.drain)}
	k[plan.Inlet] = Style{Body: hex(h.drain), Edge: Pen{Colour: paper, Width: 1.4}, Core: Pen{Colour: paper, Width: 1.3}, Least: 6, Text: hex(h.drain)}
	k[plan.Kerb] = Style{Core: Pen{Colour: mix(ink, paper, 0.15), Width: 1.4}, Least: 4, Text: ink}
	k[plan.Wall] = Style{Core: Pen{Colour: mix(ink, paper, 0.1), Width: 4}, Edge: Pen{Colour: paper, Width: 1.3}, Least: 4, Text: ink}
	k[plan.Culvert] = Style{Body: hexA(h.paper, 170), Edge: Pen{ink, 1.2, []float64{5, 3}}, Least: 5, Text: ink}
	k[plan.Well] = Style{Body: paper, Edge: Pen{Colour: hex(h.well), Width: 2}, Core: Pen{Colour: hex(h.well), Width: 1.4}, Least: 7, Text: hex(h.well)}
	k[plan.SepticField] = Style{Body: hexA(h.septic, 28), Edge: Pen{hex(h.septic), 1.3, []float64{6, 3}},
		Hatch: hatch(hexA(h.septic, 150), 14, 1.2, trenches), Text: hex(h.septic)}
	k[plan.ServiceLine] = Style{Core: Pen{hex(h.service), 1.5, []float64{18, 9}}, Least: 5, Text: hex(h.service)}
	k[plan.SoilZone] = Style{Body: hexA(h.soil, 13), Edge: Pen{hexA(h.soil, 215), 1.3, []float64{10, 3.5}},
		Hatch: hatch(hexA(h.soil, 120), 30, 1, earth), Text: mix(hex(h.soil), ink, 0.3)}
	k[plan.SoilTest] = Style{Body: paper, Edge: Pen{Colour: mix(hex(h.soil), ink, 0.25), Width: 1.6},
		Core: Pen{Colour: mix(hex(h.soil), ink, 0.25), Width: 1.6}, Least: 6.5, Text: mix(hex(h.soil), ink, 0.3)}
	k[plan.Tree] = Style{Body: hexA(h.tree, 110), Edge: Pen{Colour: hexA(h.tree, 235), Width: 1.2},
		Core: Pen{Colour: mix(hex(h.tree), ink, 0.4), Width: 3.4}, Least: 4, Text: mix(hex(h.tree), ink, 0.3)}
	k[plan.Channel] = Style{Body: hexA(h.channel, 60), Edge: Pen{Colour: hex(h.channel), Width: 1.6},
		Core: Pen{hexA(h.channel, 230), 1.1, []float64{9, 3, 2, 3}}, Least: 5, Text: mix(hex(h.channel), ink, 0.2)}
	k[plan.Island] = Style{Body: hexA(h.island, 105), Edge: Pen{Colour: mix(hex(h.island), ink, 0.3), Width: 1.5},
		Hatch: hatch(hexA(h.island, 235), 18, 1.1, tufts), Text: mix(hex(h.island), ink, 0.45)}
	k[plan.Sill] = Style{Core: Pen{Colour: mix(hex(h.channel), ink, 0.55), Width: 4.4}, Edge: Pen{Colour: paper, Width: 1.8}, Least: 7, Text: mix(hex(h.channel), ink, 0.5)}
	k[plan.Spillway] = Style{Body: hex(h.channel), Edge: Pen{Colour: paper, Width: 1.4}, Least: 8, Text: mix(hex(h.channel), ink, 0.3)}
	k[plan.Section] = Style{Core: Pen{Colour: mix(hex(h.channel), ink, 0.4), Width: 2}, Edge: Pen{Colour: paper, Width: 1.3}, Least: 8, Text: mix(hex(h.channel), ink, 0.4)}
	k[plan.Crossing] = Style{Body: mix(hex(h.path), paper, 0.45), Edge: Pen{Colour: mix(hex(h.path), ink, 0.55), Width: 1.7},
		Core: Pen{Colour: mix(hex(h.path), ink, 0.3), Width: 0.9}, Least: 6, Text: mix(hex(h.path), ink, 0.5)}
	k[plan.Path] = Style{Body: hexA(h.path, 105), Edge: Pen{Colour: hex(h.path), Width: 1.2},
		Core: Pen{hexA(h.paper, 200), 1, []float64{3, 4}}, Least: 3.5, Text: mix(hex(h.path), ink, 0.4)}
	k[plan.Place] = Style{Body: hex(h.path), Edge: Pen{Colour: paper, Width: 1.5}, Core: Pen{Colour: paper, Width: 1.6}, Least: 8.5, Text: mix(hex(h.path), ink, 0.45)}
	k[plan.Planting] = Style{Body: hexA(h.plant, 40), Edge: Pen{hex(h.plant), 1.2, []float64{1.5, 3}},
		Hatch: hatch(hexA(h.plant, 230), 16, 1.2, seedlings), Text: mix(hex(h.plant), ink, 0.3)}
	return k
}

// Scaled returns the palette with every length times k, for displays and prints
// whose pixels are smaller than the 1/96 inch that the palette is drawn for.
func (p Palette) Scaled(k float64) Palette {
	p.Contour, p.Index, p.Pond.Shore = p.Contour.scaled(k), p.Index.scaled(k), p.Pond.Shore.scaled(k)
	p.Paths.Thin, p.Paths.Thick = p.Paths.Thin*k, p.Paths.Thick*k
	p.Hollow, p.Caution, p.Fault = p.Hollow.scaled(k), p.Caution.scaled(k), p.Fault.scaled(k)
	p.Unknown.Size, p.Unknown.Width = p.Unknown.Size*k, p.Unknown.Width*k
	p.Thin.Size, p.Thin.Width = p.Thin.Size*k, p.Thin.Width*k
	p.Type = Sizes{p.Type.Small * k, p.Type.Text * k, p.Type.Title * k}
	for i, s := range p.Kinds {
		p.Kinds[i] = s.scaled(k)
	}
	return p
}

func (p Pen) scaled(k float64) Pen {
	dash := make([]float64, len(p.Dash))
	for i, v := range p.Dash {
		dash[i] = v * k
	}
	return Pen{Colour: p.Colour, Width: p.Width * k, Dash: dash}
}

func (s Style) scaled(k float64) Style {
	s.Edge, s.Core = s.Edge.scaled(k), s.Core.scaled(k)
	s.Hatch.Size, s.Hatch.Width = s.Hatch.Size*k, s.Hatch.Width*k
	s.Least, s.Lift = s.Least*k, s.Lift*k
	return s
}

// unit is one pixel of the unscaled palette; what has no width of its own in
// the palette is a number of these.
func (p Palette) unit() float64 { return p.Type.Text / 12.5 }
