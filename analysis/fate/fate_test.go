package fate

import (
	"context"
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/runoff"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A place is a site that tests draw on, in cells of 1 m from its south-west corner.
type place struct {
	plan.Site
	t testing.TB
}

func shaped(t testing.TB, w, h int, z func(east, north float64) float64) *place {
	p := &place{t: t}
	p.Ground = grid.New[float32](grid.Square(w, h, 0, float64(h), 1))
	for i := range p.Ground.V {
		c := p.Ground.Centre(i%w, i/w)
		p.Ground.V[i] = float32(z(c[0], c[1]))
	}
	p.Setting = plan.UsualSetting()
	p.Setting.Storm, p.Setting.YearRain = 40, 700
	return p
}

func (p *place) draw(kind plan.Kind, scheme plan.SchemeID, g orb.Geometry, of map[string]float64) plan.ID {
	f := plan.Feature{ID: plan.ID(p.Plan.NextID()), Kind: kind, Scheme: scheme, Geometry: g}
	for name, v := range of {
		f = f.With(name, plan.Value{Number: v})
	}
	p.Plan.Features = append(p.Plan.Features, f)
	return f.ID
}

// fates returns what comes of each source in a scheme, with some cells wet.
func (p *place) fates(scheme plan.SchemeID, wet grid.Ground) []Fate {
	p.t.Helper()
	s, err := runoff.Of(context.Background(), &p.Site, p.Ground)
	if err != nil || len(s.Problems) > 0 {
		p.t.Fatal(err, s.Problems)
	}
	fates, err := Of(context.Background(), Input{Site: &p.Site, Scheme: scheme, Surface: s, Wet: wet})
	if err != nil {
		p.t.Fatal(err)
	}
	return fates
}

func (p *place) only(scheme plan.SchemeID) Fate {
	p.t.Helper()
	fates := p.fates(scheme, grid.Ground{})
	if len(fates) != 1 {
		p.t.Fatalf("%d fates", len(fates))
	}
	return fates[0]
}

func near(a, b float64) bool { return math.Abs(a-b) <= 2e-6 }

func line(at ...float64) orb.LineString {
	var l orb.LineString
	for i := 0; i < len(at); i += 2 {
		l = append(l, orb.Point{at[i], at[i+1]})
	}
	return l
}

func box(west, south, east, north float64) orb.Polygon {
	return orb.Polygon{{{west, south}, {east, south}, {east, north}, {west, north}, {west, south}}}
}

// A roof of 12 m² sheds 0.9 of the rain at its downpipe, from where it runs east
// down a plane into a drain: 0.432 m³ of 40 mm, and 7.56 m³ of 700 mm.
func TestARoofDrainsDownThePlaneIntoTheDrain(t *testing.T) {
	p := shaped(t, 12, 8, func(east, _ float64) float64 { return 5 - east/10 })
	p.draw(plan.Roof, plan.AsItIs, box(1, 2, 5, 5), nil)
	p.draw(plan.Downpipe, plan.AsItIs, orb.Point{5.3, 3.5}, nil)
	drain := p.draw(plan.Drain, plan.AsItIs, line(9.5, 8, 9.5, 0), map[string]float64{"bed_width": 0.2})
	f := p.only(plan.AsItIs)
	if !near(f.Storm, 0.432) || !near(f.Year, 7.56) || len(f.Parts) != 1 {
		t.Fatalf("the fate is %+v", f)
	}
	part := f.Parts[0]
	if part.End != (End{Drain, drain, -1, 0}) || part.Share != 1 || !near(part.Storm, 0.432) || !near(part.Year, 7.56) {
		t.Errorf("it ends as %+v", part)
	}
	if want := line(5.5, 3.5, 6.5, 3.5, 7.5, 3.5, 8.5, 3.5, 9.5, 3.5); !orb.Equal(part.Path, want) {
		t.Errorf("it runs by %v, want %v", part.Path, want)
	}
}

// Of paving on a crown half the water leaves over one side of the ground and half
// over the other.
func TestTheSidesOfTheGroundAreTold(t *testing.T) {
	p := shaped(t, 8, 4, func(east, _ float64) float64 { return 5 - math.Abs(east-4)/10 })
	p.draw(plan.Paving, plan.AsItIs, box(2, 1, 6, 3), nil)
	parts := p.only(plan.AsItIs).Parts
	if len(parts) != 2 {
		t.Fatalf("it ends as %+v", parts)
	}
	for i, end := range []struct {
		side string
		east float64
	}{{"east", 8}, {"west", 0}} {
		part := parts[i]
		if part.SideName() != end.side || !near(part.Share, 0.5) || part.Path[len(part.Path)-1][0] != end.east {
			t.Errorf("to the %s it ends as %+v", end.side, part)
		}
	}
}

// Water that comes to a culvert under a wall goes on beyond it, off the edge.
func TestWaterRunsOnBeyondACulvert(t *testing.T) {
	p := shaped(t, 7, 9, func(east, north float64) float64 {
		if east < 1 || east > 6 {
			north += 50
		}
		return north / 10
	})
	p.draw(plan.Wall, plan.AsItIs, line(0, 4.5, 7, 4.5), nil)
	culvert := p.draw(plan.Culvert, plan.AsItIs, line(3.5, 5.5, 3.5, 3.5), nil)
	p.draw(plan.Paving, plan.AsItIs, box(1, 7, 6, 9), nil)
	part := p.only(plan.AsItIs).Parts[0]
	if part.Kind != Edge || !near(part.Share, 1) || !slices.Equal(part.Through, []plan.ID{culvert}) {
		t.Errorf("it ends as %+v", part)
	}
	if last := part.Path[len(part.Path)-1]; last != (orb.Point{3.5, 0}) {
		t.Errorf("its path ends at %v", last)
	}
	if !slices.Contains(part.Path, orb.Point{3.5, 5.5}) || !slices.Contains(part.Path, orb.Point{3.5, 3.5}) || slices.Contains(part.Path, orb.Point{3.5, 4.5}) {
		t.Errorf("its path does not go under the wall: %v", part.Path)
	}
}

// valley is a gully between high sides, 3 m² for each metre of it: at 5, 4, 2.9, 3
// and 2 m. The pit holds 0.1 m³ below its lip, and takes in the three rows above.
func valley(t *testing.T) *place {
	bed := []float64{2, 3, 2.9, 4, 5}
	return shaped(t, 3, 5, func(east, north float64) float64 {
		if east < 1 || east > 2 {
			return 10
		}
		return bed[int(north)]
	})
}

func TestAHollowKeepsItsVolumeAndSpillsTheRest(t *testing.T) {
	p := valley(t)
	p.draw(plan.Paving, plan.AsItIs, box(0, 0, 3, 5), map[string]float64{"runoff": 1})
	for _, c := range []struct{ rain, kept float64 }{
		{40, 0.1},  // of 9 m² × 40 mm
		{10, 0.09}, // all of 9 m² × 10 mm
	} {
		p.Setting.Storm = c.rain
		f := p.only(plan.AsItIs)
		all := 15 * c.rain / 1000
		if len(f.Parts) != 2 || !near(f.Storm, all) {
			t.Fatalf("the fate is %+v", f)
		}
		for _, part := range f.Parts {
			want := all - c.kept
			if part.Kind == Hollow {
				want = c.kept
				if part.Pit != 7 {
					t.Errorf("the pit is cell %d", part.Pit)
				}
			}
			if !near(part.Storm, want) || !near(part.Share, want/all) || !near(part.Year, want/all*f.Year) {
				t.Errorf("of %g mm %v has %+v, want %g m³", c.rain, part.Kind, part, want)
			}
		}
	}
}

func TestWhatSpillsRunsThroughTheFullHollow(t *testing.T) {
	p := valley(t)
	p.draw(plan.Paving, plan.AsItIs, box(1, 4, 2, 5), map[string]float64{"runoff": 1})
	p.Setting.Storm = 400
	f := p.only(plan.AsItIs)
	if len(f.Parts) != 2 || f.Parts[0].Kind != Edge {
		t.Fatalf("the fate is %+v", f)
	}
	if want := line(1.5, 4.5, 1.5, 3.5, 1.5, 2.5, 1.5, 1.5, 1.5, 0.5, 1.5, 0); !orb.Equal(f.Parts[0].Path, want) {
		t.Errorf("what spills runs by %v", f.Parts[0].Path)
	}
	if want := line(1.5, 4.5, 1.5, 3.5, 1.5, 2.5); !orb.Equal(f.Parts[1].Path, want) {
		t.Errorf("what stays runs by %v", f.Parts[1].Path)
	}
}

func TestSmallHollowsAreToldTogether(t *testing.T) {
	p := valley(t)
	p.draw(plan.Paving, plan.AsItIs, box(0, 0, 3, 5), nil)
	s, err := runoff.Of(t.Context(), &p.Site, p.Ground)
	if err != nil {
		t.Fatal(err)
	}
	fates, err := Of(t.Context(), Input{Site: &p.Site, Surface: s, Least: 0.2})
	if err != nil || fates[0].Parts[1].End != (End{SmallHollows, 0, -1, 0}) {
		t.Errorf("the fate is %+v, %v", fates, err)
	}
}

func TestInNoStormAHollowKeepsWhatWouldComeToIt(t *testing.T) {
	p := valley(t)
	p.draw(plan.Paving, plan.AsItIs, box(0, 0, 3, 5), nil)
	p.Setting.Storm = 0
	if f := p.only(plan.AsItIs); f.Storm != 0 || f.Parts[0].Kind != Hollow || !near(f.Parts[0].Share, 9.0/15) {
		t.Errorf("the fate is %+v", f)
	}
}

func TestAnInletTakesTheWaterOffTheSite(t *testing.T) {
	p := valley(t)
	p.draw(plan.Paving, plan.AsItIs, box(1, 4, 2, 5), nil)
	inlet := p.draw(plan.Inlet, plan.AsItIs, orb.Point{1.5, 3.5}, nil)
	part := p.only(plan.AsItIs).Parts[0]
	if part.End != (End{Inlet, inlet, -1, 0}) || part.Share != 1 || planar.Length(part.Path) != 1 {
		t.Errorf("it ends as %+v", part)
	}
}

// A channel is an end from its wet edge on, in its own scheme only.
func TestAChannelTakesWaterAtItsWetEdge(t *testing.T) {
	p := shaped(t, 12, 8, func(east, _ float64) float64 { return 5 - east/10 })
	p.draw(plan.Paving, plan.AsItIs, box(0, 2, 2, 5), nil)
	p.Plan.Last, p.Plan.Schemes = 20, []plan.Scheme{{ID: 20, Name: "A"}}
	channel := p.draw(plan.Channel, 20, line(7.5, 8, 7.5, 0), nil)
	wet := grid.New[float32](p.Ground.Frame)
	for i := range wet.V {
		wet.V[i] = grid.NoData
		if x := i % 12; x >= 6 && x <= 9 {
			wet.V[i] = 0.1
		}
	}
	part := p.fates(20, wet)[0].Parts[0]
	if part.End != (End{Channel, channel, -1, 0}) || part.Path[len(part.Path)-1][0] != 6.5 {
		t.Errorf("it ends as %+v", part)
	}
	if part := p.fates(plan.AsItIs, grid.Ground{})[0].Parts[0]; part.Kind != Edge {
		t.Errorf("as it is it ends as %+v", part)
	}
}

// A culvert whose outlet is in a hollow that spills back to its inlet only lets
// the water rise there.
func TestWaterThatComesRoundIsKept(t *testing.T) {
	ground := grid.Parse(
		"9 9 9 9 9",
		"9 4 5 3 9",
		"9 9 9 9 9",
		"9 9 9 9 9")
	s := &runoff.Surface{Ground: ground, Weight: make([]float64, 20)}
	s.Weight[6] = 1
	s.Links = []runoff.Link{{Feature: 1, From: 6, To: 8, Capacity: 1}}
	s.Sources = []runoff.Source{{Feature: 2, Cells: []int32{6}, Area: 1, Coefficient: 1}}
	site := plan.Site{Ground: ground, Setting: plan.UsualSetting()}
	site.Setting.Storm = 20_000 // 20 m³, more than the hollow of 2 m³ holds
	fates, err := Of(t.Context(), Input{Site: &site, Surface: s})
	if err != nil {
		t.Fatal(err)
	}
	if part := fates[0].Parts[0]; part.Kind != Hollow || part.Pit != 8 || part.Share != 1 {
		t.Errorf("it ends as %+v", part)
	}
}

func TestFatesNeedOneGround(t *testing.T) {
	p := valley(t)
	s, err := runoff.Of(t.Context(), &p.Site, p.Ground)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Of(t.Context(), Input{Site: &p.Site, Surface: s, Wet: grid.Parse("1")}); err == nil {
		t.Error("standing water of another ground is taken")
	}
	ended, end := context.WithCancel(t.Context())
	end()
	if _, err := Of(ended, Input{Site: &p.Site, Surface: s}); err == nil {
		t.Error("it goes on though it is to stop")
	}
}

// The ground falls south to its last row, and that falls east: the way of the
// water ends where it comes to the edge, and is not drawn along it.
func TestAWayOverTheEdgeIsNotDrawnAlongIt(t *testing.T) {
	p := shaped(t, 6, 5, func(east, north float64) float64 {
		if north < 1 {
			return 2 - east/100
		}
		return 2 + north
	})
	p.draw(plan.Paving, plan.AsItIs, box(1, 3, 2, 4), nil)
	part := p.only(plan.AsItIs).Parts[0]
	if want := line(1.5, 3.5, 1.5, 2.5, 1.5, 1.5, 1.5, 0.5, 1.5, 0); part.Kind != Edge || !orb.Equal(part.Path, want) {
		t.Errorf("it ends as %+v, want it along %v", part, want)
	}
}
