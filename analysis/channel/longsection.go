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

// A LongSection is a line seen from its side: what lies along it, by chainage.
type LongSection struct {
	ID    plan.ID
	Kind  plan.Kind
	Title string
	// Length of the line [m].
	Length float64
	// Places go up the chainage, no further apart than a step. Where a level steps,
	// as at a sill, two of them have one chainage.
	Places []Place
	// Pools are the parts between a channel's sills, up the chainage.
	Pools []Pool
	// Marks are what stands across the line or opens on it, Islands the stretches of
	// it that lie inside an island; both up the chainage.
	Marks   []Mark
	Islands []Span
}

// A Place is what lies at one chainage of a line: levels in metres, NaN where
// there is none or it is not known.
type Place struct {
	Chainage float64
	// Ground is that on the line as it is, Proposed as it is to be; sills are left
	// out of it.
	Ground, Proposed float64
	// Bed and Water are those of the channel or drain. Where an island stands on
	// the line they go on through it: it is the level in both its arms.
	Bed, Water float64
	// Left and Right are the tops of the banks, across an island from it and at an end
	// no higher than the bank round it, not known where other water opens there; Brim
	// is the level above which the water of the pool would run out.
	Left, Right, Brim float64
}

// Bank returns the lower of the banks [m], NaN where none is known.
func (p Place) Bank() float64 { return lowerBank(p.Left, p.Right) }

// A Pool is a part of a channel in which water stands at one level [m].
type Pool struct {
	From, To, Level, Brim float64
	// Lowest is set for the pool below the last sill, whose level is the channel's
	// own field.
	Lowest bool
}

// A Mark is a sill or a spillway with its crest [m], or a tie: the drain that a
// channel opens on or the channel that opens on a drain, with the bed there [m].
type Mark struct {
	Kind            plan.Kind
	ID              plan.ID
	Title           string
	Chainage, Level float64
}

// A Span is the stretch of a line inside an island's outline, from one chainage
// to another [m].
type Span struct {
	ID       plan.ID
	Title    string
	From, To float64
}

// A long section has a place every longStep metres, or fewer on a long line so
// that there are no more than some longPlaces of them.
const (
	longStep   = 0.25
	longPlaces = 500
)

func longStepOf(length float64) float64 { return max(longStep, length/longPlaces) }

// LongSection returns the long section of a channel or drain.
func (n *Network) LongSection(id plan.ID) (LongSection, error) {
	for _, f := range n.lines {
		if f.ID == id {
			return n.longSection(f), nil
		}
	}
	return LongSection{}, notLaid(id)
}

func notLaid(id plan.ID) error {
	return fmt.Errorf("there is no channel %d in the scheme; choose one that is laid out", id)
}

func (n *Network) longSection(f feature) LongSection {
	r := &n.reaches[f.reach]
	segs := n.segs[r.first:r.end]
	last := segs[len(segs)-1]
	l := LongSection{ID: f.ID, Kind: f.Kind, Title: f.Title(), Length: last.start + last.length}
	step := longStepOf(l.Length)
	for i := range segs {
		s := &segs[i]
		count := math.Ceil(s.length / step)
		for k := 0.0; k <= count; k++ {
			p := n.placeAt(r, s, s.length*k/count)
			if m := len(l.Places); k == 0 && m > 0 && l.Places[m-1] == p {
				continue
			}
			l.Places = append(l.Places, p)
		}
	}
	l.lowerEnds(n, segs[0].line)
	l.Islands = n.islandsOn(f.Line())
	still := n.Standing()
	l.Marks = slices.Concat(n.sillMarks(f), still.spillwayMarks(f), n.tieMarks(f))
	slices.SortStableFunc(l.Marks, func(a, b Mark) int { return cmp.Compare(a.Chainage, b.Chainage) })
	if f.Kind == plan.Channel {
		l.Pools = poolsOf(still.segsOf(&still.lines[segs[0].line]), l.Marks)
	}
	return l
}

// lowerEnds takes the banks round the ends of a channel into those at its ends.
func (l *LongSection) lowerEnds(n *Network, line int) {
	f := &n.lines[line]
	if f.Kind != plan.Channel || n.reaches[f.reach].ring {
		return
	}
	first, last := &l.Places[0], &l.Places[len(l.Places)-1]
	for way, p := range map[float64]*Place{-1: first, 1: last} {
		low, _ := n.roundOff(line, way)
		p.Left, p.Right = lowerBank(p.Left, low), lowerBank(p.Right, low)
	}
}

func (n *Network) placeAt(r *reach, s *segment, along float64) Place {
	at := s.place(along)
	p := Place{
		Chainage: s.start + along, Ground: grid.Sample(n.ground, at), Proposed: n.proposedOn(r, s, along),
		Bed: s.bed(along), Water: s.level(along), Brim: ifFinite(s.brim, math.NaN()),
	}
	if r.form == drain {
		p.Left, p.Right = n.drainBank(r, s, along, 1), n.drainBank(r, s, along, -1)
		p.Left, p.Right = ifFinite(p.Left, math.NaN()), ifFinite(p.Right, math.NaN())
		return p
	}
	p.Left, p.Right = n.bankLevel(n.bankAt(r, s, along, 1)), n.bankLevel(n.bankAt(r, s, along, -1))
	return p
}

// proposedOn returns the level of the proposed ground on a line [m]; where the bed
// steps, that on the segment's own side.
func (n *Network) proposedOn(r *reach, s *segment, along float64) float64 {
	at := s.place(along)
	here := n.at(at, designed)
	if here.reach >= 0 && &n.reaches[here.reach] == r {
		f := r.flank(s, along, 0)
		here.z = s.bed(along) + f.height(0)
	}
	return here.shape(grid.Sample(n.ground, at))
}

// poolsOf parts the segments of a channel at its sills.
func poolsOf(segs []segment, marks []Mark) []Pool {
	var pools []Pool
	from, last := 0.0, segs[len(segs)-1]
	end := last.start + last.length
	add := func(to float64) {
		for i := range segs {
			if s := &segs[i]; s.start >= from-shortest && s.start < to-shortest {
				pools = append(pools, Pool{From: from, To: to, Level: s.levelA, Brim: s.brim})
				break
			}
		}
		from = to
	}
	for _, m := range marks {
		if m.Kind == plan.Sill {
			add(m.Chainage)
		}
	}
	add(end)
	if len(pools) == 0 {
		return nil
	}
	lowest := len(pools) - 1
	if segs[0].bedA < last.bedB {
		lowest = 0
	}
	pools[lowest].Lowest = true
	return pools
}

// AlongLine returns the ground and the proposed ground along any line; the rest of
// its places is not known.
func (n *Network) AlongLine(line orb.LineString) LongSection {
	var l LongSection
	segs := lay(line, nil)
	for i := range segs {
		s := &segs[i]
		l.Length = s.start + s.length
	}
	step := longStepOf(l.Length)
	for i := range segs {
		s := &segs[i]
		count := math.Ceil(s.length / step)
		for k := 0.0; k < count; k++ {
			l.Places = append(l.Places, n.bare(s, s.length*k/count))
		}
		if i == len(segs)-1 {
			l.Places = append(l.Places, n.bare(s, s.length))
		}
	}
	return l
}

func (n *Network) bare(s *segment, along float64) Place {
	at, none := s.place(along), math.NaN()
	return Place{
		Chainage: s.start + along, Ground: grid.Sample(n.ground, at), Proposed: n.Proposed(at),
		Bed: none, Water: none, Left: none, Right: none, Brim: none,
	}
}

// At returns what lies at a chainage [m]: between two places in proportion, at a
// step what lies beyond it. Beyond the ends it is the end's; the zero Place where
// there are none.
func (l LongSection) At(chainage float64) Place {
	if len(l.Places) == 0 {
		return Place{}
	}
	i, _ := slices.BinarySearchFunc(l.Places, chainage, func(p Place, c float64) int {
		if p.Chainage <= c {
			return -1
		}
		return 1
	})
	if i == 0 || i == len(l.Places) {
		return l.Places[max(0, i-1)]
	}
	a, b := l.Places[i-1], l.Places[i]
	t := (chainage - a.Chainage) / (b.Chainage - a.Chainage)
	mid := func(a, b float64) float64 { return a + (b-a)*t }
	return Place{
		Chainage: chainage, Ground: mid(a.Ground, b.Ground), Proposed: mid(a.Proposed, b.Proposed),
		Bed: mid(a.Bed, b.Bed), Water: mid(a.Water, b.Water),
		Left: mid(a.Left, b.Left), Right: mid(a.Right, b.Right), Brim: mid(a.Brim, b.Brim),
	}
}

// AcrossLine cuts square across any line at a chainage [m], out to a distance on
// either side [m]: the ground and the proposed ground.
func (n *Network) AcrossLine(line orb.LineString, chainage, out float64) CrossSection {
	segs := lay(line, nil)
	if len(segs) == 0 {
		return CrossSection{Level: math.NaN()}
	}
	s, along := segmentAt(segs, chainage)
	c := CrossSection{Station: s.start + along, At: s.place(along), Level: math.NaN()}
	far := int(out / sectionStep)
	c.sample(n, s, -far, far)
	return c
}

// Chainage returns how far along a line it passes nearest to p, and how far away
// that is [m]; +Inf for a line of no length.
func Chainage(line orb.LineString, p orb.Point) (chainage, off float64) {
	least := math.Inf(1)
	for _, s := range lay(line, nil) {
		if along, square := s.near(p); square < least {
			chainage, least = s.start+along, square
		}
	}
	return chainage, math.Sqrt(least)
}
