package channel

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

func TestTheDesignSurfaceAcrossAChannel(t *testing.T) {
	s := site(60, 30, 0.25)
	add(s, plan.Channel, line(10, 15, 50, 15), "bed_width", 1.0, "side_left", 2.0, "side_right", 1.0, "bed_start", 9.0, "bed_end", 9.4)
	n, _ := measured(t, s, Step{})
	for name, c := range map[string]struct {
		at   orb.Point
		want float64
	}{
		"on the line":               {at(30, 15), 9.2},
		"at the bed's edge":         {at(30, 15.5), 9.2},
		"up the left bank":          {at(30, 16.5), 9.7},
		"up the right bank":         {at(30, 14), 9.7},
		"beyond the end":            {at(50.5, 15), 9.4},
		"up the end, mean of banks": {at(51.25, 15), 9.9},
	} {
		if z, ok := n.Surface(c.at); !ok || math.Abs(z-c.want) > 1e-6 {
			t.Errorf("%s: %v, %v; want %v", name, z, ok, c.want)
		}
	}
	if _, ok := n.Surface(at(30, 28)); ok {
		t.Error("the design reaches far from the channel")
	}
	if got := n.Proposed(at(30, 17.6)); got != 10 {
		t.Errorf("past the bank the proposed ground is %v", got)
	}
}

func TestTheDesignSurfaceAcrossAMoat(t *testing.T) {
	s := site(60, 30, 0.25)
	add(s, plan.Channel, line(10, 15, 50, 15), "bed_start", 9.4, "bed_end", 9.4)
	add(s, plan.Island, orb.Polygon{orb.Ring(line(25, 12, 35, 12, 35, 18, 25, 18, 25, 12))}, "arm_width", 0.8, "side", 1.5, "top", 10.3)
	n, _ := measured(t, s, Step{})
	for name, c := range map[string]struct {
		at   orb.Point
		want float64
	}{
		"on the island":          {at(30, 15), 10.3},
		"just inside its edge":   {at(30, 17.99), 10.3},
		"down its raised bank":   {at(30, 18.3), 10.1},
		"down to the ground":     {at(30, 18.45), 10},
		"below the ground":       {at(30, 18.9), 9.7},
		"the foot of the bank":   {at(30, 19.35), 9.4},
		"the arm's far edge":     {at(30, 20.15), 9.4},
		"up the outer bank":      {at(30, 20.55), 9.6},
		"beyond it":              {at(30, 21.5), 10},
		"where the channel ends": {at(23.5, 15), 9.4},
		"round the corner":       {at(35+1.35/math.Sqrt2, 18+1.35/math.Sqrt2), 9.4},
	} {
		if got := n.Proposed(c.at); math.Abs(got-c.want) > 1e-6 {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
}

func TestIslandsAreNeverCut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		place := rapid.Float64Range(8, 22)
		s := siteOf(30, 30, 0.5, func(p orb.Point) float64 { return 10 + 0.02*p[0] })
		add(s, plan.Channel, line(place.Draw(t, "x0"), place.Draw(t, "y0"), 15, 15, place.Draw(t, "x1"), place.Draw(t, "y1")))
		island := circle(15, 15, rapid.Float64Range(0.5, 5).Draw(t, "radius"), rapid.IntRange(3, 40).Draw(t, "points"))
		add(s, plan.Island, orb.Polygon{island})
		n, problems := NewNetwork(s, 1)
		if len(n.lines) != 1 || len(n.islands) != 1 || !drawnWrong(problems) {
			t.Fatal(problems)
		}
		for range 30 {
			p := at(rapid.Float64Range(2, 28).Draw(t, "x"), rapid.Float64Range(2, 28).Draw(t, "y"))
			ground, z := grid.Sample(s.Ground, p), n.Proposed(p)
			inside := plan.Distance(orb.Polygon{island}, p) == 0
			if inside && z != ground || z > ground {
				t.Fatalf("ground at %v, inside %v, is made %v", ground, inside, z)
			}
		}
	})
}

// drawnWrong reports whether all problems are of how a line bends.
func drawnWrong(problems []Problem) bool {
	bends := 0
	for _, words := range []string{"bends too tightly", "turns right back on itself", "lies too near to itself"} {
		bends += len(about(problems, words))
	}
	return bends == len(problems)
}

func TestAnIslandInARingIsKept(t *testing.T) {
	s := site(60, 60, 0.25)
	add(s, plan.Channel, orb.LineString(circle(30, 30, 10, 60)))
	add(s, plan.Island, orb.Polygon{circle(30, 30, 5, 30)}, "top", 10.5)
	n, _ := measured(t, s, Step{})
	if got := n.Proposed(at(30, 30)); got != 10.5 {
		t.Errorf("the island lies at %v, want 10.5", got)
	}
	if got := n.Proposed(at(35.5, 30)); got <= 10 || got >= 10.5 {
		t.Errorf("its bank lies at %v", got)
	}
	if got := n.Proposed(at(37, 30)); got != 10 {
		t.Errorf("the ground between island and channel is cut to %v", got)
	}
}

func TestABankGoesDownToTheGroundHoweverFar(t *testing.T) {
	s := siteOf(60, 60, 0.25, func(p orb.Point) float64 { return 10 - math.Abs(p[1]-30)/2 })
	add(s, plan.Channel, orb.LineString(circle(30, 30, 20, 60)), "bed_start", -1.0, "bed_end", -1.0, "water_level", -0.9, "side_left", 0.5)
	add(s, plan.Island, orb.Polygon{circle(30, 30, 2, 30)}, "top", 10.5, "side", 1.5)
	n, _ := measured(t, s, Step{})
	// 2 m from the middle the ground is at 9 m: the bank, 1 in 1.5, meets the
	// ground, 1 in 2, where 10.5 - d/1.5 = 9 - d/2, 9 m out.
	for off, want := range map[float64]float64{3: 8.5, 6: 6.5, 8.5: 10.5 - 8.5/1.5, 9.5: 9 - 4.75} {
		if got := n.Proposed(at(30, 32+off)); math.Abs(got-want) > 0.02 {
			t.Errorf("%v m out the bank lies at %v, want %v", off, got, want)
		}
	}
}

func TestBedsLieWhereTheirOwnReachRules(t *testing.T) {
	s := site(60, 60, 0.25)
	add(s, plan.Channel, line(10, 30, 50, 30), "bed_start", 9.5, "bed_end", 9.5)
	add(s, plan.Channel, line(20, 10, 20, 50), "bed_start", 9.2, "bed_end", 9.2)
	add(s, plan.Island, orb.Polygon{circle(40, 30, 3, 30)})
	n, _ := measured(t, s, Step{})
	beds := n.Beds(0.25)
	for _, b := range beds {
		if z := n.Proposed(b.At); math.Abs(z-b.Level) > 1e-6 {
			t.Fatalf("at %v the bed is at %v, the proposed ground at %v", b.At, b.Level, z)
		}
	}
	if len(beds) < 300 {
		t.Errorf("there are %d beds", len(beds))
	}
}

func TestWhatCannotBeLaidOutIsReportedAndLeftOut(t *testing.T) {
	square := func(x, y float64) orb.Polygon {
		return orb.Polygon{orb.Ring(line(x, y, x+3, y, x+3, y+3, x, y+3, x, y))}
	}
	for want, draw := range map[string]func(s *plan.Site) plan.ID{
		"draw a line of two points":         func(s *plan.Site) plan.ID { return add(s, plan.Channel, line(20, 20)) },
		"the bed width is 0":                func(s *plan.Site) plan.ID { return add(s, plan.Channel, line(20, 20, 30, 20), "bed_width", 0.0) },
		"Channel 2 lies outside the ground": func(s *plan.Site) plan.ID { return add(s, plan.Channel, line(200, 20, 230, 20)) },
		"Channel 2 ends outside the ground": func(s *plan.Site) plan.ID { return add(s, plan.Channel, line(20, 20, 230, 20)) },
		"Drain 2 lies outside the ground":   func(s *plan.Site) plan.ID { return add(s, plan.Drain, line(200, 20, 230, 20)) },
		"Island 2 lies outside every":       func(s *plan.Site) plan.ID { return add(s, plan.Island, square(20, 30)) },
		"outline crosses or touches itself": func(s *plan.Site) plan.ID {
			return add(s, plan.Island, orb.Polygon{orb.Ring(line(5, 5, 9, 9, 9, 5, 5, 8, 5, 5))})
		},
		"has a coordinate that is not a num": func(s *plan.Site) plan.ID { return add(s, plan.Channel, line(20, 20, math.NaN(), 20)) },
	} {
		s := site(60, 60, 0.25)
		add(s, plan.Channel, line(10, 10, 50, 10), "bed_start", 9.5, "bed_end", 9.5, "water_level", 9.8)
		_, alone := measured(t, s, Step{})
		id := draw(s)
		n, problems := NewNetwork(s, 1)
		if len(problems) != 1 || problems[0].ID != id || !strings.Contains(problems[0].Error(), want) {
			t.Errorf("problems are %v; want one of feature %d with %q", problems, id, want)
		}
		lines, _ := n.Measure(t.Context(), Step{})
		if len(lines) != 1 || lines[0].Measure != alone[0].Measure {
			t.Errorf("%s: the sound channel measures %+v, want %+v", want, lines, alone)
		}
	}
}

func TestASchemeWithNothingInItChangesNothing(t *testing.T) {
	s := site(10, 10, 0.5)
	n, lines := measured(t, s, Step{})
	if _, ok := n.Surface(at(5, 5)); ok || len(lines) != 0 || len(n.Beds(0.5)) != 0 {
		t.Error("an empty scheme has a design")
	}
	held, problems := n.WithLevel(3)
	if got := held.Proposed(at(5, 5)); got != 10 || len(problems) > 0 {
		t.Errorf("the proposed ground is %v; %v", got, problems)
	}
	if _, err := n.Section(7, 0); err == nil || !strings.Contains(err.Error(), "channel 7") {
		t.Errorf("a section of no channel: %v", err)
	}
}

func TestCrossSections(t *testing.T) {
	s := site(60, 30, 0.25)
	id := add(s, plan.Channel, line(10, 15, 50, 15), "side_left", 3.0, "side_right", 3.0, "bed_start", 9.5, "bed_end", 9.5, "water_level", 9.8)
	n, _ := measured(t, s, Step{})
	c, err := n.Section(id, 20)
	section := Section{Bed: 0.6, Left: 3, Right: 3}
	if err != nil || c.At != at(30, 15) || c.Station != 20 || c.Level != 9.8 {
		t.Fatalf("%+v, %v", c, err)
	}
	near(t, "wetted perimeter", c.WettedPerimeter, section.WettedPerimeter(0.3), 1e-3)
	near(t, "area", c.Area, section.Area(0.3), 1e-3)
	near(t, "top width", c.TopWidth, section.TopWidth(0.3), 1e-3)
	if first, last := c.Offset[0], c.Offset[len(c.Offset)-1]; first > -1.8 || last < 1.8 || len(c.Ground) != len(c.Offset) || c.Ground[0] != 10 {
		t.Errorf("it reaches from %v to %v m", first, last)
	}
	if c, _ := n.Section(id, 1e6); c.Station != 40 {
		t.Errorf("past the end it is cut at %v m, want 40", c.Station)
	}
}

// By algebra: two arms of bed 0.8 m round an island whose banks go 1.5 to 1.
func TestACrossSectionThroughAnIslandHasTwoArms(t *testing.T) {
	s := site(60, 30, 0.25)
	id := add(s, plan.Channel, line(10, 15, 50, 15), "bed_start", 9.4, "bed_end", 9.4, "water_level", 9.7)
	add(s, plan.Island, orb.Polygon{orb.Ring(line(25, 10, 35, 10, 35, 20, 25, 20, 25, 10))}, "arm_width", 0.8, "side", 1.5)
	n, _ := measured(t, s, Step{})
	c, _ := n.Section(id, 20)
	near(t, "wetted perimeter", c.WettedPerimeter, 2*(0.8+0.3*math.Hypot(1, 1.5)+0.3*math.Hypot(1, 2)), 2e-3)
	near(t, "top width", c.TopWidth, 2*(0.8+0.3*1.5+0.3*2), 2e-3)
}
