package view

import (
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/geo/plan"
)

// Water courses of one kind are drawn as one shape, so that they run into each
// other where they meet. An island that a channel runs through is left out of
// the shape, and the arms that pass it on either side are part of it.

// paintBeds fills the courses at their banks, and again their beds.
func paintBeds(k *canvas, features []plan.Feature, s Style) {
	for _, width := range []courseWidth{bankWidth, bedWidth} {
		k.courses(features, k.seenFrom(width, s), 0, add)
		k.islands(features)
		k.ink(s.Body)
	}
}

// paintCourses draws the banks and the middle of the courses; seen from far, one
// line, whole for what is designed and broken for what is there.
func paintCourses(k *canvas, features []plan.Feature, s Style) {
	for _, f := range features {
		if f.Kind != plan.Island && k.widthOf(f) < s.Least {
			pen := Pen{Width: s.Least / 2}
			if !plan.SpecOf(f.Kind).InScheme {
				pen.Dash = s.Core.Dash
			}
			k.stroke(k.line(f.Line()), pen, add)
		}
	}
	k.ink(s.Edge.Colour)
	banks := k.seenFrom(bankWidth, s)
	k.courses(features, banks, s.Edge.Width, add)
	k.courses(features, banks, -s.Edge.Width, cut)
	k.islands(features)
	k.ink(s.Edge.Colour)
	for _, f := range features {
		if width := k.widthOf(f); f.Kind != plan.Island && width >= 2.5*s.Least {
			line := k.line(f.Line())
			k.stroke(line, s.Core, add)
			k.chevrons(line, min(width/2, 2.2*s.Least))
		}
	}
	k.islands(features)
	k.ink(s.Core.Colour)
}

// A courseWidth gives the width of a course [m].
type courseWidth func(plan.Feature) float64

func bedWidth(f plan.Feature) float64 {
	if f.Kind == plan.Island {
		return f.Num("arm_width")
	}
	return f.Num("bed_width")
}

// armDepth is how deep the arms round an island are taken to be cut [m] for
// drawing the width of their banks.
const armDepth = 0.4

func bankWidth(f plan.Feature) float64 {
	if f.Kind == plan.Island {
		return f.Num("arm_width") + 2*armDepth*f.Num("side")
	}
	return f.Width()
}

// seenFrom turns a width into pixels: 0 where the banks are too close together
// to be drawn apart, and where they are drawn from the ground.
func (k *canvas) seenFrom(width courseWidth, s Style) func(plan.Feature) float64 {
	return func(f plan.Feature) float64 {
		if bankWidth(f)*k.camera.Scale < s.Least || k.dug && plan.SpecOf(f.Kind).InScheme {
			return 0
		}
		return min(width(f), widest) * k.camera.Scale
	}
}

// courses merges the shape of the courses, grown by some pixels.
func (k *canvas) courses(features []plan.Feature, width func(plan.Feature) float64, grow float64, m merge) {
	for _, f := range features {
		switch w := width(f); {
		case w <= 0:
		case f.Kind != plan.Island:
			k.stroke(k.line(f.Line()), Pen{Width: max(w+grow, 0.1)}, m)
		case k.isParted(f, features):
			for _, ring := range k.rings(f.Area()) {
				k.stroke(closed(ring), Pen{Width: max(2*w+grow, 0.1)}, m)
			}
		}
	}
}

func (k *canvas) islands(features []plan.Feature) {
	for _, f := range features {
		if f.Kind == plan.Island {
			k.area(k.rings(f.Area()), cut)
		}
	}
}

// isParted reports whether a channel runs into an island: one of the map, of
// which features may be those of one part alone, or else one of features.
func (k *canvas) isParted(island plan.Feature, features []plan.Feature) bool {
	if k.parts != nil {
		return k.parts[island.ID]
	}
	return parted(island, features)
}

// parted reports whether a channel runs into an island, and so is parted by it.
func parted(island plan.Feature, features []plan.Feature) bool {
	area, bound := island.Area(), island.Area().Bound()
	for _, f := range features {
		line := f.Line()
		if f.Kind != plan.Channel || !line.Bound().Intersects(bound) {
			continue
		}
		for i := 1; i < len(line); i++ {
			if !spans(line[i-1], line[i]).Intersects(bound) {
				continue
			}
			const tries = 8
			for j := range tries + 1 {
				if planar.PolygonContains(area, along(line[i-1], line[i], float64(j)/tries)) {
					return true
				}
			}
		}
	}
	return false
}

// spans returns the bound of a segment.
func spans(a, b orb.Point) orb.Bound {
	return orb.Bound{Min: orb.Point{min(a[0], b[0]), min(a[1], b[1])}, Max: orb.Point{max(a[0], b[0]), max(a[1], b[1])}}
}

// chevrons show which way a course is drawn, from its start to its end.
func (k *canvas) chevrons(line []orb.Point, size float64) {
	k.every(newTrack(line), 120*k.px, func(p orb.Point, nx, ny float64) {
		k.arrowhead(p, -ny, nx, size)
	})
}
