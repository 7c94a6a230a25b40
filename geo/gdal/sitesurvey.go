package gdal

import (
	"fmt"
	"slices"

	"github.com/lukeroth/gdal"

	"runnel/geo/crs"
	"runnel/geo/plan"
	"runnel/geo/survey"
)

// What the ground rests on is kept in four tables, which a file has once its site has
// a survey. Spots lie many to a row, so that a million of them are some hundred rows.
const (
	sourcesTable = "survey_sources"
	linesTable   = "survey_lines"
	spotsTable   = "survey_spots"
	patchesTable = "survey_patches"
	// surveyDigest is the setting that says what is in those tables.
	surveyDigest = "survey_digest"
)

// A surveyTable is one of the four.
type surveyTable struct {
	layerForm
	// marks are columns by which it is told from another of its name.
	marks []string
	// rows returns what it holds of a survey.
	rows func(survey.Survey) []row
}

const multiPointZM = gdal.GeometryType(3004) // wkbMultiPointZM

func surveyTables() []surveyTable {
	source := column{"source", gdal.FT_Integer64, "File", "its row in survey_sources"}
	return []surveyTable{
		{layerForm{sourcesTable, "Files of the survey", gdal.GT_None, []column{
			{"name", gdal.FT_String, "File", "without its folder"},
			{"form", gdal.FT_String, "Form", "raster, contours or points"},
			{"system", gdal.FT_String, "Reference system", "as the file has it; empty: not known"},
			{"unit", gdal.FT_String, "Unit of the heights in the file", "m, ft or us-ft; empty: not known"},
			{"datum", gdal.FT_String, "What the heights are above", "empty: not known"},
			{"count", gdal.FT_Integer64, "Lines, points or cells taken", ""},
			{"cell", gdal.FT_Real, "Cell of a raster", "unit: m"},
			{"error", gdal.FT_Real, "Standard deviation of the heights, as given", "unit: m; 0: not given"},
			{"codes", gdal.FT_String, "Point codes", "a JSON list, numbered from 0"},
		}}, []string{"form", "datum"}, sourceRows},
		{layerForm{linesTable, "Measured lines", gdal.GT_LineString25D, []column{
			source,
			{"number", gdal.FT_Integer64, "Number in the file", "from 1"},
			{"use", gdal.FT_String, "Use", "contour, breakline, kerb or edge of the survey"},
			{"left_out", gdal.FT_Integer64, "Left out of the ground", "1: left out"},
			{"heights", gdal.FT_String, "Heights", "level: one for the line; each: one for each point; none"},
			{"level", gdal.FT_Real, "Height of a level line", "unit: m"},
		}}, []string{"use", "heights"}, lineRows},
		{layerForm{spotsTable, "Measured points", multiPointZM, []column{
			source,
			{"codes", gdal.FT_String, "Point codes", "places in the file's list, each with how many points in turn have it, as 2x14; -1: none; empty: none has one"},
			{"left_out", gdal.FT_String, "Left out of the ground", "1 or 0, each with how many points in turn, as 0x14; empty: none is"},
		}}, []string{"codes", "left_out"}, spotRows},
		{layerForm{patchesTable, "Ground that was worked out, not measured", gdal.GT_Polygon, []column{
			{"why", gdal.FT_String, "Why", "void, building or trees"},
		}}, []string{"why"}, patchRows},
	}
}

// putSurvey makes the tables hold the site's survey and returns the digest of it.
// Tables that hold it already stay as they are, so that a large survey costs a save
// little. A file that never had a survey gets no tables.
func putSurvey(set gdal.Dataset, s *plan.Site, sr gdal.SpatialReference) (string, error) {
	held, whole := ourSurvey(set, s.CRS)
	if s.Survey.Empty() && !held {
		return "", nil
	}
	digest := digestOf(s.Survey)
	if whole {
		stored, err := readSettings(set)
		if err != nil || stored[surveyDigest] == digest {
			return digest, err
		}
	}
	for _, t := range surveyTables() {
		if !t.is(set.LayerByName(t.name)) && hasTable(set, t.name) {
			return "", fmt.Errorf("the file has a table called %s that is another program's; choose another name", t.name)
		}
		layer, err := t.ensure(set, s.CRS, sr)
		if err != nil {
			return "", err
		}
		if err := replaceRows(layer, t.rows(s.Survey)); err != nil {
			return "", fmt.Errorf("layer %s: %w", t.name, err)
		}
		if err := describeTable(set, t.name, t.columns); err != nil {
			return "", err
		}
	}
	return digest, nil
}

// ourSurvey reports whether the file has any of our tables, and whether it has all
// of them in a system.
func ourSurvey(set gdal.Dataset, c crs.CRS) (any, whole bool) {
	whole = true
	for _, t := range surveyTables() {
		layer := set.LayerByName(t.name)
		ours := t.is(layer)
		any = any || ours
		whole = whole && ours && (t.shape == gdal.GT_None || layerIn(layer, c))
	}
	return any, whole
}

// is tells a table of ours from another of its name.
func (t surveyTable) is(layer gdal.Layer) bool {
	lacks := func(name string) bool { return layer.Definition().FieldIndex(name) < 0 }
	return handle(layer) != nil && !slices.ContainsFunc(t.marks, lacks)
}

func (t surveyTable) ensure(set gdal.Dataset, c crs.CRS, sr gdal.SpatialReference) (gdal.Layer, error) {
	if t.shape == gdal.GT_None {
		return ensureTable(set, t.name, t.columns)
	}
	return ensureLayer(set, t.layerForm, c, sr)
}

func sourceRows(s survey.Survey) []row {
	var rows []row
	for i, f := range s.Sources {
		rows = append(rows, row{id: int64(i) + 1, values: map[string]any{
			"name": f.Name, "form": f.Form.String(), "system": f.System, "unit": f.Unit, "datum": f.Datum,
			"count": int64(f.Count), "cell": f.Cell, "error": f.Error, "codes": listText(f.Codes),
		}})
	}
	return rows
}

// What a line's column heights says.
const (
	levelHeights = "level"
	eachHeights  = "each"
	noHeights    = "none"
)

func lineRows(s survey.Survey) []row {
	var rows []row
	for i, l := range s.Lines {
		heights, level := noHeights, any(nil)
		switch {
		case len(l.Z) == 1:
			heights, level = levelHeights, l.Z[0]
		case len(l.Z) > 1:
			heights = eachHeights
		}
		rows = append(rows, row{id: int64(i) + 1, wkb: lineWKB(l), values: map[string]any{
			"source": int64(l.Source) + 1, "number": int64(l.Number), "use": l.Use.String(), "left_out": oneIf(l.Out),
			"heights": heights, "level": level,
		}})
	}
	return rows
}

func patchRows(s survey.Survey) []row {
	var rows []row
	for i, p := range s.Patches {
		r := row{id: int64(i) + 1, values: map[string]any{"why": p.Why.String()}}
		if len(p.Outline) > 0 {
			r.shape = p.Outline
		}
		rows = append(rows, r)
	}
	return rows
}

func oneIf(v bool) int64 {
	if v {
		return 1
	}
	return 0
}
