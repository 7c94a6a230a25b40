package soil

import (
	"errors"
	"fmt"
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/geo"
	"runnel/geo/plan"
)

// asTested is the texture of a zone whose figures are those of the tests in it.
const asTested = "as tested"

// read takes a zone's texture, layers and figures, in this order: figures count before
// layers, and layers before the texture. The zone starts as the site's own soil.
func (z *zone) read() error {
	if texture, err := TextureNamed(z.Text("texture")); err == nil {
		z.Soil = texture.soil()
	}
	layers, err := ParseLayers(z.Text("layers"))
	if err != nil {
		z.withhold()
		return fmt.Errorf("%s: %w", z.Title(), err)
	}
	z.layers = layers
	ksat, typed, err := Typed(z.Feature)
	if err != nil {
		z.withhold()
		return fmt.Errorf("%s: %w", z.Title(), err)
	}
	if typed {
		z.Ksat, z.Source, z.fixed = ksat, "figures of this soil zone, typed in", true
	}
	z.asked = !typed && z.Text("texture") == asTested
	return nil
}

// Typed reads the conductivity that is typed for a soil zone [mm/h], if any is. Of a likely
// figure alone the range is that of a single test; where only the ends are given the
// likely one is their geometric mean.
func Typed(f plan.Feature) (ksat geo.Range, typed bool, err error) {
	low, likely, high := f.Num("k_low"), f.Num("k_likely"), f.Num("k_high")
	given := func(v float64) bool { return !math.IsNaN(v) }
	if !given(low) && !given(likely) && !given(high) {
		return unknown, false, nil
	}
	if low == 0 || likely == 0 || high == 0 {
		return unknown, true, errors.New("its conductivity is 0, so that nothing would ever soak in and nothing can be told of it; give a small figure, or none where it is not known")
	}
	if !given(likely) {
		if !given(low) || !given(high) {
			return unknown, true, errors.New("it has one end of its conductivity only; give the likely figure too")
		}
		likely = math.Sqrt(low * high)
	}
	usual := Spread([]float64{likely})
	if !given(low) {
		low = usual.Low
	}
	if !given(high) {
		high = usual.High
	}
	ksat = geo.Range{Low: low, Likely: likely, High: high}
	if err := ksat.Check(); err != nil {
		return unknown, true, errors.New("its conductivities are out of order; give low, likely, high")
	}
	return ksat, true, nil
}

// A finding is what the tests that stand in one soil found [mm/h]; still counts those in
// which the water did not go down.
type finding struct {
	found []float64
	still int
}

// test works out the soil tests and sets the figures of the zones that they stand in, or of
// the site.
func (m *Map) test(s *plan.Site, wrong func(plan.Feature, orb.Point, error)) {
	for _, f := range s.Plan.Of(plan.SoilTest, plan.AsItIs) {
		if err := plan.Check(f); err != nil {
			wrong(f, orb.Point{}, err)
			continue
		}
		if err := m.place(f); err != nil {
			wrong(f, f.Point(), fmt.Errorf("%s: %w", f.Title(), err))
		}
	}
	m.site.tested()
	for i := range m.zones {
		z := &m.zones[i]
		if !z.asked || z.tested() || len(z.layers) > 0 {
			continue
		}
		z.Ksat, z.Source = m.site.Ksat, m.site.Source
		if !z.drawdown {
			wrong(z.Feature, inside(z.area), fmt.Errorf("%s is to be as tested, but no test in it says how fast it soaks, and the site's soil is taken instead; put a soil test in it, or choose its texture", z.Title()))
		}
	}
}

// place works out one test and keeps what it found with the zone that it stands in, or with
// the site where it stands in none.
func (m *Map) place(f plan.Feature) error {
	g := &m.site
	z := m.zoneAt(f.Point())
	if z != nil {
		g = &z.ground
	}
	got, err := TestOf(f, g.from(f.Num("depth")))
	switch {
	case errors.Is(err, ErrDrawdown):
		if z != nil {
			z.drawdown = true
		}
		return nil
	case z != nil && !z.asked:
		return fmt.Errorf("it counts for nothing, for %s, in which it stands, has figures or a texture of its own; set its texture to %s and clear its figures", z.Title(), asTested)
	case errors.Is(err, errStill):
		g.still++
	}
	if err == nil {
		g.found = append(g.found, got.Found)
	}
	return err
}

// tested sets the conductivity that tests found. Where the water stood still in all that
// could be read it is withheld.
func (g *ground) tested() bool {
	switch n := len(g.found); {
	case n == 0 && g.still == 0:
		return false
	case n == 0:
		g.withhold()
	default:
		g.Ksat, g.fixed, g.Source = Spread(g.found), true, "one soil test on the site"
		if n > 1 {
			g.Source = fmt.Sprintf("%d soil tests on the site", n)
		}
	}
	return true
}

// inside is a place in an area, for a mark.
func inside(area orb.Polygon) orb.Point {
	at, _ := planar.CentroidArea(area)
	return at
}
