package compare

import (
	"context"

	"runnel/analysis/channel"
	"runnel/geo/plan"
)

// redrawn returns a site with nothing but one scheme in it, each of whose features
// is what draw makes of it.
func redrawn(s *plan.Site, scheme plan.SchemeID, draw func(plan.Feature) []plan.Feature) *plan.Site {
	v := *s
	v.Plan.Features = nil
	for _, f := range s.Plan.In(scheme) {
		if f.Scheme == plan.AsItIs {
			v.Plan.Features = append(v.Plan.Features, f)
			continue
		}
		v.Plan.Features = append(v.Plan.Features, draw(f)...)
	}
	return &v
}

// A trial is a scheme redrawn, laid out and measured.
type trial struct {
	network *channel.Network
	// lines are the channels, then the drains; dug is the earth dug out [m³].
	lines []channel.Line
	dug   float64
}

// try lays out the account's scheme as a site has it, with the water that the account
// asked for, and measures it.
func (a *Account) try(ctx context.Context, s *plan.Site) (trial, error) {
	laid := Account{Scheme: a.Scheme}
	network, err := laid.layOut(ctx, s, a.asked)
	if err != nil {
		return trial{}, err
	}
	lines, err := network.Measure(ctx, channel.Step{})
	if err != nil {
		return trial{}, err
	}
	earth, err := dug(ctx, network)
	return trial{network, lines, earth}, err
}

// channels lists the channels of the trial.
func (t *trial) channels() []channel.Line {
	var all []channel.Line
	for _, l := range t.lines {
		if l.Kind == plan.Channel {
			all = append(all, l)
		}
	}
	return all
}

// digSpacing is how far apart the sections are by which a dig is told [m].
const digSpacing = 1.0

// dug returns the earth that a network digs out along its sections, by the
// prismoidal rule [m³]. It goes evenly with small changes, as a count of cells does
// not.
func dug(ctx context.Context, n *channel.Network) (float64, error) {
	digs, err := n.Digs(ctx, digSpacing)
	sum := 0.0
	for _, d := range digs {
		sum += d.Prismoidal.Cut
	}
	return sum, err
}

// bedWidths are the limits of a channel's bed width [m].
func bedWidths() (least, most float64) {
	for _, field := range plan.SpecOf(plan.Channel).Fields {
		if field.Name == "bed_width" {
			return field.Low, field.High
		}
	}
	panic("compare: a channel has no bed width")
}

// widened returns a section whose bed is wider by some metres, within the limits of
// the field; a surveyed one is stretched across until it is wider by so much.
func widened(x channel.Section, by float64) channel.Section {
	least, most := bedWidths()
	x.Bed = max(least, min(most, x.Bed+by))
	if len(x.Line) < 2 {
		return x
	}
	span := x.Line[len(x.Line)-1].Off - x.Line[0].Off
	stretch := max(least, min(most, span+by)) / span
	stretched := make([]channel.Point, len(x.Line))
	for i, p := range x.Line {
		stretched[i] = channel.Point{Off: p.Off * stretch, Height: p.Height}
	}
	x.Line = stretched
	return x
}
