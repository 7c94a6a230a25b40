package plan

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"pgregory.net/rapid"
)

func TestHitPrefersLinesOverAreasAndTheLaterDrawn(t *testing.T) {
	x := NewIndex([]Feature{
		{ID: 1, Kind: Boundary, Geometry: orb.Polygon{{{-9, -9}, {9, -9}, {9, 9}, {-9, 9}, {-9, -9}}}},
		{ID: 2, Kind: Island, Geometry: square},
		{ID: 3, Kind: Planting, Geometry: square},
		{ID: 4, Kind: Channel, Geometry: orb.LineString{{-5, 2}, {9, 2}}, Fields: map[string]Value{"bed_width": {Number: 1.2}, "depth": {Number: 0.2}}},
	})
	for _, c := range []struct {
		name string
		at   orb.Point
		want ID
	}{
		{"on the line inside the area", orb.Point{2, 2.3}, 4},
		{"inside two areas", orb.Point{1, 3.9}, 3},
		{"inside the boundary only", orb.Point{-7, -7}, 0},
		{"on the boundary's outline", orb.Point{-7, -9.2}, 1},
		{"on the bed of a wide channel", orb.Point{-4, 3.2}, 4},
		{"beside its bed", orb.Point{-4, 3.8}, 0},
		{"beside everything", orb.Point{30, 30}, 0},
	} {
		if f, _ := x.Hit(c.at, 0.5); f.ID != c.want {
			t.Errorf("%s: hit %d, want %d", c.name, f.ID, c.want)
		}
	}
}

func TestSnapPrefersAVertexAndLeavesOutTheFeatureDrawn(t *testing.T) {
	x := NewIndex([]Feature{
		{ID: 1, Kind: Drain, Geometry: orb.LineString{{0, 0}, {10, 0}}},
		{ID: 2, Kind: Channel, Geometry: orb.LineString{{0.2, 0.1}, {5, 5}}},
	})
	if s, ok := x.Snap(orb.Point{0.3, -0.2}, 0.5, 2); !ok || s != (Snap{orb.Point{0, 0}, 1, true}) {
		t.Errorf("snapped to %+v, want the drain's first vertex", s)
	}
	if s, ok := x.Snap(orb.Point{6, 0.3}, 0.5, 0); !ok || s != (Snap{orb.Point{6, 0}, 1, false}) {
		t.Errorf("snapped to %+v, want a place on the drain", s)
	}
	if s, ok := x.Snap(orb.Point{6, 0.7}, 0.5, 0); ok {
		t.Errorf("snapped to %+v out of reach", s)
	}
}

func TestNearestOnSegmentIsNearest(t *testing.T) {
	coordinate := rapid.Float64Range(-100, 100)
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) orb.Point {
			return orb.Point{coordinate.Draw(t, name+"x"), coordinate.Draw(t, name+"y")}
		}
		a, b, p := draw("a"), draw("b"), draw("p")
		least := planar.Distance(p, NearestOnSegment(a, b, p))
		for i := range 101 {
			s := float64(i) / 100
			q := orb.Point{a[0] + s*(b[0]-a[0]), a[1] + s*(b[1]-a[1])}
			if planar.Distance(p, q) < least-1e-9 {
				t.Fatalf("%v is nearer to %v", q, p)
			}
		}
		if want := planar.DistanceFromSegment(a, b, p); math.Abs(want-least) > 1e-9 {
			t.Fatalf("%v m away, orb says %v", least, want)
		}
	})
}
