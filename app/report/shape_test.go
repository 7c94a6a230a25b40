package report

import (
	"math"
	"strings"
	"testing"

	"runnel/analysis/channel"
	"runnel/analysis/compare"
	"runnel/analysis/earthwork"
	"runnel/analysis/hydraulics"
	"runnel/geo"
)

func written(s Shape) string {
	var b strings.Builder
	writeShape(&b, SchemeFigures{Scheme: "Winding", Shape: s.Figures()})
	return b.String()
}

func TestTheShapeIsToldWithItsUnits(t *testing.T) {
	led := func(contact, dug float64) compare.Led {
		return compare.Led{Contact: contact, WetEdge: 30, Storage: 5, Length: 20, Dug: dug, BedWidth: 0.6}
	}
	running := hydraulics.Result{
		Inflows: []hydraulics.Inflow{{Flow: 0.0021, Offered: 0.004, From: "The drain carries 4.0 L/s."}},
		Reaches: []hydraulics.Reach{{Title: "Brook", Stations: []hydraulics.Station{
			{Velocity: 0.2, Freeboard: 0.3, Chainage: 1}, {Velocity: -0.31, Freeboard: 0.12, Chainage: 2}, {Velocity: math.NaN(), Freeboard: math.NaN()}}}},
		Findings: []hydraulics.Finding{{Text: "Brook runs fast", Source: "Chow 1959"}},
	}
	s := Shape{
		Gain: compare.Gain{Winding: led(50, 12), Straight: led(40, 10), Equal: led(44, 12), Contact: 6, Share: 6. / 44, Ratio: 1.25, Notes: []string{"A ring is left out."}},
		Sensitivity: compare.Sensitivity{Held: compare.HeldByDrain, Rows: []compare.SensitivityRow{
			{Lever: compare.Wider, Contact: 20, Dig: 8, PerDig: 2.5, Arms: true}, {Lever: compare.Deeper, Contact: 90, Dig: 60, PerDig: 1.5}, {Lever: compare.Longer, Contact: 2, PerDig: math.NaN()}}},
		Earth:    earthwork.Earth{AverageEnd: earthwork.Volumes{Cut: 12.34}, Sills: earthwork.Volumes{Cut: -0.53, Fill: 1.31}},
		Barriers: []channel.Barrier{{Title: "Islet", Closed: true, Narrowest: 1.2, Shallowest: 0.25}, {Title: "Open islet"}},
		Dry:      []geo.Range{{Low: 305, Likely: 335, High: 351}, {Low: 305, Likely: 335, High: 351}},
		Flow:     running,
	}
	out := written(s)
	for _, want := range []string{
		"What the shape buys, Winding", "winding   straight as drawn   straight, same dig", "contact area of the channels [m²]",
		"The winding itself buys 6.0 m² (14 %) of contact", "A ring is left out.", "2.50", "bed width, islands' arms too", "–", "the drain holds it", "12.3",
		"Islet", "1.20", "stands dry [days a year]", "305–351, likely 335", "0.5 m³ less cut, 1.3 m³ more fill", "let in [L/s]", "2.1", "0.31", "0.12", "The drain carries 4.0 L/s.", "As the drains run: Brook runs fast (Chow 1959).",
	} {
		if !strings.Contains(out, want) {
			t.Errorf("it does not say %q:\n%s", want, out)
		}
	}
	moving(t, s)
	if f := s.Figures().Barriers; f[0].Dry == nil || f[0].Dry.Likely != 335 || f[1].Dry != nil {
		t.Errorf("the barriers are %+v", f)
	}
	if f := s.Figures(); f.Flow.Fastest.Channel != "Brook" || f.Flow.Fastest.Chainage != 2 || f.Flow.Freeboard.Value != 0.12 || f.FlowFull.Inflow.known() {
		t.Errorf("%+v, %+v", f.Flow, f.FlowFull)
	}
}

// moving checks that the water's level has a column where it moves, and there alone.
func moving(t *testing.T, s Shape) {
	t.Helper()
	const level = "water level rises by [m]"
	if out := written(s); strings.Contains(out, level) {
		t.Errorf("water that stays has a column:\n%s", out)
	}
	s.Sensitivity.Rows[1].Level = -0.75
	if out := written(s); !strings.Contains(out, level) || !strings.Contains(out, "-0.75") {
		t.Errorf("water that falls has no column:\n%s", out)
	}
}

func TestWhatIsWithheldIsADashWithItsReason(t *testing.T) {
	out := written(Shape{
		Gain:        compare.Gain{Why: "Moat is a ring, and a ring has no straight", Ratio: math.NaN(), Contact: math.NaN(), Share: math.NaN()},
		Sensitivity: compare.Sensitivity{Why: "no channel of the scheme holds water"},
	})
	for _, want := range []string{"is not told: Moat is a ring, and a ring has no straight.", "is not told: no channel of the scheme holds water.", "–"} {
		if !strings.Contains(out, want) {
			t.Errorf("it does not say %q:\n%s", want, out)
		}
	}
	if strings.Contains(out, "NaN") || strings.Contains(out, "One more metre of") {
		t.Error(out)
	}
}

func TestEachPoolOfAChannelIsListed(t *testing.T) {
	one := ChannelFigures{Name: "Pond"}
	two := ChannelFigures{Name: "Brook", Pools: []PoolFigures{{0, 12.5, 10.2}, {12.5, 30, 9.8}}}
	var b strings.Builder
	writePools(&b, []ChannelFigures{one, two})
	const want = "  Brook: the pool from 0.0 m to 12.5 m along it stands at 10.20 m.\n  Brook: the pool from 12.5 m to 30.0 m along it stands at 9.80 m.\n"
	if b.String() != want {
		t.Errorf("it says\n%s", &b)
	}
}
