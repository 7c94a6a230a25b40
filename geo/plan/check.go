package plan

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"github.com/peterstace/simplefeatures/geom"
)

// Check reports what is wrong with a feature by itself, in a sentence that says
// what to do: a shape that its kind cannot have, coordinates that are not
// numbers, too few points, a ring that is open or crosses itself, a field out
// of its limits. Whether it suits the ground and its neighbours is for those
// who measure it.
func Check(f Feature) error {
	if f.Kind == NoKind || int(f.Kind) > len(specs) {
		return fmt.Errorf("the feature is of no known kind; give one of the kinds that Runnel draws")
	}
	if err := checkGeometry(f.Geometry, SpecOf(f.Kind).Shape); err != nil {
		return fmt.Errorf("%s: %w", f.Title(), err)
	}
	if !f.Fits() {
		return fmt.Errorf("%s: its course is not the curve through its knots; make it straight, or draw it again", f.Title())
	}
	for _, field := range SpecOf(f.Kind).Fields {
		if v, ok := f.Fields[field.Name]; ok {
			if err := field.Check(v); err != nil {
				return fmt.Errorf("%s: %w", f.Title(), err)
			}
		}
	}
	return nil
}

// CheckShape reports what is wrong with a geometry for a kind by itself, as
// Check does for a whole feature.
func CheckShape(g orb.Geometry, kind Kind) error { return checkGeometry(g, SpecOf(kind).Shape) }

func checkGeometry(g orb.Geometry, shape Shape) error {
	switch g := g.(type) {
	case orb.Point:
		if shape != PointShape {
			break
		}
		return checkPoints(orb.LineString{g})
	case orb.LineString:
		if shape != LineShape {
			break
		}
		return checkLine(g)
	case orb.Polygon:
		if shape != AreaShape {
			break
		}
		return checkArea(g)
	}
	return fmt.Errorf("it is drawn as %s; draw it as %s", describe(g), shape.phrase())
}

func describe(g orb.Geometry) string {
	if g == nil {
		return "a feature with no geometry"
	}
	switch g.(type) {
	case orb.Point:
		return PointShape.phrase()
	case orb.LineString:
		return LineShape.phrase()
	case orb.Polygon:
		return AreaShape.phrase()
	}
	return "a " + g.GeoJSONType()
}

func checkPoints(line orb.LineString) error {
	for i, p := range line {
		if math.IsNaN(p[0]+p[1]) || math.IsInf(p[0], 0) || math.IsInf(p[1], 0) {
			return fmt.Errorf("point %d has a coordinate that is not a number; mend or delete that point", i+1)
		}
	}
	return nil
}

func checkLine(line orb.LineString) error {
	if err := checkPoints(line); err != nil {
		return err
	}
	if planar.Length(line) == 0 {
		return fmt.Errorf("it has one point only; draw a line of two points at least")
	}
	return nil
}

func checkArea(area orb.Polygon) error {
	if len(area) == 0 {
		return fmt.Errorf("it has no outline; draw three points at least")
	}
	for _, ring := range area {
		if err := checkRing(ring); err != nil {
			return err
		}
	}
	if err := asPolygon(area).Validate(); err != nil {
		return fmt.Errorf("its holes touch or leave its outline; mend the outline")
	}
	return nil
}

func checkRing(ring orb.Ring) error {
	if err := checkPoints(orb.LineString(ring)); err != nil {
		return err
	}
	if len(ring) == 0 || ring[0] != ring[len(ring)-1] {
		return fmt.Errorf("its outline is open; close it at the point where it starts")
	}
	if inOneLine(ring) {
		return fmt.Errorf("its outline encloses nothing; draw three points at least, not in one line")
	}
	if err := asPolygon(orb.Polygon{ring}).Validate(); err != nil {
		return fmt.Errorf("its outline crosses or touches itself; move a point so that it does not")
	}
	return nil
}

// inOneLine reports a ring whose points lie on one line, or at one place.
func inOneLine(ring orb.Ring) bool {
	hull := asPolygon(orb.Polygon{ring}).ConvexHull()
	return !hull.IsPolygon()
}

// asPolygon hands rings to the geometry library, which knows validity as OGC
// Simple Features (06-103r4) defines it. A local origin keeps its digits.
func asPolygon(area orb.Polygon) geom.Polygon {
	var rings []geom.LineString
	origin := area[0][0]
	for _, ring := range area {
		flat := make([]float64, 0, 2*len(ring))
		for _, p := range ring {
			flat = append(flat, p[0]-origin[0], p[1]-origin[1])
		}
		rings = append(rings, geom.NewLineString(geom.NewSequence(flat, geom.DimXY)))
	}
	return geom.NewPolygon(rings)
}
