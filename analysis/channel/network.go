package channel

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A Network is the channels, islands and drains of one scheme as one surface.
// It is not changed once made, and may be read by many at once.
type Network struct {
	ground  grid.Ground
	bounds  []boundary // drains count inside them
	reaches []reach    // islands first, then channels, then drains
	segs    []segment  // those of each reach together
	lines   []feature  // channels, then drains
	islands []plan.Feature
	sills   []Sill
	// spillways are all that are drawn, by a channel or not.
	spillways []plan.Feature
	index     index
	// unlaid lists what could not be laid out as it is drawn.
	unlaid []Problem
}

// A feature is a channel or drain that was laid out.
type feature struct {
	plan.Feature
	reach int
	level float64
	lip   lip
	// mouths lists where a channel is open to drains.
	mouths []mouth
}

// A Problem is a feature that could not be measured as it is drawn, and why, in
// a sentence that names it. The rest is measured without it; but a channel that
// holds no water is dug all the same, and one whose water would run out over a
// bank, or a drain with more water than it holds, is measured full to the brim.
type Problem struct {
	ID  plan.ID
	Err error
}

func (p Problem) Error() string { return p.Err.Error() }

// NewNetwork lays out what stands in a scheme. What cannot be laid out is left
// out and listed.
func NewNetwork(s *plan.Site, scheme plan.SchemeID) (*Network, []Problem) {
	b := builder{Network: Network{ground: s.Ground}}
	for _, f := range s.Plan.In(scheme) {
		switch f.Kind {
		case plan.Boundary, plan.Channel, plan.Island, plan.Drain, plan.Sill, plan.Spillway:
			if err := plan.Check(f); err != nil {
				b.problem(f, err)
				continue
			}
			b.drawn[f.Kind] = append(b.drawn[f.Kind], f)
		}
	}
	for _, f := range b.drawn[plan.Boundary] {
		b.bounds = append(b.bounds, boundary{f.Area(), f.Area().Bound().Pad(boundarySlack)})
	}
	b.layDrains()
	b.layRuns()
	b.layIslands()
	b.idleSills()
	b.unlaid, b.spillways = b.problems, b.drawn[plan.Spillway]
	b.setLevels()
	b.floodIslands()
	return b.finish(), b.problems
}

// Features lists what is laid out: islands, then channels, then drains.
func (n *Network) Features() []plan.Feature {
	all := slices.Clone(n.islands)
	for _, f := range n.lines {
		all = append(all, f.Feature)
	}
	return all
}

// A builder gathers a network. Its runs and drains are laid before the islands,
// and put behind them at the end.
type builder struct {
	Network
	drawn    [plan.Planting + 1][]plan.Feature
	runs     []laid
	drains   []laid
	islands  []laid
	problems []Problem
}

// laid is a reach with its own segments, before they are put together.
type laid struct {
	reach
	feature plan.Feature
	line    orb.LineString
	profile Profile
	segs    []segment
	level   float64
	// lip is the lowest of a channel's banks.
	lip lip
	// by lists the numbers of the runs that an island stands in or between.
	by []int
}

func (b *builder) problem(f plan.Feature, err error) {
	b.problems = append(b.problems, Problem{f.ID, err})
}

func sectionOf(f plan.Feature) Section {
	return Section{Bed: f.Num("bed_width"), Left: f.Num("side_left"), Right: f.Num("side_right")}
}

func (b *builder) layRuns() {
	for _, f := range b.drawn[plan.Channel] {
		profile, err := b.bedProfile(f)
		if err != nil {
			b.problem(f, fmt.Errorf("%s %w", f.Title(), err))
			continue
		}
		line := f.Line()
		run := laid{reach: reach{form: run, section: sectionOf(f), ring: closed(line)}, feature: f, line: line, profile: profile}
		cuts := profile.chainages()
		for _, c := range b.sillsAcross(line) {
			cuts = append(cuts, c.at)
		}
		run.segs = lay(line, cuts)
		run.setBed()
		b.runs = append(b.runs, run)
	}
}

func (l *laid) setBed() {
	for i := range l.segs {
		s := &l.segs[i]
		s.bedA, s.bedB = l.profile.At(s.start), l.profile.At(s.start+s.length)
		s.hold(math.NaN())
	}
}

// tieReach is how near to a drain's line a channel's end ties in to it, however
// narrow the two are [m].
const tieReach = 1.5

// bedProfile returns a channel's bed levels. An end with no level set takes the
// drain's bed where it ties in to one, else lies the channel's depth below the
// ground, but no higher than the drain's bed that the other end ties in to, so
// that the drain's water runs in. A ring with neither is level, that depth below
// its lowest ground.
func (b *builder) bedProfile(f plan.Feature) (Profile, error) {
	line := f.Line()
	if !b.touchesGround(line) {
		return nil, fmt.Errorf("lies outside the ground; move it onto the ground")
	}
	start, end := f.Num("bed_start"), f.Num("bed_end")
	if closed(line) && math.IsNaN(start+end) {
		low := math.Inf(1)
		for _, p := range line {
			if z := grid.Sample(b.ground, p); z < low {
				low = z
			}
		}
		start, end = ifSet(start, ifSet(end, low-f.Num("depth"))), ifSet(end, ifSet(start, low-f.Num("depth")))
	}
	first, last := line[0], line[len(line)-1]
	start = ifSet(start, b.endBed(f, first, last))
	end = ifSet(end, b.endBed(f, last, first))
	switch {
	case math.IsNaN(start):
		return nil, fmt.Errorf("starts outside the ground; move its start onto the ground, or set the bed level there")
	case math.IsNaN(end):
		return nil, fmt.Errorf("ends outside the ground; move its end onto the ground, or set the bed level there")
	}
	return Profile{{0, start}, {planar.Length(line), end}}, nil
}

func ifSet(v, otherwise float64) float64 {
	if math.IsNaN(v) {
		return otherwise
	}
	return v
}

// endBed returns the bed's level at the end p of a channel whose other end is far.
func (b *builder) endBed(f plan.Feature, p, far orb.Point) float64 {
	if tie, ok := b.tie(f, p); ok {
		return tie.bed
	}
	bed := grid.Sample(b.ground, p) - f.Num("depth")
	if tie, ok := b.tie(f, far); ok && tie.bed < bed {
		return tie.bed
	}
	return bed
}

func (b *builder) touchesGround(line orb.LineString) bool {
	for _, s := range lay(line, every(line, outlineStep)) {
		if !math.IsNaN(grid.Sample(b.ground, s.a)) || !math.IsNaN(grid.Sample(b.ground, s.b)) {
			return true
		}
	}
	return false
}

// finish puts the parts together, islands first so that ground inside them is
// known before anything else is asked.
func (b *builder) finish() *Network {
	n := b.Network
	for i, l := range append(append(b.islands, b.runs...), b.drains...) {
		l.first, l.end = len(n.segs), len(n.segs)+len(l.segs)
		n.segs = append(n.segs, l.segs...)
		n.reaches = append(n.reaches, l.reach)
		if line := i - len(b.islands); line >= 0 {
			n.lines = append(n.lines, feature{l.feature, i, l.level, l.lip, b.mouths(&l)})
			for k := l.first; k < l.end; k++ {
				n.segs[k].line = line
			}
		} else {
			n.islands = append(n.islands, l.feature)
		}
	}
	n.spreadAll()
	return &n
}

// spreadAll works out how far each reach matters, and indexes them.
func (n *Network) spreadAll() {
	for i := range n.reaches {
		r := &n.reaches[i]
		switch r.form {
		case drain:
			r.influence = r.water + drainMargin
		case run:
			r.influence = n.spread(r)
		default:
			r.influence = n.islandSpread(r)
		}
	}
	n.index = newIndex(n.reaches, n.segs)
}

// islandSpread reaches over the whole island, and as far as a moat or the bank
// of a raised island goes outside it [m].
func (n *Network) islandSpread(r *reach) float64 {
	var outline orb.MultiPoint
	for _, s := range n.segs[r.first:r.end] {
		outline = append(outline, s.a)
	}
	b := outline.Bound()
	far := min(b.Max[0]-b.Min[0], b.Max[1]-b.Min[1])/2 + reachSpare
	if r.form == moat {
		far = max(far, n.spread(r))
	}
	for i := r.first; i < r.end && !math.IsNaN(r.top); i++ {
		far = max(far, n.toe(r, &n.segs[i])+reachSpare)
	}
	return min(far, farthest)
}

// toe returns how far out from the start of a segment the bank of a raised island
// comes down to the ground [m].
func (n *Network) toe(r *reach, s *segment) float64 {
	for off := 0.0; off < farthest; off += bankStep {
		ground := grid.Sample(n.ground, orb.Point{s.a[0] + s.uy*off, s.a[1] - s.ux*off})
		if !(r.top-off/max(r.side, steepest) > ground) {
			return off
		}
	}
	return farthest
}

// WithLevel returns the network with the water of every channel at one level [m],
// or at its brim where that is lower, and what is wrong with it then.
func (n *Network) WithLevel(level float64) (*Network, []Problem) {
	m := *n
	m.reaches = append([]reach(nil), n.reaches...)
	m.segs = append([]segment(nil), n.segs...)
	m.lines = append([]feature(nil), n.lines...)
	for i := range m.segs {
		if m.lines[m.segs[i].line].Kind == plan.Channel {
			m.segs[i].hold(level)
		}
	}
	problems := slices.Clone(n.unlaid)
	for i := range m.lines {
		f := &m.lines[i]
		if f.Kind != plan.Channel {
			continue
		}
		segs := m.segs[m.reaches[f.reach].first:m.reaches[f.reach].end]
		f.level = lowestLevel(segs)
		if err := trouble(f.Title(), segs, level, f.lip); err != nil {
			problems = append(problems, Problem{f.ID, err})
		}
	}
	m.spreadAll()
	return &m, problems
}
