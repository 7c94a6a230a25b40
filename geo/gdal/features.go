package gdal

import (
	"fmt"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// Features makes features of one kind of what was drawn, without ids. Fields
// are matched by name whatever their case; a field called name becomes the
// name. Where a shape does not suit the kind the feature is left out, where a
// value does not suit its field that field is left unset; either is told in an
// error that names the feature.
func Features(drawn []Drawn, kind plan.Kind, scheme plan.SchemeID) ([]plan.Feature, []error) {
	spec := plan.SpecOf(kind)
	if !spec.InScheme {
		scheme = plan.AsItIs
	}
	var features []plan.Feature
	var wrong []error
	for _, d := range drawn {
		f := plan.Feature{Kind: kind, Scheme: scheme, Name: strings.TrimSpace(d.Fields[keyFold(d.Fields, "name")])}
		report := func(err error, outcome string) {
			wrong = append(wrong, fmt.Errorf("%s: %w; %s", d.title(f), err, outcome))
		}
		shape, err := suit(d.Geometry, spec)
		if err == nil {
			f.Geometry, f.Knots = shape, d.Knots
			f = f.Refit()
			err = plan.CheckShape(shape, kind)
		}
		if err != nil {
			report(err, "it is left out")
			continue
		}
		for _, field := range spec.Fields {
			typed, given := d.value(field.Name)
			if !given {
				continue
			}
			v, set, err := field.Parse(typed)
			if err != nil {
				report(err, "that is left unset")
			} else if set {
				f = f.With(field.Name, v)
			}
		}
		features = append(features, f)
	}
	return features, wrong
}

// title names a feature by what its file calls it.
func (d Drawn) title(f plan.Feature) string {
	if f.Name != "" {
		return fmt.Sprintf("%s (feature %d of %s)", f.Name, d.Number, clip(d.Layer))
	}
	return fmt.Sprintf("feature %d of %s", d.Number, clip(d.Layer))
}

// shapefileName is how many letters a field's name may have in a Shapefile.
const shapefileName = 10

// value finds the text for a field; a name that a Shapefile cut short will do.
// Blank text is no value.
func (d Drawn) value(name string) (string, bool) {
	typed := d.Fields[keyFold(d.Fields, name)]
	if typed == "" && len(name) > shapefileName {
		typed = d.Fields[keyFold(d.Fields, name[:shapefileName])]
	}
	return typed, strings.TrimSpace(typed) != ""
}

// suit brings a shape to what its kind is drawn as, where that is plain: a
// closed line may be an area, an area without holes may be its outline.
func suit(g orb.Geometry, spec plan.Spec) (orb.Geometry, error) {
	switch g := g.(type) {
	case orb.LineString:
		if spec.Shape != plan.AreaShape {
			return g, nil
		}
		if len(g) < 4 || g[0] != g[len(g)-1] {
			return nil, fmt.Errorf("it is an open line and the kind %s is an area; close the line", strings.ToLower(spec.Label))
		}
		return orb.Polygon{orb.Ring(slices.Clone(g))}, nil
	case orb.Polygon:
		if spec.Shape != plan.LineShape {
			return g, nil
		}
		if len(g) != 1 {
			return nil, fmt.Errorf("it is an area with holes and the kind %s is a line; draw its lines one by one", strings.ToLower(spec.Label))
		}
		return slices.Clone(orb.LineString(g[0])), nil
	}
	return g, nil
}
