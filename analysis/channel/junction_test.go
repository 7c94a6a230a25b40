package channel

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/geo"
	"runnel/geo/plan"
)

// levelsAt lays out a drawing and returns the levels of the water at half a metre
// along its channels.
func levelsAt(t *testing.T, s *plan.Site) (levels []float64, n *Network, problems []Problem) {
	t.Helper()
	n, problems = NewNetwork(s, 1)
	for _, f := range n.lines {
		if c, err := n.Section(f.ID, 0.5); err == nil && f.Kind == plan.Channel {
			levels = append(levels, c.Level)
		}
	}
	return levels, n, problems
}

var mainLine, armLine = line(10, 20, 50, 20), line(30, 35, 30, 20)

// Two channels whose beds lie at 9.6 m, 0.6 m wide between banks of 1 in 2: the cut
// round an end that stops 1.9 m off the other's line opens into that one above
// 9.6 + (1.9 - 0.6) / 2 / 2 = 9.925 m, and 2.1 m off it above 9.975 m. By itself
// water stands at 9.95 m.
var joined = map[string]struct {
	draw   func(s *plan.Site)
	ground func(orb.Point) float64
	want   []float64
}{
	"a T": {func(s *plan.Site) { channelOn(mainLine)(s); channelOn(armLine)(s) }, flat, []float64{9.95, 9.95}},
	"the level set for one": {func(s *plan.Site) {
		add(s, plan.Channel, mainLine, "bed_start", 9.6, "bed_end", 9.6, "water_level", 9.8)
		channelOn(armLine)(s)
	}, flat, []float64{9.8, 9.8}},
	"the level set for the other": {func(s *plan.Site) {
		channelOn(mainLine)(s)
		add(s, plan.Channel, armLine, "bed_start", 9.6, "bed_end", 9.6, "water_level", 9.8)
	}, flat, []float64{9.8, 9.8}},
	"a spillway on one": {func(s *plan.Site) {
		channelOn(mainLine)(s)
		channelOn(armLine)(s)
		add(s, plan.Spillway, at(31, 30), "crest", 9.75)
	}, flat, []float64{9.75, 9.75}},
	"the lowest bank of the two": {func(s *plan.Site) { channelOn(mainLine)(s); channelOn(armLine)(s) }, hollow(31.1, 30), []float64{9.8 - Freeboard, 9.8 - Freeboard}},
	"a drain on one": {func(s *plan.Site) {
		add(s, plan.Drain, line(10, 1, 10, 39), "bed_width", 0.6, "water_depth", 0.2)
		channelOn(line(10.5, 20, 50, 20))(s)
		channelOn(armLine)(s)
	}, ditch, []float64{9.7, 9.7}},
	"an X": {func(s *plan.Site) {
		add(s, plan.Channel, mainLine, "bed_start", 9.6, "bed_end", 9.6, "water_level", 9.8)
		channelOn(line(30, 35, 31, 5))(s)
	}, flat, []float64{9.8, 9.8}},
	"three in a row": {func(s *plan.Site) {
		add(s, plan.Channel, mainLine, "bed_start", 9.6, "bed_end", 9.6, "water_level", 9.8)
		channelOn(line(50, 20, 50, 30))(s)
		channelOn(line(50, 30, 35, 30))(s)
	}, flat, []float64{9.8, 9.8, 9.8}},
	"it opens below its water": {func(s *plan.Site) {
		add(s, plan.Channel, mainLine, "bed_start", 9.6, "bed_end", 9.6, "water_level", 9.7)
		channelOn(line(30, 35, 30, 21.9))(s)
	}, flat, []float64{9.7, 9.7}},
	"it opens above its water": {func(s *plan.Site) {
		add(s, plan.Channel, mainLine, "bed_start", 9.6, "bed_end", 9.6, "water_level", 9.7)
		channelOn(line(30, 35, 30, 22.1))(s)
	}, flat, []float64{9.7, 9.95}},
	"above a sill": {func(s *plan.Site) {
		add(s, plan.Channel, mainLine, "bed_start", 9.6, "bed_end", 9.5, "water_level", 9.7)
		add(s, plan.Sill, line(40, 18, 40, 22), "crest", 9.85)
		channelOn(armLine)(s)
	}, flat, []float64{9.85, 9.85}},
	"below a sill": {func(s *plan.Site) {
		add(s, plan.Channel, mainLine, "bed_start", 9.6, "bed_end", 9.5, "water_level", 9.7)
		add(s, plan.Sill, line(20, 18, 20, 22), "crest", 9.85)
		channelOn(armLine)(s)
	}, flat, []float64{9.85, 9.7}},
	"both end in one island's moat": {func(s *plan.Site) {
		add(s, plan.Channel, line(10, 20, 29, 20), "bed_start", 9.6, "bed_end", 9.6, "water_level", 9.8)
		channelOn(line(31, 20, 50, 20))(s)
		add(s, plan.Island, orb.Polygon{circle(30, 20, 3, 40)})
	}, flat, []float64{9.8, 9.8}},
	// The end of the arm lies in the furrow that the other is dug along, which is no
	// bank of the arm.
	"an arm that ends in a furrow": {func(s *plan.Site) {
		add(s, plan.Channel, mainLine, "bed_start", 9.2, "bed_end", 9.2)
		add(s, plan.Channel, armLine, "bed_start", 9.2, "bed_end", 9.2)
	}, func(p orb.Point) float64 {
		if math.Abs(p[1]-20) < 0.2 && math.Abs(p[0]-30) < 18 {
			return 9.25
		}
		return 10
	}, []float64{9.95, 9.95}},
}

func TestJoinedChannelsAreOneWater(t *testing.T) {
	for name, c := range joined {
		s := siteOf(60, 40, 0.25, c.ground)
		c.draw(s)
		levels, _, problems := levelsAt(t, s)
		for i, want := range c.want {
			if math.Abs(levels[i]-want) > 0.012 {
				t.Errorf("%s: the waters stand at %.3f m, want %v; %v", name, levels, c.want, problems)
				break
			}
		}
		if len(problems) > 0 {
			t.Errorf("%s: %v", name, problems)
		}
	}
}

func TestTwoLevelsSetForOneWater(t *testing.T) {
	for other, said := range map[float64]bool{9.8: false, 9.85: true} {
		s := site(60, 40, 0.25)
		add(s, plan.Channel, line(10, 20, 50, 20), "bed_start", 9.6, "bed_end", 9.6, "water_level", 9.8)
		add(s, plan.Channel, line(30, 35, 30, 20), "bed_start", 9.6, "bed_end", 9.6, "water_level", other)
		levels, _, problems := levelsAt(t, s)
		found := about(problems, "are one water, but their water levels are set at")
		if levels[0] != 9.8 || levels[1] != 9.8 || (len(found) == 1) != said || len(problems) != len(found) {
			t.Errorf("%v m: they stand at %v; %v", other, levels, problems)
		}
		if said && planar.Distance(found[0].At, at(30, 20)) > 0.01 {
			t.Errorf("it shows at %v", found[0].At)
		}
	}
}

// The bank of the arm is the lower: it is the arm of which it is said that it would
// spill, and of the other no more.
func TestOneWaterSpillsOnce(t *testing.T) {
	s := siteOf(60, 40, 0.25, hollow(31.1, 30))
	add(s, plan.Channel, line(10, 20, 50, 20), "bed_start", 9.6, "bed_end", 9.6, "water_level", 9.9)
	id := add(s, plan.Channel, line(30, 35, 30, 20), "bed_start", 9.6, "bed_end", 9.6)
	levels, n, problems := levelsAt(t, s)
	_, again := n.WithLevel(9.9)
	for _, said := range [][]Problem{problems, again} {
		if len(said) != 1 || said[0].ID != id || !strings.Contains(said[0].Error(), "m along it, on its left") || planar.Distance(said[0].At, at(31.2, 30)) > 0.6 {
			t.Errorf("%+v", said)
		}
	}
	if math.Abs(levels[0]-levels[1]) > 0 || math.Abs(levels[0]-9.8) > 0.012 {
		t.Errorf("they stand at %v", levels)
	}
}

func TestJunctionsAndSystems(t *testing.T) {
	s := site(60, 40, 0.25)
	channelOn(line(10, 20, 50, 20))(s)
	channelOn(line(30, 35, 30, 20.2))(s)
	channelOn(line(15, 10, 25, 30))(s)
	channelOn(line(5, 5, 55, 5))(s)
	n, _ := measured(t, s, Step{})
	want := []Junction{
		{at(20, 20), 1, 10, 3, math.Hypot(5, 10)},
		{at(30, 20.2), 2, 14.8, 1, 20},
	}
	got := n.Junctions()
	for i := range want {
		if len(got) != len(want) || got[i].ID != want[i].ID || got[i].Into != want[i].Into || planar.Distance(got[i].At, want[i].At) > 1e-6 ||
			math.Abs(got[i].Chainage-want[i].Chainage) > 1e-6 || math.Abs(got[i].IntoChainage-want[i].IntoChainage) > 1e-6 {
			t.Fatalf("junctions %+v, want %+v", got, want)
		}
	}
	systems := n.Systems()
	if len(systems) != 2 || len(systems[0]) != 3 || systems[0][0] != 1 || systems[0][2] != 3 || len(systems[1]) != 1 || systems[1][0] != 4 {
		t.Errorf("systems %v", systems)
	}
}

func TestRunDaysAreThoseOfTheDrainThatFeeds(t *testing.T) {
	usual := geo.Range{Low: 10, Likely: 20, High: 40}
	for days, want := range map[float64]geo.Range{0: usual, 90: {Low: 90, Likely: 90, High: 90}} {
		s := siteOf(60, 40, 0.25, ditch)
		drain := add(s, plan.Drain, line(10, 1, 10, 39), "bed_width", 0.6, "water_depth", 0.2)
		if days > 0 {
			s.Plan.Features[0] = s.Plan.Features[0].With("run_days", plan.Value{Number: days})
		}
		fed := add(s, plan.Channel, line(10.5, 20, 50, 20))
		arm := add(s, plan.Channel, line(40, 35, 40, 20))
		island := add(s, plan.Island, orb.Polygon{circle(30, 20, 2, 30)})
		alone := add(s, plan.Channel, line(20, 5, 50, 5))
		n, _ := NewNetwork(s, 1)
		for _, id := range []plan.ID{drain, fed, arm, island} {
			if got := n.RunDaysOf(id, usual); got != want {
				t.Errorf("feature %d: %v, want %v", id, got, want)
			}
		}
		if got := n.RunDaysOf(alone, usual); got != usual {
			t.Errorf("what no drain feeds: %v", got)
		}
	}
}
