package demo

import (
	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// A drawing gathers features into a plan, under the scheme that was begun last.
type drawing struct {
	plan   plan.Plan
	scheme plan.SchemeID
}

// fields are the values of a feature by the names of its kind's fields.
type fields map[string]plan.Value

func number(v float64) plan.Value { return plan.Value{Number: v} }

func word(s string) plan.Value { return plan.Value{Text: s} }

// begin starts a scheme.
func (d *drawing) begin(name string) {
	d.scheme = plan.SchemeID(d.plan.NextID())
	d.plan.Schemes = append(d.plan.Schemes, plan.Scheme{ID: d.scheme, Name: name})
}

// draw adds a feature whose geometry is in metres from the site's south-west corner.
func (d *drawing) draw(kind plan.Kind, name string, g orb.Geometry, values fields) {
	d.plan.Features = append(d.plan.Features, plan.Feature{
		ID: plan.ID(d.plan.NextID()), Kind: kind, Scheme: d.scheme,
		Name: name, Geometry: placed(g), Fields: values,
	})
}

// placed moves a geometry from the site's corner to its coordinates, rounded to
// the millimetre.
func placed(g orb.Geometry) orb.Geometry {
	switch g := g.(type) {
	case orb.Point:
		return at(g)
	case orb.LineString:
		moved := make(orb.LineString, len(g))
		for i, p := range g {
			moved[i] = at(p)
		}
		return moved
	case orb.Polygon:
		moved := make(orb.Polygon, len(g))
		for i, r := range g {
			moved[i] = orb.Ring(placed(orb.LineString(r)).(orb.LineString))
		}
		return moved
	}
	panic("demo: a geometry that no kind has")
}

func at(p orb.Point) orb.Point { return orb.Point{west + millimetre(p[0]), south + millimetre(p[1])} }

// block returns a rectangle on a bench, moved along and across from its middle [m].
func (b bench) block(along, across, long, deep float64) orb.Polygon {
	var outline orb.Ring
	for _, c := range []orb.Point{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}, {-1, -1}} {
		outline = append(outline, b.place(along+c[0]*long/2, across+c[1]*deep/2))
	}
	return orb.Polygon{outline}
}
