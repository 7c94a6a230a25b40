package caution

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"runnel/analysis/channel"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// TestDistancesAreThoseOfLookingAtEverything holds distances from water's edges and
// from digging, which pass over what is too far, to those that look at all.
func TestDistancesAreThoseOfLookingAtEverything(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		place := func(name string) orb.Point {
			return orb.Point{rapid.Float64Range(-5, 35).Draw(r, name), rapid.Float64Range(-5, 25).Draw(r, name)}
		}
		site := &plan.Site{Ground: grid.New[float32](grid.Square(30, 20, 0, 20, 1))}
		proposed := site.Ground.Clone()
		for range rapid.IntRange(0, 6).Draw(r, "dug") {
			proposed.V[rapid.IntRange(0, proposed.Len()-1).Draw(r, "cell")] = -rapid.SampledFrom([]float32{0.005, 0.3}).Draw(r, "depth")
		}
		c := checker{site: site, water: Water{Proposed: proposed}}
		for range rapid.IntRange(0, 3).Draw(r, "channels") {
			l := channel.Line{ID: plan.ID(len(c.channels) + 1)}
			for range rapid.IntRange(0, 12).Draw(r, "shore") {
				l.Shore = append(l.Shore, place("shore"))
			}
			c.channels = append(c.channels, l)
		}
		p, limit := place("corner"), rapid.Float64Range(0.1, 12).Draw(r, "limit")
		box := orb.Bound{Min: p, Max: orb.Point{p[0] + 4, p[1] + 3}}.ToPolygon()
		away, at, line := c.distance(plan.Feature{Kind: plan.Roof, Geometry: box}, limit)
		want, wantAt, wantLine := c.distanceOfAll(box, limit)
		// Where two places are as far to the last digit either may be told, as far as it
		// says; so where both are no distance away.
		told := math.Hypot(max(p[0]-at[0], at[0]-p[0]-4, 0), max(p[1]-at[1], at[1]-p[1]-3, 0))
		if math.Abs(away-want) > 1e-9 || away < limit && (math.Abs(told-want) > 1e-9 || away == want && want > 0 && (at != wantAt || line != wantLine)) {
			r.Fatalf("the water's edge is %v m away at %v of %v, not %v m at %v of %v", away, at, line, want, wantAt, wantLine)
		}
		got, _ := c.cutFrom(orb.LineString{p}, limit)
		if want := c.cutOfAll(p, limit); got != want && !(got >= limit && want >= limit) {
			r.Fatalf("the digging is %v m away, not %v m", got, want)
		}
	})
}

func (c *checker) distanceOfAll(g orb.Polygon, limit float64) (away float64, at orb.Point, line plan.ID) {
	away = math.Inf(1)
	for _, l := range c.channels {
		for _, p := range l.Shore {
			if d := plan.Distance(g, p); g.Bound().Pad(limit).Contains(p) && d < away {
				away, at, line = d, p, l.ID
			}
		}
	}
	return away, at, line
}

func (c *checker) cutOfAll(p orb.Point, reach float64) float64 {
	nearest := math.Inf(1)
	g := c.site.Ground
	for y := range g.H {
		for x := range g.W {
			if float64(g.At(x, y)-c.water.Proposed.At(x, y)) > dug {
				m := g.Centre(x, y)
				nearest = min(nearest, math.Hypot(max(0, math.Abs(m[0]-p[0])-g.DX/2), max(0, math.Abs(m[1]-p[1])-g.DY/2)))
			}
		}
	}
	return nearest
}
