package view

import (
	"image"
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/compare"
	"runnel/assets/demo"
	"runnel/geo/plan"
)

func TestAGhostHoldsWhatLeadsWaterAndPeopleInOneScheme(t *testing.T) {
	s := demo.Site()
	for _, scheme := range append([]plan.Scheme{{Name: "As it is"}}, s.Plan.Schemes...) {
		g := NewGhost(&s, scheme.ID)
		if g.Name != scheme.Name || len(g.features) == 0 {
			t.Errorf("the ghost of %s is called %q and has %d features", scheme.Name, g.Name, len(g.features))
		}
		for _, f := range g.features {
			if f.Scheme != scheme.ID || !slices.Contains([]plan.Kind{plan.Channel, plan.Drain, plan.Island, plan.Path}, f.Kind) {
				t.Errorf("the ghost of %s holds %s", scheme.Name, f.Title())
			}
		}
	}
}

func TestAGhostIsDrawnWhereTheOtherSchemeRuns(t *testing.T) {
	s := demo.Site()
	one, other := s.Plan.Schemes[0], s.Plan.Schemes[1]
	account, err := compare.Measure(t.Context(), &s, one.ID, compare.Options{})
	if err != nil {
		t.Fatal(err)
	}
	scene, err := Small(t.Context(), &s, &account)
	if err != nil {
		t.Fatal(err)
	}
	const size = 900
	camera := Fit(scene.Bound(), size, size)
	draw := func(g *Ghost) *image.RGBA {
		shown := *scene
		shown.Ghost = g
		drawn, err := Draw(t.Context(), &shown, camera, size, size, Light())
		if err != nil {
			t.Fatal(err)
		}
		return drawn
	}
	bare, haunted := draw(nil), draw(NewGhost(&s, other.ID))
	changed := 0
	for y := range size {
		for x := range size {
			if bare.RGBAAt(x, y) == haunted.RGBAAt(x, y) {
				continue
			}
			changed++
			if far := farFrom(s.Plan.In(other.ID), other.ID, camera.ToGround(float64(x)+0.5, float64(y)+0.5)); far > 4 {
				t.Fatalf("the ghost is drawn at (%d, %d), %.1f m from the other scheme", x, y, far)
			}
		}
	}
	if changed < 500 {
		t.Errorf("the ghost changes %d pixels", changed)
	}
	scene.Ghost = NewGhost(&s, other.ID)
	if !slices.ContainsFunc(scene.Legend(Camera{}), func(e Entry) bool { return e.Text() == "Ghost of "+other.Name }) {
		t.Error("the legend does not name the ghost")
	}
}

// farFrom returns how far a place is from the nearest thing of a scheme [m].
func farFrom(features []plan.Feature, scheme plan.SchemeID, p orb.Point) float64 {
	least := math.Inf(1)
	for _, f := range features {
		if f.Scheme != scheme {
			continue
		}
		for _, line := range plan.Lines(f.Geometry) {
			for i := 1; i < len(line); i++ {
				const tries = 40
				for j := range tries + 1 {
					least = min(least, apart(along(line[i-1], line[i], float64(j)/tries), p))
				}
			}
		}
	}
	return least
}

// The corner of the edge of a line that turns by a right angle lies out by the root
// of two; that of a hairpin no further than the mitre goes.
func TestAnEdgeRunsBesideItsLine(t *testing.T) {
	line := []orb.Point{{0, 0}, {10, 0}, {10, 10}}
	for i, want := range []orb.Point{{0, 2}, {8, 2}, {8, 10}} {
		if got := edgeOf(line, 2)[i]; apart(got, want) > 1e-9 {
			t.Errorf("point %d is %v, want %v", i, got, want)
		}
	}
	for _, p := range edgeOf([]orb.Point{{0, 0}, {10, 0}, {0, 0.01}, {0, 0.01}}, 2) {
		if math.IsNaN(p[0]+p[1]) || apart(p, orb.Point{5, 0}) > 5+longestMitre*2+1e-9 {
			t.Errorf("the edge of a hairpin goes to %v", p)
		}
	}
}
