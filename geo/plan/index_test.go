package plan

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"pgregory.net/rapid"
)

func TestHitAsksInTheOrderInWhichThingsLieOverEachOther(t *testing.T) {
	x := NewIndex([]Feature{
		{ID: 1, Kind: Boundary, Geometry: orb.Polygon{{{-9, -9}, {9, -9}, {9, 9}, {-9, 9}, {-9, -9}}}},
		{ID: 2, Kind: Paving, Geometry: square},
		{ID: 3, Kind: Planting, Geometry: square},
		{ID: 4, Kind: Channel, Geometry: orb.LineString{{-5, 2}, {9, 2}}, Fields: map[string]Value{"bed_width": {Number: 1.2}, "depth": {Number: 0.2}}},
		{ID: 5, Kind: Roof, Geometry: orb.Polygon{{{1, 0.2}, {2, 0.2}, {2, 1.2}, {1, 1.2}, {1, 0.2}}}},
		{ID: 6, Kind: Paving, Geometry: orb.Polygon{{{0.5, 0}, {3, 0}, {3, 1.3}, {0.5, 1.3}, {0.5, 0}}}},
	})
	for _, c := range []struct {
		name string
		at   orb.Point
		want ID
	}{
		{"on the line inside the area", orb.Point{2, 2.3}, 4},
		{"inside two areas of one size", orb.Point{1, 3.9}, 3},
		{"inside the smaller of two areas", orb.Point{1.5, 0.7}, 5},
		{"inside the boundary only", orb.Point{-7, -7}, 0},
		{"on the boundary's outline", orb.Point{-7, -9.2}, 1},
		{"on the bed of a wide channel", orb.Point{-4, 2.9}, 4},
		{"on the bank of a wide channel, over an area", orb.Point{2, 2.7}, 3},
		{"beside its bed", orb.Point{-4, 3.8}, 0},
		{"beside everything", orb.Point{30, 30}, 0},
	} {
		if f, _ := x.Hit(c.at, 0.5); f.ID != c.want {
			t.Errorf("%s: hit %d, want %d", c.name, f.ID, c.want)
		}
	}
}

// An island of 4 by 2 m lies in a channel whose middle runs through it, with a
// footpath across both.
func TestAnIslandIsHitBeforeTheChannelItLiesIn(t *testing.T) {
	x := NewIndex([]Feature{
		{ID: 1, Kind: Island, Geometry: orb.Polygon{{{8, -1}, {12, -1}, {12, 1}, {8, 1}, {8, -1}}}},
		{ID: 2, Kind: Channel, Geometry: orb.LineString{{0, 0}, {20, 0}}, Fields: map[string]Value{"bed_width": {Number: 6}}},
		{ID: 3, Kind: Path, Geometry: orb.LineString{{11, -9}, {11, 9}}},
		{ID: 4, Kind: Well, Geometry: orb.Point{9, 0.5}},
	})
	for _, c := range []struct {
		name  string
		at    orb.Point
		reach float64
		want  ID
	}{
		{"off the channel's middle", orb.Point{10, 0.8}, 0.3, 1},
		{"right on the channel's middle", orb.Point{9.7, 0}, 0.3, 1},
		{"with a reach wider than the island", orb.Point{8.1, -0.9}, 2.5, 4},
		{"on the path that crosses it", orb.Point{11.1, 0.2}, 0.3, 3},
		{"on the well that stands on it", orb.Point{9.1, 0.5}, 0.3, 4},
		{"in the arm beside it", orb.Point{10, 2}, 0.3, 2},
		{"hard by it in the arm", orb.Point{10, 1.1}, 0.3, 2},
		{"above it in the channel", orb.Point{4, 0.1}, 0.3, 2},
	} {
		if f, _ := x.Hit(c.at, c.reach); f.ID != c.want {
			t.Errorf("%s: hit %d, want %d", c.name, f.ID, c.want)
		}
	}
}

func TestSnapPrefersAVertexAndLeavesOutTheFeatureDrawn(t *testing.T) {
	x := NewIndex([]Feature{
		{ID: 1, Kind: Drain, Geometry: orb.LineString{{0, 0}, {10, 0}}},
		{ID: 2, Kind: Channel, Geometry: orb.LineString{{0.2, 0.1}, {5, 5}}},
	})
	if s, ok := x.Snap(orb.Point{0.3, -0.2}, 0.5, Drawing{ID: 2}); !ok || s != (Snap{At: orb.Point{0, 0}, ID: 1, Vertex: true}) {
		t.Errorf("snapped to %+v, want the drain's first vertex", s)
	}
	if s, ok := x.Snap(orb.Point{6, 0.3}, 0.5, Drawing{}); !ok || s != (Snap{At: orb.Point{6, 0}, ID: 1, Edge: [2]orb.Point{{0, 0}, {10, 0}}}) {
		t.Errorf("snapped to %+v, want a place on the drain", s)
	}
	if s, ok := x.Snap(orb.Point{6, 0.7}, 0.5, Drawing{}); ok {
		t.Errorf("snapped to %+v out of reach", s)
	}
}

// A drain runs 0.6 m from a boundary and its corner, and a channel 3 m above.
func TestSnapGoesByWhatIsDrawn(t *testing.T) {
	x := NewIndex([]Feature{
		{ID: 1, Kind: Boundary, Geometry: orb.Polygon{{{5, 0.6}, {30, 0.6}, {30, 30}, {5, 30}, {5, 0.6}}}},
		{ID: 2, Kind: Drain, Geometry: orb.LineString{{-20, 0}, {20, 0}}},
		{ID: 3, Kind: Channel, Geometry: orb.LineString{{0, -3}, {10, -3}}},
	})
	for _, c := range []struct {
		name  string
		of    Drawing
		at    orb.Point
		want  ID
		place orb.Point
	}{
		{"a channel to the drain though a corner is nearer", Drawing{Kind: Channel}, orb.Point{5, 0.5}, 2, orb.Point{5, 0}},
		{"a sill to the drain though the boundary is nearer", Drawing{Kind: Sill}, orb.Point{8, 0.5}, 2, orb.Point{8, 0}},
		{"a kerb to the nearer corner", Drawing{Kind: Kerb}, orb.Point{5, 0.5}, 1, orb.Point{5, 0.6}},
		{"a channel to the boundary where no drain is in reach", Drawing{Kind: Channel}, orb.Point{8, 1.2}, 1, orb.Point{8, 0.6}},
		{"a sill to a channel", Drawing{Kind: Sill}, orb.Point{4, -2.8}, 3, orb.Point{4, -3}},
		{"an island to no channel", Drawing{Kind: Island}, orb.Point{4, -2.8}, 0, orb.Point{}},
		{"a section to a channel 0.9 m off, beyond its reach", Drawing{Kind: Section}, orb.Point{4, -2.1}, 3, orb.Point{4, -3}},
		{"a crossing to a channel though a drain is nearer", Drawing{Kind: Crossing}, orb.Point{4, -2.3}, 3, orb.Point{4, -3}},
		{"not to a point that is set already", Drawing{Kind: Channel, Points: orb.LineString{{0, -3}}}, orb.Point{0.4, -2.8}, 3, orb.Point{0.4, -3}},
	} {
		s, ok := x.Snap(c.at, 0.8, c.of)
		if ok != (c.want != 0) || s.ID != c.want || s.At != c.place {
			t.Errorf("%s: snapped to %+v, want %d at %v", c.name, s, c.want, c.place)
		}
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
