package view

import (
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/caution"
	"runnel/geo/plan"
)

// An island of 4 by 3 m with a caution at its middle: 12 px high at 4 px a
// metre, 120 px at 40.
func TestASignDoesNotHideASmallIsland(t *testing.T) {
	site := plan.Site{Plan: plan.Plan{Features: []plan.Feature{
		{ID: 1, Kind: plan.Island, Geometry: orb.Polygon{{{48, 49}, {52, 49}, {52, 52}, {48, 52}, {48, 49}}}},
	}}}
	s := &Scene{Site: &site, Show: AllLayers, Cautions: []caution.Caution{{At: orb.Point{50, 50.5}}}}
	for scale, aside := range map[float64]bool{4: true, 40: false} {
		k := testCanvas(400, 400, Camera{West: 50 - 200/scale, North: 50.5 + 200/scale, Scale: scale})
		signs := k.signs(s)
		if len(signs) != 1 || signs[0].of != k.point(s.Cautions[0].At) {
			t.Fatalf("at %g px a metre the signs are %v", scale, signs)
		}
		island := orb.MultiPoint{k.point(orb.Point{48, 49}), k.point(orb.Point{52, 52})}.Bound()
		hidden := square(signs[0].at[0], signs[0].at[1], k.look.Caution.Least).Intersects(island)
		if hidden == aside || (signs[0].at != signs[0].of) != aside {
			t.Errorf("at %g px a metre the sign stands at %v, the island %v", scale, signs[0].at, island)
		}
	}
}

func TestSignsStandApart(t *testing.T) {
	s := everythingScene(t)
	for _, f := range s.features() {
		s.Cautions = append(s.Cautions, caution.Caution{At: f.Geometry.Bound().Center()}, caution.Caution{At: f.Geometry.Bound().Center()})
	}
	k := testCanvas(900, 700, Fit(s.Bound(), 900, 700))
	signs := k.signs(s)
	if len(signs) < 20 {
		t.Fatalf("%d signs", len(signs))
	}
	for i, a := range signs {
		for _, b := range signs[:i] {
			if k.crowds(a.at, b.at) {
				t.Errorf("signs at %v and %v hide each other", a.at, b.at)
			}
		}
	}
}

func TestTheScaleBarStandsOnPaper(t *testing.T) {
	k := testCanvas(400, 300, Camera{Scale: 5})
	k.clearTo(Colour{A: 255})
	Furniture(k.dst, k.camera, k.look, FurnitureOptions{})
	for _, at := range [][2]int{{13, 257}, {40, 262}, {100, 288}, {155, 262}} {
		if d := distance(k.dst, at[0], at[1], k.look.Paper); d > 90 {
			t.Errorf("%v is %v, want paper over black", at, k.dst.RGBAAt(at[0], at[1]))
		}
	}
	if d := distance(k.dst, 300, 280, Colour{A: 255}); d != 0 {
		t.Errorf("right of the bar is %v, want the map", k.dst.RGBAAt(300, 280))
	}
}
