// Package geojson writes what is drawn on a site as GeoJSON (RFC 7946): WGS 84
// longitude and latitude in degrees, outlines counter-clockwise, holes
// clockwise, no member for a reference system.
//
// A feature's id is its number. Its properties are "kind", "name", "scheme"
// (empty for the site as it is), one for every field of the kind that has a
// value, "units", an object with the unit of every number that has one, and of a
// smooth curve "knots", the positions that it was drawn through.
package geojson

import (
	"encoding/json"
	"fmt"
	"io"
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geojson"

	"runnel/geo/plan"
)

// What is written of a degree and of a metre is rounded: the eighth decimal of a
// degree is 1.1 mm on a meridian, and RFC 7946 section 11.2 advises against more
// than are needed.
const (
	degreeSteps = 1e8
	metreSteps  = 1e3
)

// rounded returns v to the nearest of so many steps in one.
func rounded(v, steps float64) float64 { return math.Round(v*steps) / steps }

// Write writes the drawing of a site as a feature collection, one feature a
// line. lonlat takes a point of the site's system to longitude and latitude.
func Write(w io.Writer, s *plan.Site, lonlat func(orb.Point) (orb.Point, error)) error {
	lead := "{\"type\":\"FeatureCollection\",\"features\":["
	for _, f := range s.Plan.Features {
		line, err := encode(f, s, lonlat)
		if err != nil {
			return err
		}
		if _, err := fmt.Fprintf(w, "%s\n%s", lead, line); err != nil {
			return err
		}
		lead = ","
	}
	if len(s.Plan.Features) > 0 {
		lead = "\n"
	}
	_, err := fmt.Fprintf(w, "%s]}\n", lead)
	return err
}

func encode(f plan.Feature, s *plan.Site, lonlat func(orb.Point) (orb.Point, error)) ([]byte, error) {
	if f.Kind == plan.NoKind || int(f.Kind) > len(plan.Specs()) {
		return nil, fmt.Errorf("feature %d is of no known kind; remove it", f.ID)
	}
	shape, err := onEarth(f.Geometry, lonlat)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", f.Title(), err)
	}
	p := properties(f, s)
	if f.Curved() {
		if p["knots"], err = all(f.Knots, lonlat); err != nil {
			return nil, fmt.Errorf("%s: %w", f.Title(), err)
		}
	}
	return json.Marshal(geojson.Feature{ID: int64(f.ID), Type: "Feature", Geometry: shape, Properties: p})
}

func properties(f plan.Feature, s *plan.Site) geojson.Properties {
	spec := plan.SpecOf(f.Kind)
	p := geojson.Properties{"kind": spec.Name, "name": f.Name, "scheme": ""}
	if f.Scheme != plan.AsItIs {
		p["scheme"] = s.Plan.SchemeName(f.Scheme)
	}
	units := make(map[string]string)
	for _, field := range spec.Fields {
		if field.Type != plan.Number {
			if text := f.Text(field.Name); text != "" {
				p[field.Name] = text
			}
			continue
		}
		v := f.Num(field.Name)
		if math.IsNaN(v) || math.IsInf(v, 0) {
			continue
		}
		if field.Unit == "m" {
			v = rounded(v, metreSteps)
		}
		p[field.Name] = v
		if field.Unit != "" {
			units[field.Name] = field.Unit
		}
	}
	p["units"] = units
	return p
}

// onEarth returns a copy of a geometry in longitude and latitude, wound as RFC
// 7946 section 3.1.6 asks; nil for none.
func onEarth(g orb.Geometry, lonlat func(orb.Point) (orb.Point, error)) (orb.Geometry, error) {
	switch g := g.(type) {
	case nil:
		return nil, nil
	case orb.Point:
		moved, err := all(orb.LineString{g}, lonlat)
		if err != nil {
			return nil, err
		}
		return moved[0], nil
	case orb.LineString:
		if len(g) < 2 {
			return nil, fmt.Errorf("it has one point only; draw a line of two points at least")
		}
		return all(g, lonlat)
	case orb.Polygon:
		area := make(orb.Polygon, len(g))
		for i, ring := range g {
			if len(ring) < 4 || ring[0] != ring[len(ring)-1] {
				return nil, fmt.Errorf("its outline is open or has too few points; close it, or draw it again")
			}
			moved, err := all(orb.LineString(ring), lonlat)
			if err != nil {
				return nil, err
			}
			turn := orb.CCW
			if i > 0 { // a hole
				turn = orb.CW
			}
			area[i] = wind(orb.Ring(moved), turn)
		}
		return area, nil
	}
	return nil, fmt.Errorf("it is drawn as a %s; draw it as a point, a line or an area", g.GeoJSONType())
}

// wind makes a ring run one way, in place.
func wind(ring orb.Ring, want orb.Orientation) orb.Ring {
	if o := ring.Orientation(); o != 0 && o != want {
		ring.Reverse()
	}
	return ring
}

func all(line orb.LineString, lonlat func(orb.Point) (orb.Point, error)) (orb.LineString, error) {
	moved := make(orb.LineString, len(line))
	for i, p := range line {
		q, err := lonlat(p)
		if err != nil {
			return nil, fmt.Errorf("point %d: %w", i+1, err)
		}
		if !(math.Abs(q[0]) <= 180 && math.Abs(q[1]) <= 90) {
			return nil, fmt.Errorf("point %d, at %.3f, %.3f, has no longitude and latitude; give the site its reference system", i+1, p[0], p[1])
		}
		moved[i] = orb.Point{rounded(q[0], degreeSteps), rounded(q[1], degreeSteps)}
	}
	return moved, nil
}
