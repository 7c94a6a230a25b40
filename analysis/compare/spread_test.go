package compare

import (
	"context"
	"errors"
	"math"
	"testing"

	"runnel/assets/demo"
	"runnel/geo"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A straight level channel of trapezoid section in a level plain, with levels that
// are typed in.
const (
	plain, bed, level = 10.0, 9.2, 9.6 // [m]
	wide, side, long  = 1.0, 2.0, 30.0 // [m], [H:V], [m]
)

func trench() *plan.Site {
	g := grid.New[float32](grid.Square(400, 120, 500_000, 4_000_012, 0.1))
	for i := range g.V {
		g.V[i] = plain
	}
	s := &plan.Site{Ground: g, Setting: plan.UsualSetting()}
	s.Plan.Schemes = []plan.Scheme{{ID: 101, Name: "Trench"}}
	add(s, 101, plan.Channel, line(5, 6, 5+long, 6), "bed_width", wide, "side_left", side, "side_right", side,
		"bed_start", bed, "bed_end", bed, "water_level", level)
	return s
}

// prism returns what a channel of that form touches, covers and holds to a depth d
// above its bed, and the length of its edge: a prism, and a frustum of a cone for the
// half rounds at its two ends.
func prism(d float64) (contact, surface, volume, edge float64) {
	r, out := wide/2, wide/2+side*d
	contact = long*(wide+2*d*math.Hypot(1, side)) + math.Pi*r*r + math.Pi*(out*out-r*r)*math.Hypot(1, side)/side
	surface = long*2*out + math.Pi*out*out
	volume = long*(wide*d+side*d*d) + math.Pi*d/3*(r*r+r*out+out*out)
	return contact, surface, volume, 2*long + 2*math.Pi*out
}

func TestTheRangesOfAStraightTrenchAreThoseOfItsForm(t *testing.T) {
	const off = 0.1
	s := trench()
	s.Setting.SurveyError = off
	a, err := Measure(t.Context(), s, 101, Options{})
	if err != nil || len(a.Problems) > 0 {
		t.Fatal(err, a.Problems)
	}
	got, err := SpreadOf(t.Context(), s, &a)
	if err != nil {
		t.Fatal(err)
	}
	at := func(d float64) (r [4]float64) { r[0], r[1], r[2], r[3] = prism(d); return r }
	low, likely, high := at(level-bed-off), at(level-bed), at(level-bed+off)
	_, _, shallow, _ := prism(plain - off - bed)
	_, _, dug, _ := prism(plain - bed)
	_, _, deep, _ := prism(plain + off - bed)
	for _, c := range []struct {
		name      string
		got, want geo.Range
	}{
		{"contact", got.Contact, geo.Range{Low: low[0], Likely: likely[0], High: high[0]}},
		{"surface", got.Surface, geo.Range{Low: low[1], Likely: likely[1], High: high[1]}},
		{"storage", got.Storage, geo.Range{Low: low[2], Likely: likely[2], High: high[2]}},
		{"wet bank", got.WetBank, geo.Range{Low: low[3], Likely: likely[3], High: high[3]}},
		{"depth", got.Depth, geo.Range{Low: level - bed - off, Likely: level - bed, High: level - bed + off}},
		{"cut", got.Cut, geo.Range{Low: shallow, Likely: dug, High: deep}},
		{"fill", got.Fill, geo.Range{}},
	} {
		for _, v := range [][2]float64{{c.got.Low, c.want.Low}, {c.got.Likely, c.want.Likely}, {c.got.High, c.want.High}} {
			if math.Abs(v[0]-v[1]) > 0.01*v[1]+1e-9 {
				t.Errorf("%s is %v, want %v", c.name, c.got, c.want)
			}
		}
	}
}

func TestALargerSurveyErrorNeverNarrowsARange(t *testing.T) {
	sites := map[string]*plan.Site{"a trench": trench(), "a ditch and an island": site()}
	whole := demo.Site()
	sites["the demo site"] = &whole
	for name, s := range sites {
		for _, id := range append([]plan.Scheme{{}}, s.Plan.Schemes...) {
			s.Setting.SurveyError = 0
			a, err := Measure(t.Context(), s, id.ID, Options{})
			if err != nil {
				t.Fatal(err)
			}
			before, err := SpreadOf(t.Context(), s, &a)
			if err != nil {
				t.Fatal(err)
			}
			for _, off := range []float64{0.01, 0.03, 0.1} {
				s.Setting.SurveyError = off
				now, err := SpreadOf(t.Context(), s, &a)
				if err != nil {
					t.Fatal(err)
				}
				for i, r := range now.all() {
					was := before.all()[i]
					// The steps in which the sections are measured show in the fourth figure.
					if slack := 1e-3 * r.Likely; r.Low > was.Low+slack || r.High < was.High-slack || r.Check() != nil {
						t.Errorf("%s, %s: figure %d goes from %v to %v at an error of %v m", name, a.Name, i, was, r, off)
					}
				}
				before = now
			}
			if a.Contact > 0 && before.Contact.High <= before.Contact.Low {
				t.Errorf("%s, %s: contact has no range: %v", name, a.Name, before.Contact)
			}
		}
	}
}

func (p Spread) all() []geo.Range {
	return []geo.Range{p.Contact, p.WetBank, p.Surface, p.Depth, p.Storage, p.Cut, p.Fill}
}

func TestWithoutASurveyErrorTheTwoWaysToMeasureAreTheRange(t *testing.T) {
	s := site()
	s.Setting.SurveyError = 0
	a, _ := Measure(t.Context(), s, 102, Options{})
	got, err := SpreadOf(t.Context(), s, &a)
	low, high := min(a.Contact, a.ContactOnGround), max(a.Contact, a.ContactOnGround)
	if err != nil || got.Contact.Low != low || got.Contact.High != high || got.Depth.Low != got.Depth.High {
		t.Errorf("%+v (%v)", got, err)
	}
}

func TestASpreadStopsWhenAsked(t *testing.T) {
	s := site()
	a, _ := Measure(t.Context(), s, 101, Options{})
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := SpreadOf(ctx, s, &a); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}
