package compare

import (
	"context"
	"fmt"
	"math"
	"slices"

	"golang.org/x/sync/errgroup"

	"runnel/analysis/channel"
	"runnel/geo/plan"
)

// A StagePoint is what the water of channels touches and holds when it stands at
// one level in all of them, or at the brim of those that are lower; pools that sills
// hold above that level stand as they do in use.
type StagePoint struct {
	// Level of the water [m].
	Level float64
	// Perimeter is the mean wetted perimeter [m]: Contact over the length along the
	// lines that is wet; NaN where all is dry.
	Perimeter float64
	// Contact is the soil under water [m²], Surface the area of the water's surface
	// [m²], Volume its volume [m³], WetEdge the length of its edge [m].
	Contact, Surface, Volume, WetEdge float64
	// InUse is set at a level at which water stands as the scheme is drawn.
	InUse bool
}

// LineStages is one channel at levels from its lowest bed to its brim.
type LineStages struct {
	ID     plan.ID
	Title  string
	Points []StagePoint
}

// Stages is a stage table: a scheme's channels together, and each by itself.
type Stages struct {
	Scheme []StagePoint
	// Lines lists the channels that can hold water.
	Lines []LineStages
	// Why says why there is no table; empty where there is one.
	Why string
	// Notes say of which channels no level is in use, and why.
	Notes []string
}

// aboveAll is a level above every brim [m].
const aboveAll = 1e5

// span is from the lowest bed of a channel to its brim, and the level in use [m];
// NaN where it is dry.
type span struct{ low, high, use float64 }

// sameLevel is how near two levels are to be one [m].
const sameLevel = 1e-9

func (s span) holds(level float64) bool { return s.low-sameLevel <= level && level <= s.high+sameLevel }

func (s span) inUse(level float64) bool { return math.Abs(level-s.use) <= sameLevel }

// StageTable measures a scheme's channels at some levels, two at least, evenly from
// the lowest bed to the highest brim, and at each channel's own lowest bed, brim and
// level in use. Drains, whose water is not the scheme's to set, are left out. The pools
// above a channel's sills stay as they are, until the level comes up to theirs, so that
// at its level in use a channel measures as it does in an account.
func StageTable(ctx context.Context, s *plan.Site, scheme plan.SchemeID, levels int) (Stages, error) {
	return stagesAt(ctx, s, scheme, func(low, high float64) (at []float64, err error) {
		for i := range levels {
			at = append(at, low+(high-low)*float64(i)/float64(levels-1))
		}
		return at, nil
	})
}

// mostLevels is at how many levels a table is made at most.
const mostLevels = 1000

// StagesEvery is StageTable at the whole multiples of a step [m].
func StagesEvery(ctx context.Context, s *plan.Site, scheme plan.SchemeID, step float64) (Stages, error) {
	return stagesAt(ctx, s, scheme, func(low, high float64) (at []float64, err error) {
		if !(step > 0) || (high-low)/step > mostLevels {
			return nil, fmt.Errorf("a step of %g m from %.2f m to %.2f m makes no table of %d levels or fewer; give a larger step", step, low, high, mostLevels)
		}
		at = []float64{low, high}
		for i := math.Ceil(low / step); i*step <= high; i++ {
			at = append(at, i*step)
		}
		return at, nil
	})
}

// stagesAt measures a scheme's channels at the levels that choose wants between the
// lowest bed and the highest brim, and at each channel's own.
func stagesAt(ctx context.Context, s *plan.Site, scheme plan.SchemeID, choose func(low, high float64) ([]float64, error)) (Stages, error) {
	l, err := layOut(ctx, s, scheme)
	if err != nil {
		return Stages{}, err
	}
	network := l.network.Standing()
	spans, err := spansOf(ctx, network)
	if err != nil {
		return Stages{}, err
	}
	notes := leaveRunning(l.network, spans)
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range spans {
		low, high = min(low, p.low), max(high, p.high)
	}
	if !(low < high) {
		return Stages{Why: "no channel of the scheme can hold water"}, nil
	}
	at, err := choose(low, high)
	if err != nil {
		return Stages{}, err
	}
	at = withOwn(at, spans)
	lines := make([][]channel.Line, len(at))
	group, ctx := errgroup.WithContext(ctx)
	group.SetLimit(2)
	for i, level := range at {
		group.Go(func() (err error) {
			lines[i], err = network.WithLowest(level).Measure(ctx, channel.Step{})
			return err
		})
	}
	if err := group.Wait(); err != nil {
		return Stages{}, err
	}
	t := tabulate(at, lines, spans)
	t.Notes = notes
	return t, nil
}

// leaveRunning marks channels whose water is measured as it flows as having no level in
// use, and says so of each.
func leaveRunning(n *channel.Network, spans map[plan.ID]span) []string {
	var notes []string
	for _, f := range n.Features() {
		if p, ok := spans[f.ID]; ok && n.Runs(f.ID) {
			spans[f.ID] = span{p.low, p.high, math.NaN()}
			notes = append(notes, fmt.Sprintf("%s is measured as it flows, with water that falls along it, so that none of these levels is in use in it.", f.Title()))
		}
	}
	return notes
}

// spansOf returns the span of each channel that can hold water.
func spansOf(ctx context.Context, network *channel.Network) (map[plan.ID]span, error) {
	full, _ := network.WithLevel(aboveAll)
	var measured [2][]channel.Line
	for i, n := range []*channel.Network{full, network} {
		lines, err := n.Measure(ctx, channel.Step{})
		if err != nil {
			return nil, err
		}
		measured[i] = lines
	}
	spans := map[plan.ID]span{}
	for i, l := range measured[0] {
		m := l.Measure
		if l.Kind != plan.Channel || !(m.Depth > 0) || m.Level >= aboveAll {
			continue
		}
		use := math.NaN()
		if own := measured[1][i].Measure; own.Wet > 0 {
			use = min(own.Level, m.Level)
		}
		spans[l.ID] = span{m.Level - m.Depth, m.Level, use}
	}
	return spans, nil
}

// withOwn adds each channel's own levels to some, and puts them in order.
func withOwn(at []float64, spans map[plan.ID]span) []float64 {
	for _, p := range spans {
		at = append(at, p.low, p.high)
		if !math.IsNaN(p.use) {
			at = append(at, p.use)
		}
	}
	slices.Sort(at)
	return slices.CompactFunc(at, func(a, b float64) bool { return math.Abs(a-b) <= sameLevel })
}

// tabulate puts the channels' measures at levels into a table.
func tabulate(at []float64, measured [][]channel.Line, spans map[plan.ID]span) Stages {
	var t Stages
	for k, l := range measured[0] {
		p, ok := spans[l.ID]
		if !ok || l.Kind != plan.Channel {
			continue
		}
		line := LineStages{ID: l.ID, Title: l.Title}
		for i, level := range at {
			if p.holds(level) {
				line.Points = append(line.Points, pointOf(level, p.inUse(level), measured[i][k:k+1]))
			}
		}
		t.Lines = append(t.Lines, line)
	}
	for i, level := range at {
		use := false
		var held []channel.Line
		for _, l := range measured[i] {
			if p, ok := spans[l.ID]; ok {
				held, use = append(held, l), use || p.inUse(level)
			}
		}
		t.Scheme = append(t.Scheme, pointOf(level, use, held))
	}
	return t
}

func pointOf(level float64, use bool, lines []channel.Line) StagePoint {
	var sum channel.Measure
	for _, l := range lines {
		sum.Contact += l.Measure.Contact
		sum.Surface += l.Measure.Surface
		sum.Volume += l.Measure.Volume
		sum.WetBank += l.Measure.WetBank
		sum.Wet += l.Measure.Wet
	}
	return StagePoint{Level: level, Perimeter: sum.Perimeter(), Contact: sum.Contact, Surface: sum.Surface,
		Volume: sum.Volume, WetEdge: sum.WetBank, InUse: use}
}
