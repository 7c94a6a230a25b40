package season

import (
	"math"

	"runnel/analysis/pool"
	"runnel/analysis/soil"
)

// daySeconds is how long a day is [s].
const daySeconds = 86400

// puddle is the depth from which on a pool counts as under water [m]: less is wet ground.
const puddle = 0.01

// film is the depth that soaks away at once [m].
const film = 0.001

// rootStore is the water about roots that they can draw on [m]: common practice, no source.
const rootStore = 0.1

// A segment is a pool between one stage and the next: from a volume v on its contact is
// c + c1 (V − v), its surface s + s1 (V − v). The last has no end and is as the brim is.
type segment struct{ v, c, s, c1, s1 float64 }

// A way is an outlet by which water leaves while its pool is held above it, with the flow
// [m³ a day].
type way struct {
	pool.Outlet
	flow float64
}

// A basin is a pool as a season sees it. Volumes are m³, of flows those of a day.
type basin struct {
	segments []segment
	stages   []pool.Stage
	title    string
	soil     soil.Soil
	// area and contact are those at the brim.
	area, contact float64
	film          float64
	// puddle is what it holds at that depth.
	puddle float64
	// crest is what the pool holds up to its lowest outlet, crestLevel where that is, to where it leads.
	crest, crestLevel float64
	to                int
	// ways are the outlets that lead on; those back to a pool above are left out.
	ways []way
	// fed is set where a drain fills it, to run while that runs; rest is what it holds
	// at Rest, NaN where nothing runs back.
	fed                         bool
	run, runLevel, rest, supply float64
	drain                       bool
}

func newBasin(p *pool.Pool) basin {
	b := basin{title: p.Title, stages: p.Stages, soil: p.Soil, drain: p.Drain, supply: p.Supply * daySeconds, to: -1,
		puddle: p.StageAt(p.Stages[0].Level + puddle).Volume}
	for _, s := range p.Stages {
		for len(b.segments) > 0 && s.Volume <= b.segments[len(b.segments)-1].v {
			b.segments = b.segments[:len(b.segments)-1]
		}
		b.segments = append(b.segments, segment{v: s.Volume, c: s.Contact, s: s.Surface})
	}
	for k := range b.segments[1:] {
		s, next := &b.segments[k], &b.segments[k+1]
		s.c1, s.s1 = (next.c-s.c)/(next.v-s.v), (next.s-s.s)/(next.v-s.v)
	}
	b.film = p.StageAt(p.Stages[0].Level + film).Volume
	top := p.Top()
	b.area, b.contact = top.Surface, top.Contact
	if math.IsNaN(b.supply) {
		b.supply = math.Inf(1)
	}
	b.fed = !math.IsNaN(p.Running)
	b.runLevel = p.Running
	b.run, b.rest = p.StageAt(p.Running).Volume, math.NaN()
	if b.fed && !math.IsNaN(p.Rest) {
		b.rest = p.StageAt(p.Rest).Volume
	}
	return b
}

// lead gives a basin the outlets by which it is left.
func (b *basin) lead(p *pool.Pool, ways []pool.Outlet) {
	b.crest, b.crestLevel = p.Top().Volume, math.Inf(1)
	b.ways = nil
	for _, o := range ways {
		if len(b.ways) == 0 || o.Crest < b.crestLevel {
			b.crest, b.crestLevel, b.to = p.StageAt(o.Crest).Volume, o.Crest, o.To
		}
		b.ways = append(b.ways, way{Outlet: o, flow: daySeconds * o.Flow(p.Running, math.Inf(-1))})
	}
}

// at finds the segment that a volume is in, from a guess on.
func (b *basin) at(v float64, k int) int {
	for k+1 < len(b.segments) && v >= b.segments[k+1].v {
		k++
	}
	for k > 0 && v < b.segments[k].v {
		k--
	}
	return k
}

// areas returns contact and surface at a volume.
func (b *basin) areas(v float64, k int) (contact, surface float64) {
	s := &b.segments[b.at(v, k)]
	u := v - s.v
	return s.c + s.c1*u, s.s + s.s1*u
}
