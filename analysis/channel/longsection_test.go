package channel

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// levelSlack is what a level loses in a grid of float32 [m].
const levelSlack = 1e-5

func within(t testing.TB, what string, got, want, slack float64) {
	t.Helper()
	if !(math.Abs(got-want) <= slack) {
		t.Errorf("%s is %.6f, want %.6f", what, got, want)
	}
}

func longSectionOf(t testing.TB, s *plan.Site, id plan.ID) (*Network, LongSection) {
	t.Helper()
	n, problems := NewNetwork(s, 1)
	for _, p := range problems {
		t.Fatal(p)
	}
	l, err := n.LongSection(id)
	if err != nil {
		t.Fatal(err)
	}
	return n, l
}

// On a plane every level along a straight channel has a closed form.
func TestALongSectionOnAPlane(t *testing.T) {
	const along, across = 0.02, 0.05
	plane := func(p orb.Point) float64 { return 10 + along*p[0] + across*p[1] }
	s := siteOf(80, 40, 0.25, plane)
	id := add(s, plan.Channel, line(10, 20, 70, 20), "bed_start", 11.0, "bed_end", 10.7, "water_level", 11.05)
	_, l := longSectionOf(t, s, id)
	within(t, "the length", l.Length, 60, 1e-9)
	for _, p := range l.Places {
		ground, bed := plane(orb.Point{10 + p.Chainage, 20}), 11-0.3*p.Chainage/60
		within(t, "the ground", p.Ground, ground, levelSlack)
		within(t, "the bed", p.Bed, bed, 1e-9)
		within(t, "the proposed ground", p.Proposed, min(ground, bed), levelSlack)
		within(t, "the water", p.Water, 11.05, 1e-9)
		// Where the banks, 2 to 1 from a bed 0.6 m wide, come up to the plane; round
		// the ends they may be lower.
		for _, bank := range []struct{ got, slope float64 }{{p.Left, across}, {p.Right, -across}} {
			off := (ground - bed + 0.3/2) / (0.5 - bank.slope)
			want := ground + bank.slope*off
			if p.Chainage == 0 || p.Chainage == l.Length {
				want = min(want, bank.got)
			}
			within(t, "a bank", bank.got, want, 1e-4)
		}
	}
}

func TestAPoolStandsLevelBehindASill(t *testing.T) {
	s := site(80, 40, 0.25)
	id := add(s, plan.Channel, line(10, 20, 70, 20), "bed_start", 9.6, "bed_end", 9.3, "water_level", 9.5)
	sill := add(s, plan.Sill, line(40, 18, 40, 22), "crest", 9.8)
	_, l := longSectionOf(t, s, id)
	steps := 0
	for i, p := range l.Places {
		want := 9.8
		if p.Chainage > 30 || p.Chainage == 30 && i > 0 && l.Places[i-1].Chainage == 30 {
			want = 9.5
		}
		within(t, "the water", p.Water, want, 1e-9)
		if i > 0 && l.Places[i-1].Chainage == p.Chainage {
			steps++
		}
	}
	if steps != 1 {
		t.Errorf("the long section has %d steps, want one, at the sill", steps)
	}
	want := []Pool{{0, 30, 9.8, 10, false}, {30, 60, 9.5, 10, true}}
	if len(l.Pools) != 2 || l.Pools[0] != want[0] || l.Pools[1] != want[1] {
		t.Errorf("the pools are %+v, want %+v", l.Pools, want)
	}
	if len(l.Marks) != 1 || l.Marks[0] != (Mark{plan.Sill, sill, "Sill 2", 30, 9.8}) {
		t.Errorf("the marks are %+v", l.Marks)
	}
	within(t, "the water above the sill", l.At(29.9).Water, 9.8, 1e-9)
	within(t, "the water at the sill", l.At(30).Water, 9.5, 1e-9)
}

func TestTheLowestPoolOfAChannelDrawnUphillIsItsFirst(t *testing.T) {
	s := site(80, 40, 0.25)
	id := add(s, plan.Channel, line(10, 20, 70, 20), "bed_start", 9.3, "bed_end", 9.6, "water_level", 9.5)
	add(s, plan.Sill, line(40, 18, 40, 22), "crest", 9.8)
	if _, l := longSectionOf(t, s, id); !l.Pools[0].Lowest || l.Pools[1].Lowest || l.Pools[0].Level != 9.5 {
		t.Errorf("the pools are %+v", l.Pools)
	}
}

func TestIslandsSpanTheirChordsOfTheLine(t *testing.T) {
	s := site(120, 60, 0.5)
	id := add(s, plan.Channel, line(10, 30, 110, 30), "bed_start", 9.5, "bed_end", 9.5)
	through := add(s, plan.Island, orb.Polygon{circle(40, 30, 4, 360)})
	// A chord 3 m off the middle of a circle of 5 m is 8 m long.
	aside := add(s, plan.Island, orb.Polygon{circle(80, 33, 5, 3600)})
	_, l := longSectionOf(t, s, id)
	if len(l.Islands) != 2 || l.Islands[0].ID != through || l.Islands[1].ID != aside {
		t.Fatalf("the islands are %+v", l.Islands)
	}
	within(t, "the first begins", l.Islands[0].From, 26, 1e-6)
	within(t, "the first ends", l.Islands[0].To, 34, 1e-6)
	within(t, "the second is as long as its chord", l.Islands[1].To-l.Islands[1].From, 8, 1e-3)
	middle := l.At(30)
	within(t, "the ground is kept on the island", middle.Proposed, 10, levelSlack)
	within(t, "the bed goes on in its arms", middle.Bed, 9.5, 1e-9)
	within(t, "the bank across from it", middle.Left, 10, levelSlack)
}

func TestTiesAndSpillwaysAreMarked(t *testing.T) {
	ditch := func(p orb.Point) float64 { return 10 - max(0, 0.5-math.Abs(p[0]-20)/2) }
	s := siteOf(80, 40, 0.25, ditch)
	drain := add(s, plan.Drain, line(20, 39, 20, 1), "bed_width", 0.2, "depth", 0.4, "side_left", 2.0, "side_right", 2.0)
	id := add(s, plan.Channel, line(20, 20, 60, 20), "bed_end", 9.55)
	spill := add(s, plan.Spillway, at(50, 21), "crest", 9.7)
	n, l := longSectionOf(t, s, id)
	if len(l.Marks) != 2 || l.Marks[0].ID != drain || l.Marks[0].Chainage != 0 ||
		l.Marks[1] != (Mark{plan.Spillway, spill, "Spillway 3", 30, 9.7}) {
		t.Errorf("the channel's marks are %+v", l.Marks)
	}
	of, err := n.LongSection(drain)
	if err != nil || len(of.Marks) != 1 || of.Marks[0].ID != id || of.Marks[0].Kind != plan.Channel {
		t.Fatalf("the drain's marks are %+v, %v", of.Marks, err)
	}
	within(t, "the channel opens on the drain", of.Marks[0].Chainage, 19, 1e-9)
	if len(of.Pools) != 0 {
		t.Error("a drain has pools")
	}
}

func TestALongSectionAgreesWithTheCrossSections(t *testing.T) {
	hills := func(p orb.Point) float64 { return 10 + 0.3*math.Sin(p[0]/9) + 0.2*math.Cos(p[1]/7) }
	s := siteOf(90, 70, 0.25, hills)
	id := add(s, plan.Channel, winding(12), "bed_start", 9.3, "bed_end", 9.2)
	add(s, plan.Island, orb.Polygon{circle(42.5, 35+12*math.Sin(37.5/8), 3, 60)})
	n, l := longSectionOf(t, s, id)
	for i := 0; i < len(l.Places); i += 7 {
		p := l.Places[i]
		c, err := n.Section(id, p.Chainage)
		if err != nil {
			t.Fatal(err)
		}
		within(t, "the station", c.Station, p.Chainage, 1e-9)
		within(t, "the water", c.Level, p.Water, 1e-9)
		for k, off := range c.Offset {
			if off == 0 {
				within(t, "the ground", c.Ground[k], p.Ground, 1e-9)
				within(t, "the proposed ground", c.Proposed[k], p.Proposed, 1e-9)
			}
		}
		within(t, "the section's line is as long as its offsets", planar.Length(c.Line), c.Offset[len(c.Offset)-1]-c.Offset[0], 1e-9)
		within(t, "the line passes through the station", plan.Distance(c.Line, c.At), 0, 1e-6)
	}
}

func TestAnyLineShowsItsGround(t *testing.T) {
	plane := func(p orb.Point) float64 { return 10 + 0.02*p[0] }
	s := siteOf(80, 40, 0.25, plane)
	add(s, plan.Channel, line(40, 5, 40, 35), "bed_start", 10.2, "bed_end", 10.2)
	n, _ := NewNetwork(s, 1)
	path := line(10, 10, 70, 10, 70, 30)
	l := n.AlongLine(path)
	within(t, "the length", l.Length, 80, 1e-9)
	for _, p := range l.Places {
		within(t, "the ground", p.Ground, plane(orb.Point{10 + min(60, p.Chainage), 0}), levelSlack)
		if !math.IsNaN(p.Water + p.Bed + p.Left) {
			t.Fatal("a path has a bed or water")
		}
	}
	within(t, "the path is cut where it crosses the channel", l.At(30).Proposed, 10.2, levelSlack)
	c := n.AcrossLine(path, 70, 2)
	within(t, "an offset", c.Offset[0], -2, 1e-9)
	within(t, "the ground to the right, further east", c.Ground[len(c.Ground)-1], plane(orb.Point{72, 0}), levelSlack)
	chainage, off := Chainage(path, at(68, 20))
	within(t, "the nearest chainage", chainage, 70, 1e-9)
	within(t, "how far off it is", off, 2, 1e-9)
}

func TestALongSectionOfNothing(t *testing.T) {
	n, _ := NewNetwork(&plan.Site{Ground: grid.Ground{}}, 1)
	if _, err := n.LongSection(3); err == nil {
		t.Error("a channel that is not there has a long section")
	}
	if l := n.AlongLine(line(0, 0, 0, 0)); len(l.Places) != 0 || l.At(3) != (Place{}) {
		t.Errorf("a line of no length has places: %+v", l)
	}
	if c := n.AcrossLine(nil, 0, 2); len(c.Offset) != 0 {
		t.Error("no line has a section")
	}
}

func BenchmarkLongSection(b *testing.B) {
	n, _ := NewNetwork(dragged(), 1)
	for b.Loop() {
		if _, err := n.LongSection(1); err != nil {
			b.Fatal(err)
		}
	}
}

// Where banks are raised the one across an island's moat is the raised one, as high as
// the brim has it, though the ground there is low.
func TestTheBankAcrossAMoatIsTheRaisedOne(t *testing.T) {
	s := siteOf(80, 60, 0.25, func(p orb.Point) float64 { return 10 - max(0, 30-p[1])*.1 })
	id := add(s, plan.Channel, line(10, 30, 70, 30), "bed_width", 1.0, "bed_start", 9.3, "bed_end", 9.3, "bank_top", 10.2, "bank_width", .6)
	add(s, plan.Island, orb.Polygon{circle(40, 30, 2, 48)}, "top", 10.5, "arm_width", .8, "side", 1.5)
	n, l := longSectionOf(t, s, id)
	middle := l.At(30)
	within(t, "the bank across the moat, where the ground is low", middle.Right, 10.2, 1e-3)
	if brim := n.BrimOf(id); !(brim.Level > 10) {
		t.Errorf("the brim is %+v", brim)
	}
}
