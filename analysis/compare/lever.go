package compare

import (
	"context"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/channel"
	"runnel/geo/plan"
)

// A Lever is a dimension of a scheme's channels that can be made a little larger.
type Lever string

// The levers. Longer draws every channel larger about its way in, all by one share, so
// that a straight one is carried on at its far end and a winding one winds a little
// wider as well; the levels at its ends, its islands and what stands on it stay. Wider
// widens every bed, those of sections too where they are set, and the arms of islands,
// but no surveyed section. Deeper lowers every bed, islands' arms with it.
const (
	Longer Lever = "length"
	Wider  Lever = "bed width"
	Deeper Lever = "depth"
)

// step is how far a lever is moved either way [m].
func (l Lever) step() float64 {
	switch l {
	case Longer:
		return 0.5
	case Wider:
		return 0.05
	}
	return 0.02
}

// A prober moves the levers of a scheme.
type prober struct {
	site    *plan.Site
	account *Account
	// length is that of the lines of all channels, wet what of it is under water [m].
	length, wet float64
	// beyond is the title of the first channel that leaves the known ground, if one does.
	beyond string
}

// row moves one lever either way.
func (p *prober) row(ctx context.Context, lever Lever) (SensitivityRow, error) {
	up, down := lever.step(), lever.step()
	if lever == Wider {
		up, down = p.room(up)
	}
	more, err := p.account.try(ctx, p.moved(lever, up))
	if err != nil {
		return SensitivityRow{}, err
	}
	less, err := p.account.try(ctx, p.moved(lever, -down))
	if err != nil {
		return SensitivityRow{}, err
	}
	r := SensitivityRow{
		Lever:   lever,
		Contact: (contact(more.lines) - contact(less.lines)) / (up + down),
		Dig:     (more.dug - less.dug) / (up + down),
		Level:   (more.meanLevel() - less.meanLevel()) / (up + down),
		PerDig:  math.NaN(),
		Arms:    lever == Wider && slices.ContainsFunc(p.account.Network.Features(), isIsland),
	}
	switch {
	case !p.runsAlike(more) || !p.runsAlike(less):
		// What jumps has no rate.
		r.Contact, r.Level = math.NaN(), math.NaN()
	case r.Dig > 1e-6:
		r.PerDig = r.Contact / r.Dig
	}
	return r, nil
}

// runsAlike reports whether water runs in the same channels of a trial as in those of
// the account.
func (p *prober) runsAlike(t trial) bool {
	return !slices.ContainsFunc(t.channels(), func(l channel.Line) bool { return t.network.Runs(l.ID) != p.account.Network.Runs(l.ID) })
}

func isIsland(f plan.Feature) bool { return f.Kind == plan.Island }

// meanLevel is the channels' water level in the mean along them [m].
func (t *trial) meanLevel() float64 {
	sum, length := 0.0, 0.0
	for _, l := range t.channels() {
		sum += l.Measure.Level * l.Measure.Length
		length += l.Measure.Length
	}
	return sum / length
}

// room returns how much wider and narrower, up to a step, all beds and arms may be [m].
func (p *prober) room(step float64) (up, down float64) {
	up, down = step, step
	for _, f := range p.site.Plan.In(p.account.Scheme) {
		if field, ok := widthField(f.Kind); ok {
			if w := f.Num(field.Name); !math.IsNaN(w) {
				up, down = min(up, field.High-w), min(down, w-field.Low)
			}
		}
	}
	return up, down
}

// widthField is the field that says how wide a bed of a kind is dug.
func widthField(kind plan.Kind) (field plan.Field, ok bool) {
	name := "bed_width"
	switch kind {
	case plan.Channel, plan.Section:
	case plan.Island:
		name = "arm_width"
	default:
		return field, false
	}
	for _, field := range plan.SpecOf(kind).Fields {
		if field.Name == name {
			return field, true
		}
	}
	return field, false
}

// moved returns the site with a lever moved by some metres.
func (p *prober) moved(lever Lever, by float64) *plan.Site {
	return redrawn(p.site, p.account.Scheme, func(f plan.Feature) []plan.Feature {
		switch lever {
		case Longer:
			f = p.longer(f, 1+by/p.length)
		case Wider:
			f = wider(f, by)
		case Deeper:
			f = deeper(f, p.account.Network, by)
		}
		return []plan.Feature{f}
	})
}

// longer draws a channel larger about its way in.
func (p *prober) longer(f plan.Feature, times float64) plan.Feature {
	if f.Kind != plan.Channel {
		return f
	}
	about, line := p.wayIn(f), f.Line().Clone()
	for i, at := range line {
		for k := range at {
			line[i][k] = about[k] + times*(at[k]-about[k])
		}
	}
	return f.At(line)
}

// wayIn returns the end of a channel that lies nearer to a drain or to another
// channel; its start where there are none.
func (p *prober) wayIn(f plan.Feature) orb.Point {
	start, end := f.Line()[0], f.Line()[len(f.Line())-1]
	atStart, atEnd := math.Inf(1), math.Inf(1)
	for _, other := range p.account.Network.Features() {
		if other.ID != f.ID && other.Kind != plan.Island {
			atStart = min(atStart, plan.Distance(other.Geometry, start))
			atEnd = min(atEnd, plan.Distance(other.Geometry, end))
		}
	}
	if atEnd < atStart {
		return end
	}
	return start
}

// wider widens a channel, a section of it, or the arms of an island.
func wider(f plan.Feature, by float64) plan.Feature {
	field, ok := widthField(f.Kind)
	if !ok {
		return f
	}
	if w := f.Num(field.Name); !math.IsNaN(w) {
		f = f.With(field.Name, plan.Value{Number: w + by})
	}
	return f
}

// deeper lowers the bed of a channel, and the bed level that a section sets.
func deeper(f plan.Feature, n *channel.Network, by float64) plan.Feature {
	lower := func(field string, level float64) {
		if !math.IsNaN(level) {
			f = f.With(field, plan.Value{Number: level - by})
		}
	}
	switch f.Kind {
	case plan.Channel:
		lower("bed_start", n.BedAt(f.ID, 0))
		lower("bed_end", n.BedAt(f.ID, math.Inf(1)))
	case plan.Section:
		lower("bed_level", f.Num("bed_level"))
	}
	return f
}
