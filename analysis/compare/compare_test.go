package compare

import (
	"context"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"runnel/analysis/caution"
	"runnel/analysis/channel"
	"runnel/assets/demo"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// site has a ditch along x = 10 m, and two schemes that draw on it: one channel
// straight, one that winds round an island.
func site() *plan.Site {
	g := grid.New[float32](grid.Square(200, 150, 500_000, 4_000_030, 0.2))
	for i := range g.V {
		x := g.Centre(i%g.W, i/g.W)[0] - 500_000
		g.V[i] = float32(min(10, 9.5+max(0, math.Abs(x-10)-0.3)))
	}
	s := &plan.Site{Ground: g, Setting: plan.UsualSetting()}
	s.Plan.Schemes = []plan.Scheme{{ID: 101, Name: "Straight"}, {ID: 102, Name: "Winding"}}
	add(s, 0, plan.Drain, line(10, 2, 10, 28), "bed_width", 0.6, "water_depth", 0.2)
	add(s, 101, plan.Channel, line(10, 15, 35, 15), "bed_start", 9.5, "bed_end", 9.45)
	add(s, 102, plan.Channel, line(10, 15, 14, 18, 18, 14, 23, 12, 28, 14, 35, 15), "bed_start", 9.5, "bed_end", 9.45)
	ring := orb.Ring(line(22, 11, 25, 11, 25, 14, 22, 14, 22, 11))
	add(s, 102, plan.Island, orb.Polygon{ring})
	return s
}

func line(xy ...float64) orb.LineString {
	var l orb.LineString
	for i := 0; i < len(xy); i += 2 {
		l = append(l, orb.Point{500_000 + xy[i], 4_000_000 + xy[i+1]})
	}
	return l
}

func add(s *plan.Site, scheme plan.SchemeID, kind plan.Kind, g orb.Geometry, fields ...any) {
	f := plan.Feature{ID: plan.ID(len(s.Plan.Features) + 1), Kind: kind, Scheme: scheme, Geometry: g}
	for i := 0; i < len(fields); i += 2 {
		f = f.With(fields[i].(string), plan.Value{Number: fields[i+1].(float64)})
	}
	s.Plan.Features = append(s.Plan.Features, f)
}

func TestSchemesStandBesideTheSiteAsItIs(t *testing.T) {
	s := site()
	accounts, err := Schemes(t.Context(), s, Options{})
	if err != nil || len(accounts) != 3 {
		t.Fatalf("%d accounts, %v", len(accounts), err)
	}
	asIs, straight, winding := accounts[0], accounts[1], accounts[2]
	if asIs.Name != "As it is" || asIs.Ratio != 1 || asIs.Cut != 0 || len(asIs.Cautions) != 0 {
		t.Errorf("as it is: %+v", asIs)
	}
	drain := channel.Section{Bed: 0.6, Left: 1, Right: 1}
	if want := 26 * drain.WettedPerimeter(0.2); math.Abs(asIs.Contact/want-1) > 0.01 {
		t.Errorf("the drain touches %v m², want %v", asIs.Contact, want)
	}
	if !(winding.Contact > straight.Contact && straight.Contact > asIs.Contact) {
		t.Errorf("contact is %v, %v and %v m²", asIs.Contact, straight.Contact, winding.Contact)
	}
	if got, want := winding.Ratio, winding.Contact/asIs.Contact; got != want {
		t.Errorf("the ratio is %v, want %v", got, want)
	}
	if straight.Name != "Straight" || winding.Scheme != 102 || len(winding.Cautions) == 0 {
		t.Errorf("%s, %d, %v", straight.Name, winding.Scheme, winding.Cautions)
	}
}

func TestAnAccountAddsUp(t *testing.T) {
	s := site()
	a, err := Measure(t.Context(), s, 102, Options{})
	if err != nil {
		t.Fatal(err)
	}
	var contact, surface, storage, bank, length float64
	for _, l := range a.Channels {
		contact += l.Measure.Contact
		surface += l.Measure.Surface
		storage += l.Measure.Volume
		bank += l.Measure.WetBank
		length += l.Measure.Length
	}
	if a.Contact != contact || a.Surface != surface || a.Storage != storage || a.WetBank != bank || a.Length != length {
		t.Errorf("the lines add up to %v m² and %v m³, the account says %v and %v", contact, storage, a.Contact, a.Storage)
	}
	// Cells of 0.2 m are a third of the beds' width.
	if off := math.Abs(a.ContactOnGround/a.Contact - 1); off > 0.05 {
		t.Errorf("contact is %v on the ground and %v along the sections", a.ContactOnGround, a.Contact)
	}
	all, _ := Schemes(t.Context(), s, Options{})
	if a.Ratio != all[2].Ratio || a.Cut != all[2].Cut || a.Contact != all[2].Contact {
		t.Error("a scheme measures otherwise by itself than beside the others")
	}
}

func TestTheLevelOfAllChannelsCanBeSet(t *testing.T) {
	s := site()
	own, _ := Measure(t.Context(), s, 101, Options{Level: math.NaN()})
	low, _ := Measure(t.Context(), s, 101, Options{Level: 9.6})
	if low.Channels[0].Measure.Level != 9.6 || own.Channels[0].Measure.Level < 9.65 {
		t.Errorf("levels are %v and, of its own, %v", low.Channels[0].Measure.Level, own.Channels[0].Measure.Level)
	}
	if low.Contact >= own.Contact || low.Channels[1].Measure.Level != own.Channels[1].Measure.Level {
		t.Error("lower water touches no less, or the drain's level was set too")
	}
}

// Each channel of the demo site is asked to stand far above its banks; the trench
// is half a metre wide, on cells of a quarter.
func TestWaterAskedTooHighIsMeasuredAlikeInBothWays(t *testing.T) {
	s := demo.Site()
	for _, scheme := range s.Plan.Schemes {
		own, _ := Measure(t.Context(), &s, scheme.ID, Options{})
		for _, level := range []float64{86, 100, 1e9} {
			a, err := Measure(t.Context(), &s, scheme.ID, Options{Level: level})
			if err != nil || len(a.Problems) != 1 || !strings.Contains(a.Problems[0].Error(), "lower the water level") {
				t.Errorf("%s at %v m: the problems are %v (%v)", scheme.Name, level, a.Problems, err)
			}
			if off := math.Abs(a.ContactOnGround/a.Contact - 1); off > 0.08 || a.Contact > 1.5*own.Contact || a.Contact <= own.Contact {
				t.Errorf("%s at %v m: contact is %v m² on the ground and %v along the sections; of its own, %v", scheme.Name, level, a.ContactOnGround, a.Contact, own.Contact)
			}
		}
	}
}

func TestWithoutDrainsThereIsNoRatio(t *testing.T) {
	s := site()
	s.Plan.Features = s.Plan.Features[1:]
	if a, err := Measure(t.Context(), s, 101, Options{}); err != nil || len(a.Problems) != 1 || !strings.Contains(a.Problems[0].Error(), "holds no water") {
		t.Errorf("a channel that opens on a ditch with no drain in it: %v, %v", a.Problems, err)
	}
	a, err := Measure(t.Context(), s, 101, Options{Level: 9.7})
	if err != nil || !math.IsNaN(a.Ratio) || a.Contact <= 0 {
		t.Errorf("the ratio is %v, contact %v (%v)", a.Ratio, a.Contact, err)
	}
	if a, err := Measure(t.Context(), s, plan.AsItIs, Options{}); err != nil || a.Contact != 0 || !math.IsNaN(a.Ratio) {
		t.Errorf("as it is: contact %v, ratio %v (%v)", a.Contact, a.Ratio, err)
	}
}

func TestWhatIsWrongIsSaidAndTheRestMeasured(t *testing.T) {
	s := site()
	add(s, 101, plan.Channel, line(20, 20))
	a, err := Measure(t.Context(), s, 101, Options{})
	if err != nil || len(a.Problems) != 1 || len(a.Channels) != 2 || a.Channels[0].Measure.Contact <= 0 {
		t.Errorf("problems %v, lines %v (%v)", a.Problems, a.Channels, err)
	}
	s.Setting.Soil = "moon dust"
	if _, err := Schemes(t.Context(), s, Options{}); err == nil || !strings.Contains(err.Error(), "moon dust") {
		t.Errorf("an unknown soil: %v", err)
	}
	if _, err := Measure(t.Context(), &plan.Site{Setting: plan.UsualSetting()}, plan.AsItIs, Options{}); err == nil {
		t.Error("a site without ground is measured")
	}
}

func TestAnAccountStopsWhenAsked(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := Measure(ctx, site(), 101, Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}

func TestTheDemoSiteHasSoundAccounts(t *testing.T) {
	s := demo.Site()
	accounts, err := Schemes(t.Context(), &s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range accounts {
		if len(a.Problems) > 0 || math.Abs(a.ContactOnGround/a.Contact-1) > 0.06 {
			t.Errorf("%s: problems %v; contact %v m² along the sections, %v on the ground", a.Name, a.Problems, a.Contact, a.ContactOnGround)
		}
	}
	asIs, winding, trench := accounts[0], accounts[1], accounts[2]
	if !(winding.Contact > trench.Contact && trench.Contact > asIs.Contact) || winding.Fill <= 0 {
		t.Errorf("contact is %v, %v and %v m²; the sill is of %v m³", winding.Contact, trench.Contact, asIs.Contact, winding.Fill)
	}
	if open(winding) || !open(trench) {
		t.Error("the winding channel is said to run out when the drain stops, or the trench is not")
	}
}

// open reports whether a scheme's water is said to stand only while a drain runs.
func open(a Account) bool {
	return slices.ContainsFunc(a.Cautions, func(c caution.Caution) bool { return c.Rule == "open mouth" })
}

// coarse has a trench half a metre wide with steep sides in level ground.
func coarse(cell float64) *plan.Site {
	s := site()
	s.Ground = grid.New[float32](grid.Square(int(40/cell), int(32/cell), 500_000, 4_000_030, cell))
	for i := range s.Ground.V {
		s.Ground.V[i] = 10
	}
	s.Plan.Features = nil
	add(s, 101, plan.Channel, line(10, 15, 30, 19), "bed_width", 0.5, "side_left", 0.5, "side_right", 0.5)
	return s
}

func TestFiguresThatDisagreeAreSaidTo(t *testing.T) {
	a, err := Measure(t.Context(), coarse(2), 101, Options{})
	if err != nil || len(a.Problems) != 1 || a.Problems[0].ID != 1 || !strings.Contains(a.Problems[0].Error(), "cells of 2.00 m are likely too coarse for a bed of 0.50 m") {
		t.Errorf("on cells of 2 m contact is %v and %v m²: %v (%v)", a.Contact, a.ContactOnGround, a.Problems, err)
	}
	if a, err = Measure(t.Context(), coarse(0.1), 101, Options{}); err != nil || len(a.Problems) != 0 {
		t.Errorf("on cells of 0.1 m contact is %v and %v m²: %v (%v)", a.Contact, a.ContactOnGround, a.Problems, err)
	}
	// A drain drawn a metre wider than the ditch that is on the ground.
	s := site()
	s.Plan.Features[0] = s.Plan.Features[0].With("bed_width", plan.Value{Number: 2.6})
	if a, err = Measure(t.Context(), s, plan.AsItIs, Options{}); err != nil || len(a.Problems) != 1 || !strings.Contains(a.Problems[0].Error(), "wider than its ditch") {
		t.Errorf("of a drain drawn too wide contact is %v and %v m²: %v (%v)", a.Contact, a.ContactOnGround, a.Problems, err)
	}
}

func BenchmarkMeasure(b *testing.B) {
	s := demo.Site()
	for b.Loop() {
		if _, err := Measure(context.Background(), &s, s.Plan.Schemes[0].ID, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
