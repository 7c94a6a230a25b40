package channel

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
	"runnel/geo/plan"
)

// A lip is where the bank of a channel is lowest, or where its water gets out
// into a drain. Its level [m] is +Inf where neither is known.
type lip struct {
	level float64
	// chainage is how far along the channel it lies [m], on its left for side 1,
	// on its right for -1, straight ahead for 0.
	chainage, side float64
	// island is the title of the island that it lies across the water from, if so.
	island string
	// drain is the title of the drain that it opens on, if so.
	drain string
	// at is where it is, of and title which channel's it is.
	at    orb.Point
	of    plan.ID
	title string
}

// tieSlack is how far above the running water of a drain a channel that is open
// to it may be held [m]: the drain's level is read from the ground, and known no
// better.
const tieSlack = 0.1

func (l lip) orLower(other lip) lip {
	if other.level < l.level {
		return other
	}
	return l
}

// place says where a lip lies, to the reader of a sentence about one channel.
func (l lip) place(about plan.ID) string {
	switch {
	case l.of != about:
		return l.placeOn()
	case l.drain != "":
		return fmt.Sprintf("where it opens on %s", l.drain)
	case l.island != "":
		return fmt.Sprintf("%.1f m along it, across from %s", l.chainage, l.island)
	case l.side > 0:
		return fmt.Sprintf("%.1f m along it, on its left", l.chainage)
	case l.side < 0:
		return fmt.Sprintf("%.1f m along it, on its right", l.chainage)
	case l.chainage == 0:
		return "beyond its start"
	}
	return "beyond its end"
}

// placeOn says where on its own channel a lip lies.
func (l lip) placeOn() string {
	switch {
	case l.drain != "":
		return fmt.Sprintf("where %s opens on %s", l.title, l.drain)
	case l.island != "":
		return fmt.Sprintf("%.1f m along %s, across from %s", l.chainage, l.title, l.island)
	case l.side > 0:
		return fmt.Sprintf("%.1f m along %s, on its left", l.chainage, l.title)
	case l.side < 0:
		return fmt.Sprintf("%.1f m along %s, on its right", l.chainage, l.title)
	case l.chainage == 0:
		return fmt.Sprintf("beyond the start of %s", l.title)
	}
	return fmt.Sprintf("beyond the end of %s", l.title)
}

// spillFilm is how far above its brim water is not yet said to run out [m]: less
// than the two decimals of levels show.
const spillFilm = 0.005

// trouble says what is wrong with the water of a channel that is asked to stand
// at a level [m], in a sentence; nothing where it stands as asked.
func trouble(f plan.Feature, segs []segment, asked float64, low lip) error {
	title, place := f.Title(), low.place(f.ID)
	spills := asked > low.level+spillFilm
	switch {
	case spills && !wet(segs):
		return holdsNone{fmt.Errorf("%s holds no water: its lowest bank, %s, lies at %.2f m, no higher than its bed; raise the bank, lower the bed, or move it off low ground", title, place, low.level)}
	case !wet(segs):
		return holdsNone{fmt.Errorf("%s holds no water: its bed lies no lower than the %.2f m at which its water would stand; set its water level, tie it in to a drain, or move it off low ground", title, lowestLevel(segs))}
	case spills && low.drain != "":
		return fmt.Errorf("%s would run off: at %.2f m its water stands above that of %s, at %.2f m, and would run out into it; lower the water level, or hold the water with a sill. It is measured at %.2f m", title, asked, low.drain, low.level-tieSlack, low.level)
	case spills:
		args := []any{title, asked, low.level, place}
		return brimful{f.ID,
			fmt.Errorf("%s would spill: at %.2f m its water would run out over the bank, which is lowest, at %.2f m, %s; lower the water level, or raise the bank. It is measured full to the brim", args...),
			fmt.Errorf("%s would spill: at %.2f m its water would run out over the bank, which is lowest, at %.2f m, %s; lower the water level, or raise the bank", args...)}
	}
	return nil
}

// drainClear is how far from a drain's water a channel's bank may be open to the
// drain [m].
const drainClear = 2.0

// lowestBank returns the lowest ground at a pool's banks. By a drain, whose own
// section is low ground, the drain's water is the bank where it stands higher.
func (b *builder) lowestBank(run int, p pool) lip {
	low := b.lowestDrainAcross(run, p)
	b.banks(run, p, func(t top, at lip) {
		if at.level, at.at = t.ground, t.at; !(at.level < low.level) {
			return
		}
		if at.island == "" && b.moated(t) || b.inOther(run, t) {
			return
		}
		if by, ok := b.byDrain(t.at); ok && at.level < by.level+tieSlack {
			at.level, at.drain = by.level+tieSlack, by.drain
		}
		low = low.orLower(at)
	})
	low.of, low.title = b.runs[run].feature.ID, b.runs[run].feature.Title()
	return low
}

// lowestDrainAcross returns where a pool's line crosses a drain, if it does: its
// water gets out there, however narrow the drain is.
func (b *builder) lowestDrainAcross(run int, p pool) lip {
	low := lip{level: math.Inf(1)}
	for _, s := range b.runs[run].segs {
		if s.start < p.from-shortest || s.start > p.to-shortest {
			continue
		}
		for i := range b.drains {
			for _, t := range crossings(s.a, s.b, b.drains[i].line) {
				if by, ok := b.drainWithin(s.place(t*s.length), tieReach); ok {
					low = low.orLower(lip{level: by.level + tieSlack, chainage: s.start + t*s.length, drain: by.drain, at: s.place(t * s.length)})
				}
			}
		}
	}
	return low
}

// still returns the level at which water stands by a lip if nothing else sets
// it [m]: the freeboard below a bank, or level with a drain.
func (l lip) still() float64 {
	if l.drain != "" {
		return l.level - tieSlack
	}
	return l.level - Freeboard
}

// bankSpacing is how far apart the tops of banks are looked at [m]: a cell, but
// between a quarter of a metre and a metre.
func (b *builder) bankSpacing() float64 {
	return max(outlineStep/4, min(b.ground.DX, b.ground.DY, outlineStep))
}

// banks visits the tops of a pool's banks, those round the line's two ends, and
// those across the water from its islands.
func (b *builder) banks(run int, p pool, visit func(top, lip)) {
	l, spacing := &b.runs[run], b.bankSpacing()
	for i := range l.segs {
		s := &l.segs[i]
		if s.start < p.from-shortest || s.start > p.to-shortest {
			continue
		}
		n := math.Ceil(s.length / spacing)
		for k := 0.0; k <= n; k++ {
			along := s.length * k / n
			visit(b.lipTop(&l.reach, s, along, 1), lip{chainage: s.start + along, side: 1})
			visit(b.lipTop(&l.reach, s, along, -1), lip{chainage: s.start + along, side: -1})
		}
		b.roundBend(&l.reach, s, func(t top, side float64) { visit(t, lip{chainage: s.start + s.length, side: side}) })
	}
	b.islandBanks(run, p, visit)
	if l.ring {
		return
	}
	if p.from == 0 {
		b.roundEnd(l, &l.segs[0], -1, func(t top) { visit(t, lip{}) })
	}
	if last := l.segs[len(l.segs)-1]; p.to >= last.start+last.length {
		b.roundEnd(l, &last, 1, func(t top) { visit(t, lip{chainage: p.to}) })
	}
}

// roundEnd visits the tops of the bank round an end of a line, every 15°.
func (b *builder) roundEnd(l *laid, s *segment, way float64, visit func(top)) {
	const steps = 12
	end, bank := s.facing(max(0, way)*s.length, way), l.capped(way)
	ux, uy := end.ux, end.uy
	for i := 1.0; i < steps; i++ {
		sin, cos := math.Sincos(math.Pi * (i/steps - 0.5))
		end.ux, end.uy = ux*cos-uy*sin, ux*sin+uy*cos
		// A bank is looked for to the end's left, here in the form that it has there.
		toward := hit{left: end.ux*s.ux + end.uy*s.uy, off: 1}.round()
		visit(b.lipToward(&bank, &end, 0, 1, toward))
	}
}

// roundBend visits the tops of the bank on the outer side of the bend that ends a
// segment, every 15°.
func (b *builder) roundBend(r *reach, s *segment, visit func(t top, side float64)) {
	sweep, side := 2*math.Atan(s.turnB), -math.Copysign(1, s.turnB)
	steps := math.Ceil(math.Abs(sweep) / (math.Pi / 12))
	end := *s
	end.a, end.bedA, end.crestA, end.levelA, end.start = s.b, s.bedB, s.crestB, s.levelB, s.start+s.length
	for i := 1.0; i < steps; i++ {
		sin, cos := math.Sincos(sweep * i / steps)
		end.ux, end.uy = s.ux*cos-s.uy*sin, s.ux*sin+s.uy*cos
		visit(b.lipTop(r, &end, 0, side), side)
	}
}

// islandBanks visits the outer banks of the moats whose water is a pool's.
func (b *builder) islandBanks(run int, p pool, visit func(top, lip)) {
	for i := range b.islands {
		l := &b.islands[i]
		for k := 0; k < len(l.segs) && l.form == moat; k++ {
			s := &l.segs[k]
			if s.line != run {
				continue
			}
			at := b.nearestRun(s.a, l.by).chainage
			if at < p.from-shortest || at > p.to+shortest {
				continue
			}
			here := lip{chainage: at, island: l.feature.Title()}
			for along := 0.0; along < s.length; along += b.bankSpacing() {
				visit(b.lipTop(&l.reach, s, along, -1), here)
			}
			if s.turnB > 0 {
				b.roundBend(&l.reach, s, func(t top, _ float64) { visit(t, here) })
			}
		}
	}
}

// lipTop returns the top of a bank with the lower of the ground there and a cell
// further out: a lip that is narrower than a cell holds no water in the cells. The
// crest of a raised bank, which is built to hold it, counts as it is.
func (b *builder) lipTop(r *reach, s *segment, along, side float64) top {
	return b.lipToward(r, s, along, side, towards(side))
}

// lipToward is lipTop with the section's form toward some other side.
func (b *builder) lipToward(r *reach, s *segment, along, side, toward float64) top {
	l := b.outlook(r, s, along, side, toward)
	t, below := l.march()
	if l.berm && t.off == l.rim {
		return t
	}
	if first := l.closer(t, below); first.ground < t.ground {
		t.ground = first.ground
	}
	if out := l.top(t.off + math.Hypot(b.ground.DX, b.ground.DY)); out.ground < t.ground {
		t.ground = out.ground
	}
	return t
}

// facing returns a segment at a place of s whose left is ahead along s, or for
// way -1 behind.
func (s *segment) facing(along, way float64) segment {
	bed, level := s.bed(along), s.level(along)
	return segment{start: s.start + along, over: s.over, a: s.place(along), ux: way * s.uy, uy: -way * s.ux, length: s.length, bedA: bed, bedB: bed, levelA: level, levelB: level}
}

// byDrain returns the drain to which a bank at p may be open.
func (b *builder) byDrain(p orb.Point) (tie, bool) {
	far := 0.0
	for i := range b.drains {
		far = max(far, drainClear+b.drains[i].water)
	}
	return b.drainWithin(p, far)
}

// moated reports whether the top of a bank lies on an island, or where its moat
// is dug, and so is no bank.
func (b *builder) moated(t top) bool {
	for i := range b.islands {
		l := &b.islands[i]
		if l.form != moat {
			continue
		}
		h, least := hit{}, math.Inf(1)
		for k := range l.segs {
			if along, square := l.segs[k].near(t.at); square < least {
				h, least = hit{seg: k, along: along}, square
			}
		}
		s := &l.segs[h.seg]
		h.off = math.Sqrt(least)
		h.left, h.end = s.side(t.at, h.along)
		if z, own := l.moatFloor(s, h); inside(h) || own || z < t.ground {
			return true
		}
	}
	return false
}
