package channel

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/geo/plan"
)

// about lists the problems whose sentence has some words in it.
func about(problems []Problem, words string) []Problem {
	var some []Problem
	for _, p := range problems {
		if strings.Contains(p.Error(), words) {
			some = append(some, p)
		}
	}
	return some
}

// A channel on level ground is 0.6 m wide in its bed, 0.4 m deep and rises 1 in 2: it
// is dug 1.1 m out to either side.
const halfDug = 1.1

// faulty is a drawing that is wrong, or nearly so: the words of its problem, none
// for a drawing that is right, and where on the map that shows.
type faulty struct {
	draw  func(s *plan.Site)
	words string
	at    orb.Point
}

// checkFaults lays out each drawing on ground of some height. Of the problems with
// rule in their sentence there is one, at its place, or none.
func checkFaults(t *testing.T, rule string, ground func(orb.Point) float64, drawings map[string]faulty) {
	t.Helper()
	for name, c := range drawings {
		s := siteOf(60, 40, 0.25, ground)
		c.draw(s)
		_, problems := NewNetwork(s, 1)
		found := about(problems, rule)
		switch {
		case c.words == "" && len(found) > 0:
			t.Errorf("%s: %v", name, found)
		case c.words == "":
		case len(found) != 1 || !strings.Contains(found[0].Error(), c.words):
			t.Errorf("%s: %v, want one with %q", name, problems, c.words)
		case planar.Distance(found[0].At, c.at) > 0.6:
			t.Errorf("%s: it shows at %v, want %v", name, found[0].At, c.at)
		}
	}
}

func flat(orb.Point) float64 { return 10 }

// channelOn draws a channel of level bed.
func channelOn(l orb.LineString) func(s *plan.Site) {
	return func(s *plan.Site) { add(s, plan.Channel, l, "bed_start", 9.6, "bed_end", 9.6) }
}

func TestALineThatCrossesItself(t *testing.T) {
	checkFaults(t, "crosses itself", flat, map[string]faulty{
		"an alpha":                 {channelOn(line(5, 10, 30, 10, 30, 20, 20, 20, 20, 2)), "15.0 m and 55.0 m along it", at(20, 10)},
		"it stops short of that":   {channelOn(line(5, 10, 30, 10, 30, 20, 20, 20, 20, 10.01)), "", orb.Point{}},
		"at a point of its line":   {channelOn(line(5, 10, 20, 10, 30, 10, 30, 20, 20, 20, 20, 2)), "15.0 m and 55.0 m along it", at(20, 10)},
		"a ring, where it closes":  {channelOn(line(5, 10, 30, 10, 30, 30, 5, 10)), "", orb.Point{}},
		"a ring of the figure 8":   {channelOn(line(5, 10, 25, 30, 25, 10, 5, 30, 5, 10)), "14.1 m and 62.4 m along it", at(15, 20)},
		"a bend and no more of it": {channelOn(line(5, 10, 30, 10, 30, 20)), "", orb.Point{}},
	})
}

func TestALineThatCrossesItselfIsMeasuredWhereItHasOneBedThere(t *testing.T) {
	for fall, measured := range map[float64]bool{0: true, 0.5: false} {
		s := site(60, 40, 0.25)
		add(s, plan.Channel, line(5, 10, 30, 10, 30, 20, 20, 20, 20, 2), "bed_start", 9.6, "bed_end", 9.6-fall)
		n, problems := NewNetwork(s, 1)
		for _, held := range []*Network{n, n.Raised(0.1), first(n.WithLevel(9.9))} {
			lines, err := held.Measure(t.Context(), Step{})
			if err != nil || (lines[0].Measure.Contact > 0) != measured {
				t.Errorf("falling %v m it touches %v m² (%v)", fall, lines[0].Measure.Contact, err)
			}
		}
		// It passes there at 15 m and 55 m of its 73 m.
		if said := about(problems, "not measured"); (len(said) == 0) != measured || len(problems) != 1 {
			t.Errorf("falling %v m: %v", fall, problems)
		}
	}
}

func first(n *Network, _ []Problem) *Network { return n }

// hook returns a line that turns right back round part of a circle, 5 m before and
// behind it.
func hook(radius float64) orb.LineString {
	l := line(10, 20-radius)
	for i := 0.0; i <= 36; i++ {
		sin, cos := math.Sincos(math.Pi * (i/36 - 0.5))
		l = append(l, at(20+radius*cos, 20+radius*sin))
	}
	return append(l, at(10, 20+radius))
}

func TestABendTighterThanTheHalfWidth(t *testing.T) {
	curve := func(radius float64) func(s *plan.Site) {
		return func(s *plan.Site) {
			var knots orb.LineString
			for i := -3.0; i <= 9; i++ {
				sin, cos := math.Sincos(math.Pi / 12 * max(0, min(6, i)))
				before, behind := max(0, -i), max(0, i-6)
				knots = append(knots, at(20+radius*cos-behind*2, 20+radius*sin-before*2))
			}
			add(s, plan.Channel, knots, "bed_start", 9.6, "bed_end", 9.6)
			k := len(s.Plan.Features) - 1
			s.Plan.Features[k] = s.Plan.Features[k].Through(knots)
		}
	}
	checkFaults(t, "bends too tightly", flat, map[string]faulty{
		"a hook inside":             {channelOn(hook(halfDug - 0.05)), "its radius there is 1.05 m, and it is dug 1.10 m out to the inner side", at(21.05, 20)},
		"a hook outside":            {channelOn(hook(halfDug + 0.05)), "", orb.Point{}},
		"a curve inside":            {curve(0.8), "out to the inner side; widen the bend", at(20.6, 20.6)},
		"a curve outside":           {curve(1.5), "", orb.Point{}},
		"a corner":                  {channelOn(line(5, 10, 30, 10, 30, 30)), "", orb.Point{}},
		"a sharp corner":            {channelOn(line(5, 10, 30, 10, 10, 14)), "", orb.Point{}},
		"a corner cut off":          {channelOn(line(5, 10, 29.5, 10, 30, 10.5, 30, 30)), "", orb.Point{}},
		"a corner by a leg inside":  {channelOn(line(5, 10, 30, 10, 30, 11.05)), "its side there is 1.05 m long, too short for the corner", at(30, 10.5)},
		"a corner by a leg outside": {channelOn(line(5, 10, 30, 10, 30, 11.15)), "", orb.Point{}},
		"a short leg hardly turned": {channelOn(line(5, 10, 30, 10, 30.1, 10.05)), "", orb.Point{}},
		"two corners inside":        {channelOn(line(5, 10, 30, 10, 30, 12.15, 5, 12.15)), "its side there is 2.15 m long", at(30, 11.1)},
		"two corners outside":       {channelOn(line(5, 10, 30, 10, 30, 12.25, 5, 12.25)), "", orb.Point{}},
	})
	checkFaults(t, "turns right back on itself", flat, map[string]faulty{
		"right back": {channelOn(line(5, 10, 30, 10, 10, 10)), "25.0 m along it", at(30, 10)},
	})
}

func TestABedAboveTheGround(t *testing.T) {
	dip := func(slope float64) func(orb.Point) float64 {
		return func(p orb.Point) float64 { return min(10, 9.4+slope*math.Abs(p[0]-30)) }
	}
	inside := faulty{channelOn(line(20, 20, 50, 20)), "from 9.6 to 10.4 m along it, by 0.1", at(30, 20)}
	checkFaults(t, "above the ground", dip(0.5), map[string]faulty{"0.8 m long": inside})
	checkFaults(t, "above the ground", dip(1), map[string]faulty{"0.4 m long": {inside.draw, "", orb.Point{}}})
	runOut := func(slope float64) func(orb.Point) float64 {
		return func(p orb.Point) float64 {
			if p[0] < 40 {
				return 10
			}
			return 9.6 + slope*(45-p[0])
		}
	}
	end := channelOn(line(20, 20, 50, 20))
	checkFaults(t, "above the ground", runOut(0.003), map[string]faulty{"out at the end by 1.5 cm": {end, "", orb.Point{}}})
	checkFaults(t, "above the ground", runOut(0.006), map[string]faulty{"out at the end by 3 cm": {end, "from 25.0 to 30.0 m along it, by 0.03 m at most", at(47.5, 20)}})
	checkFaults(t, "above the ground", dip(0.5), map[string]faulty{"an island stands there": {func(s *plan.Site) {
		inside.draw(s)
		add(s, plan.Island, orb.Polygon{circle(30, 20, 3, 40)}, "top", 10.0)
	}, "", orb.Point{}}})
}

// neck is a channel that goes round a place and comes back beside itself, so far
// apart.
func neck(apart float64) orb.LineString {
	return line(20, 5, 20, 15, 10, 20, 10, 30, 40, 30, 40, 20, 20+apart, 15, 20+apart, 5)
}

func TestCutsThatOverlap(t *testing.T) {
	two := func(apart float64) func(s *plan.Site) {
		return func(s *plan.Site) {
			channelOn(line(10, 20, 40, 20))(s)
			channelOn(line(10, 20+apart, 40, 20+apart))(s)
		}
	}
	arm := func(out float64) func(s *plan.Site) {
		return func(s *plan.Site) {
			channelOn(line(5, 20, 45, 20))(s)
			channelOn(line(10, 20, 12, 20+out, 38, 20+out, 40, 20))(s)
		}
	}
	checkFaults(t, "too near", flat, map[string]faulty{
		"itself inside":          {channelOn(neck(2*halfDug - 0.1)), "the cuts 0.0 m and 99.8 m", at(21.1, 5)},
		"itself outside":         {channelOn(neck(2*halfDug + 0.1)), "", orb.Point{}},
		"another inside":         {two(2*halfDug - 0.1), "Channel 1 and Channel 2 lie too near to each other: their cuts overlap from 0.0 to 2", at(10, 21.1)},
		"another outside":        {two(2*halfDug + 0.1), "", orb.Point{}},
		"an arm with no ground":  {arm(2*halfDug - 0.3), "their cuts overlap from 4", at(9.6, 21.1)},
		"an arm with ground":     {arm(2*halfDug + 3), "", orb.Point{}},
		"an arm that leads away": {func(s *plan.Site) { arm(8)(s); channelOn(line(20, 20, 24, 10))(s) }, "", orb.Point{}},
		"a sharp corner":         {channelOn(line(5, 10, 30, 10, 5, 13)), "", orb.Point{}},
	})
}

func TestAnIslandThatStandsInTheCut(t *testing.T) {
	for radius, said := range map[float64]bool{10 - halfDug - 0.05: false, 10 - halfDug + 0.1: true} {
		s := site(60, 40, 0.25)
		channelOn(orb.LineString(circle(30, 20, 10, 120)))(s)
		id := add(s, plan.Island, orb.Polygon{circle(30, 20, radius, 120)})
		_, problems := NewNetwork(s, 1)
		found := about(problems, "Island 2 stands in the cut of Channel 1: its bank would be a wall, 0.05 m high")
		if (len(found) == 1) != said || len(problems) != len(found) {
			t.Errorf("radius %v m: %v", radius, problems)
		}
		if said && (found[0].ID != id || math.Abs(planar.Distance(found[0].At, at(30, 20))-radius) > 0.01) {
			t.Errorf("it is said of %d, at %v", found[0].ID, found[0].At)
		}
	}
}

func TestAnArmWithNoWayIn(t *testing.T) {
	fed := func(s *plan.Site) {
		add(s, plan.Drain, line(10, 1, 10, 39), "bed_width", 0.6, "water_depth", 0.2)
	}
	far := func(s *plan.Site) { channelOn(line(20, 15, 40, 15))(s) }
	checkFaults(t, "no way in", ditch, map[string]faulty{
		"by a drain":         {func(s *plan.Site) { fed(s); channelOn(line(10.5, 15, 40, 15))(s) }, "", orb.Point{}},
		"short of the drain": {func(s *plan.Site) { fed(s); far(s) }, "Channel 2 has no way in", at(20, 15)},
		"no drain is drawn":  {far, "", orb.Point{}},
		"into one that a drain fills": {func(s *plan.Site) {
			fed(s)
			far(s)
			channelOn(line(10.5, 30, 30, 30, 30, 15))(s)
		}, "", orb.Point{}},
		"two that join each other only": {func(s *plan.Site) { fed(s); far(s); channelOn(line(30, 25, 30, 15))(s) }, "Channel 2 and Channel 3 have no way in", at(20, 15)},
		"across a drain":                {func(s *plan.Site) { fed(s); channelOn(line(3, 15, 40, 15))(s) }, "", orb.Point{}},
		"what flows in is set": {func(s *plan.Site) {
			fed(s)
			add(s, plan.Channel, line(20, 15, 40, 15), "flow", 2.0)
		}, "", orb.Point{}},
	})
}

func TestABedThatRisesAgainstItsFall(t *testing.T) {
	dip := func(bed float64, l orb.LineString, start, end float64) func(s *plan.Site) {
		return func(s *plan.Site) {
			add(s, plan.Channel, l, "bed_start", start, "bed_end", end)
			add(s, plan.Section, at(30, 20), "bed_level", bed)
		}
	}
	down, up := line(10, 20, 40, 20), line(40, 20, 10, 20)
	checkFaults(t, "against its fall", flat, map[string]faulty{
		"by 5 cm":           {dip(9.35, down, 9.5, 9.4), "rises by 0.05 m against its fall, from 20.0 to 30.0 m along it", at(30, 20)},
		"by 5 cm, upward":   {dip(9.35, up, 9.4, 9.5), "rises by 0.05 m against its fall, from 10.0 to 0.0 m along it", at(30, 20)},
		"by half a cm":      {dip(9.395, down, 9.5, 9.4), "", orb.Point{}},
		"a hump":            {dip(9.55, down, 9.5, 9.4), "rises by 0.05 m against its fall, from 0.0 to 20.0 m along it", at(10, 20)},
		"all of it falls":   {dip(9.45, down, 9.5, 9.4), "", orb.Point{}},
		"a fall that eases": {dip(9.41, down, 9.5, 9.4), "", orb.Point{}},
	})
}
