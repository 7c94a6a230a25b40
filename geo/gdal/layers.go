package gdal

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/lukeroth/gdal"
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkb"

	"runnel/geo/crs"
	"runnel/geo/plan"
)

// The columns that every layer of features has beside those of its kind's
// fields. The feature's number is the row's own.
const (
	nameColumn     = "name"
	schemeColumn   = "scheme"    // the scheme's name; empty for the site as it is
	schemeIDColumn = "scheme_id" // and its number, since names may be alike
	placeColumn    = "place"     // in the order of drawing, over all layers
	knotsColumn    = "knots"     // of lines and areas: what a smooth curve was drawn through
)

// columnsOf returns the columns of a kind's layer.
func columnsOf(spec plan.Spec) []column {
	columns := []column{
		{nameColumn, gdal.FT_String, "Name", ""},
		{schemeColumn, gdal.FT_String, "Scheme", "empty: the site as it is"},
		{schemeIDColumn, gdal.FT_Integer64, "Number of the scheme", "0: the site as it is"},
		{placeColumn, gdal.FT_Integer64, "Place in the order of drawing", ""},
	}
	if spec.Kind.CanCurve() {
		columns = append(columns, column{knotsColumn, gdal.FT_String, "Knots of the curve",
			"eastings and northings; empty: straight sides; dropped where the geometry no longer follows them"})
	}
	for _, field := range spec.Fields {
		c := column{field.Name, gdal.FT_String, field.Label, ""}
		if field.Type == plan.Number {
			c.kind, c.about = gdal.FT_Real, "unit: "+cmp.Or(field.Unit, "ratio")
		}
		columns = append(columns, c)
	}
	return columns
}

// formOf returns what a kind's layer is.
func formOf(spec plan.Spec) layerForm {
	return layerForm{spec.Name, spec.Label, shapeType(spec.Shape), columnsOf(spec)}
}

func shapeType(s plan.Shape) gdal.GeometryType {
	switch s {
	case plan.PointShape:
		return gdal.GT_Point
	case plan.LineShape:
		return gdal.GT_LineString
	}
	return gdal.GT_Polygon
}

// putTables writes everything but the ground.
func putTables(set gdal.Dataset, s *plan.Site) error {
	sr, err := layerReference(s.CRS)
	if err != nil {
		return err
	}
	defer sr.Destroy()
	rows := make(map[plan.Kind][]row)
	for i, f := range s.Plan.Features {
		rows[f.Kind] = append(rows[f.Kind], rowOf(f, s, i))
	}
	for _, spec := range plan.Specs() {
		layer, err := ensureLayer(set, formOf(spec), s.CRS, sr)
		if err != nil {
			return err
		}
		if err := replaceRows(layer, rows[spec.Kind]); err != nil {
			return fmt.Errorf("layer %s: %w", spec.Name, err)
		}
	}
	if err := describeColumns(set); err != nil {
		return err
	}
	if err := putSchemes(set, s); err != nil {
		return err
	}
	if err := putUnderlays(set, s); err != nil {
		return err
	}
	digest, err := putSurvey(set, s, sr)
	if err != nil {
		return err
	}
	weathers, err := putWeather(set, s.Weather)
	if err != nil {
		return err
	}
	return putSettings(set, s, settings{surveyDigest: digest, weatherDigest: weathers})
}

// layerReference returns the system of the layers. What GeoPackage keeps for
// plain coordinates, number -1, stands for an unknown one.
func layerReference(c crs.CRS) (gdal.SpatialReference, error) {
	if c.Known() {
		return reference(c)
	}
	return parseCRS(`LOCAL_CS["Undefined Cartesian SRS",UNIT["Meter",1]]`)
}

func rowOf(f plan.Feature, s *plan.Site, place int) row {
	scheme := ""
	if f.Scheme != plan.AsItIs {
		scheme = s.Plan.SchemeName(f.Scheme)
	}
	values := map[string]any{
		nameColumn: f.Name, schemeColumn: scheme, schemeIDColumn: int64(f.Scheme), placeColumn: int64(place),
	}
	if f.Kind.CanCurve() {
		values[knotsColumn] = nil
	}
	if f.Curved() {
		values[knotsColumn] = knotsText(f.Knots)
	}
	for _, field := range plan.SpecOf(f.Kind).Fields {
		v, set := f.Fields[field.Name]
		switch {
		case !set:
			values[field.Name] = nil
		case field.Type == plan.Number:
			values[field.Name] = v.Number
		default:
			values[field.Name] = v.Text
		}
	}
	return row{id: int64(f.ID), shape: f.Geometry, values: values}
}

// takeTables reads everything but the ground and the settings.
func takeTables(set gdal.Dataset, s *plan.Site) error {
	if err := takeSchemes(set, s); err != nil {
		return err
	}
	if err := takeUnderlays(set, s); err != nil {
		return err
	}
	if err := takeSurvey(set, s); err != nil {
		return fmt.Errorf("its survey is damaged: %w; restore the file from a copy", err)
	}
	if err := takeWeather(set, &s.Weather); err != nil {
		return fmt.Errorf("its weather is damaged: %w; restore the file from a copy", err)
	}
	return takeFeatures(set, s)
}

// takeFeatures reads what is drawn, in the order of drawing.
func takeFeatures(set gdal.Dataset, s *plan.Site) error {
	var placed []placedFeature
	for _, spec := range plan.Specs() {
		layer := set.LayerByName(spec.Name)
		if handle(layer) == nil {
			continue
		}
		err := eachFeature(layer, func(f gdal.Feature) error {
			feature, err := featureOf(f, spec, s)
			placed = append(placed, placedFeature{feature, placeIn(f)})
			return err
		})
		if err != nil {
			return fmt.Errorf("layer %s: %w", spec.Name, err)
		}
	}
	slices.SortStableFunc(placed, func(a, b placedFeature) int { return cmpPlace(a.place, b.place) })
	for _, p := range placed {
		s.Plan.Last = max(s.Plan.Last, int64(p.ID))
	}
	taken := make(map[plan.ID]bool)
	for _, p := range placed {
		if taken[p.ID] { // another program gave out a number that was ours
			p.ID = plan.ID(s.Plan.NextID())
		}
		taken[p.ID] = true
		s.Plan.Features = append(s.Plan.Features, p.Feature)
	}
	return nil
}

type placedFeature struct {
	plan.Feature
	place int64
}

func cmpPlace(a, b int64) int { return cmp.Compare(a, b) }

// placeIn returns a row's place; what another program added comes last.
func placeIn(f gdal.Feature) int64 {
	if i := f.FieldIndex(placeColumn); i >= 0 && f.IsFieldSetAndNotNull(i) {
		return f.FieldAsInteger64(i)
	}
	return math.MaxInt64
}

func textIn(f gdal.Feature, name string) string {
	if i := f.FieldIndex(name); i >= 0 && f.IsFieldSetAndNotNull(i) {
		return f.FieldAsString(i)
	}
	return ""
}

// featureOf returns what a row holds, whether or not it suits its kind.
func featureOf(f gdal.Feature, spec plan.Spec, s *plan.Site) (plan.Feature, error) {
	feature := plan.Feature{ID: plan.ID(f.FID()), Kind: spec.Kind, Name: textIn(f, nameColumn), Scheme: schemeOf(f, s)}
	var err error
	if feature.Geometry, err = geometryOf(f); err != nil {
		return feature, fmt.Errorf("feature %d: %w; restore the file from a copy", f.FID(), err)
	}
	for _, field := range spec.Fields {
		i := f.FieldIndex(field.Name)
		if i < 0 || !f.IsFieldSetAndNotNull(i) {
			continue
		}
		if field.Type == plan.Number {
			feature = feature.With(field.Name, plan.Value{Number: f.FieldAsFloat64(i)})
		} else {
			feature = feature.With(field.Name, plan.Value{Text: f.FieldAsString(i)})
		}
	}
	if feature.Geometry != nil {
		feature.Knots = knotsIn(textIn(f, knotsColumn))
		feature = feature.Refit()
	}
	return feature, nil
}

// schemeOf goes by number, or by name in a row that another program added.
func schemeOf(f gdal.Feature, s *plan.Site) plan.SchemeID {
	if i := f.FieldIndex(schemeIDColumn); i >= 0 && f.IsFieldSetAndNotNull(i) {
		return plan.SchemeID(f.FieldAsInteger64(i))
	}
	if scheme, err := s.Plan.SchemeNamed(textIn(f, schemeColumn)); err == nil {
		return scheme.ID
	}
	return plan.AsItIs
}

// geometryOf returns a row's geometry, flat; of several parts it stays whole.
func geometryOf(f gdal.Feature) (orb.Geometry, error) {
	if handle(f.Geometry()) == nil {
		return nil, nil
	}
	straight := straightened(f.Geometry())
	if handle(straight) == nil {
		return nil, errNoGeometry
	}
	defer straight.Destroy()
	shape, _, err := flat(straight)
	if err != nil {
		return nil, err
	}
	switch many := shape.(type) {
	case orb.MultiPoint:
		if len(many) == 1 {
			return many[0], nil
		}
	case orb.MultiLineString:
		if len(many) == 1 {
			return many[0], nil
		}
	case orb.MultiPolygon:
		if len(many) == 1 {
			return many[0], nil
		}
	}
	return shape, nil
}

// setGeometry gives a row's geometry to a feature.
func (r row) setGeometry(f gdal.Feature) error {
	if r.wkb == nil && r.shape == nil {
		return f.SetGeometry(gdal.Geometry{})
	}
	bytes, err := r.wkb, error(nil)
	if bytes == nil {
		bytes, err = wkb.Marshal(r.shape)
	}
	if err != nil {
		return fmt.Errorf("its geometry cannot be stored")
	}
	shape, err := gdal.CreateFromWKB(bytes, gdal.SpatialReference{}, len(bytes))
	if err != nil {
		return fmt.Errorf("its geometry cannot be stored")
	}
	return f.SetGeometryDirectly(shape)
}
