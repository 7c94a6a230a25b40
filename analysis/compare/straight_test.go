package compare

import (
	"math"
	"testing"

	"runnel/analysis/channel"
	"runnel/geo/plan"
)

// A branch that opens into a bent channel at its bend, half way, opens into the
// straight one half way too.
func TestWhatIsJoinedStaysJoinedWhenItIsLedStraight(t *testing.T) {
	s := plainSite()
	walled(s, line(5, 10, 25, 16, 45, 10), 0.8)
	walled(s, line(25, 16, 25, 26), 0.8)
	g := gainOf(t, s)
	if g.Why != "" || len(g.Notes) > 0 {
		t.Fatal(g.Why, g.Notes)
	}
	if math.Abs(g.Straight.Length-56) > 1e-6 || math.Abs(g.Winding.Length-2*math.Hypot(20, 6)-10) > 1e-6 {
		t.Errorf("the winding is %v m long, the straight %v", g.Winding.Length, g.Straight.Length)
	}
	// Of a tee between walls in level ground the floor is that of both bands and three
	// half rounds, less half the width where the branch begins on the other's line.
	const r = 0.4
	want := (56*0.8 + math.Pi*r*r*1.5 - r*0.8) * (plain - bed)
	if math.Abs(g.Straight.Dug/want-1) > 0.01 {
		t.Errorf("the straight digs %v m³, want %v", g.Straight.Dug, want)
	}
}

// What is straight already is led as it is: with the section at its end, with its
// sill and its pools, and with its own water.
func TestAStraightChannelIsLedAsItIs(t *testing.T) {
	for name, more := range map[string]func(s *plan.Site){
		"with a wide end": func(s *plan.Site) {
			add(s, 101, plan.Section, line(45, 12)[0], "bed_width", 1.6)
		},
		"with a surveyed end": func(s *plan.Site) {
			add(s, 101, plan.Section, line(45, 12)[0])
			last := len(s.Plan.Features) - 1
			s.Plan.Features[last] = s.Plan.Features[last].With("surveyed", plan.Value{Text: "-1 0.6; -0.5 0; 0.5 0; 1 0.6"})
		},
		"with a sill": func(s *plan.Site) {
			add(s, 101, plan.Sill, line(29.9, 9, 29.9, 13.4), "crest", level+0.2)
		},
	} {
		s := plainSite()
		add(s, 101, plan.Channel, line(5, 10, 45, 12), "bed_width", 0.8, "side_left", 1.0, "side_right", 1.0,
			"bed_start", bed+0.1, "bed_end", bed, "water_level", level)
		more(s)
		a, err := Measure(t.Context(), s, 101, Options{})
		if err != nil || len(a.Problems) > 0 {
			t.Fatal(name, err, a.Problems)
		}
		g := gainOf(t, s)
		if g.Why != "" || len(g.Notes) > 0 {
			t.Errorf("%s: %s %v", name, g.Why, g.Notes)
		}
		w, l := g.Winding, g.Straight
		for _, c := range [][2]float64{{w.Contact, l.Contact}, {w.Storage, l.Storage}, {w.WetEdge, l.WetEdge}, {w.Dug, l.Dug}, {w.BedWidth, l.BedWidth}} {
			if math.Abs(c[0]/c[1]-1) > 0.005 {
				t.Errorf("%s: it is %+v, and led straight %+v", name, w, l)
				break
			}
		}
	}
}

func TestASurveyedSectionIsWidenedAcross(t *testing.T) {
	x := widened(sectionOfLine(-1, 0.5, 0, 0, 1, 0.5), 0.5)
	if first, last := x.Line[0], x.Line[2]; first.Off != -1.25 || last.Off != 1.25 || last.Height != 0.5 {
		t.Errorf("%+v", x.Line)
	}
	least, _ := bedWidths()
	if x = widened(sectionOfLine(-1, 0.5, 0, 0, 1, 0.5), -10); math.Abs(x.Line[2].Off-x.Line[0].Off-least) > 1e-9 {
		t.Errorf("%+v", x.Line)
	}
}

func sectionOfLine(offsAndHeights ...float64) (x channel.Section) {
	for i := 0; i < len(offsAndHeights); i += 2 {
		x.Line = append(x.Line, channel.Point{Off: offsAndHeights[i], Height: offsAndHeights[i+1]})
	}
	return x
}
