package plan

import (
	"fmt"
	"maps"
	"math"

	"github.com/paulmach/orb"
)

// ID tells features of one site apart. It is given once and never to another.
type ID int64

// SchemeID tells schemes apart; AsItIs is the site with nothing designed.
type SchemeID int64

// AsItIs is the scheme with nothing in it. Features of what is there already
// belong to it, and every scheme contains them.
const AsItIs SchemeID = 0

// A Feature is one drawn thing.
type Feature struct {
	ID     ID
	Kind   Kind
	Scheme SchemeID
	// Name is the person's own; it may be empty.
	Name string
	// Geometry is a Point, LineString or Polygon as the kind's Shape says.
	// Polygon rings are closed: the last point repeats the first.
	Geometry orb.Geometry
	// Knots are the points of a smooth curve, which Geometry then follows: its
	// line, or its outline, where the first follows on the last. None are of
	// straight sides.
	Knots orb.LineString
	// Fields holds the values that were set, by the field's name.
	Fields map[string]Value
}

// Num returns the number in a field: what was set, else the usual value, else
// NaN. It panics on a field that the kind does not have.
func (f Feature) Num(name string) float64 {
	if v, ok := f.Fields[name]; ok {
		return v.Number
	}
	spec := f.field(name)
	if spec.Optional {
		return math.NaN()
	}
	return spec.Usual
}

// Text returns the text in a field: what was set, else a choice's first word.
// It panics on a field that the kind does not have.
func (f Feature) Text(name string) string {
	if v, ok := f.Fields[name]; ok {
		return v.Text
	}
	if spec := f.field(name); len(spec.Of) > 0 {
		return spec.Of[0]
	}
	return ""
}

// With returns a copy of f with one field set.
func (f Feature) With(name string, v Value) Feature {
	f.field(name)
	fields := make(map[string]Value, len(f.Fields)+1)
	maps.Copy(fields, f.Fields)
	fields[name] = v
	f.Fields = fields
	return f
}

// Without returns a copy of f with one field unset.
func (f Feature) Without(name string) Feature {
	fields := maps.Clone(f.Fields)
	delete(fields, name)
	f.Fields = fields
	return f
}

// At returns a copy of f with another geometry, of straight sides.
func (f Feature) At(g orb.Geometry) Feature {
	f.Geometry, f.Knots = g, nil
	return f
}

// Title is the feature's name, or its kind and number where it has none.
func (f Feature) Title() string {
	if f.Name != "" {
		return f.Name
	}
	return fmt.Sprintf("%s %d", f.Kind, f.ID)
}

// Line returns the points of a line feature; nil for other shapes.
func (f Feature) Line() orb.LineString {
	line, _ := f.Geometry.(orb.LineString)
	return line
}

// Area returns the rings of an area feature; nil for other shapes.
func (f Feature) Area() orb.Polygon {
	area, _ := f.Geometry.(orb.Polygon)
	return area
}

// Point returns the position of a point feature.
func (f Feature) Point() orb.Point {
	point, _ := f.Geometry.(orb.Point)
	return point
}

// Width is how wide the feature is on the ground [m]: from bank to bank of a
// channel or drain, across a path or a culvert, the spread of a tree. It is nought
// for kinds that have no width of their own.
func (f Feature) Width() float64 {
	switch f.Kind {
	case Channel, Drain:
		return f.Num("bed_width") + f.Num("depth")*(f.Num("side_left")+f.Num("side_right"))
	case Path:
		return f.Num("width")
	case Culvert:
		return f.Num("diameter")
	case Tree:
		return f.Num("spread")
	}
	return 0
}

func (f Feature) field(name string) Field {
	for _, spec := range SpecOf(f.Kind).Fields {
		if spec.Name == name {
			return spec
		}
	}
	panic("plan: a " + SpecOf(f.Kind).Name + " has no field " + name)
}
