package channel

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"runnel/geo/plan"
)

// Freeboard is how far below the lowest of its banks a channel's water is taken
// to stand where nothing else sets it [m].
const Freeboard = 0.05

// A Sill is a level weir across a channel or a drain: water above it stands at
// its crest.
type Sill struct {
	ID plan.ID
	// Across is the number of the channel or drain.
	Across plan.ID
	Title  string
	Line   orb.LineString
	// Crest is its level [m]; Unset says that no one has set it.
	Crest float64
	Unset bool
}

// Sills lists the sills that stand across a channel or a drain, once for each.
func (n *Network) Sills() []Sill { return n.sills }

// A pool is a part of a channel between sills, from one chainage to another [m].
type pool struct {
	run      int
	from, to float64
	// bank is the lowest of its banks.
	bank lip
	// tie is the drain at its end, crest the level of the sill that ends it
	// downstream, spill the lowest crest that is set of a spillway; at +Inf where
	// there is none. lowest is set where no sill is further downstream.
	tie          tie
	crest, spill float64
	sill         int
	lowest       bool
	// spillways are those at its banks.
	spillways []plan.Feature
	// number is its own, water that of what stands in it.
	number, water int
}

// leastDepth is the depth of water [m] below which a channel holds none: less is
// a film that the roughness of a dug bed takes up.
const leastDepth = 0.005

// dropFilm takes the water out of a channel that has no more than a film.
func (l *laid) dropFilm() {
	for _, s := range l.segs {
		if lowA, lowB := s.lows(); max(s.levelA-lowA, s.levelB-lowB) >= leastDepth {
			return
		}
	}
	for i := range l.segs {
		s := &l.segs[i]
		s.hold(min(s.lows()))
	}
}

// wet reports whether water stands anywhere along a channel, and lowestLevel how
// high at the least [m].
func wet(segs []segment) bool {
	return slices.ContainsFunc(segs, func(s segment) bool {
		lowA, lowB := s.lows()
		return s.levelA > lowA || s.levelB > lowB
	})
}

func lowestLevel(segs []segment) float64 {
	low := math.Inf(1)
	for _, s := range segs {
		low = min(low, s.levelA, s.levelB)
	}
	return low
}

func ifFinite(v, otherwise float64) float64 {
	if math.IsInf(v, 0) {
		return otherwise
	}
	return v
}

// hold brings water to the segments of a pool, and tells them its brim.
func (l *laid) hold(p pool, w *water) {
	for i := range l.segs {
		if s := &l.segs[i]; s.start >= p.from-shortest && s.start < p.to-shortest {
			s.brim, s.pool = w.brim.level, p.number
			s.hold(w.level)
		}
	}
}

// pools parts a channel at its sills, in the order in which water passes them.
func (b *builder) pools(run int) []pool {
	l, end := &b.runs[run], 0.0
	for _, s := range l.segs {
		end = max(end, s.start+s.length)
	}
	cuts := b.sillsAcross(l.line)
	downhill := l.profile.At(0) >= l.profile.At(end)
	var pools []pool
	from := 0.0
	for i := 0; i <= len(cuts); i++ {
		p := pool{run: run, from: from, to: end, sill: -1}
		if i < len(cuts) {
			p.to = cuts[i].at
		}
		// The sill that ends a pool downstream.
		switch {
		case downhill && i < len(cuts):
			p.sill = cuts[i].sill
		case !downhill && i > 0:
			p.sill = cuts[i-1].sill
		}
		b.bankOf(run, &p, end)
		pools = append(pools, p)
		from = p.to
	}
	if !downhill {
		slices.Reverse(pools)
	}
	pools[len(pools)-1].lowest = true
	return pools
}

// A crossed sill is where a line crosses one [m along it], and its number.
type crossed struct {
	at   float64
	sill int
}

// sillsAcross lists the sills that a line crosses, in order along it.
func (b *builder) sillsAcross(line orb.LineString) []crossed {
	var cuts []crossed
	segs := lay(line, nil)
	for i, f := range b.drawn[plan.Sill] {
		for _, s := range segs {
			for _, t := range crossings(s.a, s.b, f.Line()) {
				cuts = append(cuts, crossed{s.start + t*s.length, i})
			}
		}
	}
	slices.SortFunc(cuts, func(a, b crossed) int { return cmp.Compare(a.at, b.at) })
	// A sill that passes through a point of the line crosses both its segments.
	return slices.CompactFunc(cuts, func(a, b crossed) bool { return a.sill == b.sill && math.Abs(b.at-a.at) < shortest })
}

// bankOf looks for what sets a pool's level.
func (b *builder) bankOf(run int, p *pool, end float64) {
	l := &b.runs[run]
	p.crest, p.tie.level, p.spill = math.Inf(1), math.Inf(1), math.Inf(1)
	if p.sill >= 0 {
		p.crest = ifSet(b.drawn[plan.Sill][p.sill].Num("crest"), math.Inf(1))
	}
	if t, ok := b.tie(l.feature, l.line[0]); ok && p.from == 0 {
		p.tie = t
	}
	if t, ok := b.tie(l.feature, l.line[len(l.line)-1]); ok && p.to == end && t.level < p.tie.level {
		p.tie = t
	}
	p.bank = b.lowestBank(run, *p)
	for _, f := range b.drawn[plan.Spillway] {
		if b.spillsAt(l, *p, f.Point()) {
			p.spill = min(p.spill, ifSet(f.Num("crest"), math.Inf(1)))
			p.spillways = append(p.spillways, f)
		}
	}
}

// spillReach is how far outside a channel's banks a spillway is still its [m].
const spillReach = 1.0

func (b *builder) spillsAt(l *laid, p pool, at orb.Point) bool {
	near, along, least := -1, 0.0, math.Inf(1)
	for i := range l.segs {
		if a, square := l.segs[i].near(at); square < least {
			near, along, least = i, a, square
		}
	}
	s := &l.segs[near]
	if s.start < p.from-shortest || s.start > p.to-shortest {
		return false
	}
	half := max(b.bankTop(&l.reach, s, along, 1).off, b.bankTop(&l.reach, s, along, -1).off)
	return math.Sqrt(least) <= half+spillReach
}

// crestAt records the level at which a sill holds the water of a line [m].
func (b *builder) crestAt(i int, across plan.ID, level float64) {
	f := b.drawn[plan.Sill][i]
	b.sills = append(b.sills, Sill{f.ID, across, f.Title(), f.Line(), level, math.IsNaN(f.Num("crest"))})
}
