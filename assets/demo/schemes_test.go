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

func TestTheDrainSillHoldsTheWindingChannelsWater(t *testing.T) {
	s := made()
	sills := s.Plan.Of(plan.Sill, s.Plan.Schemes[0].ID)
	if len(sills) != 1 || sills[0].Num("crest") != channels(s)[0].Num("water_level") {
		t.Fatalf("the sills are %+v", sills)
	}
	drain, crest := s.Plan.Of(plan.Drain, plan.AsItIs)[0].Line(), sills[0].Num("crest")
	line := sills[0].Line()
	middle := orb.Point{(line[0][0] + line[1][0]) / 2, (line[0][1] + line[1][1]) / 2}
	off, sill := nearest(drain, middle)
	_, mouth := nearest(drain, channels(s)[0].Line()[0])
	if below := sill - mouth; math.Abs(off) > 0.1 || below < 1 || below > 4 {
		t.Errorf("the sill lies %.2f m off the drain and %.2f m below the mouth", off, below)
	}
	for _, end := range line {
		if bank := grid.Sample(s.Ground, end); bank < crest+0.05 {
			t.Errorf("the sill ends on ground at %.3f m; its crest is at %.3f m", bank, crest)
		}
	}
	// The water backs up the drain as far as the bed lies below the crest.
	for _, out := range []float64{-0.9, 0.9} {
		for i, p := range beside(drain, out) {
			if _, along := nearest(drain, p); along < sill && invert(s.Ground, drain[i]) < crest && grid.Sample(s.Ground, p) < crest+0.05 {
				t.Errorf("%.1f m down the drain its bank at %.3f m hardly holds water at %.3f m", along, grid.Sample(s.Ground, p), crest)
			}
		}
	}
}
