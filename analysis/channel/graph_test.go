package channel

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

func graphOf(t *testing.T, s *plan.Site) Graph {
	t.Helper()
	n, _ := NewNetwork(s, 1)
	g := n.Graph(0.5)
	for _, l := range g.Links {
		if l.From == l.To || l.From < 0 || l.To >= len(g.Nodes) {
			t.Errorf("a link leads from %d to %d", l.From, l.To)
		}
		for i, st := range l.Stations {
			if i > 0 && (st.Along < l.Stations[i-1].Along || st.Along-l.Stations[i-1].Along > 0.5+1e-9) {
				t.Errorf("stations at %v and %v", l.Stations[i-1].Along, st.Along)
			}
		}
	}
	return g
}

func TestAnIslandPartsARunInTwoArms(t *testing.T) {
	s := site(60, 30, 0.5)
	add(s, plan.Channel, line(5, 15, 50, 15), "bed_width", 1.0)
	add(s, plan.Island, orb.Polygon{circle(25, 15.4, 3, 48)}, "arm_width", .8)
	g := graphOf(t, s)
	if len(g.Links) != 4 || len(g.Nodes) != 4 {
		t.Fatalf("there are %d links and %d nodes", len(g.Links), len(g.Nodes))
	}
	half := math.Sqrt(9 - .4*.4) // of the line inside the circle
	var outline float64
	for _, l := range g.Links {
		if l.Kind != ArmLink {
			continue
		}
		outline += l.Length()
		first, last := l.Stations[0], l.Stations[len(l.Stations)-1]
		near(t, "where an arm starts", first.Chainage, 20-half, 1e-3)
		near(t, "where an arm ends", last.Chainage, 20+half, 1e-3)
		// Seen from the split the arm on the left has the island on its right.
		island, outer := first.Section.Left, first.Section.Right
		if l.Left {
			island, outer = outer, island
		}
		if middle := l.Stations[len(l.Stations)/2].At; (middle[1] > north+15.4) != l.Left || island != 1.5 || outer != 2 || first.Section.Bed != .8 {
			t.Errorf("the arm is %+v", l)
		}
		angle := 2 * math.Acos(.4/3)
		if l.Left { // the island lies to the left of the line
			angle = 2*math.Pi - angle
		}
		near(t, "an arm's length", l.Length(), 3*angle, .005)
	}
	near(t, "both arms", outline, 2*math.Pi*3, .002)
}

func TestAChannelThatEndsInAnIslandGoesAllRoundIt(t *testing.T) {
	s := site(60, 30, 0.5)
	add(s, plan.Channel, line(5, 15, 25, 15))
	add(s, plan.Island, orb.Polygon{circle(25, 15, 3, 48)})
	g := graphOf(t, s)
	if len(g.Links) != 3 || len(g.Nodes) != 3 {
		t.Fatalf("there are %d links and %d nodes", len(g.Links), len(g.Nodes))
	}
}

func TestTheGraphOfRunsSillsAndWays(t *testing.T) {
	s := siteOf(80, 40, 0.5, func(p orb.Point) float64 {
		if p[0] < 6 {
			return 9.4
		}
		return 10
	})
	drain := add(s, plan.Drain, line(5, 2, 5, 38), "depth", .6)
	trunk := add(s, plan.Channel, line(5, 20, 70, 20), "bed_start", 9.3, "bed_end", 9.2)
	add(s, plan.Channel, line(30, 20, 30, 32, 50, 32, 50, 20), "bed_start", 9.25, "bed_end", 9.25)
	sill := add(s, plan.Sill, line(60, 15, 60, 25), "crest", 9.6)
	spill := add(s, plan.Spillway, at(70, 20), "crest", 9.7, "width", 1.4)
	g := graphOf(t, s)
	checkLinks(t, g, trunk, sill)
	mouths, spillways := 0, 0
	for _, n := range g.Nodes {
		for _, o := range n.Openings {
			mouths++
			if o.Drain.ID != drain || o.Channel != trunk || o.OwnBed != 9.3 || o.FarBed != 9.2 || !(o.Full > o.Water) {
				t.Errorf("the mouth is %+v", o)
			}
		}
		for _, o := range n.Spillways {
			spillways++
			if o.ID != spill || o.Crest != 9.7 || o.Width != 1.4 {
				t.Errorf("the spillway is %+v", o)
			}
		}
	}
	if mouths != 1 || spillways != 1 {
		t.Errorf("there are %d mouths and %d spillways", mouths, spillways)
	}
}

// checkLinks looks at the runs and at the one sill of that graph.
func checkLinks(t *testing.T, g Graph, trunk, sill plan.ID) {
	t.Helper()
	runs, sills := 0, 0
	for _, l := range g.Links {
		switch l.Kind {
		case RunLink:
			runs++
		case SillLink:
			sills++
			// At 9.6 m over a bed of 9.2154 m a section of 0.6 m with 2:1 banks.
			near(t, "a sill's width", l.Width, .6+4*(9.6-(9.3-.1*55/65)), 1e-9)
			if l.Sill != sill || l.Crest != 9.6 || l.ID != trunk {
				t.Errorf("the sill is %+v", l)
			}
		}
	}
	if runs != 5 || sills != 1 {
		t.Errorf("there are %d runs and %d sills", runs, sills)
	}
}

func TestARingIsTwoLinksAndADropTwoStations(t *testing.T) {
	s := site(60, 40, 0.5)
	add(s, plan.Channel, orb.LineString(circle(20, 20, 8, 32)))
	if g := graphOf(t, s); len(g.Links) != 2 || len(g.Nodes) != 2 {
		t.Errorf("a ring has %d links and %d nodes", len(g.Links), len(g.Nodes))
	}
	s = site(60, 40, 0.5)
	add(s, plan.Channel, line(5, 20, 50, 20), "bed_start", 9.6, "bed_end", 9.2)
	add(s, plan.Section, at(30, 20), "drop", .3)
	g := graphOf(t, s)
	drops := 0
	for i, st := range g.Links[0].Stations {
		if i > 0 && st.Chainage == g.Links[0].Stations[i-1].Chainage {
			drops++
			near(t, "the drop", g.Links[0].Stations[i-1].Bed-st.Bed, .3, 1e-9)
		}
	}
	if drops != 1 {
		t.Errorf("there are %d drops", drops)
	}
}
