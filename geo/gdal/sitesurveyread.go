package gdal

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strconv"

	"github.com/lukeroth/gdal"
	"github.com/paulmach/orb"

	"runnel/geo/plan"
	"runnel/geo/survey"
)

// mostMeasured is how many points of lines and spots a site file may hold: twenty
// million take a gigabyte.
const mostMeasured = 20_000_000

// takeSurvey reads what the ground rests on, of which there may be nothing. A table
// that another program has taken away is empty: it costs no one the plan.
func takeSurvey(set gdal.Dataset, s *plan.Site) error {
	r := surveyReader{s: &s.Survey}
	takes := []func(gdal.Feature) error{r.source, r.line, r.spots, r.patch}
	for i, t := range surveyTables() {
		layer := set.LayerByName(t.name)
		if !t.is(layer) {
			continue
		}
		if err := eachFeature(layer, takes[i]); err != nil {
			return err
		}
	}
	r.orphans()
	return s.Survey.Check()
}

// A surveyReader gathers a survey from rows.
type surveyReader struct {
	s        *survey.Survey
	measured int
}

// orphans gives lines and spots whose files are not listed any more one without a name.
func (r *surveyReader) orphans() {
	if len(r.s.Sources) > 0 || !r.s.Measured() {
		return
	}
	form := survey.Points
	if len(r.s.Lines) > 0 {
		form = survey.Contours
	}
	r.s.Sources = []survey.Source{{Form: form, Count: len(r.s.Lines) + len(r.s.Spots)}}
	for i := range r.s.Lines {
		r.s.Lines[i].Source = 0
	}
	for i := range r.s.Spots {
		r.s.Spots[i].Source, r.s.Spots[i].Code = 0, -1
	}
}

func (r *surveyReader) count(points int) error {
	if r.measured += points; r.measured > mostMeasured {
		return fmt.Errorf("it has more than %d million points", mostMeasured/1_000_000)
	}
	return nil
}

func (r *surveyReader) source(f gdal.Feature) error {
	if len(r.s.Sources) > math.MaxInt16 {
		return fmt.Errorf("it names more than %d files", math.MaxInt16)
	}
	form := slices.IndexFunc([]survey.Form{survey.Raster, survey.Contours, survey.Points},
		func(v survey.Form) bool { return v.String() == textIn(f, "form") })
	if form < 0 {
		return fmt.Errorf("a file's form is %q", clip(textIn(f, "form")))
	}
	codes, err := listIn(textIn(f, "codes"))
	if err != nil {
		return err
	}
	r.s.Sources = append(r.s.Sources, survey.Source{
		Name: textIn(f, "name"), Form: survey.Form(form), System: textIn(f, "system"), Unit: textIn(f, "unit"), Datum: textIn(f, "datum"),
		Count: int(wholeIn(f, "count", 0)), Cell: realIn(f, "cell", 0), Error: realIn(f, "error", 0), Codes: codes,
	})
	return nil
}

func (r *surveyReader) line(f gdal.Feature) error {
	use := slices.IndexFunc([]survey.Use{survey.Contour, survey.Break, survey.Kerb, survey.Edge},
		func(v survey.Use) bool { return v.String() == textIn(f, "use") })
	if use < 0 {
		return fmt.Errorf("a line's use is %q", clip(textIn(f, "use")))
	}
	l := survey.Line{
		Source: int(wholeIn(f, "source", 1)) - 1, Number: int(wholeIn(f, "number", 0)),
		Use: survey.Use(use), Out: wholeIn(f, "left_out", 0) != 0,
	}
	points, err := pointsIn(f)
	if err != nil {
		return err
	}
	if err := r.count(len(points)); err != nil {
		return err
	}
	for _, p := range points {
		l.At = append(l.At, orb.Point{p[0], p[1]})
	}
	switch heights := textIn(f, "heights"); {
	case heights == levelHeights:
		l.Z = []float64{realIn(f, "level", math.NaN())}
	case heights != noHeights:
		for _, p := range points {
			l.Z = append(l.Z, p[2])
		}
	}
	r.s.Lines = append(r.s.Lines, l)
	return nil
}

func (r *surveyReader) spots(f gdal.Feature) error {
	points, err := pointsIn(f)
	if err != nil {
		return err
	}
	if err := r.count(len(points)); err != nil {
		return err
	}
	codes, err := runsIn(textIn(f, "codes"), len(points), -1)
	if err != nil {
		return err
	}
	out, err := runsIn(textIn(f, "left_out"), len(points), 0)
	if err != nil {
		return err
	}
	source := wholeIn(f, "source", 1) - 1
	if source < 0 || source > math.MaxInt16 {
		return fmt.Errorf("points are of file %d", source+1)
	}
	for i, p := range points {
		spot := survey.Spot{At: orb.Point{p[0], p[1]}, Z: p[2], Source: int16(source), Code: codes[i], Out: out[i] != 0}
		if p[3] >= 0 && p[3] <= math.MaxInt32 {
			spot.Row = int32(p[3])
		}
		r.s.Spots = append(r.s.Spots, spot)
	}
	return nil
}

func (r *surveyReader) patch(f gdal.Feature) error {
	why := slices.IndexFunc([]survey.Why{survey.Void, survey.Building, survey.Trees},
		func(v survey.Why) bool { return v.String() == textIn(f, "why") })
	if why < 0 {
		return fmt.Errorf("a part was worked out for the reason %q", clip(textIn(f, "why")))
	}
	shape, err := geometryOf(f)
	if err != nil {
		return err
	}
	outline, ok := shape.(orb.Polygon)
	if shape != nil && !ok {
		return fmt.Errorf("a part that was worked out is a %s", shape.GeoJSONType())
	}
	r.s.Patches = append(r.s.Patches, survey.Patch{Outline: outline, Why: survey.Why(why)})
	return nil
}

func wholeIn(f gdal.Feature, name string, without int64) int64 {
	if i := f.FieldIndex(name); i >= 0 && f.IsFieldSetAndNotNull(i) {
		return f.FieldAsInteger64(i)
	}
	return without
}

func realIn(f gdal.Feature, name string, without float64) float64 {
	if i := f.FieldIndex(name); i >= 0 && f.IsFieldSetAndNotNull(i) {
		return f.FieldAsFloat64(i)
	}
	return without
}

// listText writes a list of texts as JSON; listIn reads it.
func listText(list []string) string {
	if len(list) == 0 {
		return ""
	}
	text, err := json.Marshal(list)
	if err != nil {
		panic(err) // texts always have a form in JSON
	}
	return string(text)
}

func listIn(text string) ([]string, error) {
	if text == "" {
		return nil, nil
	}
	var list []string
	if err := json.Unmarshal([]byte(text), &list); err != nil || len(list) > math.MaxInt16 {
		return nil, fmt.Errorf("its list of codes is %q", clip(text))
	}
	return list, nil
}

// qualityOf names the settings that keep what was found of a ground's quality.
func qualityOf(q *survey.Quality) map[string]*float64 {
	return map[string]*float64{
		"quality_tension": &q.Tension, "quality_rmse": &q.RMSE, "quality_bias": &q.Bias, "quality_worst": &q.Worst,
		"quality_error": &q.Error, "quality_reach": &q.Reach,
	}
}

// intoQuality reads them; the first site files have none.
func (held settings) intoQuality(q *survey.Quality) error {
	for key, to := range qualityOf(q) {
		text, ok := held[key]
		if !ok {
			continue
		}
		v, err := strconv.ParseFloat(text, 64)
		if err != nil {
			return held.damaged(key)
		}
		*to = v
	}
	if text, ok := held["quality_held_out"]; ok {
		v, err := strconv.Atoi(text)
		if err != nil || v < 0 {
			return held.damaged("quality_held_out")
		}
		q.HeldOut = v
	}
	return nil
}
