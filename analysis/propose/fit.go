package propose

import (
	"context"
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"runnel/geo/plan"
)

// What is dug on the ground's cells comes out at the volume or less, by no more than
// digSlack as a share where the bed's width and the limits allow: digAim is aimed at, in
// so many tries.
const (
	digSlack = 0.005
	digAim   = 0.998
	digTries = 3
)

// fitted reports whether what is dug comes to a volume [m³].
func fitted(dug, volume float64) bool { return dug <= volume && dug >= (1-digSlack)*volume }

// A cut is a proposal as it is cut into the ground, and the volume at which it was
// reckoned [m³]. It is sound where it keeps every limit, and water stands in it as it
// was reckoned.
type cut struct {
	Proposal
	reckoned float64
	sound    bool
}

// proposal cuts a course into the ground, its bed made wider or narrower until the
// volume is dug, and reports whether it is sound.
func (w *world) proposal(ctx context.Context, around *plan.Site, t *trial, before float64) (p Proposal, sound bool, err error) {
	to, width := *w, math.NaN()
	for range digTries {
		c, err := to.cut(ctx, around, t.knots, before)
		if err != nil {
			return p, false, err
		}
		if c.sound && c.Volume <= w.q.Volume && !(sound && p.Volume > c.Volume) {
			p, sound = c.Proposal, true
		}
		if fitted(c.Volume, w.q.Volume) || c.BedWidth == width || c.Volume <= 0 {
			break
		}
		width = c.BedWidth
		to.dig = c.reckoned * digAim * w.q.Volume / c.Volume
	}
	return p, sound, nil
}

// cut measures a course cut into the ground.
func (w *world) cut(ctx context.Context, around *plan.Site, knots orb.LineString, before float64) (cut, error) {
	m := tester{world: w}
	t := m.try(knots)
	c := cut{Proposal: Proposal{Channel: w.feature(&t), Knots: knots, BedWidth: t.width}, reckoned: t.volume}
	c.Line = c.Channel.Line()
	c.Length = planar.Length(c.Line)
	if !m.keeps() {
		return c, nil
	}
	m.describe(&c.Proposal)
	line, problems, volume, err := w.measure(ctx, around, c.Channel)
	c.Contact, c.Level, c.Volume = line.Measure.Contact, line.Measure.Level, volume-before
	c.sound = len(problems) == 0 && math.Abs(c.Level-t.level) < levelSlack
	return c, err
}

// straight measures the straight line of a volume, however wide its bed [m³].
func (w *world) straight(ctx context.Context, around *plan.Site, before, volume float64) (s Straight, err error) {
	free := *w
	free.dig = volume
	free.q.Narrowest, free.q.Widest = 0.05, 50
	for range digTries {
		m := tester{world: &free}
		t := m.try(orb.LineString{w.q.From, w.q.To})
		line, _, dug, err := w.measure(ctx, around, free.feature(&t))
		if err != nil {
			return s, err
		}
		s = Straight{Contact: line.Measure.Contact, Volume: dug - before, BedWidth: t.width, Length: t.length}
		if fitted(s.Volume, volume) || s.Volume <= 0 {
			break
		}
		free.dig = t.volume * digAim * volume / s.Volume
	}
	return s, nil
}
