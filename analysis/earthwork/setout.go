package earthwork

import (
	"context"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"runnel/analysis/channel"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// SetOutOptions say where pegs are put. The zero SetOutOptions are the usual ones.
type SetOutOptions struct {
	// Spacing is how far apart pegs stand along a line [m], at whole multiples of it
	// from the line's start; 2 m where it is nought.
	Spacing float64
	// Offset is how far outside the top of a bank its stake stands [m], so that it is
	// not dug away; 1 m where it is nought.
	Offset float64
	// Bend is the least turn that has pegs of its own [°]; 10° where it is nought.
	Bend float64
}

// The usual spacing and offset [m] and the usual least turn [°].
const (
	UsualPegSpacing = 2.0
	UsualPegOffset  = 1.0
	UsualPegBend    = 10.0
)

// least and most are the limits of the options [m, °], mostPegs how many pegs can be
// set: far more than anyone knocks in.
const (
	leastSpacing, mostSpacing = 0.2, 1000.0
	mostOffset                = 50.0
	mostPegs                  = 100_000
)

// ready returns the options with the usual ones where none are given.
func (o SetOutOptions) ready() (SetOutOptions, error) {
	o.Spacing, o.Offset, o.Bend = or(o.Spacing, UsualPegSpacing), or(o.Offset, UsualPegOffset), or(o.Bend, UsualPegBend)
	switch {
	case !(o.Spacing >= leastSpacing && o.Spacing <= mostSpacing):
		return o, fmt.Errorf("pegs every %g m cannot be set; give from %g to %g m", o.Spacing, leastSpacing, mostSpacing)
	case !(o.Offset > 0 && o.Offset <= mostOffset):
		return o, fmt.Errorf("offset stakes %g m outside the banks cannot be set; give more than 0 and up to %g m", o.Offset, mostOffset)
	case !(o.Bend > 0 && o.Bend <= 180):
		return o, fmt.Errorf("a least bend of %g° cannot be looked for; give more than 0 and up to 180°", o.Bend)
	}
	return o, nil
}

func or(v, usual float64) float64 {
	if v == 0 {
		return usual
	}
	return v
}

// SetOut lists the pegs of a network: along each channel in turn, then round each
// moat, then on the crest of each island that is raised in a ring of channel. Drains have none: they are there already. A channel's pegs stand at its ends,
// drops, sills, junctions and tie-ins, where its water parts round an island, at its
// sections, spillways, crossings and corners, at every whole multiple of the spacing from
// its start, and at its bends (see bends). On an island there is none, since the moat's
// own pegs lead round it. Those nearer than 0.1 m along a line are one, which stands
// where the first of them in this list does and names all.
func SetOut(ctx context.Context, s *plan.Site, n *channel.Network, o SetOutOptions) ([]Peg, error) {
	o, err := o.ready()
	if err != nil {
		return nil, err
	}
	m := marker{Network: n, site: s, options: o}
	features := n.Features()
	m.drains = slices.DeleteFunc(slices.Clone(features), func(f plan.Feature) bool { return f.Kind != plan.Drain })
	for _, f := range features {
		if f.Kind != plan.Channel {
			continue
		}
		if err := m.channel(ctx, f); err != nil {
			return nil, err
		}
	}
	for _, moat := range n.Moats() {
		if err := m.moat(ctx, moat); err != nil {
			return nil, err
		}
	}
	for _, island := range n.Crests() {
		if err := m.crests(ctx, island); err != nil {
			return nil, err
		}
	}
	return m.pegs, nil
}

// A marker sets pegs.
type marker struct {
	*channel.Network
	site    *plan.Site
	options SetOutOptions
	drains  []plan.Feature
	pegs    []Peg
}

// room reports lines too long for the spacing.
func (m *marker) room(length float64) error {
	if float64(len(m.pegs))+length/m.options.Spacing > mostPegs {
		return fmt.Errorf("the lines have more than %d pegs at every %g m; set them further apart", mostPegs, m.options.Spacing)
	}
	return nil
}

func (m *marker) channel(ctx context.Context, f plan.Feature) error {
	places, err := m.placesOf(f)
	if err != nil {
		return err
	}
	for _, at := range places {
		if err := ctx.Err(); err != nil {
			return err
		}
		p, err := m.Staking(f.ID, at.chainage)
		if err != nil {
			return err
		}
		peg := m.peg(p, at)
		peg.ID, peg.Kind, peg.Title, peg.Drop = f.ID, plan.Channel, f.Title(), at.drop
		m.sides(&peg, p)
		m.pegs = append(m.pegs, peg)
	}
	return nil
}

// round lists the places round an island's outline.
func (m *marker) round(outline orb.LineString) ([]place, error) {
	length := planar.Length(outline)
	if err := m.room(length); err != nil {
		return nil, err
	}
	places := append(corners(outline, m.options.Bend), evenly(m.options.Spacing, length)...)
	return merge(append(places, place{chainage: 0, what: []Reason{{Why: PegStart}}})), nil
}

// crests sets pegs on the crest of an island that is raised in a ring.
func (m *marker) crests(ctx context.Context, island channel.Moat) error {
	places, err := m.round(island.Outline)
	if err != nil {
		return err
	}
	for _, at := range places {
		if err := ctx.Err(); err != nil {
			return err
		}
		p, ok := m.CrestStaking(island.ID, at.chainage)
		if !ok {
			continue
		}
		peg := m.peg(p, at)
		peg.ID, peg.Kind, peg.Title = island.ID, plan.Island, island.Title
		peg.What = append(slices.Clip(peg.What), Reason{Why: PegCrest})
		peg.Left, peg.Right = sideOf(p.Left), sideOf(p.Right)
		m.stakeOut(&peg.Right, p, p.Across)
		m.pegs = append(m.pegs, peg)
	}
	return nil
}

func (m *marker) moat(ctx context.Context, moat channel.Moat) error {
	places, err := m.round(moat.Outline)
	if err != nil {
		return err
	}
	for _, at := range places {
		if err := ctx.Err(); err != nil {
			return err
		}
		p, own := m.MoatStaking(moat.ID, at.chainage)
		if !own {
			continue
		}
		peg := m.peg(p, at)
		peg.ID, peg.Kind, peg.Title = moat.ID, plan.Island, moat.Title
		m.sides(&peg, p)
		peg.Left = m.crest(p)
		m.pegs = append(m.pegs, peg)
	}
	return nil
}

// peg makes a peg of what stands on it, its banks aside.
func (m *marker) peg(p channel.Staking, at place) Peg {
	ground, water := grid.Sample(m.site.Ground, p.At), p.Water
	if !(water > p.Bed) {
		water = math.NaN()
	}
	return Peg{
		Number: len(m.pegs) + 1, Chainage: at.chainage, What: at.what, At: p.At, Across: p.Across,
		Ground: ground, Bed: p.Bed, Cut: ground - p.Bed, Water: water, BedWidth: p.Width,
	}
}

// Where the ground at an offset stake is worked, it is looked for further out, every
// stakeStep and up to stakeReach further [m].
const (
	stakeStep  = 0.1
	stakeReach = 10.0
	// untouched is how much the design may change ground that counts as left alone [m].
	untouched = 1e-6
)

// sides sets a peg's banks, and adds why one is not given to what it marks.
func (m *marker) sides(peg *Peg, p channel.Staking) {
	peg.Left, peg.Right = m.side(p, p.Left, -1), m.side(p, p.Right, 1)
	for _, s := range []struct {
		of             PegSide
		at             orb.Point
		open, notKnown Why
	}{
		{peg.Left, p.Left.At, PegLeftOpen, PegLeftUnknown}, {peg.Right, p.Right.At, PegRightOpen, PegRightUnknown},
	} {
		if !math.IsNaN(s.of.Level) {
			continue
		}
		reason := Reason{s.open, m.DugBy(s.at)}
		if reason.Of == "" {
			reason.Why = s.notKnown
		}
		peg.What = append(slices.Clip(peg.What), reason)
	}
}

// side sets a bank and its stake, to the left for way -1 and to the right for 1. Where
// all is dug, as where another channel opens, there is none.
func (m *marker) side(p channel.Staking, bank channel.Bank, way float64) PegSide {
	none := math.NaN()
	if ground := grid.Sample(m.site.Ground, bank.At); !(m.Shape(bank.At, ground) >= ground-untouched) {
		return sideOf(channel.Bank{At: orb.Point{none, none}, Level: none, Off: none})
	}
	side := sideOf(bank)
	m.stakeOut(&side, p, outward(p, bank, way))
	return side
}

// stakeOut sets the stake of a side, out from the top of its bank in a direction.
func (m *marker) stakeOut(side *PegSide, p channel.Staking, dir orb.Point) {
	for out := m.options.Offset; out <= m.options.Offset+stakeReach; out += stakeStep {
		if m.stake(side, p, orb.Point{side.Top[0] + dir[0]*out, side.Top[1] + dir[1]*out}) {
			side.StakeOff = out
			return
		}
	}
}

// crest sets the stake of an island's crest, which stands on the island.
func (m *marker) crest(p channel.Staking) PegSide {
	side, off := sideOf(p.Left), m.options.Offset
	at := orb.Point{p.Left.At[0] - p.Across[0]*off, p.Left.At[1] - p.Across[1]*off}
	if m.stake(&side, p, at) {
		side.StakeOff = off
	}
	return side
}

func sideOf(bank channel.Bank) PegSide {
	none := math.NaN()
	return PegSide{
		Top: bank.At, Level: bank.Level, Off: math.Abs(bank.Off),
		Stake: orb.Point{none, none}, StakeOff: none, StakeGround: none, StakeCut: none,
	}
}

// outward is the direction from a peg over the top of its bank.
func outward(p channel.Staking, bank channel.Bank, way float64) orb.Point {
	dx, dy := bank.At[0]-p.At[0], bank.At[1]-p.At[1]
	if off := math.Hypot(dx, dy); off > 1e-3 {
		return orb.Point{dx / off, dy / off}
	}
	return orb.Point{way * p.Across[0], way * p.Across[1]}
}

func (m *marker) inDrain(at orb.Point) bool {
	return slices.ContainsFunc(m.drains, func(f plan.Feature) bool { return plan.Distance(f.Line(), at) < f.Width()/2 })
}

// stake puts a side's stake at a place, and reports whether the ground there is known,
// stays as it is, and lies in no drain.
func (m *marker) stake(side *PegSide, p channel.Staking, at orb.Point) bool {
	ground := grid.Sample(m.site.Ground, at)
	if !(math.Abs(m.Shape(at, ground)-ground) <= untouched) || m.inDrain(at) {
		return false
	}
	side.Stake, side.StakeGround, side.StakeCut = at, ground, ground-p.Bed
	return true
}
