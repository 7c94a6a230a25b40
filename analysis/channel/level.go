package channel

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// Freeboard is how far below the lowest of its banks a channel's water is taken
// to stand where nothing else sets it [m].
const Freeboard = 0.05

// A Sill is a level weir across a channel: water above it stands at its crest.
type Sill struct {
	Line orb.LineString
	// Crest is its level [m].
	Crest float64
}

// Sills lists the sills that hold water in a channel.
func (n *Network) Sills() []Sill { return n.sills }

// A pool is a part of a channel between sills, from one chainage to another [m].
type pool struct {
	from, to float64
	// bank is the lowest of its banks, tie the level of a drain at its end,
	// crest that of the sill that ends it downstream; +Inf where there is none.
	bank, tie, crest float64
	// spill is the lowest spillway's crest, +Inf where there is none.
	spill float64
	sill  int
}

// setLevels gives every channel its water. Each has its own: the level that is
// set; else the lowest spillway at its bank; else that of the drain it ties in
// to, but no higher than its banks; else its lowest bank less the freeboard.
// A sill parts a channel in pools. That level then holds below the last sill;
// above each sill water stands at its crest (where none is set, at the lowest
// bank above it less the freeboard), no higher than the drain that ties in there
// and no lower than the pool below.
func (b *builder) setLevels() {
	for i := range b.runs {
		l := &b.runs[i]
		pools := b.pools(l)
		below := math.Inf(-1)
		for k := len(pools) - 1; k >= 0; k-- {
			level := pools[k].level()
			if set := l.feature.Num("water_level"); k == len(pools)-1 && !math.IsNaN(set) {
				level = set
			}
			if pools[k].sill >= 0 {
				b.crestAt(pools[k].sill, ifFinite(pools[k].crest, level))
			}
			level = max(level, below)
			l.hold(pools[k], level)
			below = level
		}
		l.level = l.levelAt(pools[len(pools)-1])
		if !l.wet() {
			b.problem(l.feature, fmt.Errorf("%s holds no water: its bed lies no lower than the %.2f m at which its water would stand; set its water level, tie it in to a drain, or move it off low ground", l.feature.Title(), l.level))
		}
	}
}

// wet reports whether water stands anywhere in the channel.
func (l *laid) wet() bool {
	return slices.ContainsFunc(l.segs, func(s segment) bool { return s.levelA > s.bedA || s.levelB > s.bedB })
}

// level returns where the water of a pool stands by itself [m].
func (p *pool) level() float64 {
	switch {
	case p.sill >= 0:
		return min(p.tie, ifFinite(p.crest, p.bank-Freeboard))
	case !math.IsInf(p.spill, 1):
		return p.spill
	case !math.IsInf(p.tie, 1):
		return min(p.tie, p.bank)
	}
	return ifFinite(p.bank-Freeboard, math.NaN())
}

func ifFinite(v, otherwise float64) float64 {
	if math.IsInf(v, 0) {
		return otherwise
	}
	return v
}

func (l *laid) hold(p pool, level float64) {
	for i := range l.segs {
		if s := &l.segs[i]; s.start >= p.from-shortest && s.start < p.to-shortest {
			s.hold(level)
		}
	}
}

func (l *laid) levelAt(p pool) float64 {
	for i := range l.segs {
		if s := &l.segs[i]; s.start >= p.from-shortest && s.start < p.to-shortest {
			return s.levelA
		}
	}
	return math.NaN()
}

// pools parts a channel at its sills, in the order in which water passes them.
func (b *builder) pools(l *laid) []pool {
	end := 0.0
	for _, s := range l.segs {
		end = max(end, s.start+s.length)
	}
	cuts := b.sillsAcross(l.line)
	downhill := l.profile.At(0) >= l.profile.At(end)
	var pools []pool
	from := 0.0
	for i := 0; i <= len(cuts); i++ {
		p := pool{from: from, to: end, sill: -1}
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
		b.bankOf(l, &p, end)
		pools = append(pools, p)
		from = p.to
	}
	if !downhill {
		slices.Reverse(pools)
	}
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
	return slices.CompactFunc(cuts, func(a, b crossed) bool { return a.sill == b.sill && b.at-a.at < shortest })
}

// bankOf looks for what sets a pool's level.
func (b *builder) bankOf(l *laid, p *pool, end float64) {
	p.crest, p.tie, p.spill = math.Inf(1), math.Inf(1), math.Inf(1)
	if p.sill >= 0 {
		p.crest = ifSet(b.drawn[plan.Sill][p.sill].Num("crest"), math.Inf(1))
	}
	if t, ok := b.tie(l.line[0]); ok && p.from == 0 {
		p.tie = t.level
	}
	if t, ok := b.tie(l.line[len(l.line)-1]); ok && p.to == end {
		p.tie = min(p.tie, t.level)
	}
	p.bank = b.lowestBank(l, *p, drainClear)
	if math.IsInf(p.bank, 1) {
		p.bank = b.lowestBank(l, *p, 0)
	}
	for _, f := range b.drawn[plan.Spillway] {
		if b.spillsAt(l, *p, f.Point()) {
			p.spill = min(p.spill, ifSet(f.Num("crest"), ifSet(grid.Sample(b.ground, f.Point()), math.Inf(1))))
		}
	}
}

// drainClear is how far from a drain a channel's bank is its own, and not the
// drain's [m]; spillReach how far outside its banks a spillway is still its [m].
const (
	drainClear = 2.0
	spillReach = 1.0
)

// lowestBank returns the lowest ground at a pool's banks [m], +Inf where none is
// known that is clear of the drains.
func (b *builder) lowestBank(l *laid, p pool, clear float64) float64 {
	low := math.Inf(1)
	b.banks(l, p, func(t top) {
		if t.ground < low && !b.nearDrain(t.at, clear) {
			low = t.ground
		}
	})
	return low
}

// banks visits the tops of a pool's banks, about a metre apart, and those beyond
// the line's two ends.
func (b *builder) banks(l *laid, p pool, visit func(top)) {
	for i := range l.segs {
		s := &l.segs[i]
		if s.start < p.from-shortest || s.start > p.to-shortest {
			continue
		}
		n := math.Ceil(s.length / outlineStep)
		for k := 0.0; k <= n; k++ {
			visit(b.bankTop(&l.reach, s, s.length*k/n, 1))
			visit(b.bankTop(&l.reach, s, s.length*k/n, -1))
		}
	}
	if l.ring {
		return
	}
	if p.from == 0 {
		end := l.segs[0].facing(0, -1)
		visit(b.bankTop(&l.reach, &end, 0, 1))
	}
	if last := l.segs[len(l.segs)-1]; p.to >= last.start+last.length {
		end := last.facing(last.length, 1)
		visit(b.bankTop(&l.reach, &end, 0, 1))
	}
}

// facing returns a segment at a place of s whose left is ahead along s, or for
// way -1 behind.
func (s *segment) facing(along, way float64) segment {
	bed, level := s.bed(along), s.level(along)
	return segment{a: s.place(along), ux: way * s.uy, uy: -way * s.ux, length: s.length, bedA: bed, bedB: bed, levelA: level, levelB: level}
}

func (b *builder) nearDrain(p orb.Point, clear float64) bool {
	for i := range b.drains {
		d := &b.drains[i]
		far := clear + d.water
		for k := range d.segs {
			if _, square := d.segs[k].near(p); clear > 0 && square < far*far {
				return true
			}
		}
	}
	return false
}

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

// crestAt records the level at which a sill holds the water [m].
func (b *builder) crestAt(i int, level float64) {
	b.sills = append(b.sills, Sill{b.drawn[plan.Sill][i].Line(), level})
}
