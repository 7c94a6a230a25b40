package view

import (
	"math"
	"strconv"

	"github.com/paulmach/orb"

	"runnel/geo"
	"runnel/geo/plan"
)

// sampleScale is how large samples of features are drawn [px a metre]: most
// widths then stand in a sample as they do on the map.
const sampleScale = 5

// sampleKind draws a feature of a kind with its usual fields.
func sampleKind(spec plan.Spec) func(*canvas, orb.Bound) {
	return func(k *canvas, b orb.Bound) {
		c := Camera{Scale: sampleScale * k.px}
		o := k.at(c)
		ground := func(p orb.Point) orb.Point { return c.ToGround(p[0], p[1]) }
		f := plan.Feature{ID: 1, Kind: spec.Kind}
		middle := b.Center()[1]
		switch spec.Shape {
		case plan.PointShape:
			f.Geometry = ground(b.Center())
		case plan.LineShape:
			f.Geometry = orb.LineString{ground(orb.Point{b.Min[0], middle}), ground(orb.Point{b.Max[0], middle})}
		case plan.AreaShape:
			ring := orb.Ring{}
			for _, p := range b.ToRing() {
				ring = append(ring, ground(p))
			}
			f.Geometry = orb.Polygon{ring}
		}
		for _, p := range painters {
			if p.kinds[0] == spec.Kind {
				p.paint(o, []plan.Feature{f}, o.look.Kinds[spec.Kind])
			}
		}
	}
}

// strip fills a bar with parts side by side.
func (k *canvas) strip(b orb.Bound, parts int, colour func(i int) Colour) {
	x := func(i int) float64 { return math.Round(b.Min[0] + (b.Max[0]-b.Min[0])*float64(i)/float64(parts)) }
	for i := range parts {
		k.fill([]orb.Ring{{{x(i), b.Min[1]}, {x(i + 1), b.Min[1]}, {x(i + 1), b.Max[1]}, {x(i), b.Max[1]}}}, colour(i))
	}
}

// hem draws the edge of a bar whose colours are near to paper.
func (k *canvas) hem(b orb.Bound) {
	k.draw(b.ToRing(), Pen{Colour: faint(k.look.Ink, 0.5), Width: 0.8 * k.px})
}

func samplePond(k *canvas, b orb.Bound) {
	colours := k.look.Pond.steps()
	k.strip(b, depthSteps, func(i int) Colour { return colours[i] })
	k.draw(b.ToRing(), k.look.Pond.Shore)
}

// depthFigures write no depth, half and all of it [m], each with its unit.
func (s *Scene) depthFigures(deepest float64) []string {
	metres, sign := s.Units.length()
	figure := func(depth float64) string { return strconv.FormatFloat(depth/metres, 'f', 2, 64) + " " + sign }
	return []string{"0 " + sign, figure(deepest / 2), figure(deepest)}
}

// pathScale grades the water paths as a camera sees them: narrow where how sure
// they are is to be seen beside them.
func (s *Scene) pathScale(c Camera) flowScale {
	look, least := Flow{Thin: 0, Thick: 1}, 1.0
	if s.Sure != nil && s.Show.Has(Certainty) {
		look.Thick = look.Thin
	}
	if c.Scale > 0 {
		least = finest / (c.Scale * c.Scale)
	}
	return newFlowScale(look, least, s.Drainage.reaches[0].largest())
}

func (s *Scene) pathFigures(scale flowScale) []string {
	return []string{areaFigure(scale.least, s.Units), areaFigure(math.Sqrt(scale.least*scale.most), s.Units), areaFigure(scale.most, s.Units)}
}

// samplePath draws a path from the least that is drawn to the largest there is.
func samplePath(widens bool) func(*canvas, orb.Bound) {
	return func(k *canvas, b orb.Bound) {
		look := k.look.Paths
		if !widens {
			look.Thick = look.Thin
		}
		scale := newFlowScale(look, 1, 1000)
		wave := func(t float64) orb.Point {
			return orb.Point{b.Min[0] + t*(b.Max[0]-b.Min[0]), b.Center()[1] - 0.2*(b.Max[1]-b.Min[1])*math.Sin(4*math.Pi*t)}
		}
		for class := range classes {
			var line []orb.Point
			const parts = 6
			for i := range parts + 1 {
				line = append(line, wave((float64(class)+float64(i)/parts)/classes))
			}
			k.draw(line, scale.pen(class))
		}
	}
}

// areaFigure writes an area [m²] to two figures, in hectares or acres where it is
// large.
func areaFigure(area float64, u Units) string {
	unit, sign, large, largeSign := 1.0, "m²", 1e4, "ha"
	if u == Feet {
		unit, sign, large, largeSign = geo.Foot*geo.Foot, "ft²", 43560*geo.Foot*geo.Foot, "ac"
	}
	if area >= large {
		unit, sign = large, largeSign
	}
	v := area / unit
	places := 1 - int(math.Floor(math.Log10(max(v, 1e-3))))
	round := math.Pow(10, float64(-places))
	return strconv.FormatFloat(math.Round(v/round)*round, 'f', max(0, places), 64) + " " + sign
}

func sampleHeights(k *canvas, b orb.Bound) {
	const parts = 64
	k.strip(b, parts, func(i int) Colour { return rampColour(k.look.Heights, float64(i)/(parts-1)) })
	k.hem(b)
}

func (s *Scene) heightFigures() []string {
	if s.Heights == nil {
		return nil
	}
	metres, sign := s.Units.length()
	low, high := s.Heights.Low/metres, s.Heights.High/metres
	figure := func(v float64) string { return levelText(v, max((high-low)/50, 0.01)) + " " + sign }
	return []string{figure(low), figure((low + high) / 2), figure(high)}
}

// slopeEntry is the scale of slopes, with the limits between the classes.
func slopeEntry() Entry {
	var figures []string
	for _, limit := range slopeLimits {
		figures = append(figures, strconv.FormatFloat(math.Round(limit*1000)/10, 'f', -1, 64))
	}
	figures[len(figures)-1] += " %"
	return Entry{
		Words: "Slope, rise over run", Figures: figures,
		sample: func(k *canvas, b orb.Bound) {
			k.strip(b, len(k.look.Slopes), func(i int) Colour { return k.look.Slopes[i] })
			k.hem(b)
		},
		at: func(i int) float64 { return float64(i+1) / float64(len(slopeLimits)+1) },
	}
}

func sampleSure(grade int) func(*canvas, orb.Bound) {
	return func(k *canvas, b orb.Bound) { k.fill([]orb.Ring{b.ToRing()}, k.look.Sure[grade]) }
}

func sampleTrail(number int) func(*canvas, orb.Bound) {
	return func(k *canvas, b orb.Bound) {
		middle := b.Center()[1]
		k.draw([]orb.Point{{b.Min[0], middle}, {b.Max[0], middle}}, k.look.trailPen(number))
		k.badge(b.Center(), number)
	}
}

func sampleUnknown(k *canvas, b orb.Bound) {
	sampleArea(k, b, Style{Body: k.look.Paper, Hatch: k.look.Unknown, Edge: Pen{Colour: k.look.Unknown.Colour, Width: k.px}})
}

func sampleHollow(k *canvas, b orb.Bound) {
	sampleArea(k, b, k.look.Hollow)
}

func sampleArea(k *canvas, b orb.Bound, s Style) {
	ring := orb.Ring(smoothRing(b.ToRing(), 3))
	k.area([]orb.Ring{ring}, add)
	k.wash(s.Body)
	k.washHatch(s.Hatch)
	k.clear()
	k.draw(ring, s.Edge)
}

func sampleContours(k *canvas, b orb.Bound) {
	for i, pen := range []Pen{k.look.Contour, k.look.Index, k.look.Contour} {
		y := b.Min[1] + (b.Max[1]-b.Min[1])*(0.2+0.3*float64(i))
		k.draw(smooth([]orb.Point{{b.Min[0], y + 2*k.px}, {b.Center()[0], y - 3*k.px}, {b.Max[0], y + 2*k.px}}, 3), pen)
	}
}
