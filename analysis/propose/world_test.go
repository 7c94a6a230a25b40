package propose

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"runnel/analysis/channel"
	"runnel/analysis/earthwork"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// The south-west corner of the tests' sites [m].
const east, north = 500_000.0, 4_000_000.0

func at(x, y float64) orb.Point { return orb.Point{east + x, north + y} }

// siteOf makes a site whose heights a function of metres from its corner gives.
func siteOf(width, deep, cell float64, height func(x, y float64) float64) *plan.Site {
	g := grid.New[float32](grid.Square(int(width/cell), int(deep/cell), east, north+deep, cell))
	for i := range g.V {
		p := g.Centre(i%g.W, i/g.W)
		g.V[i] = float32(height(p[0]-east, p[1]-north))
	}
	return &plan.Site{Ground: g, Setting: plan.UsualSetting()}
}

func flat(_, _ float64) float64 { return 10 }

func add(s *plan.Site, kind plan.Kind, g orb.Geometry, fields ...any) plan.ID {
	f := plan.Feature{ID: plan.ID(len(s.Plan.Features) + 1), Kind: kind, Geometry: g}
	for i := 0; i < len(fields); i += 2 {
		f = f.With(fields[i].(string), plan.Value{Number: fields[i+1].(float64)})
	}
	s.Plan.Features = append(s.Plan.Features, f)
	return f.ID
}

func box(x0, y0, x1, y1 float64) orb.Polygon {
	return orb.Polygon{{at(x0, y0), at(x1, y0), at(x1, y1), at(x0, y1), at(x0, y0)}}
}

// sought is a small channel of steep sides from one place to another: half a metre deep
// in water on level ground at 10 m, 0.4 m below it.
func sought(from, to orb.Point, volume float64) Question {
	return Question{From: from, To: to, Volume: volume, Left: 1, Right: 1, Count: 1, Seed: 7}
}

// scope is what a proposal cuts into the ground, found without what the search uses.
type scope struct {
	ground, proposed grid.Ground
	// drains are the ground with nothing designed in it.
	cell float64
}

func cutOf(t *testing.T, s *plan.Site, p Proposal) scope {
	t.Helper()
	trial := s.Clone()
	f := p.Channel
	f.ID = 9_000
	trial.Plan.Features = append(trial.Plan.Features, f)
	n, _ := channel.NewNetwork(&trial, f.Scheme)
	proposed, err := earthwork.Shape(t.Context(), s.Ground, n)
	if err != nil {
		t.Fatal(err)
	}
	return scope{s.Ground, proposed, max(s.Ground.DX, s.Ground.DY)}
}

// nearest is how near the middle of a dug cell comes to a thing, where a test allows.
func (c scope) nearest(g orb.Geometry, counts func(p orb.Point) bool) float64 {
	least := math.Inf(1)
	for i, z := range c.ground.V {
		p := c.ground.Centre(i%c.ground.W, i/c.ground.W)
		if !(z-c.proposed.V[i] > 0.02) || !counts(p) {
			continue
		}
		least = min(least, plan.Distance(g, p))
	}
	return least
}

func everywhere(orb.Point) bool { return true }

// beyond leaves out what lies near the ends.
func beyond(q Question, leads [2]float64) func(p orb.Point) bool {
	return func(p orb.Point) bool {
		return planar.Distance(p, q.From) > leads[0]+2 && planar.Distance(p, q.To) > leads[1]+2
	}
}

// leastRadius is that of the circles through three points of a line, so far apart along
// it.
func leastRadius(line orb.LineString) float64 {
	least := math.Inf(1)
	length := planar.Length(line)
	const step = 0.75
	for c := step; c < length-step; c += 0.1 {
		a, b, d := alongLine(line, c-step), alongLine(line, c), alongLine(line, c+step)
		area := math.Abs((b[0]-a[0])*(d[1]-a[1])-(d[0]-a[0])*(b[1]-a[1])) / 2
		if area > 1e-9 {
			least = min(least, planar.Distance(a, b)*planar.Distance(b, d)*planar.Distance(a, d)/(4*area))
		}
	}
	return least
}
