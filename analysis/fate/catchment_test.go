package fate

import (
	"context"
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/channel"
	"runnel/analysis/earthwork"
	"runnel/analysis/runoff"
	"runnel/analysis/soil"
	"runnel/assets/demo"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// catchments returns those of some lines on the site as it is drawn.
func (p *place) catchments(wet grid.Ground, lines ...orb.LineString) []Catchment {
	p.t.Helper()
	s, err := runoff.Of(context.Background(), &p.Site, p.Ground)
	if err != nil || len(s.Problems) > 0 {
		p.t.Fatal(err, s.Problems)
	}
	in := soiled{Input{Site: &p.Site, Surface: s, Wet: wet}, sandy}
	found, err := catchmentsOf(context.Background(), in, coursesOn(lines...))
	if err != nil {
		p.t.Fatal(err)
	}
	return found
}

func coursesOn(lines ...orb.LineString) (courses []Course) {
	for i, l := range lines {
		courses = append(courses, Course{Feature: plan.ID(900 + i), Line: l})
	}
	return courses
}

// A soiled is an input with soils of known groups.
type soiled struct {
	Input
	Group func(orb.Point) soil.Group
}

func catchmentsOf(ctx context.Context, in soiled, courses []Course) ([]Catchment, error) {
	w, err := NewWatershed(ctx, in.Input, courses)
	if err != nil {
		return nil, err
	}
	return w.Catchments(in.Site, in.Group), nil
}

func sandy(orb.Point) soil.Group { return soil.GroupA }

// The plane of 12 by 8 cells falls east: the nine columns above the line drain to
// it, the two below leave. Its own column is water. The far end is 9 m off, 0.9 m up.
func TestACatchmentIsWhatLiesAboveALine(t *testing.T) {
	p := shaped(t, 12, 8, func(east, _ float64) float64 { return 5 - east/10 })
	c := p.catchments(grid.Ground{}, line(9.5, 8, 9.5, 0))[0]
	if len(c.Ground) != 1 || c.Ground[0].Cover != "lawn" || c.Ground[0].Area != 72 || c.Water != 8 || c.Ground[0].Hard {
		t.Fatalf("the catchment is %+v", c)
	}
	if c.Length != 9 || !near(c.Fall, 0.9) || c.Street != 0 {
		t.Errorf("the longest way is %v m and falls %v m", c.Length, c.Fall)
	}
}

// varied is a ridge whose east has a roof astride it with a downpipe on either side, a
// street, another soil and a strip of gravel.
func varied(t *testing.T) (p *place, roof, street plan.ID) {
	p = shaped(t, 12, 8, func(east, _ float64) float64 { return 5 - math.Abs(east-6)/10 })
	roof = p.draw(plan.Roof, plan.AsItIs, box(5, 2, 7, 5), nil)
	p.draw(plan.Downpipe, plan.AsItIs, orb.Point{4.7, 3.5}, nil)
	p.draw(plan.Downpipe, plan.AsItIs, orb.Point{7.3, 3.5}, nil)
	street = p.draw(plan.Paving, plan.AsItIs, box(7, 6, 12, 7), map[string]float64{"runoff": 0.8})
	p.draw(plan.SoilZone, plan.AsItIs, box(6, 0, 12, 2), nil)
	gravel := plan.Feature{ID: plan.ID(p.Plan.NextID()), Kind: plan.Cover, Geometry: box(9, 0, 10, 8)}
	p.Plan.Features = append(p.Plan.Features, gravel.With("cover", plan.Value{Text: "gravel"}))
	return p, roof, street
}

func heavyInTheSouthEast(at orb.Point) soil.Group {
	if at[0] > 6 && at[1] < 2 {
		return soil.GroupD
	}
	return soil.GroupB
}

// Covers, soils, a roof with one downpipe on either side of the ridge and a street
// are told apart. All that is hard keeps its own coefficient.
func TestACatchmentKnowsItsCoversSoilsRoofsAndStreets(t *testing.T) {
	p, roof, street := varied(t)
	s, err := runoff.Of(t.Context(), &p.Site, p.Ground)
	if err != nil || len(s.Problems) > 0 {
		t.Fatal(err, s.Problems)
	}
	found, err := catchmentsOf(t.Context(), soiled{Input{Site: &p.Site, Surface: s}, heavyInTheSouthEast}, coursesOn(line(10.5, 8, 10.5, 0)))
	if err != nil {
		t.Fatal(err)
	}
	type kind struct {
		cover  string
		group  soil.Group
		source plan.ID
	}
	got := make(map[kind]float64)
	for _, g := range found[0].Ground {
		got[kind{g.Cover, g.Group, g.Source}] += g.Area
	}
	for k, area := range map[kind]float64{
		{"lawn", soil.GroupB, 0}:   6*3 - 3 - 2, // without the roof's column and the street
		{"lawn", soil.GroupD, 0}:   2 * 3,
		{"gravel", soil.GroupB, 0}: 5,
		{"gravel", soil.GroupD, 0}: 2,
		{RoofCover, 0, roof}:       3, // half of 6 m²
		{PavingCover, 0, street}:   4, // the cell below the line leaves
	} {
		if !near(got[k], area) {
			t.Errorf("of %v there are %v m², want %v", k, got[k], area)
		}
		delete(got, k)
	}
	if len(got) > 0 || !near(found[0].Street, 4) {
		t.Errorf("there is %v too, %v m² of street", got, found[0].Street)
	}
}

// Of two soil zones over one another there are four soils, in two strips that lie apart.
func TestZonesOverOneAnotherAreToldApart(t *testing.T) {
	p := shaped(t, 12, 8, func(east, _ float64) float64 { return 5 - east/10 })
	p.draw(plan.SoilZone, plan.AsItIs, box(2, 0, 6, 8), nil)
	p.draw(plan.SoilZone, plan.AsItIs, box(4, 0, 7, 2), nil)
	s, err := runoff.Of(t.Context(), &p.Site, p.Ground)
	if err != nil {
		t.Fatal(err)
	}
	found, err := catchmentsOf(t.Context(), soiled{Input{Site: &p.Site, Surface: s}, byZone(&p.Site)}, coursesOn(line(9.5, 8, 9.5, 0)))
	if err != nil {
		t.Fatal(err)
	}
	var areas [4]float64
	for _, g := range found[0].Ground {
		areas[g.Group] += g.Area
	}
	if want := [4]float64{72 - 28 - 2 - 4, 28, 2, 4}; areas != want {
		t.Errorf("the soils have %v m², want %v", areas, want)
	}
}

// The valley's pit keeps 0.1 of what its 9 m² shed, and lets the rest pass: of 40 mm,
// with the lawn's coefficient, 0.0576 m³ comes, and all stays. Of 400 mm 0.476 passes.
func TestAHollowLetsItsShareOfTheGroundPass(t *testing.T) {
	p := valley(t)
	outlet := line(0, 0.5, 3, 0.5)
	if c := p.catchments(grid.Ground{}, outlet)[0]; len(c.Ground) != 1 || !near(c.Ground[0].Area, 3) {
		t.Errorf("of 40 mm there comes %+v", c)
	}
	p.Setting.Storm = 0.1 / 0.7 / (9 * 0.16) * 1000 // of which three tenths pass: too few for the longest way
	if c := p.catchments(grid.Ground{}, outlet)[0]; math.Abs(c.Ground[0].Area-5.7) > 1e-4 || c.Length != 2 {
		t.Errorf("three tenths of what comes to the pit pass, and there comes %+v", c)
	}
	p.Setting.Storm = 4000 // 5.76 m³
	c := p.catchments(grid.Ground{}, outlet)[0]
	if want := 3 + 9*(1-0.1/5.76); len(c.Ground) != 1 || !near(c.Ground[0].Area, want) {
		t.Errorf("of 4 m there comes %+v, want %v m²", c, want)
	}
	if c.Length != 5 || c.Fall != 8 { // from the side of the top row, 10 m high, into the gully and down it
		t.Errorf("the longest way is %v m and falls %v m", c.Length, c.Fall)
	}
}

// Water is what is under water; roofs that shed into it count all the same.
func TestTheCoursesOwnWaterIsNoGround(t *testing.T) {
	p := shaped(t, 12, 8, func(east, _ float64) float64 { return 5 - east/10 })
	p.draw(plan.Roof, plan.AsItIs, box(9, 2, 11, 5), nil)
	p.draw(plan.Downpipe, plan.AsItIs, orb.Point{8.5, 3.5}, nil)
	wet := grid.New[float32](p.Ground.Frame)
	for i := range wet.V {
		wet.V[i] = grid.NoData
		if x := i % 12; x >= 6 && x <= 8 {
			wet.V[i] = 0.1
		}
	}
	c := p.catchments(wet, line(7.5, 8, 7.5, 0))[0]
	if c.Water != 24 || len(c.Ground) != 2 || c.Ground[0].Area != 48 || !near(c.Ground[1].Area, 6) || c.Ground[1].Cover != RoofCover {
		t.Errorf("the catchment is %+v", c)
	}
	if c.Length != 6 || !near(c.Fall, 0.5) { // to the water's surface at its edge
		t.Errorf("the longest way is %v m and falls %v m", c.Length, c.Fall)
	}
}

func TestCatchmentsNeedOneGround(t *testing.T) {
	p := valley(t)
	s, err := runoff.Of(t.Context(), &p.Site, p.Ground)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := catchmentsOf(t.Context(), soiled{Input{Site: &p.Site, Surface: s, Wet: grid.Parse("1")}, sandy}, nil); err == nil {
		t.Error("standing water of another ground is taken")
	}
	ended, end := context.WithCancel(t.Context())
	end()
	if _, err := catchmentsOf(ended, soiled{Input{Site: &p.Site, Surface: s}, sandy}, nil); err == nil {
		t.Error("it goes on though it is to stop")
	}
}

// onDemo is the demo's first scheme with a course a channel and drain.
func onDemo(t testing.TB) (soiled, []Course) {
	site := demo.Site()
	scheme := site.Plan.Schemes[0].ID
	laid, _ := channel.NewNetwork(&site, scheme)
	proposed, wet, err := earthwork.Stand(t.Context(), site.Ground, laid)
	if err != nil {
		t.Fatal(err)
	}
	s, err := runoff.Of(t.Context(), &site, proposed)
	if err != nil {
		t.Fatal(err)
	}
	in := soiled{Input: Input{Site: &site, Scheme: scheme, Surface: s, Wet: wet.Depth, Least: LeastDepth(site.Setting)}}
	soils, _ := soil.NewMap(&site)
	in.Group = func(p orb.Point) soil.Group { return soils.At(p, 0).Group }
	var courses []Course
	for _, c := range in.courses() {
		courses = append(courses, Course{c.end.Feature, c.line})
	}
	return in, courses
}

func TestTheDemosCatchmentsAndTheRestAreAllGround(t *testing.T) {
	in, courses := onDemo(t)
	holdToCells(t, in, courses)
	found, err := catchmentsOf(t.Context(), in, courses)
	if err != nil {
		t.Fatal(err)
	}
	for i, c := range found {
		area := 0.0
		for _, g := range c.Ground {
			area += g.Area
		}
		t.Logf("%v: %.0f m², water %.0f, street %.0f, way %.0f m falls %.2f m, %d grounds", courses[i].Feature, area, c.Water, c.Street, c.Length, c.Fall, len(c.Ground))
		if area > 0 && (c.Length <= 0 || c.Length > 1000) {
			t.Errorf("its longest way is %v m", c.Length)
		}
	}
}

// BenchmarkTheDemosCatchments is all that catchments take once it is known where water leads;
// BenchmarkTheDemosWatershed is that.
func BenchmarkTheDemosCatchments(b *testing.B) {
	in, courses := onDemo(b)
	w, err := NewWatershed(b.Context(), in.Input, courses)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		w.Catchments(in.Site, in.Group)
	}
}

func BenchmarkTheDemosWatershed(b *testing.B) {
	in, courses := onDemo(b)
	for b.Loop() {
		if _, err := NewWatershed(b.Context(), in.Input, courses); err != nil {
			b.Fatal(err)
		}
	}
}
