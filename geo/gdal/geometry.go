package gdal

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/lukeroth/gdal"
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkb"
)

// A part is one point, line or area of a feature.
type part struct {
	shape  orb.Geometry
	z      float64
	points int
}

var errNoGeometry = errors.New("it has no geometry that can be read")

// partsOf splits a geometry, which may be null, into flat single parts. Arcs
// become short segments.
func partsOf(g gdal.Geometry) ([]part, error) {
	if handle(g) == nil {
		return nil, errNoGeometry
	}
	straight := straightened(g)
	if handle(straight) == nil {
		return nil, errNoGeometry
	}
	defer straight.Destroy()
	var parts []part
	if err := split(straight, &parts); err != nil {
		return nil, err
	}
	if len(parts) == 0 {
		return nil, errors.New("its geometry is empty, or a coordinate is not a number")
	}
	return parts, nil
}

func split(g gdal.Geometry, into *[]part) error {
	switch name := g.Name(); name {
	case "MULTIPOINT", "MULTILINESTRING", "MULTIPOLYGON", "GEOMETRYCOLLECTION":
		for i := range g.GeometryCount() {
			if err := split(g.Geometry(i), into); err != nil {
				return err
			}
		}
		return nil
	case "POINT", "LINESTRING", "POLYGON":
		if g.IsEmpty() {
			return nil
		}
		z := commonHeight(g)
		shape, points, err := flat(g)
		*into = append(*into, part{shape, z, points})
		return err
	default:
		return fmt.Errorf("it is a %s, which cannot be drawn", strings.ToLower(clip(name)))
	}
}

// flat returns a single-part geometry without its heights, which it drops from g.
func flat(g gdal.Geometry) (orb.Geometry, int, error) {
	g.FlattenTo2D()
	bytes, err := g.ToWKB()
	if err != nil {
		return nil, 0, errNoGeometry
	}
	shape, err := wkb.Unmarshal(bytes)
	if err != nil {
		return nil, 0, errNoGeometry
	}
	return shape, len(bytes) / 16, nil
}

// commonHeight returns the height that all points of g share, or NaN.
func commonHeight(g gdal.Geometry) float64 {
	if g.CoordinateDimension() < 3 {
		return math.NaN()
	}
	if g.Name() == "POLYGON" {
		if g.GeometryCount() == 0 {
			return math.NaN()
		}
		g = g.Geometry(0)
	}
	z := g.Z(0)
	for i := range g.PointCount() {
		if g.Z(i) != z {
			return math.NaN()
		}
	}
	return z
}

// moveShape moves a shape in place and closes its rings; opened tells that one
// was open.
func (m moverFrom) moveShape(shape orb.Geometry) (moved orb.Geometry, opened bool, err error) {
	switch shape := shape.(type) {
	case orb.Point:
		one := []orb.Point{shape}
		err = m.moveChecked(one)
		return one[0], false, err
	case orb.LineString:
		return shape, false, m.moveChecked(shape)
	case orb.Polygon:
		for i, ring := range shape {
			if len(ring) > 0 && ring[0] != ring[len(ring)-1] {
				opened = true
				ring = append(ring, ring[0])
			}
			if err := m.moveChecked(ring); err != nil {
				return nil, false, err
			}
			if len(ring) > 0 {
				ring[len(ring)-1] = ring[0]
			}
			shape[i] = ring
		}
		return shape, opened, nil
	}
	return nil, false, errNoGeometry
}

// moveChecked refuses eastings that pass for longitudes.
func (m moverFrom) moveChecked(points []orb.Point) error {
	for _, p := range points {
		if m.system.Degrees && (math.Abs(p[0]) > 360 || math.Abs(p[1]) > 90) {
			return fmt.Errorf("the point %s is no longitude and latitude; save the file with its reference system", coordinates(p))
		}
	}
	return m.move(points)
}

// fieldText returns a field's value as text, numbers with all their digits.
func fieldText(f gdal.Feature, i int) string {
	if f.FieldDefinition(i).Type() == gdal.FT_Real {
		return strconv.FormatFloat(f.FieldAsFloat64(i), 'f', -1, 64)
	}
	return readable(f.FieldAsString(i))
}
