package demo

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/geo/grid"
	"runnel/geo/plan"
)

// channels lists the channels that the schemes of the site draw.
func channels(s plan.Site) []plan.Feature {
	var all []plan.Feature
	for _, scheme := range s.Plan.Schemes {
		all = append(all, s.Plan.Of(plan.Channel, scheme.ID)...)
	}
	return all
}

func TestWaterInTheChannelsIsAsDeepAsWasMeant(t *testing.T) {
	for _, c := range channels(made()) {
		for _, bed := range []string{"bed_start", "bed_end"} {
			if depth := c.Num("water_level") - c.Num(bed); depth < 0.2 || depth > 0.35 {
				t.Errorf("%s: water stands %.2f m over %s", c.Title(), depth, bed)
			}
		}
		if c.Num("bed_start") >= drainBedAt(tieIn)+drainWater {
			t.Errorf("%s starts above the drain's water", c.Title())
		}
	}
}

func TestWaterInTheChannelsStaysBelowBothBanks(t *testing.T) {
	s := made()
	for _, c := range channels(s) {
		line, water := c.Line(), c.Num("water_level")
		for _, side := range []float64{-1, 1} {
			half := c.Num("bed_width")/2 + 0.55*max(c.Num("side_left"), c.Num("side_right"))
			for i, p := range beside(line, side*half) {
				if i < 2 { // the first metre lies in the drain
					continue
				}
				if bank := grid.Sample(s.Ground, p); bank < water+0.1 {
					t.Errorf("%s, %d m along: the bank at %.3f m is less than 0.1 m above the water at %.3f m", c.Title(), i, bank, water)
				}
			}
		}
	}
}

// Both arms of an island lie a channel's width outside its outline.
func TestWaterRoundTheIslandsStaysBelowTheBanks(t *testing.T) {
	s := made()
	for _, island := range s.Plan.Of(plan.Island, s.Plan.Schemes[0].ID) {
		outline := orb.LineString(island.Area()[0])
		out := 2.0
		if planar.Area(orb.Ring(outline)) < 0 {
			out = -out
		}
		water := channels(s)[0].Num("water_level")
		for _, p := range beside(outline, out) {
			if bank := grid.Sample(s.Ground, p); bank < water+0.08 {
				t.Errorf("%s: the bank at %.1f, %.1f is at %.3f m, the water at %.3f m", island.Title(), p[0]-west, p[1]-south, bank, water)
			}
		}
	}
}

func TestTheWindingChannelWindsAndDividesRoundItsIslands(t *testing.T) {
	s := made()
	line := channels(s)[0].Line()
	if ratio := planar.Length(line) / planar.Distance(line[0], line[len(line)-1]); ratio < 1.08 {
		t.Errorf("the channel is %.2f times as long as the straight way; it hardly winds", ratio)
	}
	for _, island := range s.Plan.Of(plan.Island, s.Plan.Schemes[0].ID) {
		within := 0
		for _, p := range line {
			if planar.PolygonContains(island.Area(), p) {
				within++
			}
		}
		if within < 3 || planar.PolygonContains(island.Area(), line[0]) || planar.PolygonContains(island.Area(), line[len(line)-1]) {
			t.Errorf("%s: %d points of the channel lie in it", island.Title(), within)
		}
	}
}

func TestTheTrenchIsStraight(t *testing.T) {
	line := channels(made())[1].Line()
	length, straight := planar.Length(line), planar.Distance(line[0], line[len(line)-1])
	if math.Abs(length-straight) > 0.01 || length < 22 || length > 28 {
		t.Errorf("the trench is %.2f m long and its ends are %.2f m apart", length, straight)
	}
}
