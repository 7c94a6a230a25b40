package view

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"runnel/geo/plan"
)

// A sight turns linear red, green and blue into what an eye, or a printer, makes
// of them.
type sight [3][3]float64

// sights are those of people who lack one kind of cone, at severity 1.0: Machado,
// Oliveira and Fernandes, A physiologically-based model for simulation of color
// vision deficiency, IEEE Transactions on Visualization and Computer Graphics 15
// (2009) 1291, table 1, from memory; each row sums to 1, which is tested. Grey is
// the luminance of ITU-R BT.709.
var sights = map[string]sight{
	"all cones":    {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
	"protanopia":   {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}},
	"deuteranopia": {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}},
	"tritanopia":   {{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}},
	"grey print":   {{0.2126, 0.7152, 0.0722}, {0.2126, 0.7152, 0.0722}, {0.2126, 0.7152, 0.0722}},
}

func TestEverySightLeavesGreyAsItIs(t *testing.T) {
	for name, m := range sights {
		for _, row := range m {
			if sum := row[0] + row[1] + row[2]; math.Abs(sum-1) > 2e-6 {
				t.Errorf("%s: a row sums to %g", name, sum)
			}
		}
	}
}

// lab returns the CIE 1976 L*a*b* of an opaque sRGB colour (IEC 61966-2-1, white D65)
// as an eye sees it.
func (m sight) lab(c Colour) [3]float64 {
	linear := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	rgb := [3]float64{linear(c.R), linear(c.G), linear(c.B)}
	var seen [3]float64
	for i, row := range m {
		seen[i] = max(0, min(1, row[0]*rgb[0]+row[1]*rgb[1]+row[2]*rgb[2]))
	}
	r, g, b := seen[0], seen[1], seen[2]
	f := func(t float64) float64 {
		if t > 216.0/24389 {
			return math.Cbrt(t)
		}
		return (24389.0/27*t + 16) / 116
	}
	x := f((0.4124564*r + 0.3575761*g + 0.1804375*b) / 0.95047)
	y := f(0.2126729*r + 0.7151522*g + 0.0721750*b)
	z := f((0.0193339*r + 0.1191920*g + 0.9503041*b) / 1.08883)
	return [3]float64{116*y - 16, 500 * (x - y), 200 * (y - z)}
}

// apart is the colour difference ΔE*ab of 1976: the distance in L*a*b*.
func (m sight) apart(a, b Colour) float64 {
	p, q := m.lab(a), m.lab(b)
	return math.Sqrt((p[0]-q[0])*(p[0]-q[0]) + (p[1]-q[1])*(p[1]-q[1]) + (p[2]-q[2])*(p[2]-q[2]))
}

// The corners of the colour cube: Lindbloom's table of sRGB in L*a*b*, D65.
func TestLabOfKnownColours(t *testing.T) {
	for hue, want := range map[string][3]float64{
		"FFFFFF": {100, 0, 0}, "000000": {0, 0, 0}, "FF0000": {53.24, 80.09, 67.20}, "00FF00": {87.73, -86.18, 83.18}, "0000FF": {32.30, 79.19, -107.86},
	} {
		got := sights["all cones"].lab(hex(hue))
		for i := range got {
			if math.Abs(got[i]-want[i]) > 0.02 {
				t.Errorf("%s is %.2f, want %.2f", hue, got, want)
				break
			}
		}
	}
}

// on is a colour as it lies on another.
func on(ground, c Colour) Colour {
	a := float64(c.A) / 255
	c.A = 255
	return mix(ground, c, a)
}

// fill is what the area of a kind looks like on paper.
func (p Palette) fill(k plan.Kind) Colour { return on(p.Paper, p.Kinds[k].Body) }

// Colours this far apart [ΔE*ab] are told apart side by side: some four times what
// is just seen (a difference of 2.3: Mahy, Van Eycken and Oosterlinck, Color
// Research and Application 19 (1994) 105, from memory).
const toldApart = 10

// A confusable is two things that may lie side by side on a map. Where every sight
// does not tell their colours apart, their shape, dash or hatch must, and says how.
type confusable struct {
	name string
	a, b func(Palette) Colour
	// form is true where the palette gives the two another dash or hatch, or one of
	// them none.
	form func(Palette) bool
	// shape says what sets their drawing apart, where neither dash nor hatch does.
	shape string
}

func area(k plan.Kind) func(Palette) Colour { return func(p Palette) Colour { return p.fill(k) } }
func edge(k plan.Kind) func(Palette) Colour {
	return func(p Palette) Colour { return on(p.Paper, p.Kinds[k].Edge.Colour) }
}
func core(k plan.Kind) func(Palette) Colour {
	return func(p Palette) Colour { return on(p.Paper, p.Kinds[k].Core.Colour) }
}

func hatched(a, b plan.Kind) func(Palette) bool {
	return func(p Palette) bool { return !slices.Equal(p.Kinds[a].Hatch.Strokes, p.Kinds[b].Hatch.Strokes) }
}

func dashed(a, b func(Palette) Pen) func(Palette) bool {
	return func(p Palette) bool { return !slices.Equal(a(p).Dash, b(p).Dash) }
}
func edgePen(k plan.Kind) func(Palette) Pen { return func(p Palette) Pen { return p.Kinds[k].Edge } }
func corePen(k plan.Kind) func(Palette) Pen { return func(p Palette) Pen { return p.Kinds[k].Core } }

// confusables lists every two kinds of area, and what else may be taken for each
// other.
func confusables() (all []confusable) {
	areas := []plan.Kind{plan.Roof, plan.Paving, plan.Cover, plan.SepticField, plan.Planting, plan.Island}
	for i, a := range areas {
		for _, b := range areas[:i] {
			all = append(all, confusable{name: fmt.Sprint(plan.SpecOf(a).Label, " and ", plan.SpecOf(b).Label), a: area(a), b: area(b), form: hatched(a, b)})
		}
	}
	pond := func(p Palette) Colour { return on(p.Paper, p.Pond.Middle) }
	small := func(p Palette) Colour { return on(p.Paper, p.Paths.Small) }
	contour := func(p Palette) Colour { return on(p.Paper, p.Index.Colour) }
	contourPen := func(p Palette) Pen { return p.Index }
	hollowPen := func(p Palette) Pen { return p.Hollow.Edge }
	hollow := func(p Palette) Colour { return on(p.Paper, p.Hollow.Edge.Colour) }
	return append(all,
		confusable{name: "channel and drain", a: edge(plan.Channel), b: edge(plan.Drain), form: dashed(corePen(plan.Channel), corePen(plan.Drain))},
		confusable{name: "path and contour", a: edge(plan.Path), b: contour, shape: "a path is a band with a dotted middle, a contour a line with its level"},
		confusable{name: "path and channel", a: area(plan.Path), b: area(plan.Channel), form: dashed(corePen(plan.Path), corePen(plan.Channel))},
		confusable{name: "water path and contour", a: small, b: contour, shape: "a water path runs across contours and widens downhill"},
		confusable{name: "standing water and island", a: pond, b: area(plan.Island), form: func(p Palette) bool { return len(p.Kinds[plan.Island].Hatch.Strokes) > 0 }},
		confusable{name: "standing water and paving", a: pond, b: area(plan.Paving), form: func(p Palette) bool { return len(p.Kinds[plan.Paving].Hatch.Strokes) > 0 }},
		confusable{name: "hollow and septic field", a: hollow, b: edge(plan.SepticField), form: func(p Palette) bool {
			return !slices.Equal(p.Hollow.Hatch.Strokes, p.Kinds[plan.SepticField].Hatch.Strokes)
		}},
		confusable{name: "hollow and contour", a: hollow, b: contour, form: dashed(hollowPen, contourPen)},
		confusable{name: "kerb and wall", a: core(plan.Kerb), b: core(plan.Wall), shape: "a kerb has teeth, a wall a light line in it"},
		confusable{name: "service line and boundary", a: core(plan.ServiceLine), b: edge(plan.Boundary), form: dashed(corePen(plan.ServiceLine), edgePen(plan.Boundary))},
		confusable{name: "service line and culvert", a: core(plan.ServiceLine), b: edge(plan.Culvert), form: dashed(corePen(plan.ServiceLine), edgePen(plan.Culvert))},
		confusable{name: "sill and wall", a: core(plan.Sill), b: core(plan.Wall), shape: "a sill has a wing at each end, a wall a light line in it"},
		confusable{name: "tree and planting", a: area(plan.Tree), b: area(plan.Planting), shape: "a tree is a lobed disc with its stem, planting has seedlings in it"},
		confusable{name: "caution and place", a: func(p Palette) Colour { return p.Caution.Body }, b: area(plan.Place), shape: "a caution is a triangle, a place a lozenge"},
		confusable{name: "well and inlet", a: edge(plan.Well), b: area(plan.Inlet), shape: "a well is round, an inlet square"},
	)
}

func looks() map[string]Palette { return map[string]Palette{"light": Light(), "dark": Dark()} }

func TestWhatMayBeConfusedDiffersInColourOrInForm(t *testing.T) {
	for look, p := range looks() {
		for _, pair := range confusables() {
			if pair.shape != "" || pair.form != nil && pair.form(p) {
				continue
			}
			for name, m := range sights {
				if d := m.apart(pair.a(p), pair.b(p)); d < toldApart {
					t.Errorf("%s, %s: %s are %.1f apart, want %d, and neither dash nor hatch tells them apart", look, name, pair.name, d, toldApart)
				}
			}
		}
	}
}

// What is told by colour alone must be told by every eye, and in print.
func TestScalesAreReadByEveryEyeAndInPrint(t *testing.T) {
	for look, p := range looks() {
		pond := p.Pond
		for name, m := range sights {
			for _, scale := range []struct {
				name  string
				steps []Colour
				least float64
			}{
				{"depth of standing water", []Colour{on(p.Paper, pond.Shallow), on(p.Paper, pond.Middle), on(p.Paper, pond.Deep)}, 8},
				{"flow of water paths", []Colour{on(p.Paper, p.Paths.Small), on(p.Paper, mix(p.Paths.Small, p.Paths.Large, 0.5)), on(p.Paper, p.Paths.Large)}, 10},
				{"how sure paths are", []Colour{on(p.Paper, p.Sure[0]), on(p.Paper, p.Sure[1]), on(p.Paper, p.Sure[2]), p.Paper}, 8},
				{"slopes", p.Slopes[:], 5},
				{"doubts", p.Doubts, 5},
				{"days under water", p.Days[:], 8},
				{"heights", p.Heights, 2.5},
			} {
				way := 0.0
				for i := 1; i < len(scale.steps); i++ {
					before, after := scale.steps[i-1], scale.steps[i]
					if d := m.apart(before, after); d < scale.least {
						t.Errorf("%s, %s: steps %d and %d of the %s are %.1f apart, want %g", look, name, i-1, i, scale.name, d, scale.least)
					}
					rise := m.lab(after)[0] - m.lab(before)[0]
					if rise*way < 0 {
						t.Errorf("%s, %s: the %s turn from lighter to darker at step %d", look, name, scale.name, i)
					}
					way = rise
				}
			}
		}
	}
}

// Even to the eye: no step of the ramp is twice as large as another.
func TestTheRampOfHeightsIsEven(t *testing.T) {
	for look, p := range looks() {
		least, most := math.Inf(1), 0.0
		for i := range 16 {
			d := sights["all cones"].apart(rampColour(p.Heights, float64(i)/16), rampColour(p.Heights, float64(i+1)/16))
			least, most = min(least, d), max(most, d)
		}
		if most > 1.5*least {
			t.Errorf("%s: its steps are %.1f to %.1f", look, least, most)
		}
	}
}

// Water, contours and letters are read on every colour of the ground.
func TestWhatLiesOnTheTintsIsRead(t *testing.T) {
	for look, p := range looks() {
		for name, m := range sights {
			for _, ground := range slices.Concat(p.Heights, p.Slopes[:], p.Doubts) {
				if d := m.apart(on(ground, p.Paths.Large), ground); d < 20 {
					t.Errorf("%s, %s: a large water path on %v is %.1f apart", look, name, ground, d)
				}
				if d := m.apart(p.Ink, ground); d < 25 {
					t.Errorf("%s, %s: ink on %v is %.1f apart", look, name, ground, d)
				}
			}
		}
	}
}
