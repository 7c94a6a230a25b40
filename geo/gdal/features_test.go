package gdal

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/geo/crs"
	"runnel/geo/plan"
)

var (
	closedLine = orb.LineString{{0, 0}, {4, 0}, {4, 4}, {0, 0}}
	openLine   = orb.LineString{{0, 0}, {4, 0}, {4, 4}}
	square     = orb.Polygon{{{0, 0}, {4, 0}, {4, 4}, {0, 0}}}
	pierced    = orb.Polygon{{{0, 0}, {9, 0}, {9, 9}, {0, 0}}, {{5, 2}, {6, 3}, {6, 2}, {5, 2}}}
	bow        = orb.Polygon{{{0, 0}, {2, 2}, {2, 0}, {0, 2}, {0, 0}}}
)

func TestFeaturesTakeTheShapeOfTheirKind(t *testing.T) {
	cases := []struct {
		name  string
		shape orb.Geometry
		kind  plan.Kind
		want  orb.Geometry
		wrong string
	}{
		{"a line for a drain", openLine, plan.Drain, openLine, ""},
		{"an area for a roof", square, plan.Roof, square, ""},
		{"a closed line for a roof", closedLine, plan.Roof, square, ""},
		{"an open line for a roof", openLine, plan.Roof, nil, "open line and the kind roof is an area"},
		{"an area for a kerb", square, plan.Kerb, closedLine, ""},
		{"an area with a hole for a kerb", pierced, plan.Kerb, nil, "area with holes and the kind kerb is a line"},
		{"a point for a roof", orb.Point{1, 2}, plan.Roof, nil, "drawn as a point"},
		{"a line for a well", openLine, plan.Well, nil, "drawn as a line"},
		{"a roof that crosses itself", bow, plan.Roof, nil, "crosses or touches itself"},
		{"no geometry", nil, plan.Well, nil, "no geometry"},
	}
	for _, c := range cases {
		features, wrong := Features([]Drawn{{Geometry: c.shape, Number: 5, Layer: "plot"}}, c.kind, 3)
		if c.want == nil {
			if len(features) != 0 || len(wrong) != 1 || !strings.Contains(wrong[0].Error(), c.wrong) {
				t.Errorf("%s: %v, errors %v, want one with %q", c.name, features, wrong, c.wrong)
			} else if text := wrong[0].Error(); !strings.HasPrefix(text, "feature 5 of plot: ") || !strings.HasSuffix(text, "left out") {
				t.Errorf("%s: the error does not say which, and what was done: %s", c.name, text)
			}
			continue
		}
		if len(features) != 1 || len(wrong) != 0 || !orb.Equal(features[0].Geometry, c.want) {
			t.Errorf("%s: %v, errors %v, want %v", c.name, features, wrong, c.want)
		}
	}
}

func TestFeaturesTakeFieldsByName(t *testing.T) {
	features, wrong := Features([]Drawn{
		{Geometry: openLine, Number: 1, Fields: map[string]string{"NAME": " Lane ditch ", "Bed_Width": "0,5", "OWNER": "private", "colour": "red", "depth": " "}},
		{Geometry: openLine, Number: 2, Fields: map[string]string{"name": "Low ditch", "bed_width": "wide", "depth": "99", "owner": "someone", "water_dept": "0.25"}},
	}, plan.Drain, 3)
	if len(features) != 2 {
		t.Fatalf("%d features, errors %v", len(features), wrong)
	}
	first, second := features[0], features[1]
	if first.Name != "Lane ditch" || first.Num("bed_width") != 0.5 || first.Text("owner") != "private" || len(first.Fields) != 2 {
		t.Errorf("the first is %+v", first)
	}
	if first.Scheme != plan.AsItIs || first.ID != 0 {
		t.Errorf("a drain belongs to the site as it is: %+v", first)
	}
	if second.Num("water_depth") != 0.25 || len(second.Fields) != 1 {
		t.Errorf("the second is %+v", second)
	}
	if len(wrong) != 3 {
		t.Fatalf("errors %v, want 3", wrong)
	}
	for i, want := range []string{`the bed width is "wide"; give a number`, "the depth is 99; give a number from", `the owner is "someone"; give one of`} {
		if text := wrong[i].Error(); !strings.Contains(text, want) || !strings.HasPrefix(text, "Low ditch") || !strings.HasSuffix(text, "left unset") {
			t.Errorf("error %q, want one with %q", text, want)
		}
	}
	if channel, _ := Features([]Drawn{{Geometry: openLine}}, plan.Channel, 3); channel[0].Scheme != 3 {
		t.Errorf("the channel's scheme is %d, want 3", channel[0].Scheme)
	}
}

func TestFeaturesDoNotShareMemoryWithTheDrawing(t *testing.T) {
	line := orb.LineString{{0, 0}, {4, 0}, {4, 4}, {0, 0}}
	features, _ := Features([]Drawn{{Geometry: line}}, plan.Roof, 0)
	line[0] = orb.Point{9, 9}
	if features[0].Area()[0][0] != (orb.Point{0, 0}) {
		t.Error("the roof's outline changes with the drawing's line")
	}
}

// byKind sorts what was drawn by its field "kind"; what names no kind comes second.
func byKind(drawn []Drawn) (map[plan.Kind][]Drawn, []Drawn) {
	sorted := make(map[plan.Kind][]Drawn)
	var rest []Drawn
	for _, d := range drawn {
		if kind, ok := plan.KindNamed(d.Fields["kind"]); ok {
			sorted[kind] = append(sorted[kind], d)
		} else {
			rest = append(rest, d)
		}
	}
	return sorted, rest
}

func TestADrawingKeepsTheKindsThatItNames(t *testing.T) {
	d, _ := drawn(t, filepath.Join("..", "..", "testdata", "drawing.geojson"), crs.LonLat())
	sorted, rest := byKind(d)
	if len(sorted[plan.Drain]) != 1 || len(sorted[plan.Roof]) != 2 || len(sorted[plan.Channel]) != 1 || len(rest) != 0 {
		t.Errorf("sorted %v, rest %v", sorted, rest)
	}
}
