package compare

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"runnel/assets/demo"
	"runnel/geo/plan"
)

func TestTheStageTableOfATrenchIsThatOfItsForm(t *testing.T) {
	s := trench()
	table, err := StageTable(t.Context(), s, 101, 9)
	if err != nil || len(table.Lines) != 1 || table.Why != "" {
		t.Fatalf("%+v, %v", table, err)
	}
	points := table.Scheme
	if len(points) != 9 || len(table.Lines[0].Points) != 9 { // the level in use is the fifth
		t.Fatalf("%d points, of the channel %d", len(points), len(table.Lines[0].Points))
	}
	for i, p := range points {
		contact, surface, volume, edge := prism(p.Level - bed)
		near := func(got, want float64) bool { return math.Abs(got-want) <= 0.005*want }
		if i > 0 && !(near(p.Contact, contact) && near(p.Surface, surface) && near(p.Volume, volume) && near(p.WetEdge, edge) && near(p.Perimeter, contact/long)) {
			t.Errorf("at %.2f m: %+v, want %v, %v, %v and %v", p.Level, p, contact, surface, volume, edge)
		}
		if p.InUse != (math.Abs(p.Level-level) < 1e-9) {
			t.Errorf("%.2f m is in use: %v", p.Level, p.InUse)
		}
		if same := table.Lines[0].Points[i]; same != p && !math.IsNaN(p.Perimeter) {
			t.Errorf("the only channel has %+v, the scheme %+v", same, p)
		}
	}
	if first, last := points[0], points[8]; first.Level != bed || first.Volume != 0 || math.Abs(last.Level-plain) > 1e-6 {
		t.Errorf("it goes from %+v to %+v", first, last)
	}
}

// Over a bed that falls water stands on a part of the line, as long as it is deep
// over the fall.
func TestTheMeanPerimeterIsOfWhatIsWet(t *testing.T) {
	s := trench()
	f := &s.Plan.Features[0]
	*f = f.With("bed_end", plan.Value{Number: bed - 0.3}).With("side_left", plan.Value{}).With("side_right", plan.Value{})
	table, err := StageTable(t.Context(), s, 101, 11)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range table.Scheme[1:] {
		wet := long * min(1, (p.Level-bed+0.3)/0.3)
		if math.Abs(p.Perimeter*wet/p.Contact-1) > 1e-6 {
			t.Errorf("at %.3f m %.2f m² along %.2f m make %.3f m", p.Level, p.Contact, wet, p.Perimeter)
		}
	}
}

// lawful reports what a stage table breaks of what water cannot help: more of it
// touches, covers and holds no less, and a volume grows by the surface on top of it.
func lawful(t *testing.T, name string, points []StagePoint) {
	t.Helper()
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		rise, slack := b.Level-a.Level, 1e-3*b.Surface
		if b.Contact < a.Contact-slack || b.Surface < a.Surface-slack || b.Volume < a.Volume-1e-9 {
			t.Errorf("%s: %+v has less than %+v", name, b, a)
		}
		if grown := b.Volume - a.Volume; grown < rise*(a.Surface-2*slack) || grown > rise*(b.Surface+2*slack) {
			t.Errorf("%s: from %.3f to %.3f m the volume grows by %.4f m³, under surfaces of %.2f and %.2f m²", name, a.Level, b.Level, grown, a.Surface, b.Surface)
		}
		if b.Perimeter < 0 || b.Contact < b.Surface-slack {
			t.Errorf("%s: %+v touches less than its surface", name, b)
		}
	}
}

func TestMoreWaterTouchesAndHoldsNoLess(t *testing.T) {
	whole := demo.Site()
	for _, s := range []*plan.Site{&whole, site(), trench()} {
		for _, scheme := range s.Plan.Schemes {
			table, err := StageTable(t.Context(), s, scheme.ID, 12)
			if err != nil || len(table.Lines) == 0 {
				t.Fatalf("%s: %+v, %v", scheme.Name, table, err)
			}
			lawful(t, scheme.Name, table.Scheme)
			for _, l := range table.Lines {
				lawful(t, l.Title, l.Points)
				used := 0
				for _, p := range l.Points {
					if p.InUse {
						used++
					}
				}
				if used != 1 {
					t.Errorf("%s: %d levels of it are in use", l.Title, used)
				}
			}
		}
	}
}

func TestTheLevelInUseMeasuresAsTheAccountDoes(t *testing.T) {
	s := demo.Site()
	for _, scheme := range s.Plan.Schemes {
		a, _ := Measure(t.Context(), &s, scheme.ID, Options{})
		table, err := StageTable(t.Context(), &s, scheme.ID, 5)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range table.Lines[0].Points {
			m := a.Channels[0].Measure
			if p.InUse && (p.Level != m.Level || p.Contact != m.Contact || p.Volume != m.Volume || p.Perimeter != m.Perimeter()) {
				t.Errorf("%s: in use is %+v, and the account says %+v", scheme.Name, p, m)
			}
		}
	}
}

func TestWhatHoldsNoWaterHasNoStageTableAndSaysSo(t *testing.T) {
	if table, err := StageTable(t.Context(), trench(), plan.AsItIs, 9); err != nil || len(table.Scheme) > 0 || !strings.Contains(table.Why, "no channel") {
		t.Errorf("the site as it is has the table %+v (%v)", table, err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := StageTable(ctx, trench(), 101, 9); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}

func TestThePlotAndThePerimeterAreInTheAccount(t *testing.T) {
	s := trench()
	a, err := Measure(t.Context(), s, 101, Options{})
	if err != nil || !math.IsNaN(a.PlotRatio) || math.Abs(a.Perimeter-a.Contact/long) > 1e-9 {
		t.Errorf("with no boundary the ratio is %v; the perimeter %v (%v)", a.PlotRatio, a.Perimeter, err)
	}
	for _, west := range []float64{0, 20} {
		l := line(west, 0, west+20, 0, west+20, 12, west, 12, west, 0)
		add(s, 0, plan.Boundary, polygon(l))
	}
	if a, err = Measure(t.Context(), s, 101, Options{}); err != nil || math.Abs(a.PlotRatio*480/a.Contact-1) > 1e-9 {
		t.Errorf("of two plots of 240 m² the ratio is %v, of %v m² (%v)", a.PlotRatio, a.Contact, err)
	}
}

// A sill half way along holds the upper pool at its crest, above the level that is set
// for the lower: the row in use is the network as it stands, and lower water leaves the
// upper pool as it is.
func TestPoolsAboveSillsStandAsTheyDoInUse(t *testing.T) {
	s := trench()
	add(s, 101, plan.Sill, line(5+long/2, 2, 5+long/2, 10), "crest", level+0.2)
	a, err := Measure(t.Context(), s, 101, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if pools := a.Network.Pools(1); len(pools) != 2 || math.Abs(pools[0].Level-level-0.2) > 1e-9 || math.Abs(pools[1].Level-level) > 1e-9 {
		t.Fatalf("the pools are %+v", pools)
	}
	table, err := StageTable(t.Context(), s, 101, 9)
	if err != nil {
		t.Fatal(err)
	}
	used := 0
	for i, p := range table.Scheme {
		if i > 0 && !(p.Contact >= table.Scheme[i-1].Contact && p.Volume > table.Scheme[i-1].Volume) {
			t.Errorf("%+v has less than %+v", p, table.Scheme[i-1])
		}
		if p.InUse {
			used++
			if p.Contact != a.Contact || p.Volume != a.Storage || p.Surface != a.Surface || p.WetEdge != a.WetBank {
				t.Errorf("in use is %+v; the account has %v m² and %v m³", p, a.Contact, a.Storage)
			}
		}
		if p.Level >= level+0.2 && math.Abs(p.Contact/contactTo(p.Level)-1) > 0.005 {
			t.Errorf("above the sill %+v touches no %v m²", p, contactTo(p.Level))
		}
	}
	if used != 1 || !(table.Scheme[0].Volume > 0.3*a.Storage) {
		t.Errorf("%d levels are in use; with the lower pool dry it is %+v", used, table.Scheme[0])
	}
}

func contactTo(level float64) float64 {
	contact, _, _, _ := prism(level - bed)
	return contact
}

func TestWaterThatFlowsHasNoLevelInUse(t *testing.T) {
	s := trench()
	s.Plan.Features[0] = s.Plan.Features[0].With("flow", plan.Value{Number: 40})
	add(s, 101, plan.Spillway, line(5+long, 6)[0], "crest", level, "width", 1.0)
	table, err := StageTable(t.Context(), s, 101, 9)
	if err != nil || len(table.Notes) != 1 || !strings.HasPrefix(table.Notes[0], "Channel 1 is measured as it flows") {
		t.Fatalf("it says %q, %q, %v", table.Notes, table.Why, err)
	}
	for _, p := range table.Scheme {
		if p.InUse {
			t.Errorf("%+v is in use", p)
		}
	}
}
