package propose

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"runnel/geo/plan"
)

// aWorld has a drain along its west and things strewn over a slope.
func aWorld(r *rand.Rand) (*plan.Site, Question) {
	slope, swell := 0.01*r.Float64(), 0.05*r.Float64()
	s := siteOf(60, 44, 0.25, func(x, y float64) float64 {
		z := 10 + slope*(x-10) + swell*math.Sin(x/5)*math.Cos(y/7)
		return min(z, 9.5+max(0, math.Abs(x-6)-0.3))
	})
	add(s, plan.Boundary, box(3, 1, 59, 43))
	add(s, plan.Drain, orb.LineString{at(6, 1), at(6, 43)}, "bed_width", 0.6, "water_depth", 0.25)
	from, to := at(6, 10+24*r.Float64()), at(48+4*r.Float64(), 10+24*r.Float64())
	for range 5 {
		x, y, size := 14+26*r.Float64(), 4+36*r.Float64(), 1+3*r.Float64()
		switch r.IntN(4) {
		case 0:
			add(s, plan.Roof, box(x, y, x+size, y+size))
		case 1:
			add(s, plan.Tree, at(x, y), "spread", size)
		case 2:
			add(s, plan.Well, at(x, y))
		default:
			add(s, plan.ServiceLine, orb.LineString{at(x, y), at(x+size, y+2*size)})
		}
	}
	q := sought(from, to, 25+25*r.Float64())
	q.Clear = []orb.Polygon{box(24, 20, 26, 24)}
	q.Setbacks = Setbacks{Building: 2, Well: 3, Boundary: 1, Tree: 0.5, Service: 0.5}
	q.Grade, q.Effort, q.Count = 0.2*r.Float64(), 0.04, 1
	return s, q
}

func TestEveryProposalKeepsEveryLimit(t *testing.T) {
	proposed := 0
	for seed := range uint64(30) {
		s, q := aWorld(rand.New(rand.NewPCG(seed, 1)))
		found, err := Lines(t.Context(), s, q, nil)
		if err != nil {
			if !strings.Contains(err.Error(), "; ") {
				t.Errorf("world %d: it says what is wrong and not what to do: %v", seed, err)
			}
			t.Logf("world %d: %v", seed, err)
			continue
		}
		proposed += len(found)
		for i, p := range found {
			checkLimits(t, fmt.Sprintf("world %d, proposal %d", seed, i+1), s, q.orUsual(), p)
		}
	}
	if proposed < 25 {
		t.Errorf("only %d proposals for 30 worlds", proposed)
	}
}

// checkLimits holds a proposal against its limits by what is cut into the cells.
func checkLimits(t *testing.T, name string, s *plan.Site, q Question, p Proposal) {
	t.Helper()
	cut := cutOf(t, s, p)
	for _, f := range s.Plan.Features {
		limit, from, counts := q.setback(f)
		if !counts {
			continue
		}
		g, where := f.Geometry, everywhere
		switch f.Kind {
		case plan.Boundary:
			g = orb.LineString(f.Area()[0])
			where = beyond(q, p.Leads)
		case plan.Drain:
			where = beyond(q, p.Leads)
		case plan.ServiceLine:
			if len(p.Crossed) > 0 {
				continue
			}
		}
		// The middle of a cell that is dug lies up to half a diagonal inside the cut.
		if away := cut.nearest(g, where) - from; away < limit-cut.cell*0.3 {
			t.Errorf("%s: dug %.2f m from %s, %.2f m are asked", name, away, f.Title(), limit)
		}
	}
	if away := cut.nearest(q.Clear[0], everywhere); away <= 0 {
		t.Errorf("%s: dug where it is marked to be kept clear", name)
	}
	half := p.BedWidth / 2
	// The line strays up to a centimetre from its curve: a tenth of such a circle.
	if r := leastRadius(p.Line); r < max(tightest, half)*0.9 {
		t.Errorf("%s: a bend has a radius of %.2f m", name, r)
	}
	if p.Volume > q.Volume*1.05 || p.Volume < q.Volume*0.95 && p.BedWidth < q.Widest-0.01 {
		t.Errorf("%s: %.1f m³ are dug with a bed of %.2f m; asked is %.1f", name, p.Volume, p.BedWidth, q.Volume)
	}
	if p.Depth > q.Deepest || p.BedWidth < q.Narrowest-1e-9 || p.BedWidth > q.Widest+1e-9 {
		t.Errorf("%s: cut %.2f m, bed %.2f m", name, p.Depth, p.BedWidth)
	}
	checkStrip(t, name, q, p)
}

// checkStrip looks at pairs of places of the line that half a circle could not join: the
// banks between them are at least as wide as the narrowest bed on the shallowest cut
// makes them, and the water as high as the drain's.
func checkStrip(t *testing.T, name string, q Question, p Proposal) {
	t.Helper()
	length := planar.Length(p.Line)
	least, deep := math.Inf(1), p.Depth
	apart := p.BedWidth + 2*deep*max(q.Left, q.Right) + q.Strip
	for a := 0.0; a < length; a += 0.5 {
		for b := a + apart*math.Pi/2; b < length; b += 0.5 {
			least = min(least, planar.Distance(alongLine(p.Line, a), alongLine(p.Line, b)))
		}
	}
	// The cut is nowhere shallower than the water and its freeboard over the bed.
	if narrow := p.BedWidth + 2*0.25*min(q.Left, q.Right) + q.Strip; least < narrow {
		t.Errorf("%s: two bends come within %.2f m", name, least)
	}
}
