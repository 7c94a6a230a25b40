package channel

import (
	"context"
	"errors"
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
	"runnel/geo/plan"
)

// G. L. Vose, Handbook of Railroad Construction (1857), art. 108: base 20 ft, slopes
// 1.5 to 1, stations 50 ft apart, cuts of 0, 5, 10, 15 and 0 ft. He prints areas of 0,
// 137, 350, 637 and 0, and 56,200 ft³ by the average end area; the exact figures, and
// those of the prismoidal rule, follow by arithmetic.
func TestEndAreasComeToVosesExample(t *testing.T) {
	s := Section{Bed: 20, Left: 1.5, Right: 1.5}
	cuts := []float64{0, 5, 10, 15, 0}
	exact, printed := []float64{0, 137.5, 350, 637.5, 0}, []float64{0, 137, 350, 637, 0}
	middles := []float64{59.375, 234.375, 484.375, 234.375}
	average, prisms, rule := 0.0, 0.0, 0.0
	for i, cut := range cuts {
		near(t, "area", s.Area(cut), exact[i], 1e-6)
		if math.Abs(s.Area(cut)-printed[i]) > 0.5 {
			t.Errorf("at %v ft the area is %v, Vose prints %v", cut, s.Area(cut), printed[i])
		}
		if i == 0 {
			continue
		}
		a, b, m := s.Area(cuts[i-1]), s.Area(cut), s.Area((cuts[i-1]+cut)/2)
		near(t, "middle area", m, middles[i-1], 1e-6)
		average += AverageEnd(50, a, b)
		prisms += Prismoidal(50, a, m, b)
		rule += 50 * 1.5 * (cuts[i-1] - cut) * (cuts[i-1] - cut) / 6
	}
	near(t, "average end area", average, 56_250, 1e-6)
	near(t, "average end area as printed", average, 56_200, 1e-3)
	near(t, "prismoidal", prisms, 52_500, 1e-6)
	near(t, "the difference of the two", average-prisms, rule, 1e-6)
}

// By geometry: a cone of radius 3 and height 2, for which the average end area is off
// by half, as Webb's Railroad Construction says (a third of its own figure); and a
// pond of 20 by 5 m at the top, 0.5 m deep, whose sides are 3 to 1.
func TestThePrismoidalRuleIsExactForConeAndPond(t *testing.T) {
	base := math.Pi * 9
	near(t, "cone", Prismoidal(2, base, base/4, 0), 18.850, 1e-4)
	near(t, "cone by average end area", AverageEnd(2, base, 0), 28.274, 1e-4)
	near(t, "pond", Prismoidal(0.5, 17*2, 18.5*3.5, 20*5), 32.75, 1e-9)
	near(t, "pond by average end area", AverageEnd(0.5, 17*2, 20*5), 33.5, 1e-9)
}

// dug lays out scheme 1 and adds up what is dug along its channels.
func dug(t *testing.T, s *plan.Site, spacing float64) (average, prisms Earth) {
	t.Helper()
	n, problems := NewNetwork(s, 1)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	digs, err := n.Digs(t.Context(), spacing)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range digs {
		average.add(d.AverageEnd)
		prisms.add(d.Prismoidal)
	}
	return average, prisms
}

// round is the volume of the round end of a channel [m³], by geometry: the banks'
// slope goes evenly with the angle from that on the left to that on the right.
func round(s Section, y float64) float64 {
	r := s.Bed / 2
	side, square := (s.Left+s.Right)/2, (s.Left*s.Left+s.Left*s.Right+s.Right*s.Right)/3
	return math.Pi * y * (r*r/2 + r*side*y/2 + square*y*y/6)
}

// Bed 0.6 m, banks 3 to 1, 0.3 m deep at one end and 0.5 m at the other, 100 m long:
// 75.0 m³ by the average end area and 73.0 m³ by the prismoidal rule, by geometry.
func TestASwaleThatDeepensIsDugAsItsPrismoid(t *testing.T) {
	s := site(120, 20, 0.5)
	add(s, plan.Channel, line(10, 10, 110, 10), "bed_width", 0.6, "side_left", 3.0, "side_right", 3.0, "bed_start", 9.7, "bed_end", 9.5, "water_level", 9.8)
	section := Section{Bed: 0.6, Left: 3, Right: 3}
	ends := round(section, 0.3) + round(section, 0.5)
	average, prisms := dug(t, s, 100)
	near(t, "average end area", average.Cut, 75+ends, 1e-3)
	near(t, "prismoidal", prisms.Cut, 73+ends, 1e-3)
	average, prisms = dug(t, s, 0)
	near(t, "average end area of close sections", average.Cut, 73+ends, 1e-3)
	near(t, "prismoidal of close sections", prisms.Cut, 73+ends, 1e-3)
}

// A round pond, 3 m at the top, sides 3 to 1, 0.6 m deep is 8.8216 m³, by geometry.
// A channel 0.2 m long and 2.4 m wide in its bed is that and 0.2 m of its section.
func TestARoundPondIsDug(t *testing.T) {
	s := site(20, 20, 0.25)
	add(s, plan.Channel, line(10, 10, 10.2, 10), "bed_width", 2.4, "side_left", 3.0, "side_right", 3.0, "bed_start", 9.4, "bed_end", 9.4, "water_level", 9.8)
	section := Section{Bed: 2.4, Left: 3, Right: 3}
	_, prisms := dug(t, s, 0)
	near(t, "pond", prisms.Cut, 8.8216+section.Area(0.6)*0.2, 1e-3)
}

// By Pappus a section that is led along a curve sweeps its area times the way of its
// centroid. The banks' slopes differ, so that the centroid lies off the line.
func TestACurvedChannelIsDugAsPappusHasIt(t *testing.T) {
	const radius, y, sweep = 6.0, 0.4, 2.0
	section := Section{Bed: 0.8, Left: 3, Right: 1}
	var arc orb.LineString
	for i := range 201 {
		sin, cos := math.Sincos(sweep * float64(i) / 200)
		arc = append(arc, at(15+radius*cos, 15+radius*sin))
	}
	s := site(30, 30, 0.25)
	add(s, plan.Channel, arc, "bed_width", section.Bed, "side_left", section.Left, "side_right", section.Right, "bed_start", 10-y, "bed_end", 10-y, "water_level", 9.8)
	// The line turns left, about a centre on its left. First moments about the line.
	moment := func(side float64) float64 {
		half, w := section.Bed/2, side*y
		return y*half*half/2 + w*y/2*(half+w/3)
	}
	area := section.Area(y)
	centroid := (moment(section.Right) - moment(section.Left)) / area
	want := area*sweep*(radius+centroid) + 2*round(section, y)
	for _, spacing := range []float64{0, 2} {
		average, prisms := dug(t, s, spacing)
		near(t, "average end area", average.Cut, want, 2e-3)
		near(t, "prismoidal", prisms.Cut, want, 1e-3)
	}
	if off := math.Abs(area*sweep*radius/(want-2*round(section, y)) - 1); off < 0.02 {
		t.Errorf("without Pappus it is off by %v: the example shows nothing", off)
	}
}

// A bank that falls from one circle to another, by geometry: a frustum less its core.
func bankAbout(inner, outer, y float64) float64 {
	return math.Pi*y/3*(inner*inner+inner*outer+outer*outer) - math.Pi*min(inner, outer)*min(inner, outer)*y
}

func TestARingIsDugAsAnAnnulus(t *testing.T) {
	s := site(40, 40, 0.25)
	add(s, plan.Channel, orb.LineString(circle(20, 20, 8, 360)), "bed_width", 1.0, "side_left", 2.0, "side_right", 1.5, "bed_start", 9.5, "bed_end", 9.5, "water_level", 9.8)
	_, prisms := dug(t, s, 0)
	// Depth 0.5 m: the inner bank is 1 m wide, the outer 0.75 m.
	inner := math.Pi*7.5*7.5*0.5 - math.Pi*0.5/3*(7.5*7.5+7.5*6.5+6.5*6.5)
	near(t, "cut", prisms.Cut, math.Pi*(8.5*8.5-7.5*7.5)*0.5+inner+bankAbout(8.5, 9.25, 0.5), 1e-3)
}

// A moat about an island that is raised 0.3 m, with banks of 1.5 to 1: above the
// ground a frustum, below it a moat.
func TestAMoatIsDugAndItsIslandRaised(t *testing.T) {
	s := site(40, 40, 0.25)
	add(s, plan.Channel, line(20, 20, 21, 20), "bed_width", 0.6, "side_left", 3.0, "side_right", 1.0, "bed_start", 9.4, "bed_end", 9.4, "water_level", 9.7)
	add(s, plan.Island, orb.Polygon{circle(20, 20, 5, 360)}, "arm_width", 0.8, "side", 1.5, "top", 10.3)
	average, prisms := dug(t, s, 0)
	toe, foot := 5+0.45, 5+1.35
	near(t, "fill", prisms.Fill, math.Pi*0.3/3*(25+5*toe+toe*toe), 1e-3)
	bed := foot + 0.8
	inner := math.Pi*foot*foot*0.6 - math.Pi*0.6/3*(toe*toe+toe*foot+foot*foot)
	near(t, "cut", prisms.Cut, math.Pi*(bed*bed-foot*foot)*0.6+inner+bankAbout(bed, bed+1.2, 0.6), 1e-3)
	near(t, "cut by average end area", average.Cut, prisms.Cut, 1e-3)
}

func TestASectionAcrossAnIslandShowsBothArms(t *testing.T) {
	s := site(60, 40, 0.25)
	id := add(s, plan.Channel, line(10, 20, 50, 20), "bed_width", 0.6, "bed_start", 9.4, "bed_end", 9.4, "water_level", 9.7)
	add(s, plan.Island, orb.Polygon{circle(30, 20, 3, 360)}, "arm_width", 0.8, "side", 1.5, "top", 10.2)
	n, _ := measured(t, s, Step{})
	plain, err := n.DigAcross(id, 5)
	section := Section{Bed: 0.6, Left: 2, Right: 2}
	near(t, "beside it", plain.Cut, section.Area(0.6), 1e-3)
	both, err2 := n.DigAcross(id, 20)
	if err != nil || err2 != nil || plain.Fill != 0 {
		t.Fatal(err, err2, plain)
	}
	// An arm: bank 1.5 to 1 and bank 2 to 1 about a bed of 0.8 m, 0.6 m deep.
	arm := Section{Bed: 0.8, Left: 1.5, Right: 2}
	near(t, "both arms", both.Cut, 2*arm.Area(0.6), 1e-3)
	near(t, "what is raised", both.Fill, 0.2*6+0.2*0.3, 1e-3)
	if _, err := n.DigAcross(99, 0); err == nil {
		t.Error("a channel that there is not has a section")
	}
}

func TestDiggingIsNotMeasuredOnWhenStopped(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	n, _ := measured(t, turned(0), Step{})
	if _, err := n.Digs(ctx, 0); !errors.Is(err, context.Canceled) {
		t.Errorf("it goes on: %v", err)
	}
}

func TestNoDrawingBreaksTheDigs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := scrawl(t)
		n, _ := NewNetwork(s, 1)
		digs, err := n.Digs(t.Context(), 3)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range digs {
			for _, e := range []Earth{d.AverageEnd, d.Prismoidal} {
				if !(e.Cut >= 0 && e.Fill >= 0) || math.IsInf(e.Cut+e.Fill, 0) {
					t.Fatalf("%+v", d)
				}
			}
			if f, ok := s.Plan.Find(d.ID); !ok || f.Kind != plan.Channel {
				t.Fatalf("%+v is of no channel", d)
			}
		}
		for _, f := range n.lines {
			if e, err := n.DigAcross(f.ID, 2); err != nil || !(e.Cut >= 0 && e.Fill >= 0) {
				t.Fatalf("across %s: %+v (%v)", f.Title(), e, err)
			}
		}
	})
}
