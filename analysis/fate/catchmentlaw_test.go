package fate

import (
	"context"
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"pgregory.net/rapid"

	"runnel/analysis/runoff"
	"runnel/analysis/soil"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// anySite is a rough site with all that sheds and stops water drawn anywhere.
func anySite(t *rapid.T) *plan.Site {
	s := &plan.Site{Ground: anyGround(t), Setting: plan.UsualSetting()}
	s.Setting.Storm = rapid.SampledFrom([]float64{5, 50, 400, 2000}).Draw(t, "storm")
	bound := s.Ground.Bound()
	at := func() orb.Point {
		across, up := rapid.Float64Range(0, 1).Draw(t, "east"), rapid.Float64Range(0, 1).Draw(t, "north")
		return orb.Point{bound.Min[0] + across*(bound.Max[0]-bound.Min[0]), bound.Min[1] + up*(bound.Max[1]-bound.Min[1])}
	}
	areas := []plan.Kind{plan.Roof, plan.Paving, plan.Cover, plan.SoilZone}
	lines := []plan.Kind{plan.Kerb, plan.Culvert, plan.Drain}
	for range rapid.IntRange(0, 6).Draw(t, "drawn") {
		f := plan.Feature{ID: plan.ID(s.Plan.NextID())}
		a, b := at(), at()
		if f.Kind = rapid.SampledFrom(append(areas, lines...)).Draw(t, "kind"); f.Kind == plan.Kerb || f.Kind == plan.Culvert || f.Kind == plan.Drain {
			f.Geometry = orb.LineString{a, b}
		} else {
			f.Geometry = orb.Bound{Min: a, Max: a}.Extend(b).ToPolygon()
		}
		if f.Kind == plan.Cover {
			f = f.With("cover", plan.Value{Text: rapid.SampledFrom(plan.Covers()).Draw(t, "cover")})
		}
		s.Plan.Features = append(s.Plan.Features, f)
		if f.Kind == plan.Roof && rapid.Bool().Draw(t, "pipe") {
			s.Plan.Features = append(s.Plan.Features, plan.Feature{ID: plan.ID(s.Plan.NextID()), Kind: plan.Downpipe, Geometry: a})
		}
	}
	return s
}

// anyCourses are some lines across a site, and water on some cells.
func anyCourses(t *rapid.T, ground grid.Ground) (courses []Course, wet grid.Ground) {
	b := ground.Bound()
	for i := range rapid.IntRange(0, 3).Draw(t, "courses") {
		var l orb.LineString
		for range 2 {
			l = append(l, orb.Point{
				rapid.Float64Range(b.Min[0], b.Max[0]).Draw(t, "x"), rapid.Float64Range(b.Min[1], b.Max[1]).Draw(t, "y"),
			})
		}
		courses = append(courses, Course{Feature: plan.ID(900 + i), Line: l})
	}
	if rapid.Bool().Draw(t, "wet") {
		wet = grid.New[float32](ground.Frame)
		for i := range wet.V {
			wet.V[i] = float32(rapid.IntRange(-3, 1).Draw(t, "depth"))
		}
	}
	return courses, wet
}

// byZone is the group that a place has by the zones that are drawn over it.
func byZone(s *plan.Site) func(orb.Point) soil.Group {
	return func(p orb.Point) soil.Group {
		sum := 0
		for i, f := range s.Plan.Features {
			if f.Kind == plan.SoilZone && planar.PolygonContains(f.Area(), p) {
				sum += i + 1
			}
		}
		return soil.Group(sum % 4)
	}
}

// All catchments and what ends elsewhere are all that is shed; and each is what the
// cells come to one by one.
func TestCatchmentsAndTheRestAreAllGround(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		site := anySite(t)
		s, err := runoff.Of(context.Background(), site, site.Ground)
		if err != nil {
			t.Fatal(err)
		}
		courses, wet := anyCourses(t, s.Ground)
		holdToCells(t, soiled{Input{Site: site, Surface: s, Wet: wet}, byZone(site)}, courses)
	})
}

// A piece is the ground of one cover and soil in the catchment of a course.
type piece struct {
	course int32
	cover  string
	group  soil.Group
}

// cellByCell follows each cell by itself: what all sheds [m²], what of it ends in no course
// or in its water, and the open ground and the water of each catchment.
func cellByCell(n *network, in soiled, on runoff.Covering) (all, left float64, open map[piece]float64) {
	cell, open := in.Surface.Ground.CellArea(), make(map[piece]float64)
	for c, w := range in.Surface.Weight {
		all += w * cell
		n.pass(n.entry[c], w*cell, func(station int32, shed float64) {
			if station < n.courses || station >= n.links {
				left += shed
			}
		})
		n.pass(n.entry[c], cell, func(station int32, area float64) {
			if station < n.courses || station >= n.links || on.Of[c] == 0 {
				return
			}
			p := piece{station - n.courses, on.Covers[on.Of[c]-1].Name, in.Group(n.centre(int32(c)))}
			if by, ok := n.swallows[int32(c)]; ok && by == station {
				left += area * on.Covers[on.Of[c]-1].Coefficient.Likely
				p.cover, p.group = "water", 0
			}
			open[p] += area
		})
	}
	return all, left, open
}

// holdToCells holds catchments to a twin that follows each cell by itself.
func holdToCells(t rapid.TB, in soiled, courses []Course) {
	found, err := catchmentsOf(context.Background(), in, courses)
	if err != nil {
		t.Fatal(err)
	}
	n, err := newNetwork(context.Background(), in.Input, linesOf(courses))
	if err != nil {
		t.Fatal(err)
	}
	on, err := in.Surface.Covering(in.Site)
	if err != nil {
		t.Fatal(err)
	}
	all, sum, want := cellByCell(n, in, on)
	for i, c := range found {
		for _, g := range c.Ground {
			sum += g.Area * g.Coefficient.Likely
			if !g.Hard {
				want[piece{int32(i), g.Cover, g.Group}] -= g.Area
			}
		}
		want[piece{int32(i), "water", 0}] -= c.Water
	}
	if math.Abs(sum-all) > 1e-9*max(1, all) {
		t.Fatalf("catchments and the rest shed %v, all sheds %v", sum, all)
	}
	for p, d := range want {
		if math.Abs(d) > 1e-9*max(1, all) {
			t.Fatalf("%+v is off by %v m²", p, d)
		}
	}
}

// The twin of the longest way draws every way.
func TestTheLongestWayIsTheLongestOfAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySurface(t, rapid.IntRange(0, 4).Draw(t, "culverts"))
		site := rained(t, s)
		courses, wet := anyCourses(t, s.Ground)
		in := soiled{Input{Site: &site, Surface: s, Wet: wet}, sandy}
		found, err := catchmentsOf(context.Background(), in, courses)
		if err != nil {
			t.Fatal(err)
		}
		n, err := newNetwork(context.Background(), in.Input, linesOf(courses))
		if err != nil {
			t.Fatal(err)
		}
		want := make([]float64, len(courses))
		for c := range int32(len(n.entry)) {
			n.pass(n.entry[c], 1, func(station int32, share float64) {
				if station >= n.courses && station < n.links && share >= 0.5 {
					way, _ := n.path(c, station)
					want[station-n.courses] = max(want[station-n.courses], planar.Length(way))
				}
			})
		}
		for i, c := range found {
			if math.Abs(c.Length-want[i]) > 1e-4 {
				t.Fatalf("the longest way is %v m, by drawing each %v m\n%s", c.Length, want[i], grid.Print(s.Ground))
			}
			if c.Fall < 0 || c.Length == 0 && c.Fall > 0 {
				t.Fatalf("it falls %v m", c.Fall)
			}
		}
	})
}
