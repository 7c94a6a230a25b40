package plan

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
)

// A curve is a centripetal Catmull–Rom spline through its knots: the recursion of
// Barry & Goldman (1988), its parameter growing by the square root of the
// distance between knots, so that no span has a loop or a cusp (Yuksel, Schaefer
// & Keyser 2011). An open curve ends with no bending.
const (
	// chordError is how far a curve may stray from the sides that stand for it [m].
	chordError = 0.01
	// fewestSides and mostSides are how many sides stand for a bent span.
	fewestSides, mostSides = 4, 1000
	// together is how near [m] two knots count as one.
	together = 1e-4
	// fitting is how far [m] a course may lie from the curve through its knots: a
	// file that rounds degrees to 1e-8 moves a point 1 mm.
	fitting = 0.02
	// mostKnots is how many knots a curve can have: far more than anyone draws, and
	// few enough for a file to be looked at in a moment.
	mostKnots = 2000
)

// Flows reports whether a kind is commonly drawn as a smooth curve.
func (k Kind) Flows() bool {
	switch k {
	case Channel, Island, Path, Planting:
		return true
	}
	return false
}

// CanCurve reports whether features of a kind can be curved.
func (k Kind) CanCurve() bool { return SpecOf(k).Shape != PointShape }

// Curved reports whether f runs in a smooth curve through its knots.
func (f Feature) Curved() bool { return len(f.Knots) > 0 }

// Through returns a copy of f that runs in a smooth curve through knots, its line
// or its outline; holes stay.
func (f Feature) Through(knots orb.LineString) Feature {
	f.Knots = slices.Clone(knots)
	f.Geometry = f.course()
	return f
}

// course is the geometry that f's knots make.
func (f Feature) course() orb.Geometry {
	if SpecOf(f.Kind).Shape != AreaShape {
		return Curve(f.Knots)
	}
	area := orb.Polygon{CurvedRing(f.Knots)}
	if old := f.Area(); len(old) > 1 {
		area = append(area, old[1:]...)
	}
	return area
}

// Smooth returns a copy of f that is curved through the points it has.
func (f Feature) Smooth() Feature {
	lines := Lines(f.Geometry)
	if f.Curved() || !f.Kind.CanCurve() || len(lines) == 0 {
		return f
	}
	return f.Through(withoutEnd(lines[0], SpecOf(f.Kind).Shape))
}

// Straight returns a copy of f with straight sides between its knots.
func (f Feature) Straight() Feature {
	if !f.Curved() {
		return f
	}
	line := slices.Clone(f.Knots)
	f.Knots = nil
	if area := f.Area(); len(area) > 0 {
		rings := slices.Clone(area)
		rings[0] = orb.Ring(append(line, line[0]))
		return f.At(rings)
	}
	return f.At(line)
}

// Points returns the points by which f is shaped, a line or a ring at a time: the
// knots of a curve, else its own. The point that closes a ring is left out.
func (f Feature) Points() []orb.LineString {
	lines := Lines(f.Geometry)
	for i := range lines {
		lines[i] = withoutEnd(lines[i], SpecOf(f.Kind).Shape)
	}
	if f.Curved() && len(lines) > 0 {
		lines[0] = f.Knots
	}
	return lines
}

func withoutEnd(line orb.LineString, s Shape) orb.LineString {
	if s == AreaShape && len(line) > 0 {
		return line[:len(line)-1]
	}
	return line
}

// Fits reports whether f's geometry is the curve through its knots, as near as a
// file can hold it. What is straight fits.
func (f Feature) Fits() bool {
	if !f.Curved() {
		return true
	}
	lines := Lines(f.Geometry)
	if !f.Kind.CanCurve() || len(lines) == 0 || len(f.Knots) > mostKnots || !finite(f.Knots) {
		return false
	}
	made := Lines(f.course())[0]
	return slices.Equal(made, lines[0]) || follows(made, lines[0]) && follows(lines[0], made)
}

// Refit returns f with the very curve through its knots where it fits them, and
// without knots where it does not, as after another program has moved its points.
func (f Feature) Refit() Feature {
	if !f.Curved() || !f.Fits() {
		f.Knots = nil
		return f
	}
	f.Geometry = f.course()
	return f
}

func finite(line orb.LineString) bool {
	return !slices.ContainsFunc(line, func(p orb.Point) bool { return math.IsNaN(p[0]-p[0]) || math.IsNaN(p[1]-p[1]) })
}

// follows reports whether the points of a lie by the line b, one after another. Of
// two courses through the same knots none is a span behind the other.
func follows(a, b orb.LineString) bool {
	at := 1
	for _, p := range a {
		ahead := at
		for ahead < len(b) && ahead <= at+mostSides && planar.DistanceFromSegment(b[ahead-1], b[ahead], p) > fitting {
			ahead++
		}
		if ahead == len(b) || ahead > at+mostSides {
			return false
		}
		at = ahead
	}
	return len(a) > 0
}

// Curve returns the course of the open curve through knots.
func Curve(knots orb.LineString) orb.LineString {
	p := distinct(knots)
	if len(p) < 3 {
		return p
	}
	last := len(p) - 1
	steps := make([]float64, last)
	for i := range steps {
		steps[i] = step(p[i], p[i+1])
	}
	line := orb.LineString{p[0]}
	for i := range last {
		var from, to vector
		if i > 0 {
			from = tangent(p[i-1], p[i], p[i+1], steps[i-1], steps[i])
		}
		if i < last-1 {
			to = tangent(p[i], p[i+1], p[i+2], steps[i], steps[i+1])
		}
		// With no bending at an end, its tangent follows from the other one's.
		chord := vector{(p[i+1][0] - p[i][0]) / steps[i], (p[i+1][1] - p[i][1]) / steps[i]}
		if i == 0 {
			from = vector{1.5*chord[0] - 0.5*to[0], 1.5*chord[1] - 0.5*to[1]}
		}
		if i == last-1 {
			to = vector{1.5*chord[0] - 0.5*from[0], 1.5*chord[1] - 0.5*from[1]}
		}
		line = span{p[i], p[i+1], from, to, steps[i]}.sides(line)
	}
	return line
}

// CurvedRing returns the course of the closed curve through knots, the first of
// which follows on the last.
func CurvedRing(knots orb.LineString) orb.Ring {
	p := distinct(knots)
	for len(p) > 1 && planar.Distance(p[0], p[len(p)-1]) < together {
		p = p[:len(p)-1]
	}
	n := len(p)
	switch {
	case n == 0:
		return nil
	case n < 3:
		return orb.Ring(append(p, p[0]))
	}
	tangents := make([]vector, n)
	for i := range p {
		before, after := p[(i+n-1)%n], p[(i+1)%n]
		tangents[i] = tangent(before, p[i], after, step(before, p[i]), step(p[i], after))
	}
	line := orb.LineString{p[0]}
	for i := range p {
		j := (i + 1) % n
		line = span{p[i], p[j], tangents[i], tangents[j], step(p[i], p[j])}.sides(line)
	}
	return orb.Ring(line)
}

// distinct returns knots, less those that lie on the one before.
func distinct(knots orb.LineString) orb.LineString {
	return slices.CompactFunc(slices.Clone(knots), func(a, b orb.Point) bool { return planar.Distance(a, b) < together })
}

// step is how much the parameter grows from knot to knot.
func step(a, b orb.Point) float64 { return math.Sqrt(planar.Distance(a, b)) }

type vector [2]float64

// tangent is the curve's at q, the knot between p and r, a and b steps away: that
// of the parabola through the three.
func tangent(p, q, r orb.Point, a, b float64) (v vector) {
	for i := range v {
		v[i] = (b*(q[i]-p[i])/a + a*(r[i]-q[i])/b) / (a + b)
	}
	return v
}

// A span is the cubic between two knots with its tangents there and its step.
type span struct {
	a, b     orb.Point
	from, to vector
	step     float64
}

// sides adds to line the points after a of the sides that stand for the span.
func (s span) sides(line orb.LineString) orb.LineString {
	var c [4]orb.Point // Bézier's
	for i := range 2 {
		c[0][i], c[3][i] = s.a[i], s.b[i]
		c[1][i], c[2][i] = s.a[i]+s.step*s.from[i]/3, s.b[i]-s.step*s.to[i]/3
	}
	n := sidesFor(c)
	for k := 1; k < n; k++ {
		t := float64(k) / float64(n)
		u := 1 - t
		var q orb.Point
		for i := range q {
			// From a, so that far from the origin no digits are lost.
			q[i] = s.a[i] + 3*u*u*t*(c[1][i]-s.a[i]) + 3*u*t*t*(c[2][i]-s.a[i]) + t*t*t*(c[3][i]-s.a[i])
		}
		line = append(line, q)
	}
	return append(line, s.b)
}

// sidesFor returns how many sides keep within chordError: n equal steps stray at
// most max |c”| / 8n², and a cubic's second derivative is greatest at an end.
func sidesFor(c [4]orb.Point) int {
	bend := 0.0
	for j := range 2 {
		bend = max(bend, 6*math.Hypot(c[j][0]-2*c[j+1][0]+c[j+2][0], c[j][1]-2*c[j+1][1]+c[j+2][1]))
	}
	if bend < 8*chordError/1000 {
		return 1
	}
	return min(mostSides, max(fewestSides, int(math.Ceil(math.Sqrt(bend/(8*chordError))))))
}

// circleKnots are enough for a curve within 0.2 % of its circle.
const circleKnots = 12

// Circle returns knots whose closed curve is a circle [m], the first in the east.
func Circle(middle orb.Point, radius float64) orb.LineString {
	knots := make(orb.LineString, circleKnots)
	for i := range knots {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / circleKnots)
		knots[i] = orb.Point{middle[0] + radius*cos, middle[1] + radius*sin}
	}
	return knots
}
