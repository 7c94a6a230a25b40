package propose

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"runtime"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"runnel/analysis/channel"
	"runnel/assets/demo"
	"runnel/geo/plan"
)

// On level ground the water stands the freeboard below the bank, everywhere alike; of
// all beds the narrowest touches most soil for its digging, and with room enough the
// line is as long as the volume allows: contact = P (V - ends) / A + ends.
func TestWithRoomEnoughTheVolumeIsTurnedIntoTheLongestLine(t *testing.T) {
	s := siteOf(60, 40, 0.25, flat)
	q := sought(at(10, 20), at(50, 20), 30)
	q.Effort = 0.15
	found, err := Lines(t.Context(), s, q, nil)
	if err != nil {
		t.Fatal(err)
	}
	const deep, water, bed = 0.4, 0.4 - channel.Freeboard, 0.3
	section := channel.Section{Bed: bed, Left: 1, Right: 1}
	// Round the ends: a disc and a ring below a cone, halves of which make one.
	ends := math.Pi * (deep*bed*bed/4 + deep*deep*bed/2 + deep*deep*deep/3)
	soil := math.Pi * (bed*bed/4 + (bed+water)*water*math.Sqrt2)
	best := section.WettedPerimeter(water)*(q.Volume-ends)/section.Area(deep) + soil
	p := found[0]
	t.Logf("contact %.1f of %.1f m², straight %.1f, length %.1f, bed %.2f", p.Contact, best, p.Straight.Contact, p.Length, p.BedWidth)
	if p.Contact < 0.97*best || p.Contact > 1.01*best {
		t.Errorf("contact is %.2f m², the best there can be %.2f", p.Contact, best)
	}
	if p.Contact < p.Straight.Contact {
		t.Errorf("the straight line touches %.2f m², more than %.2f", p.Straight.Contact, p.Contact)
	}
}

// A corridor is filled best by legs across it, as near together as the strip allows,
// joined by half circles: for each width D of a channel and its strip the line runs
// F - D + π D / 2, where F is how far its middle can swing.
func TestACorridorIsFilledWithBends(t *testing.T) {
	s := siteOf(44, 16, 0.25, flat)
	add(s, plan.Boundary, box(2, 3, 42, 13))
	q := sought(at(5, 8), at(39, 8), 500)
	q.Setbacks, q.Narrowest, q.Widest, q.Radius = Setbacks{Boundary: 1}, 0.5, 0.5, 0.5
	q.Effort = 0.2
	found, err := Lines(t.Context(), s, q, nil)
	if err != nil {
		t.Fatal(err)
	}
	const half = 0.25 + 0.4
	swing, apart := 10-2*1-2*half, 2*half+0.5
	fill := 34 / apart * (swing - apart + math.Pi/2*apart)
	p := found[0]
	t.Logf("radius %.2f strip %.2f; length %.1f of %.1f m, contact %.1f, straight %.1f", p.Radius, p.Strip, p.Length, fill, p.Contact, p.Straight.Contact)
	if p.Length < 0.75*fill || p.Length > fill*1.05 {
		t.Errorf("the line is %.1f m long, the closest fill %.1f m", p.Length, fill)
	}
}

func TestWhatIsReckonedIsWhatIsMeasured(t *testing.T) {
	s, q := aWorld(rand.New(rand.NewPCG(4, 1)))
	for _, form := range []channel.Form{channel.Trapezoid, channel.Rounded} {
		q.Form = form
		found, err := Lines(t.Context(), s, q, nil)
		if err != nil {
			t.Fatal(err)
		}
		q := q.orUsual()
		e, _ := newEnds(s, q)
		w := newWorld(s, q, e)
		if err := w.survey(t.Context()); err != nil {
			t.Fatal(err)
		}
		for _, p := range found {
			m := tester{world: w}
			got := m.try(p.Knots)
			if math.Abs(got.contact/p.Contact-1) > 0.03 || math.Abs(got.volume/p.Volume-1) > 0.04 || math.Abs(got.level-p.Level) > 0.001 {
				t.Errorf("reckoned %.2f m², %.2f m³ and %.3f m; measured %.2f, %.2f and %.3f", got.contact, got.volume, got.level, p.Contact, p.Volume, p.Level)
			}
		}
	}
}

func TestTheSameSeedFindsTheSameLinesOnAnyNumberOfProcessors(t *testing.T) {
	s, q := aWorld(rand.New(rand.NewPCG(4, 1)))
	find := func(processors int) []Proposal {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(processors))
		found, err := Lines(t.Context(), s, q, nil)
		if err != nil {
			t.Fatal(err)
		}
		return found
	}
	one := find(1)
	if !reflect.DeepEqual(one, find(2)) {
		t.Error("two processors find other lines than one")
	}
	q.Seed++
	if reflect.DeepEqual(one[0].Knots, find(2)[0].Knots) {
		t.Error("another seed finds the very same line")
	}
}

func TestProposalsDifferAndStandInOrder(t *testing.T) {
	s, q := aWorld(rand.New(rand.NewPCG(4, 1)))
	q.Count, q.Effort, q.Volume = 3, 0.1, 45
	last := 0.0
	found, err := Lines(t.Context(), s, q, func(done float64) {
		if done < last || done > 1 {
			t.Errorf("%v is told to be done after %v", done, last)
		}
		last = done
	})
	if err != nil || len(found) != 3 || last < 0.9 {
		t.Fatalf("%d proposals, %v; %v is done", len(found), err, last)
	}
	for i, p := range found {
		if !fitted(p.Volume, q.Volume) {
			t.Errorf("%s digs %.2f m³ of %.2f", p.Channel.Name, p.Volume, q.Volume)
		}
		if p.Channel.Name != fmt.Sprintf("Proposal %d", i+1) || plan.Check(p.Channel) != nil || !p.Channel.Curved() {
			t.Errorf("%s is no curve that can be drawn", p.Channel.Title())
		}
		for _, other := range found[:i] {
			if other.Contact < p.Contact || between(p.Line, other.Line) < 1 {
				t.Errorf("proposals of %.1f and %.1f m² lie %.2f m apart", other.Contact, p.Contact, between(p.Line, other.Line))
			}
		}
	}
}

func TestASearchStopsWhenAsked(t *testing.T) {
	s, q := aWorld(rand.New(rand.NewPCG(4, 1)))
	q.Effort = 20
	ctx, cancel := context.WithCancel(t.Context())
	if _, err := Lines(ctx, s, q, func(float64) { cancel() }); !errors.Is(err, context.Canceled) {
		t.Errorf("it says %v", err)
	}
}

func TestWhatStandsInTheWayIsSaid(t *testing.T) {
	from, to := at(8, 20), at(52, 20)
	for name, c := range map[string]struct {
		height func(x, y float64) float64
		change func(s *plan.Site, q *Question)
		words  string
	}{
		"a marked area": {flat, func(_ *plan.Site, q *Question) { q.Clear = []orb.Polygon{box(30, -1, 32, 41)} }, "an area that is marked to be kept clear stands in the way; make the area smaller"},
		"buildings": {flat, func(s *plan.Site, _ *Question) {
			add(s, plan.Roof, box(30, 2, 34, 38))
		}, "a building stands in the way, with 3.0 m kept from it"},
		"the boundary": {flat, func(s *plan.Site, _ *Question) {
			add(s, plan.Boundary, orb.Polygon{{at(1, 1), at(28, 18), at(59, 1), at(59, 39), at(28, 22), at(1, 39), at(1, 1)}})
		}, "the line has to stay 3.0 m inside the boundary"},
		"too little digging":  {flat, func(_ *plan.Site, q *Question) { q.Volume = 3 }, "3.0 m³ are given; give more volume"},
		"a ridge":             {func(x, _ float64) float64 { return 10 + 2*math.Exp(-square1((x-30)/4)) }, func(_ *plan.Site, q *Question) { q.Volume = 300 }, "the cut would be deeper than 1.2 m; allow a deeper cut"},
		"a dip":               {func(x, _ float64) float64 { return 10 - 1*math.Exp(-square1((x-30)/4)) }, nil, "no higher than the bed, and the water would run out; lower the bed"},
		"no volume":           {flat, func(_ *plan.Site, q *Question) { q.Volume = 0 }, "say how many m³ may be dug"},
		"ends on one spot":    {flat, func(_ *plan.Site, q *Question) { q.To = q.From }, "have them between 1 and"},
		"an end off the land": {flat, func(_ *plan.Site, q *Question) { q.To = at(99, 99) }, "the outlet lies where the ground is not known; move it"},
		"a grade of text":     {flat, func(_ *plan.Site, q *Question) { q.Grade = math.NaN() }, "the fall of the bed is NaN; give a number from 0 to 20 %"},
	} {
		s := siteOf(60, 40, 0.5, c.height)
		q := sought(from, to, 40)
		q.Effort = 0.02
		if c.change != nil {
			c.change(s, &q)
		}
		if _, err := Lines(t.Context(), s, q, nil); err == nil || !strings.Contains(err.Error(), c.words) {
			t.Errorf("%s: it says %v", name, err)
		}
	}
}

func square1(v float64) float64 { return v * v }

// The demo's winding channel was drawn by hand, with two islands in it.
func TestTheDemosChannelIsBeatenForTheSameDigging(t *testing.T) {
	s := demo.Site()
	q, err := Asked(t.Context(), &s, s.Plan.Schemes[0].ID)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(q.Volume-108.3) > 0.5 || q.Left != 2 || math.Abs(q.Grade-0.177) > 0.01 {
		t.Errorf("asked is %.1f m³ at %.3f %% with sides of %v", q.Volume, q.Grade, q.Left)
	}
	q.Count, q.Effort, q.Seed = 1, 0.3, 1
	found, err := Lines(t.Context(), &s, q, nil)
	if err != nil {
		t.Fatal(err)
	}
	const drawn = 178.8                                                                           // [m²], what `runnel measure` tells of it
	if p := found[0]; p.Contact < 1.1*drawn || p.Volume > q.Volume || p.Volume < 0.99*q.Volume || // the bed is at its widest
		p.Straight.Volume > q.Volume || p.Straight.Volume < (1-digSlack)*p.Volume || len(p.Crossed) != 1 {
		t.Errorf("contact is %.1f m² with %.1f m³, %d service lines crossed", p.Contact, p.Volume, len(p.Crossed))
	}
}

// A course that starts in a channel has its bed and its water.
func TestACourseMayStartInAChannel(t *testing.T) {
	s, q := aWorld(rand.New(rand.NewPCG(4, 1)))
	s.Plan.Features = s.Plan.Features[:2] // boundary and drain
	s.Plan.Schemes = []plan.Scheme{{ID: 50, Name: "A"}}
	first := plan.Feature{ID: 60, Kind: plan.Channel, Scheme: 50, Geometry: orb.LineString{at(6, 8), at(20, 8), at(50, 6)}}
	for name, v := range map[string]float64{"side_left": 1, "side_right": 1, "bed_end": 9.4} {
		first = first.With(name, plan.Value{Number: v})
	}
	s.Plan.Features = append(s.Plan.Features, first)
	q.Scheme, q.From, q.To, q.Clear, q.Volume, q.Effort = 50, at(20, 8), at(40, 36), nil, 40, 0.1
	found, err := Lines(t.Context(), s, q, nil)
	if err != nil {
		t.Fatal(err)
	}
	n, _ := channel.NewNetwork(s, 50)
	l, _ := n.LongSection(60)
	here := l.At(14)
	if p := found[0]; math.Abs(p.Level-here.Water) > 0.01 || math.Abs(p.Channel.Num("bed_start")-here.Bed) > 0.01 || p.Contact < p.Straight.Contact {
		t.Errorf("level %.2f m, bed %.2f m; there it is %.2f m and %.2f m", p.Level, p.Channel.Num("bed_start"), here.Water, here.Bed)
	}
}

// A path across the only way is dug through, a planting beside it is not.
func TestWhatACourseIsDugThroughIsListed(t *testing.T) {
	s := siteOf(44, 16, 0.25, flat)
	add(s, plan.Boundary, box(2, 3, 42, 13))
	path := add(s, plan.Path, orb.LineString{at(20, 0), at(20, 16)})
	add(s, plan.Planting, box(0, 14, 44, 16))
	q := sought(at(5, 8), at(39, 8), 30)
	q.Setbacks, q.Effort = Setbacks{Boundary: 1}, 0.02
	found, err := Lines(t.Context(), s, q, nil)
	if err != nil {
		t.Fatal(err)
	}
	if under := found[0].Under; len(under) != 1 || under[0] != path {
		t.Errorf("it is dug through %v, want %v", under, path)
	}
}
