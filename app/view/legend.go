package view

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// An entry is one line of a legend: what it is called and how to draw a sample
// of it in a box [px].
type entry struct {
	text   string
	sample func(k *canvas, b orb.Bound)
}

// legend lists what a scene shows, the water first.
func (s *Scene) legend() []entry {
	var all []entry
	put := func(shown bool, text string, sample func(*canvas, orb.Bound)) {
		if shown {
			all = append(all, entry{text, sample})
		}
	}
	put(s.Show.Has(Standing) && s.index().pond.deepest > 0, "Standing water, deeper darker", samplePond)
	if s.Storm.Deepest() > 0 {
		put(s.Show.Has(Stormwater), s.stormText(), samplePond)
	}
	put(s.Show.Has(Water) && s.Drainage != nil, "Water path, wider for more", samplePath)
	for i, g := range grades {
		put(s.Show.Has(Certainty) && s.Sure != nil, "Water runs "+g.words+" of the grounds", sampleSure(i))
	}
	for _, t := range s.Trails {
		put(s.Show.Has(Fates), "Water of "+t.Name, sampleTrail(t.Number))
	}
	put(s.Show.Has(Shade) && s.index().unknown, "Ground not known", sampleUnknown)
	put(s.Show.Has(Hollows) && s.Ponding != nil && len(s.Ponding.Hollows) > 0, "Hollow that ponds", sampleHollow)
	put(s.Show.Has(Contours) && len(s.Contours) > 0, s.IntervalText(), sampleContours)
	if s.Show.Has(Drawn) {
		present := map[plan.Kind]bool{}
		for _, f := range s.features() {
			present[f.Kind] = true
		}
		for _, spec := range plan.Specs() {
			put(present[spec.Kind], spec.Label, sampleKind(spec))
		}
	}
	put(s.Show.Has(Cautions) && len(s.Cautions) > 0, "Caution: to be checked", func(k *canvas, b orb.Bound) { k.cautionMark(b.Center()) })
	return all
}

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

func samplePond(k *canvas, b orb.Bound) {
	colours := k.look.Pond.steps()
	const parts = 16
	for i := range parts {
		x := func(i int) float64 { return math.Round(b.Min[0] + (b.Max[0]-b.Min[0])*float64(i)/parts) }
		k.fill([]orb.Ring{{{x(i), b.Min[1]}, {x(i + 1), b.Min[1]}, {x(i + 1), b.Max[1]}, {x(i), b.Max[1]}}}, colours[i*(depthSteps-1)/(parts-1)])
	}
	k.draw(b.ToRing(), k.look.Pond.Shore)
}

func samplePath(k *canvas, b orb.Bound) {
	scale := newFlowScale(k.look.Paths, 1, 1000)
	wave := func(t float64) orb.Point {
		return orb.Point{b.Min[0] + t*(b.Max[0]-b.Min[0]), b.Center()[1] - 0.22*(b.Max[1]-b.Min[1])*math.Sin(2*math.Pi*t)}
	}
	for class := range classes {
		pen := scale.pen(class)
		t0, t1 := float64(class)/classes, float64(class+1)/classes
		k.draw([]orb.Point{wave(t0), wave((t0 + t1) / 2), wave(t1 + 0.01)}, pen)
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
