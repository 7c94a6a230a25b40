package earthwork

import (
	"context"
	"math"
	"testing"

	"github.com/paulmach/orb"
	"runnel/analysis/channel"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// siteOf returns a site of 30 by 20 m whose ground is at a height for each place,
// in metres from the south-west corner.
func siteOf(cell float64, height func(x, y float64) float64) *plan.Site {
	const east, north = 500_000, 4_000_000
	g := grid.New[float32](grid.Square(int(30/cell+0.5), int(20/cell+0.5), east, north+20, cell))
	for y := range g.H {
		for x := range g.W {
			c := g.Centre(x, y)
			g.Set(x, y, float32(height(c[0]-east, c[1]-north)))
		}
	}
	return &plan.Site{Ground: g}
}

func level(x, y float64) float64 { return 10 }

func line(xy ...float64) orb.LineString {
	var l orb.LineString
	for i := 0; i < len(xy); i += 2 {
		l = append(l, orb.Point{500_000 + xy[i], 4_000_000 + xy[i+1]})
	}
	return l
}

func circle(x, y, radius float64) orb.Polygon {
	var flat []float64
	for i := range 72 {
		sin, cos := math.Sincos(float64(i) * math.Pi / 36)
		flat = append(flat, x+radius*cos, y+radius*sin)
	}
	return orb.Polygon{orb.Ring(line(append(flat, flat[0], flat[1])...))}
}

// slopes are those of the banks [H:V] that a test does not say.
var slopes = map[plan.Kind]map[string]float64{
	plan.Channel: {"side_left": 2, "side_right": 2},
	plan.Island:  {"side": 1.5},
}

func add(s *plan.Site, kind plan.Kind, g orb.Geometry, fields map[string]float64) {
	f := plan.Feature{ID: plan.ID(len(s.Plan.Features) + 1), Kind: kind, Geometry: g}
	if plan.SpecOf(kind).InScheme {
		f.Scheme = 1
	}
	for name, v := range slopes[kind] {
		f = f.With(name, plan.Value{Number: v})
	}
	for name, v := range fields {
		f = f.With(name, plan.Value{Number: v})
	}
	s.Plan.Features = append(s.Plan.Features, f)
}

// both measures scheme 1 by the two ways: along sections and on the ground.
func both(t testing.TB, s *plan.Site) (sections channel.Measure, wet Wet, proposed grid.Ground) {
	t.Helper()
	n, problems := channel.NewNetwork(s, 1)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	lines, err := n.Measure(t.Context(), channel.Step{})
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range lines {
		sections.Contact += l.Measure.Contact
		sections.Surface += l.Measure.Surface
		sections.Volume += l.Measure.Volume
		sections.WetBank += l.Measure.WetBank
	}
	if proposed, wet, err = Stand(t.Context(), s.Ground, n); err != nil {
		t.Fatal(err)
	}
	return sections, wet, proposed
}

// standing floods a ground with walls on it from seeds.
func standing(ctx context.Context, ground, walled grid.Ground, seeds []Seed) (Wet, error) {
	return flood{natural: ground, ground: ground, walled: walled, seeds: seeds}.wet(ctx)
}
