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
	// crossings and sections are all that are drawn.
	crossings, sections []plan.Feature
	index               index
	// joints are where channels open into one another, systems those that do so.
	joints  []joint
	systems []system
	// pools, waters and links are those that the channels' levels were found with.
	pools  []pool
	waters []water
	links  []link
	// clearings are the drains, on which no bank is raised.
	clearings []clearing
	// unlaid lists what could not be laid out as it is drawn.
	unlaid []Problem
	// still is the network with its water at rest, nil in itself.
	still *Network
}

// A feature is a channel or drain that was laid out.
type feature struct {
	plan.Feature
	reach int
	level float64
	lip   lip
	// mouths lists where a channel is open to drains.
	mouths []mouth
	// withheld is set where its water cannot be measured, runs where its water is
	// taken as it runs.
	withheld, runs bool
}

// A Problem is a feature that could not be measured as it is drawn, and why, in
// a sentence that names it. The rest is measured without it; but a channel that
// holds no water is dug all the same, and one whose water would run out over a
// bank, or a drain with more water than it holds, is measured full to the brim.
type Problem struct {
	ID plan.ID
	// At is where on the map it is, or somewhere on a feature that is wrong as a whole;
	// zero where that has no place.
	At  orb.Point
	Err error
}

func (p Problem) Error() string { return p.Err.Error() }

// NewNetwork lays out what stands in a scheme. What cannot be laid out is left
// out and listed.
func NewNetwork(s *plan.Site, scheme plan.SchemeID) (*Network, []Problem) {
	b := builder{Network: Network{ground: s.Ground}}
	for _, f := range s.Plan.In(scheme) {
		switch f.Kind {
		case plan.Boundary, plan.Channel, plan.Island, plan.Drain, plan.Sill, plan.Spillway, plan.Section, plan.Crossing:
			if err := check(f); err != nil {
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
	b.clear()
	b.layRuns()
	b.layIslands()
	b.idleSills()
	b.layJoints()
	b.openJoints()
	b.unlaid, b.spillways = b.problems, b.drawn[plan.Spillway]
	b.crossings, b.sections = b.drawn[plan.Crossing], b.drawn[plan.Section]
	b.setLevels()
	b.floodIslands()
	n := b.finish()
	n.unlaid = slices.Clip(n.unlaid)
	known := len(n.unlaid)
	n.faults()
	return n, n.unmeasured(append(b.problems, n.unlaid[known:]...))
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
	// bound is the rectangle round a run's line, lip the lowest of its banks.
	bound orb.Bound
	lip   lip
	// by lists the numbers of the runs that an island stands in or between.
	by []int
}

func (b *builder) problem(f plan.Feature, err error) { b.problemAt(f, somewhere(f), err) }

func (b *builder) problemAt(f plan.Feature, at orb.Point, err error) {
	b.problems = append(b.problems, Problem{ID: f.ID, At: at, Err: err})
}

func sectionOf(f plan.Feature) Section {
	s := Section{Bed: f.Num("bed_width"), Left: f.Num("side_left"), Right: f.Num("side_right")}
	if f.Kind == plan.Channel && f.Text("shape") == "rounded" {
		s.Form = Rounded
	}
	return s
}

func (b *builder) layRuns() {
	for _, f := range b.drawn[plan.Channel] {
		if run, err := b.layRun(f, nil); err != nil {
			b.problem(f, fmt.Errorf("%s %w", f.Title(), err))
		} else {
			b.runs = append(b.runs, run)
		}
	}
	for i, fixes := range b.placeSections() {
		if len(fixes) == 0 {
			continue
		}
		// What could be laid out without them can be with them.
		if run, err := b.layRun(b.runs[i].feature, fixes); err == nil {
			b.runs[i] = run
		}
	}
}

// layRun lays a channel out with what is fixed along it, in order.
func (b *builder) layRun(f plan.Feature, fixes []fix) (laid, error) {
	line := f.Line()
	on := fixed{fixes, planar.Length(line), closed(line)}
	profile, err := b.bedProfile(f, on)
	if err != nil {
		return laid{}, err
	}
	run := laid{reach: reach{form: run, section: sectionOf(f), ring: on.ring}, feature: f, line: line, profile: profile}
	b.raiseBanks(&run)
	stretches := on.stretches(run.section)
	cuts := profile.chainages()
	for _, t := range stretches {
		cuts = append(cuts, t.start)
	}
	for _, c := range b.sillsAcross(line) {
		cuts = append(cuts, c.at)
	}
	run.segs = lay(line, cuts)
	if err := tangle(run.segs); err != nil {
		return laid{}, err
	}
	run.setBed()
	for i := range run.segs {
		run.segs[i].over = stretchAt(stretches, run.segs[i].start+run.segs[i].length/2)
	}
	return run, nil
}

func (l *laid) setBed() {
	for i := range l.segs {
		s := &l.segs[i]
		s.bedA, s.bedB = l.profile.over(s.start, s.start+s.length)
		s.hold(math.NaN())
	}
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
			n.lines = append(n.lines, feature{Feature: l.feature, reach: i, level: l.level, lip: l.lip, mouths: b.mouths(&l)})
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
			r.influence = max(r.water+drainMargin, n.kept(r))
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
