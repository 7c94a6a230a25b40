package compare

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/assets/demo"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

func polygon(l orb.LineString) orb.Polygon { return orb.Polygon{orb.Ring(l)} }

// level ground of 60 by 30 m at 10 m.
func plainSite() *plan.Site {
	g := grid.New[float32](grid.Square(600, 300, 500_000, 4_000_030, 0.1))
	for i := range g.V {
		g.V[i] = plain
	}
	s := &plan.Site{Ground: g, Setting: plan.UsualSetting()}
	s.Plan.Schemes = []plan.Scheme{{ID: 101, Name: "Drawn"}}
	return s
}

// walled draws a channel between walls, 0.8 m deep and half full.
func walled(s *plan.Site, l orb.LineString, width float64) {
	add(s, 101, plan.Channel, l, "bed_width", width, "side_left", 0.0, "side_right", 0.0,
		"bed_start", bed, "bed_end", bed, "water_level", level)
}

func gainOf(t *testing.T, s *plan.Site) Gain {
	t.Helper()
	a, err := Measure(t.Context(), s, 101, Options{})
	if err != nil {
		t.Fatal(err)
	}
	g, err := GainOf(t.Context(), s, &a)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// A zigzag of four sides of 10 m, each turned from the straight by an angle, between
// walls in level ground. In plan it is a band with rounded outer corners: at each bend
// by the angle b the inner side loses r tan(b/2) of either side, and the outer gains
// an arc r b (elementary plane geometry, r half the width). Dug as much from one
// level, the straight has the same floor, so that what the winding buys is its longer
// wall: the water's depth times the difference of the outlines.
func TestWhatAZigzagBuysIsItsLongerWall(t *testing.T) {
	const width, side, bends, angle = 0.8, 10.0, 3.0, math.Pi / 6
	const r, turn = width / 2, 2 * angle
	s := plainSite()
	dx, dy := side*math.Cos(angle), side*math.Sin(angle)
	walled(s, line(5, 10, 5+dx, 10+dy, 5+2*dx, 10, 5+3*dx, 10+dy, 5+4*dx, 10), width)
	floor := 4*side*width + math.Pi*r*r + bends*r*r*(turn/2-math.Tan(turn/2))
	outline := 8*side + 2*math.Pi*r + bends*r*(turn-2*math.Tan(turn/2))
	across := 4 * dx // and the bed of the straight is w in π/4 w² + 4 dx w = floor
	w := (-across + math.Sqrt(across*across+math.Pi*floor)) / (math.Pi / 2)
	want := (level - bed) * (outline - 2*across - math.Pi*w)
	g := gainOf(t, s)
	if g.Why != "" || len(g.Notes) > 0 {
		t.Fatal(g.Why, g.Notes)
	}
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"the winding digs", g.Winding.Dug, floor * (plain - bed)},
		{"the straight digs", g.Equal.Dug, floor * (plain - bed)},
		{"as drawn it digs", g.Straight.Dug, (across*width + math.Pi*r*r) * (plain - bed)},
		{"the winding touches", g.Winding.Contact, floor + (level-bed)*outline},
		{"its bed is wide", g.Equal.BedWidth, w},
		{"the winding is long", g.Winding.Length, 4 * side},
		{"the straight is long", g.Equal.Length, across},
		{"the winding holds", g.Winding.Storage, floor * (level - bed)},
		{"the straight holds", g.Equal.Storage, floor * (level - bed)},
		{"the ratio is", g.Ratio, (floor + (level-bed)*outline) / (across*width + math.Pi*r*r + (level-bed)*(2*across+math.Pi*width))},
	} {
		if math.Abs(c.got/c.want-1) > 0.005 {
			t.Errorf("%s %v, want %v", c.name, c.got, c.want)
		}
	}
	if math.Abs(g.Contact-want) > 0.02*want || g.Share != g.Contact/g.Equal.Contact {
		t.Errorf("the winding buys %v m² (%v), want %v", g.Contact, g.Share, want)
	}
	if !strings.HasPrefix(g.Sentence(), "The winding itself buys ") || !strings.Contains(g.EdgeSentence(), "longer") {
		t.Error(g.Sentence(), g.EdgeSentence())
	}
}

func TestAStraightChannelBuysNothing(t *testing.T) {
	s := plainSite()
	walled(s, line(5, 10, 45, 12), 0.8)
	g := gainOf(t, s)
	if math.Abs(g.Share) > 0.002 || math.Abs(g.Ratio-1) > 0.002 || !strings.Contains(g.Sentence(), "buys nothing") {
		t.Errorf("%+v: %s", g, g.Sentence())
	}
}

func TestWhatHasNoStraightIsLeftOutAndSaid(t *testing.T) {
	ring := line(10, 10, 20, 10, 20, 20, 10, 20, 10, 10)
	for name, c := range map[string]struct {
		line orb.LineString
		why  string
	}{
		"a ring":                           {ring, "is a ring"},
		"a channel that ends at its start": {line(10, 10, 20, 10, 20, 20, 10, 10.2), "the ends of Channel 1 are 0.20 m apart, less than the 0.60 m that it is wide"},
		"a channel round a void":           {line(10, 10, 20, 20, 30, 10), "leaves the ground"},
	} {
		s := plainSite()
		for i := range s.Ground.V {
			if p := s.Ground.Centre(i%s.Ground.W, i/s.Ground.W); math.Hypot(p[0]-500_020, p[1]-4_000_010) < 2 {
				s.Ground.V[i] = float32(math.NaN())
			}
		}
		walled(s, c.line, 0.6)
		g := gainOf(t, s)
		if !strings.Contains(g.Why, c.why) || !math.IsNaN(g.Contact) || !strings.Contains(g.Sentence(), g.Why) || g.EdgeSentence() != "" {
			t.Errorf("%s: %q, %+v", name, g.Sentence(), g)
		}
		walled(s, line(35, 5, 40, 8, 45, 5), 0.6)
		if g = gainOf(t, s); g.Why != "" || len(g.Notes) != 1 || !strings.Contains(g.Notes[0], c.why) || g.Winding.Length > 12 {
			t.Errorf("%s and another channel: %+v", name, g)
		}
	}
	s := plainSite()
	if g := gainOf(t, s); !strings.Contains(g.Why, "no channel") {
		t.Errorf("with no channel: %+v", g)
	}
}

// The straight between the two ends of a channel that bends away from a low place
// goes through it: its water cannot stand as high.
func TestALowerGroundUnderTheStraightIsSaid(t *testing.T) {
	s := plainSite()
	for i := range s.Ground.V {
		if p := s.Ground.Centre(i%s.Ground.W, i/s.Ground.W); math.Hypot(p[0]-500_020, p[1]-4_000_010) < 3 {
			s.Ground.V[i] = bed + 0.2
		}
	}
	walled(s, line(5, 10, 12, 18, 28, 18, 35, 10), 0.6)
	g := gainOf(t, s)
	if g.Why != "" || len(g.Notes) != 1 || !strings.Contains(g.Notes[0], "stands at 9.40 m and not at 9.60 m") {
		t.Errorf("%+v", g)
	}
}

// Where the straight goes through a hill no bed is narrow enough to dig as little.
func TestADigThatDoesNotComeOutEqualIsSaid(t *testing.T) {
	s := plainSite()
	for i := range s.Ground.V {
		if p := s.Ground.Centre(i%s.Ground.W, i/s.Ground.W); math.Hypot(p[0]-500_020, p[1]-4_000_010) < 5 {
			s.Ground.V[i] = plain + 8
		}
	}
	s.Plan.Features = nil
	add(s, 101, plan.Channel, line(5, 10, 12, 20, 28, 20, 35, 10), "bed_width", 0.3, "side_left", 1.0, "side_right", 1.0,
		"bed_start", bed, "bed_end", bed, "water_level", level)
	g := gainOf(t, s)
	if len(g.Notes) != 1 || !strings.Contains(g.Notes[0], "no bed between 0.05 m and 50 m") || g.Equal.BedWidth > 0.051 {
		t.Errorf("%+v", g)
	}
}

func TestTheGainOfTheDemoIsHonest(t *testing.T) {
	s := demo.Site()
	for _, scheme := range s.Plan.Schemes {
		a, _ := Measure(t.Context(), &s, scheme.ID, Options{})
		g, err := GainOf(t.Context(), &s, &a)
		if err != nil || g.Why != "" || len(g.Notes) > 0 {
			t.Fatal(err, g.Why, g.Notes)
		}
		if off := math.Abs(g.Equal.Dug/g.Winding.Dug - 1); off > alike {
			t.Errorf("%s: the straight digs %v m³, the winding %v", scheme.Name, g.Equal.Dug, g.Winding.Dug)
		}
		// Cells of a quarter of a metre count the dig otherwise than sections.
		if off := math.Abs(g.Winding.Dug/a.Cut - 1); off > 0.01 {
			t.Errorf("%s: %v m³ are dug by sections, %v by cells", scheme.Name, g.Winding.Dug, a.Cut)
		}
		if g.Winding.Contact != a.Channels[0].Measure.Contact {
			t.Errorf("%s: the winding touches %v m², in the account %v", scheme.Name, g.Winding.Contact, a.Channels[0].Measure.Contact)
		}
	}
}

func TestAGainStopsWhenAsked(t *testing.T) {
	s := trench()
	a, _ := Measure(t.Context(), s, 101, Options{})
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := GainOf(ctx, s, &a); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
	if _, err := SensitivityOf(ctx, s, &a); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}

// Wherever a channel with an island is drawn on the demo's ground, what is told of it
// is told in figures, and what does not come out is said. The placements are the same
// in each run.
func TestWhereverAChannelIsDrawnItsGainIsToldOrWithheld(t *testing.T) {
	base := demo.Site()
	somewhere := anywhere(base)
	for seed := range 8 {
		d := somewhere.Example(seed)
		a, err := Measure(t.Context(), &d.site, d.scheme, Options{})
		if err != nil {
			t.Fatal(err)
		}
		g, err := GainOf(t.Context(), &d.site, &a)
		if err != nil {
			t.Fatal(err)
		}
		equal := math.Abs(g.Equal.Dug/g.Winding.Dug-1) <= alike
		if g.Why == "" && (!equal && len(g.Notes) == 0 || math.IsNaN(g.Contact+g.Share+g.Ratio+g.Equal.BedWidth)) {
			t.Errorf("seed %d: %+v", seed, g)
		}
		v, err := SensitivityOf(t.Context(), &d.site, &a)
		if err != nil || (v.Why == "") != (len(v.Rows) == 3) {
			t.Errorf("seed %d: %+v (%v)", seed, v, err)
		}
		for _, r := range v.Rows {
			if math.IsNaN(r.Contact + r.Dig + r.Level) {
				t.Errorf("seed %d: %+v", seed, r)
			}
		}
	}
}

// Two straight channels so near that their cuts overlap dig less than apart, which no
// winding earns.
func TestOverlappingCutsAreNotSaidToBuyContact(t *testing.T) {
	for _, c := range []struct {
		apart float64
		why   string
	}{{0.9, "overlaps"}, {8, ""}} {
		s := plainSite()
		walled(s, line(5, 10, 45, 10), 1)
		walled(s, line(5, 10+c.apart, 45, 10+c.apart), 1)
		if g := gainOf(t, s); (g.Why != "") != (c.why != "") || !strings.Contains(g.Why, c.why) {
			t.Errorf("%.1f m apart: %q", c.apart, g.Sentence())
		}
	}
}

func TestMoreAndLessAreSaidInWords(t *testing.T) {
	g := Gain{Winding: Led{WetEdge: 40, Storage: 10}, Equal: Led{WetEdge: 44, Storage: 15.3}}
	if bank, storage := g.EdgeSentence(), g.StorageSentence(); !strings.Contains(bank, "4.0 m shorter") || !strings.Contains(storage, "5.3 m³ less") {
		t.Error(bank, storage)
	}
	g.Winding, g.Equal = g.Equal, g.Winding
	if bank, storage := g.EdgeSentence(), g.StorageSentence(); !strings.Contains(bank, "4.0 m longer") || !strings.Contains(storage, "5.3 m³ more") {
		t.Error(bank, storage)
	}
	if g.Winding = g.Equal; g.EdgeSentence() != "" || g.StorageSentence() != "" {
		t.Error(g.EdgeSentence(), g.StorageSentence())
	}
}
