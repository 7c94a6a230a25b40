package gdal

import (
	"fmt"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// ofLayer returns shapes of a layer.
func ofLayer(layer string, shapes ...orb.Geometry) (drawn []Drawn) {
	for _, g := range shapes {
		drawn = append(drawn, Drawn{Layer: layer, Geometry: g, Fields: map[string]string{}})
	}
	return drawn
}

var (
	aPoint = orb.Point{1, 2}
	aLine  = orb.LineString{{0, 0}, {1, 0}}
	aRing  = orb.LineString{{0, 0}, {1, 0}, {1, 1}, {0, 0}}
	anArea = orb.Polygon{{{0, 0}, {1, 0}, {1, 1}, {0, 0}}}
)

func TestWhatADrawingHoldsIsGuessedByNameAndShape(t *testing.T) {
	for _, c := range []struct {
		file, layer string
		shapes      []orb.Geometry
		want        plan.Kind
	}{
		{"/x/Buildings.geojson", "x", []orb.Geometry{anArea}, plan.Roof},
		{"outlines.shp", "outlines", []orb.Geometry{anArea}, plan.Roof},
		{"parcels.shp", "parcels", []orb.Geometry{anArea}, plan.Boundary},
		{"buildings.dxf", "0", []orb.Geometry{aLine, aLine}, plan.Drain},
		{"buildings.dxf", "0", []orb.Geometry{aRing}, plan.Roof},
		{"footpaths.csv", "footpaths", []orb.Geometry{aLine}, plan.Path},
		{"x.csv", "x", []orb.Geometry{aPoint, aPoint}, plan.Tree},
		{"site.dxf", "Kerb line", []orb.Geometry{aLine}, plan.Kerb},
		{"trees.dxf", "A-TEXT, texts", []orb.Geometry{aPoint}, plan.NoKind},
		{"walk.gpx", "track_points", []orb.Geometry{aPoint}, plan.NoKind},
		{"walk.gpx", "tracks", []orb.Geometry{aLine}, plan.Path},
		{"x.gpkg", "septic_field", []orb.Geometry{anArea}, plan.SepticField},
	} {
		groups := Groups(ofLayer(c.layer, c.shapes...), c.file)
		if len(groups) != 1 || groups[0].Likely != c.want {
			t.Errorf("%s, %s is taken for %+v, want %v", c.file, c.layer, groups, c.want)
		}
	}
}

func TestOfSeveralLayersOneThatTellsNothingIsLeftOut(t *testing.T) {
	groups := Groups(append(ofLayer("GRID", aLine), ofLayer("roofs", anArea, aRing)...), "roofs.dxf")
	if len(groups) != 3 || groups[0].Likely != plan.NoKind || groups[1].Likely != plan.Roof || groups[2].Likely != plan.Roof {
		t.Fatalf("%+v", groups)
	}
	if g := groups[2]; g.Lines != 1 || g.Closed != 1 || g.Suits(plan.Roof) != 1 || g.Suits(plan.Wall) != 1 || g.Suits(plan.Tree) != 0 {
		t.Errorf("%+v", g)
	}
}

func TestALayerOfSeveralShapesIsAGroupForEach(t *testing.T) {
	groups := Groups(ofLayer("plan", anArea, aPoint, aLine, anArea), "x.gpkg")
	want := []plan.Kind{plan.Roof, plan.Tree, plan.Drain}
	if len(groups) != len(want) {
		t.Fatalf("%+v", groups)
	}
	for i, g := range groups {
		if g.Name != "plan" || g.Likely != want[i] || g.Named || g.Points+g.Lines+g.Areas != len(g.Drawn) {
			t.Errorf("%+v, want %v", g, want[i])
		}
	}
}

func TestADrawingMayBeSortedByAFieldOfFewValues(t *testing.T) {
	drawn := ofLayer("plan", anArea, anArea, aLine, aPoint, aPoint, aLine)
	for i, value := range []string{"BUILDINGS", "PAVING", "WALLS", "TREES", " ", "drain"} {
		drawn[i].Fields["Layer"] = value
		drawn[i].Fields["Name"] = fmt.Sprint(i)
		drawn[i].Fields["type"] = "one"
		drawn[i].Fields["width"] = fmt.Sprint(i % 2)
	}
	drawn[0].Fields["class"], drawn[1].Fields["class"] = "a", "b"
	if fields := SortFields(drawn); !slices.Equal(fields, []string{"Layer", "Name"}) {
		t.Fatalf("it may be sorted by %q", fields)
	}
	var got []string
	for _, g := range GroupsBy(drawn, "plan.gpkg", "Layer") {
		got = append(got, fmt.Sprint(g.Name, " ", g.Likely, " ", g.Named))
	}
	want := []string{
		fmt.Sprint("BUILDINGS ", plan.Roof, " true"), fmt.Sprint("PAVING ", plan.Paving, " true"), fmt.Sprint("WALLS ", plan.Wall, " true"),
		fmt.Sprint("TREES ", plan.Tree, " true"), fmt.Sprint("plan ", plan.NoKind, " false"), fmt.Sprint("drain ", plan.Drain, " true"),
	}
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	for i := range 20 {
		drawn = append(drawn, Drawn{Geometry: aPoint, Fields: map[string]string{"Layer": fmt.Sprint("no. ", i)}})
	}
	if fields := SortFields(drawn); len(fields) != 0 {
		t.Errorf("by many values it may be sorted by %q", fields)
	}
}

func TestADrawingThatTellsKindsApartIsSortedByThem(t *testing.T) {
	drawn := append(ofLayer("site", aPoint, anArea), ofLayer("site", aLine)...)
	drawn[0].Fields["kind"], drawn[1].Fields["Kind"], drawn[2].Fields["kind"] = "tree", "roof", "oak"
	groups := Groups(drawn, "site.geojson")
	if len(groups) != 3 || groups[0].Likely != plan.Tree || groups[1].Likely != plan.Roof || groups[2].Name != "site" || groups[2].Likely != plan.NoKind {
		t.Errorf("%+v", groups)
	}
}
