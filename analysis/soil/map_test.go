package soil

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"runnel/geo"
	"runnel/geo/plan"
)

func TestLayersAreRead(t *testing.T) {
	layers, err := ParseLayers("0.3 loam; 0,9 m Clay loam;clay")
	if err != nil || len(layers) != 3 || layers[0].Name != "loam" || layers[1].Name != "clay loam" || layers[1].To != 0.9 || !math.IsInf(layers[2].To, 1) {
		t.Errorf("%v (%v)", layers, err)
	}
	if layers, err := ParseLayers("0.3 loam; 0.9 sand"); err != nil || !math.IsInf(layers[1].To, 1) {
		t.Errorf("the last layer ends at %v (%v), want it to go on", layers, err)
	}
	if layers, err := ParseLayers(" "); err != nil && layers != nil {
		t.Errorf("%v (%v)", layers, err)
	}
	for text, want := range map[string]string{
		"0.3 moon dust":       `layer 1: the soil "moon dust" is not in the table`,
		"loam; clay":          "layer 1 has no depth",
		"0.5 loam; 0.3 clay":  "layer 2 ends no deeper",
		"0 loam; clay":        "layer 1 ends no deeper",
		"-1 loam; clay":       "layer 1 ends no deeper",
		"NaN loam; clay":      "layer 1 ends no deeper",
		"0.3 loam; 0.5; clay": `layer 2: the soil "0.5"`,
	} {
		if layers, err := ParseLayers(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q is read as %v (%v), want %q", text, layers, err, want)
		}
	}
}

// By arithmetic: the metre below 0.2 m has 0.1 m of loam, 0.6 m of clay loam, 0.3 m of clay.
func TestLayersLieOneAfterTheOther(t *testing.T) {
	layers, _ := ParseLayers("0.3 loam; 0.9 clay loam; clay")
	k := func(i int) float64 { return layers[i].Ksat.Likely }
	if got, want := down(layers, 0.2).Likely, 1/(0.1/k(0)+0.6/k(1)+0.3/k(2)); !near(got, want, 1e-12) {
		t.Errorf("%g mm/h, want %g", got, want)
	}
	if got := down(layers, 5); !near(got.Likely, k(2), 1e-12) {
		t.Errorf("below them all %g mm/h, want that of clay", got.Likely)
	}
	rapid.Check(t, func(t *rapid.T) {
		all, depth := []Layer{}, 0.0
		low, high := math.Inf(1), 0.0
		for _, class := range rapid.SliceOfN(rapid.SampledFrom(Textures()), 1, 5).Draw(t, "textures") {
			depth += rapid.Float64Range(0.01, 0.8).Draw(t, "thick")
			all = append(all, Layer{depth, class})
			low, high = min(low, class.Ksat.Likely), max(high, class.Ksat.Likely)
		}
		all[len(all)-1].To = math.Inf(1)
		got := down(all, rapid.Float64Range(0, 3).Draw(t, "depth"))
		if got.Check() != nil || got.Likely < low*(1-1e-12) || got.Likely > high*(1+1e-12) {
			t.Fatalf("%v comes to %v", all, got)
		}
	})
}

// A drawing is a site with loam all over, and what is drawn on it.
type drawing struct{ plan.Site }

func newDrawing() *drawing {
	d := &drawing{}
	d.Setting = plan.UsualSetting()
	return d
}

func (d *drawing) draw(kind plan.Kind, g orb.Geometry, fields map[string]plan.Value) {
	f := plan.Feature{ID: plan.ID(d.Plan.NextID()), Kind: kind, Geometry: g, Fields: fields}
	d.Plan.Features = append(d.Plan.Features, f)
}

// zone draws a square zone from one corner.
func (d *drawing) zone(corner orb.Point, side float64, fields map[string]plan.Value) {
	x, y := corner[0], corner[1]
	d.draw(plan.SoilZone, orb.Polygon{{{x, y}, {x + side, y}, {x + side, y + side}, {x, y + side}, {x, y}}}, fields)
}

// hole draws a falling-head test in a hole of 4 cm radius in which water falls from 90 cm in an hour.
func (d *drawing) hole(at orb.Point, to string) {
	d.draw(plan.SoilTest, at, map[string]plan.Value{"radius": {Number: 0.04}, "readings": {Text: "0 0.9; 60 " + to}})
}

func textured(text string) map[string]plan.Value {
	return map[string]plan.Value{"texture": {Text: text}}
}

func TestAMapOfSoils(t *testing.T) {
	d := newDrawing()
	d.zone(orb.Point{0, 0}, 10, textured("sand"))
	d.zone(orb.Point{5, 5}, 10, textured("clay"))
	d.zone(orb.Point{20, 0}, 10, map[string]plan.Value{"texture": {Text: "silt loam"}, "k_low": {Number: 2}, "k_likely": {Number: 4}, "k_high": {Number: 9}})
	d.zone(orb.Point{40, 0}, 10, map[string]plan.Value{"texture": {Text: "loam"}, "layers": {Text: "0.3 loam; clay"}})
	m, problems := NewMap(&d.Site)
	if len(problems) > 0 {
		t.Error(problems)
	}
	loam, _ := TextureNamed("loam")
	clay, _ := TextureNamed("clay")
	silt, _ := TextureNamed("silt loam")
	if got := m.At(orb.Point{-5, 0}, 0.3); got.Name != "loam" || got.Ksat != loam.Ksat || got.Suction != loam.Suction || !near(got.Deficit, 0.193, 1e-9) || got.Group != GroupC {
		t.Errorf("outside all zones: %+v", got)
	}
	if got := m.At(orb.Point{2, 2}, 0); got.Name != "sand" || got.Group != GroupA {
		t.Errorf("in the sand: %+v", got)
	}
	if got := m.At(orb.Point{7, 7}, 0); got.Name != "clay" {
		t.Errorf("where zones overlap: %+v, want the later drawn", got)
	}
	if got := m.At(orb.Point{25, 5}, 0); got.Ksat != (geo.Range{Low: 2, Likely: 4, High: 9}) || got.Suction != silt.Suction || got.Group != GroupC {
		t.Errorf("where figures are typed: %+v", got)
	}
	top, below := m.At(orb.Point{45, 5}, 0), m.At(orb.Point{45, 5}, 0.5)
	if top.Name != "loam" || below.Name != "clay" || !near(below.Ksat.Likely, clay.Ksat.Likely, 1e-9) || !(top.Ksat.Likely < loam.Ksat.Likely) || top.Group != GroupD || below.Group != GroupD {
		t.Errorf("layers: %+v above %+v", top, below)
	}
}

func TestTestsSetTheSoilOfTheirZone(t *testing.T) {
	d := newDrawing()
	d.zone(orb.Point{0, 0}, 10, textured("as tested"))
	d.hole(orb.Point{5, 5}, "0.7") // 4.90 mm/h
	d.hole(orb.Point{6, 5}, "0.7")
	d.hole(orb.Point{-5, 5}, "0.5")
	m, problems := NewMap(&d.Site)
	if len(problems) > 0 {
		t.Error(problems)
	}
	loam, _ := TextureNamed("loam")
	if got := m.At(orb.Point{1, 1}, 0.5); !near(got.Ksat.Likely, 4.90, 0.01) || got.Suction != loam.Suction || got.Source != "2 soil tests on the site" || got.Group != GroupC {
		t.Errorf("in the zone: %+v", got)
	}
	alone := Spread([]float64{1000 * 0.02 * math.Log(0.92/0.52)})
	if got := m.At(orb.Point{50, 50}, 0.5); got.Ksat != alone || got.Name != "loam" || got.Source != "one soil test on the site" {
		t.Errorf("outside: %+v, want %v of the test there", got, alone)
	}
}

func TestSoilThatSaysNothingIsWithheld(t *testing.T) {
	type fields = map[string]plan.Value
	for name, c := range map[string]struct {
		draw     func(*drawing)
		want     string
		withheld bool
	}{
		"conductivity 0":        {func(d *drawing) { d.zone(orb.Point{}, 9, fields{"k_likely": {Number: 0}}) }, "Soil zone 1: its conductivity is 0", true},
		"one end":               {func(d *drawing) { d.zone(orb.Point{}, 9, fields{"k_low": {Number: 3}}) }, "one end of its conductivity only", true},
		"out of order":          {func(d *drawing) { d.zone(orb.Point{}, 9, fields{"k_low": {Number: 3}, "k_likely": {Number: 2}}) }, "out of order", true},
		"layers":                {func(d *drawing) { d.zone(orb.Point{}, 9, fields{"layers": {Text: "chalk"}}) }, `Soil zone 1: layer 1: the soil "chalk"`, true},
		"still water":           {func(d *drawing) { d.zone(orb.Point{}, 9, nil); d.hole(orb.Point{5, 5}, "0.9") }, "Soil test 2: the water does not go down", true},
		"still, in no zone":     {func(d *drawing) { d.hole(orb.Point{5, 5}, "0.9") }, "Soil test 1: the water does not go down", true},
		"no such soil":          {func(d *drawing) { d.Setting.Soil = "cheese" }, `the soil "cheese" is not in the table`, true},
		"no test":               {func(d *drawing) { d.zone(orb.Point{}, 9, nil) }, "Soil zone 1 is to be as tested, but no test in it", false},
		"no readings":           {func(d *drawing) { d.draw(plan.SoilTest, orb.Point{5, 5}, nil) }, "Soil test 1: there are fewer than two readings", false},
		"a test that is unused": {func(d *drawing) { d.zone(orb.Point{}, 9, textured("clay")); d.hole(orb.Point{5, 5}, "0.7") }, "Soil test 2: it counts for nothing, for Soil zone 1", false},
		"no radius":             {func(d *drawing) { d.draw(plan.SoilTest, orb.Point{5, 5}, fields{"readings": {Text: "0 0.3; 9 0.2"}}) }, "Soil test 1: it has no radius", false},
		"no depth": {func(d *drawing) {
			d.draw(plan.SoilTest, orb.Point{5, 5}, fields{"by": {Text: "single ring"}, "radius": {Number: 0.1}, "readings": {Text: "0 0.3; 9 0.2"}})
		}, "Soil test 1: it has no depth", false},
	} {
		d := newDrawing()
		c.draw(d)
		m, problems := NewMap(&d.Site)
		got := m.At(orb.Point{5, 5}, 0.3)
		if len(problems) == 0 || !strings.Contains(problems[0].Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, problems, c.want)
		}
		if math.IsNaN(got.Ksat.Low+got.Ksat.Likely+got.Ksat.High) != c.withheld {
			t.Errorf("%s: the soil is %+v", name, got)
		}
	}
}

func TestADrawdownIsLeftToThePool(t *testing.T) {
	d := newDrawing()
	d.zone(orb.Point{}, 9, nil)
	d.draw(plan.SoilTest, orb.Point{5, 5}, map[string]plan.Value{"by": {Text: "channel drawdown"}, "readings": {Text: "0 0.3; 600 0.2"}})
	if m, problems := NewMap(&d.Site); len(problems) > 0 || m.At(orb.Point{5, 5}, 0).Name != "loam" {
		t.Error(problems)
	}
}

func TestWhatIsTypedInPart(t *testing.T) {
	f := plan.Feature{Kind: plan.SoilZone, Fields: map[string]plan.Value{"k_likely": {Number: 10}}}
	if got, _, err := Typed(f); err != nil || got.Likely != 10 || got.Low != Spread([]float64{10}).Low {
		t.Errorf("a likely figure alone comes to %v (%v)", got, err)
	}
	f.Fields = map[string]plan.Value{"k_low": {Number: 2}, "k_high": {Number: 8}}
	if got, _, err := Typed(f); err != nil || !near(got.Likely, 4, 1e-12) {
		t.Errorf("two ends come to %v (%v)", got, err)
	}
}

func TestAskingTheMapAllocatesNothing(t *testing.T) {
	d := newDrawing()
	d.zone(orb.Point{}, 9, map[string]plan.Value{"layers": {Text: "0.3 loam; clay"}})
	m, _ := NewMap(&d.Site)
	if n := testing.AllocsPerRun(100, func() { m.At(orb.Point{5, 5}, 0.1) }); n != 0 {
		t.Errorf("it allocates %v times", n)
	}
}
