package plan

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

var square = orb.Polygon{{{0, 0}, {4, 0}, {4, 4}, {0, 4}, {0, 0}}}

func TestEveryKindIsSpecifiedInItsPlace(t *testing.T) {
	names := map[string]bool{}
	for i, s := range Specs() {
		if int(s.Kind) != i+1 || SpecOf(s.Kind).Name != s.Name {
			t.Errorf("%s stands at the wrong place of the list", s.Name)
		}
		if k, ok := KindNamed(s.Name); !ok || k != s.Kind || names[s.Name] {
			t.Errorf("%s is not found by its name alone", s.Name)
		}
		names[s.Name] = true
		if s.InScheme != (s.Kind >= Channel) {
			t.Errorf("%s: wrong side of what is there and what is designed", s.Name)
		}
		for _, f := range s.Fields {
			if f.Type == Number && !f.Optional && f.Check(Value{Number: f.Usual}) != nil {
				t.Errorf("%s: the usual %s is out of its own limits", s.Name, f.Name)
			}
			if f.Type == Choice && len(f.Of) < 2 {
				t.Errorf("%s: %s is no choice", s.Name, f.Name)
			}
		}
	}
}

func TestFieldsFallBackToTheirUsualValue(t *testing.T) {
	f := Feature{ID: 7, Kind: Channel}
	if got := f.Num("bed_width"); got != 0.6 {
		t.Errorf("bed width is %v, want the usual 0.6", got)
	}
	if got := f.Num("water_level"); !math.IsNaN(got) {
		t.Errorf("water level is %v, want NaN", got)
	}
	g := f.With("water_level", Value{Number: 84.2})
	if g.Num("water_level") != 84.2 || len(f.Fields) != 0 {
		t.Error("setting a field of a copy touched the feature, or did nothing")
	}
	if h := g.Without("water_level"); !math.IsNaN(h.Num("water_level")) || g.Num("water_level") != 84.2 {
		t.Error("unsetting a field of a copy touched the feature, or did nothing")
	}
	if got := (Feature{Kind: Paving}).Text("use"); got != "street" {
		t.Errorf("use is %q, want the first choice", got)
	}
}

func TestTypedValues(t *testing.T) {
	width := Feature{Kind: Channel}.field("bed_width")
	for typed, want := range map[string]float64{"0.75": 0.75, " 1,2 ": 1.2, "5e-1": 0.5} {
		if v, ok, err := width.Parse(typed); err != nil || !ok || v.Number != want {
			t.Errorf("%q is %v, %v, %v; want %v", typed, v.Number, ok, err, want)
		}
	}
	for _, typed := range []string{"", "wide", "NaN", "-1", "0", "1e9", "Inf"} {
		if _, _, err := width.Parse(typed); err == nil {
			t.Errorf("a bed width of %q is taken", typed)
		}
	}
	level := Feature{Kind: Channel}.field("bed_start")
	if _, ok, err := level.Parse(""); ok || err != nil {
		t.Errorf("an optional level left empty: %v, %v", ok, err)
	}
	use := SpecOf(Paving).Fields[1]
	if _, _, err := use.Parse("moat"); err == nil || !strings.Contains(err.Error(), "street") {
		t.Errorf("a wrong choice: %v; want the right ones named", err)
	}
}

func TestFormattedValuesParseBack(t *testing.T) {
	field := Field{Name: "level", Label: "Level", Low: -1e4, High: 1e4}
	rapid.Check(t, func(t *rapid.T) {
		v := Value{Number: rapid.Float64Range(-1e4, 1e4).Draw(t, "v")}
		if got, _, err := field.Parse(field.Format(v)); err != nil || got != v {
			t.Fatalf("%v came back as %v (%v)", v, got, err)
		}
	})
}

func TestBadFeaturesAreReportedInWords(t *testing.T) {
	nan := math.NaN()
	for name, c := range map[string]struct {
		feature Feature
		want    string
	}{
		"a channel of one point":    {Feature{Kind: Channel, Geometry: orb.LineString{{1, 1}}}, "two points"},
		"a channel of no length":    {Feature{Kind: Channel, Geometry: orb.LineString{{1, 1}, {1, 1}}}, "two points"},
		"a channel of zero width":   {Feature{Kind: Channel, Geometry: orb.LineString{{0, 0}, {1, 1}}, Fields: map[string]Value{"bed_width": {}}}, "bed width is 0"},
		"a NaN coordinate":          {Feature{Kind: Path, Geometry: orb.LineString{{0, 0}, {nan, 1}}}, "point 2"},
		"an infinite coordinate":    {Feature{Kind: Well, Geometry: orb.Point{math.Inf(1), 1}}, "not a number"},
		"an open ring":              {Feature{Kind: Island, Geometry: orb.Polygon{{{0, 0}, {4, 0}, {4, 4}, {0, 4}}}}, "open"},
		"a ring that crosses":       {Feature{Kind: Island, Geometry: orb.Polygon{{{0, 0}, {4, 4}, {4, 0}, {0, 3}, {0, 0}}}}, "crosses"},
		"a bow tie of no net area":  {Feature{Kind: Island, Geometry: orb.Polygon{{{0, 0}, {4, 4}, {4, 0}, {0, 4}, {0, 0}}}}, "crosses"},
		"a ring with no area":       {Feature{Kind: Roof, Geometry: orb.Polygon{{{0, 0}, {4, 4}, {8, 8}, {0, 0}}}}, "encloses nothing"},
		"an area with no ring":      {Feature{Kind: Roof, Geometry: orb.Polygon{}}, "no outline"},
		"a hole outside its area":   {Feature{Kind: Roof, Geometry: orb.Polygon{square[0], {{9, 9}, {10, 9}, {10, 10}, {9, 9}}}}, "holes"},
		"a roof drawn as a line":    {Feature{Kind: Roof, Geometry: orb.LineString{{0, 0}, {1, 1}}}, "draw it as an area"},
		"a feature with no drawing": {Feature{Kind: Well}, "no geometry"},
		"a kind that is not known":  {Feature{Kind: 99, Geometry: orb.Point{}}, "no known kind"},
	} {
		err := Check(c.feature)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v; want a sentence with %q", name, err, c.want)
		}
	}
	for _, good := range []Feature{
		{Kind: Island, Geometry: square},
		{Kind: Channel, Geometry: orb.LineString{{0, 0}, {1, 1}, {0, 2}, {0, 0}}},
		{Kind: Well, Geometry: orb.Point{1, 2}},
	} {
		if err := Check(good); err != nil {
			t.Error(err)
		}
	}
}

func TestPlansListWhatStandsInAScheme(t *testing.T) {
	var p Plan
	a, b := SchemeID(p.NextID()), SchemeID(p.NextID())
	p.Schemes = []Scheme{{a, "Winding"}, {b, "Straight"}}
	for _, f := range []Feature{{Kind: Roof}, {Kind: Channel, Scheme: a}, {Kind: Channel, Scheme: b}, {Kind: Path, Scheme: a}} {
		f.ID = ID(p.NextID())
		p.Features = append(p.Features, f)
	}
	if got := len(p.In(a)); got != 3 {
		t.Errorf("scheme A has %d features, want its two and the roof", got)
	}
	if got := p.Of(Channel, b); len(got) != 1 || got[0].Scheme != b {
		t.Errorf("scheme B has channels %v", got)
	}
	if got := len(p.In(AsItIs)); got != 1 {
		t.Errorf("as it is has %d features, want the roof", got)
	}
	if s, err := p.SchemeNamed(" winding"); err != nil || s.ID != a {
		t.Errorf("found %v, %v", s, err)
	}
	if _, err := p.SchemeNamed("third"); err == nil || !strings.Contains(err.Error(), "Winding, Straight") {
		t.Errorf("a wrong scheme: %v; want the right ones named", err)
	}
	clone := p.Clone()
	clone.Features[0].Name = "changed"
	if p.Features[0].Name != "" {
		t.Error("a clone shares its list")
	}
}

// A field that another field makes count counts only where that says so.
func TestFieldsCountWhereTheyAreNeeded(t *testing.T) {
	c := Feature{Kind: Channel}
	graded := c.With("bed", Value{Text: "at a grade"})
	for _, try := range []struct {
		f     Feature
		field string
		want  bool
	}{
		{c, "bed_start", true}, {c, "bed_end", true}, {c, "grade", false}, {c, "bank_width", false},
		{graded, "bed_end", false}, {graded, "grade", true},
		{c.With("bank_top", Value{Number: 12}), "bank_width", true},
	} {
		if got := try.f.field(try.field).Counts(try.f); got != try.want {
			t.Errorf("%s of %v counts: %v, want %v", try.field, try.f.Fields, got, try.want)
		}
	}
	for _, spec := range Specs() {
		for _, f := range spec.Fields {
			if f.Needs.Field != "" {
				f.Counts(Feature{Kind: spec.Kind}) // panics where the kind has no such field
			}
		}
	}
}
