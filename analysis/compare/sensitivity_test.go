package compare

import (
	"math"
	"strings"
	"testing"

	"runnel/assets/demo"
	"runnel/geo/plan"
)

func sensitivityOf(t *testing.T, s *plan.Site, scheme plan.SchemeID) map[Lever]SensitivityRow {
	t.Helper()
	a, err := Measure(t.Context(), s, scheme, Options{})
	if err != nil {
		t.Fatal(err)
	}
	got, err := SensitivityOf(t.Context(), s, &a)
	if err != nil || got.Why != "" || len(got.Rows) != 3 {
		t.Fatalf("%+v, %v", got, err)
	}
	rows := map[Lever]SensitivityRow{}
	for i, r := range got.Rows {
		rows[r.Lever] = r
		if i > 0 && !(r.PerDig <= got.Rows[i-1].PerDig) {
			t.Errorf("%v stands behind %v", r, got.Rows[i-1])
		}
		if r.PerDig != r.Contact/r.Dig {
			t.Errorf("%+v does not come out", r)
		}
	}
	return rows
}

// The derivatives of prism: per metre of bed a straight prismatic channel touches its
// length more and digs its length times its depth more, and so on, with what the half
// rounds at its ends add.
func TestTheSensitivityOfATrenchIsThatOfItsForm(t *testing.T) {
	rows := sensitivityOf(t, trench(), 101)
	const y, deep, r, slant = level - bed, plain - bed, wide / 2, 2.23606797749979
	out := func(d float64) float64 { return r + side*d }
	for lever, want := range map[Lever][2]float64{
		Longer: {wide + 2*y*slant, wide*deep + side*deep*deep},
		Wider:  {long + math.Pi*(r+y*slant), long*deep + math.Pi*deep*(r+out(deep))/2},
		Deeper: {long*2*slant + 2*math.Pi*slant*out(y), long*2*out(deep) + math.Pi*out(deep)*out(deep)},
	} {
		got := rows[lever]
		if math.Abs(got.Contact/want[0]-1) > 0.01 || math.Abs(got.Dig/want[1]-1) > 0.01 {
			t.Errorf("%s buys %v m² and costs %v m³ a metre, want %v", lever, got.Contact, got.Dig, want)
		}
		if math.Abs(got.Level) > 1e-9 || got.Note() != "the water's level stays" {
			t.Errorf("%s moves the water: %+v, %s", lever, got, got.Note())
		}
	}
}

// In ground that falls along the line no level is set, so that the lowest bank, at
// the far end, holds the water: carried on it comes to a lower one.
func TestWaterThatItsBankHoldsFollowsALongerChannelDown(t *testing.T) {
	s := plainSite()
	for i := range s.Ground.V {
		s.Ground.V[i] -= float32(0.03*s.Ground.Centre(i%s.Ground.W, i/s.Ground.W)[0] - 15000)
	}
	add(s, 101, plan.Channel, line(5, 10, 35, 10), "bed_start", 8.5, "bed_end", 8.5)
	rows := sensitivityOf(t, s, 101)
	if r := rows[Longer]; math.Abs(r.Level+0.03) > 0.006 || !strings.Contains(r.Note(), "falls") {
		t.Errorf("%+v: %s", r, r.Note())
	}
}

func TestAtALimitOneStepIsTakenAlone(t *testing.T) {
	s := trench()
	s.Plan.Features[0] = s.Plan.Features[0].With("bed_width", plan.Value{Number: 0.05})
	least, _ := bedWidths()
	if least != 0.05 {
		t.Fatalf("the narrowest bed is %v m", least)
	}
	if r := sensitivityOf(t, s, 101)[Wider]; math.Abs(r.Contact/(long+math.Pi*(0.05+0.4*math.Sqrt(5)))-1) > 0.02 {
		t.Errorf("%+v", r)
	}
}

func TestWithNoWaterThereIsNoSensitivityAndItIsSaid(t *testing.T) {
	s := trench()
	a, _ := Measure(t.Context(), s, plan.AsItIs, Options{})
	if got, err := SensitivityOf(t.Context(), s, &a); err != nil || len(got.Rows) > 0 || !strings.Contains(got.Why, "no channel") {
		t.Errorf("as it is: %+v, %v", got, err)
	}
	s.Plan.Features[0] = s.Plan.Features[0].With("water_level", plan.Value{Number: bed - 1})
	a, _ = Measure(t.Context(), s, 101, Options{})
	if got, err := SensitivityOf(t.Context(), s, &a); err != nil || len(got.Rows) > 0 || !strings.Contains(got.Why, "holds water") {
		t.Errorf("dry: %+v, %v", got, err)
	}
	if g, err := GainOf(t.Context(), s, &a); err != nil || !strings.Contains(g.Why, "holds no water") {
		t.Errorf("dry: %+v, %v", g, err)
	}
}

func TestTheSensitivityOfTheDemoIsTheSameTwice(t *testing.T) {
	s := demo.Site()
	for _, scheme := range s.Plan.Schemes {
		first, second := sensitivityOf(t, &s, scheme.ID), sensitivityOf(t, &s, scheme.ID)
		for lever, r := range first {
			if r != second[lever] {
				t.Errorf("%s: %+v, and then %+v", scheme.Name, r, second[lever])
			}
			if !(r.Contact > 0 && r.Dig > 0) {
				t.Errorf("%s: %+v", scheme.Name, r)
			}
		}
	}
}

// The island of the winding scheme stands in arms: its rate is the difference that
// widening the bed and both arms by hand makes.
func TestTheArmsOfIslandsAreWidenedWithTheBeds(t *testing.T) {
	contactOf := func(by float64) float64 {
		s := site()
		for i, f := range s.Plan.Features {
			name := map[plan.Kind]string{plan.Channel: "bed_width", plan.Island: "arm_width"}[f.Kind]
			if f.Scheme == 102 && name != "" {
				s.Plan.Features[i] = f.With(name, plan.Value{Number: f.Num(name) + by})
			}
		}
		a, err := Measure(t.Context(), s, 102, Options{})
		if err != nil {
			t.Fatal(err)
		}
		return a.Contact
	}
	const by = 0.05
	want := (contactOf(by) - contactOf(-by)) / (2 * by)
	r := sensitivityOf(t, site(), 102)[Wider]
	if !r.Arms || math.Abs(r.Contact-want) > 1e-6 {
		t.Errorf("%+v, want %v m²", r, want)
	}
	if sensitivityOf(t, trench(), 101)[Wider].Arms {
		t.Error("a channel without islands has arms")
	}
}
