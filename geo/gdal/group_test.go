package gdal

import (
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
		{"buildings.dxf", "0", []orb.Geometry{aLine, aLine, aPoint}, plan.Drain},
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
	if len(groups) != 2 || groups[0].Likely != plan.NoKind || groups[1].Likely != plan.Roof {
		t.Fatalf("%+v", groups)
	}
	g := groups[1]
	if g.Lines != 1 || g.Closed != 1 || g.Areas != 1 || g.Suits(plan.Roof) != 2 || g.Suits(plan.Wall) != 2 || g.Suits(plan.Tree) != 0 {
		t.Errorf("%+v", g)
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
