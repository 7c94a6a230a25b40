package intake

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/geo/gdal"
	"runnel/geo/survey"
	"runnel/geo/table"
)

// same compares surveys bit for bit, since no number equals NaN.
func same(a, b survey.Survey) bool {
	return bytes.Equal(sent(a), sent(b)) && reflect.DeepEqual(a.Sources, b.Sources) && reflect.DeepEqual(a.Patches, b.Patches) && a.Quality == b.Quality
}

func sent(s survey.Survey) []byte {
	var b bytes.Buffer
	writeSurvey(&b, s)
	return b.Bytes()
}

func TestASurveyIsTheSame(t *testing.T) {
	var rows strings.Builder
	rows.WriteString("x,y,z,code\n")
	for i := range 3000 { // more than one chunk, the last not full
		fmt.Fprintf(&rows, "%d.25,%d.5,%g,C%d\n", 500000+i, 5200000+i%7, float64(i%91)/7, i%5)
	}
	rows.WriteString("500000,5200000,,\n500001,5200000,,KB\n500002,5200000,3,KB\n500000,high,3,KB\n")
	path := write(t, "points.csv", rows.String())
	o := gdal.SurveyOptions{Form: survey.Points, System: "EPSG:32610", Error: 0.02,
		Uses: map[string]survey.Use{"KB": survey.Kerb}, Columns: &table.Columns{Name: -1, X: 0, Y: 1, Z: 2, Code: 3}}
	want, system, notes, err := Reader{}.Survey(t.Context(), path, o)
	if err != nil {
		t.Fatal(err)
	}
	got, gotSystem, gotNotes, err := Reader{Child: true}.Survey(t.Context(), path, o)
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Spots) != 3001 || len(got.Lines) != 1 || !math.IsNaN(got.Lines[0].Z[0]) || !same(got, want) {
		t.Errorf("%d points and %d lines, want %d and %d", len(got.Spots), len(got.Lines), len(want.Spots), len(want.Lines))
	}
	if gotSystem != system || !reflect.DeepEqual(gotNotes, notes) || len(notes) == 0 {
		t.Errorf("in %v with %q, want %v with %q", gotSystem, gotNotes, system, notes)
	}
}

func TestALookIsTheSame(t *testing.T) {
	for _, path := range []string{
		write(t, "points.csv", "x;y;z\n1,5;2,5;3\n4,5;5,5;\n"),
		write(t, "lines.geojson", `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"elev":5},"geometry":{"type":"LineString","coordinates":[[-123,46.9],[-123.001,46.9]]}}]}`),
	} {
		want, err := Reader{}.Look(t.Context(), path)
		if err != nil {
			t.Fatal(err)
		}
		got, err := Reader{Child: true}.Look(t.Context(), path)
		if err != nil {
			t.Fatal(err)
		}
		if len(got.Layers) != 1 || !reflect.DeepEqual(got, want) {
			t.Errorf("%s: %+v, want %+v", filepath.Base(path), got, want)
		}
	}
}

func TestASurveyWithoutASystemIsAskedForThroughTheChild(t *testing.T) {
	path := write(t, "points.csv", "x,y,z\n1,2,3\n4,5,6\n")
	_, _, _, err := Reader{Child: true}.Survey(t.Context(), path, gdal.SurveyOptions{Form: survey.Points})
	if !errors.Is(err, gdal.ErrNoSystem) || strings.Contains(err.Error(), "\n") {
		t.Errorf("error %v", err)
	}
}

// What a child that is broken sends is not taken, and takes no memory.
func TestASurveyThatIsGarbledIsNotTaken(t *testing.T) {
	s := survey.Survey{
		Lines: []survey.Line{{At: orb.LineString{{1, 2}, {3, 4}}, Z: []float64{math.NaN(), 5}, Use: survey.Break, Out: true, Number: 7}},
		Spots: []survey.Spot{{At: orb.Point{1, 2}, Z: math.NaN(), Row: 9, Code: -1, Source: 1, Out: true}},
	}
	whole, m := sent(s), measureOf(s)
	var got survey.Survey
	if err := readSurvey(bytes.NewReader(whole), m, &got); err != nil || !same(got, s) {
		t.Errorf("%+v, %v", got, err)
	}
	for name, c := range map[string]struct {
		bytes []byte
		m     measure
	}{
		"cut short":              {whole[:len(whole)-1], m},
		"cut in a line":          {whole[:20], m},
		"fewer points than said": {whole, measure{Lines: 1, Points: 1, Spots: 1}},
		"too many lines":         {whole, measure{Lines: mostPoints + 1}},
		"a negative count":       {whole, measure{Spots: -1}},
		"far too many spots":     {whole, measure{Lines: 1, Points: 2, Spots: mostPoints}},
	} {
		if err := readSurvey(bytes.NewReader(c.bytes), c.m, &survey.Survey{}); err == nil {
			t.Errorf("%s: it is taken", name)
		}
	}
}
