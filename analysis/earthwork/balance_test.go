package earthwork

import (
	"context"
	"errors"
	"math"
	"reflect"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"runnel/analysis/channel"
	"runnel/geo/plan"
)

// digging draws a channel past two islands in loam, on uneven ground.
func digging(radius float64) *plan.Site {
	s := siteOf(0.1, func(x, y float64) float64 { return 10 + 0.03*math.Sin(x/2) })
	s.Setting.Soil = "loam"
	s.Plan.Schemes = []plan.Scheme{{ID: 1, Name: "Test"}}
	add(s, plan.Channel, line(3, 10, 27, 10), map[string]float64{"bed_start": 9.5, "bed_end": 9.5, "water_level": 9.8})
	add(s, plan.Island, circle(9, 10, radius), nil)
	add(s, plan.Island, circle(20, 10, radius*0.8), map[string]float64{"top": 11.5})
	return s
}

// apply puts changed features in the place of those of their numbers.
func apply(s *plan.Site, changed []plan.Feature) *plan.Site {
	after := s.Clone()
	for i, f := range after.Plan.Features {
		for _, g := range changed {
			if f.ID == g.ID {
				after.Plan.Features[i] = g
			}
		}
	}
	return &after
}

// What a person gets who digs what the balance says is measured anew.
func TestSpoilIsPlacedUntilItBalances(t *testing.T) {
	s := digging(3)
	before := s.Clone()
	b, err := Balance(t.Context(), s, 1, BalanceOptions{IslandRise: 1})
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(before.Plan, s.Plan) {
		t.Error("the site itself was changed")
	}
	after := apply(s, b.Features)
	proposed, problems, err := Proposed(t.Context(), after, 1)
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	v := Volume(s.Ground, proposed)
	if math.Abs(v.Cut-b.Cut) > 1e-9 || math.Abs(v.Fill-b.Fill) > 1e-9 || math.Abs(b.Room-0.9*b.Cut) > 1e-9 {
		t.Errorf("dug and filled are %+v, said is %+v", v, b)
	}
	if math.Abs(v.Fill/(0.9*v.Cut)-1) > 0.01 || math.Abs(b.Left) > 0.01*b.Room {
		t.Errorf("the fill is %.3f m³, the spoil comes to %.3f", v.Fill, 0.9*v.Cut)
	}
	if len(b.Features) != 2 || len(b.Placed) != 2 {
		t.Fatalf("%d features change, spoil goes to %+v", len(b.Features), b.Placed)
	}
	sum := 0.0
	for i, p := range b.Placed {
		if level := b.Features[i].Num("top"); level != p.Level || p.Rise <= 0 || p.Rise > 1 || p.Volume <= 0 {
			t.Errorf("%+v, with a top of %v m", p, level)
		}
		sum += p.Volume
	}
	if math.Abs(b.Placed[0].Rise-b.Placed[1].Rise) > 0.0015 || math.Abs(sum-b.Fill) > 1e-6 {
		t.Errorf("the islands are raised unevenly: %+v", b.Placed)
	}
	again, err := Balance(t.Context(), after, 1, BalanceOptions{IslandRise: 1})
	if err != nil || len(again.Features) != 0 || !reflect.DeepEqual(again.Placed, b.Placed) {
		t.Errorf("balanced anew, %v changes (%v)", again.Features, err)
	}
}

// In sand 0.95 m³ comes of 1; a little island takes what its width bears: a cone of
// its side slope and no more.
func TestSpoilThatHasNoPlaceIsLeft(t *testing.T) {
	s := digging(0.8)
	s.Setting.Soil = "sand"
	b, err := Balance(t.Context(), s, 1, BalanceOptions{IslandRise: 2, BankRise: -1})
	if err != nil {
		t.Fatal(err)
	}
	// US Army FM 5-434: sand is 1.11 loose and 0.95 compacted.
	if b.Left <= 0 || math.Abs(b.Left-(0.95*b.Cut-b.Fill)) > 1e-9 || math.Abs(b.LeftLoose-b.Left/0.95*1.11) > 1e-9 {
		t.Errorf("%+v", b.Placed)
	}
	for i, most := range []float64{0.8 / 1.5, 0.64 / 1.5} {
		if p := b.Placed[i]; p.Rise > most || p.Rise < 0.9*most {
			t.Errorf("%s is raised %.3f m, its width bears %.3f", p.Title, p.Rise, most)
		}
	}
	b, err = Balance(t.Context(), s, 1, BalanceOptions{IslandRise: 0.05, BankRise: -1})
	if err != nil || len(b.Placed) != 2 || math.Abs(b.Placed[0].Rise-0.05) > 0.001 {
		t.Errorf("to 0.05 m: %+v (%v)", b.Placed, err)
	}
}

// The foot of an island in a ring of channel may not fill the ring: its side, 1.5 to 1,
// reaches the top of the ring's bank, 3.9 m from the middle, once it is 0.2 m high.
func TestAnIslandInARingDoesNotFillTheRing(t *testing.T) {
	s := siteOf(0.1, level)
	s.Plan.Schemes = []plan.Scheme{{ID: 1, Name: "Test"}}
	add(s, plan.Channel, orb.LineString(circle(15, 10, 5)[0]), map[string]float64{"bed_start": 9.6, "bed_end": 9.6, "water_level": 9.8})
	add(s, plan.Island, circle(15, 10, 3.6), nil)
	b, err := Balance(t.Context(), s, 1, BalanceOptions{IslandRise: 0.8, BankRise: -1})
	if err != nil {
		t.Fatal(err)
	}
	start := b.Cut
	s.Plan.Features = s.Plan.Features[:1]
	n, _ := channel.NewNetwork(s, 1)
	plain, err := shape(t.Context(), s.Ground, n)
	if err != nil || start < Volume(s.Ground, plain).Cut*(1-2*harm) {
		t.Errorf("%.3f m³ are dug of %.3f", start, Volume(s.Ground, plain).Cut)
	}
	if len(b.Placed) != 1 || math.Abs(b.Placed[0].Rise-0.22) > 0.03 || b.Left <= 0 {
		t.Errorf("it is raised: %+v", b.Placed)
	}
}

func TestWhatIsLackingIsSaid(t *testing.T) {
	s := digging(3)
	add(s, plan.Channel, line(3, 4, 27, 4), map[string]float64{"bed_start": 9.9, "bed_end": 9.9, "water_level": 9.95})
	s.Plan.Features = s.Plan.Features[3:]
	s.Plan.Features[0] = s.Plan.Features[0].With("bank_top", plan.Value{Number: 10.6}).With("bank_width", plan.Value{Number: 1})
	b, err := Balance(t.Context(), s, 1, BalanceOptions{})
	if err != nil || b.Left >= 0 || len(b.Features) > 0 || math.Abs(b.Left-(b.Room-b.Fill)) > 1e-9 {
		t.Errorf("%+v (%v)", b, err)
	}
}

func TestBanksTakeWhatTheIslandsLeave(t *testing.T) {
	s := digging(1)
	b, err := Balance(t.Context(), s, 1, BalanceOptions{})
	if err != nil {
		t.Fatal(err)
	}
	last := b.Placed[len(b.Placed)-1]
	if len(b.Placed) != 3 || last.Field != "bank_top" || last.Volume <= 0 || math.Abs(b.Left) > 0.01*b.Room && last.Rise < 0.29 {
		t.Errorf("%.3f m³ of %.3f are left: %+v", b.Left, b.Room, b.Placed)
	}
}

func TestABalanceOfNothingIsAMistake(t *testing.T) {
	s := digging(3)
	s.Plan.Features = s.Plan.Features[:0]
	if _, err := Balance(t.Context(), s, 1, BalanceOptions{}); err == nil || !strings.Contains(err.Error(), "Test digs nothing") {
		t.Errorf("it says %v", err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := Balance(ctx, digging(3), 1, BalanceOptions{}); !errors.Is(err, context.Canceled) {
		t.Errorf("it goes on: %v", err)
	}
}
