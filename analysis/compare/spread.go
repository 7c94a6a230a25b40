package compare

import (
	"context"
	"math"

	"runnel/analysis/channel"
	"runnel/analysis/earthwork"
	"runnel/geo"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A Spread says between which values the figures of one account lie, if the survey
// is off by its error. Likely is the figure itself.
//
// Each is the lowest and the highest of these answers, got one by one:
//
//   - the figure itself;
//   - the same with all water higher, and lower, against ground and beds by the
//     survey's error: the level of the water is levelled in like all else;
//   - the same with the whole ground higher, and lower, by the survey's error, while
//     the levels that are typed in stay: beds that lie a depth below the ground go
//     with it, beds at a set level do not;
//   - for contact, wet bank, surface and storage, what the other way to measure
//     them gives, on the cells of the proposed ground.
//
// The error is one standard deviation, so that two surveys in three are off by
// less. It is taken to be alike over the whole site. Errors that differ from place
// to place partly cancel over a channel's length, and are left out; so are errors
// in plan, in how closely the dig keeps to the drawing, and in what grows or settles
// later.
type Spread struct {
	Contact, WetBank, Surface, Depth, Storage, Cut, Fill geo.Range
}

// SpreadOf works out the ranges of an account that Measure made of the same site
// with the zero Options.
func SpreadOf(ctx context.Context, s *plan.Site, a *Account) (Spread, error) {
	p := spreader{site: s, account: a}
	p.begin()
	off := s.Setting.SurveyError
	if !(off > 0) {
		return p.Spread, ctx.Err()
	}
	l, err := layOut(ctx, s, a.Scheme)
	if err != nil {
		return Spread{}, err
	}
	for _, by := range []float64{off, -off} {
		if err := p.water(ctx, l.network.Raised(by)); err != nil {
			return Spread{}, err
		}
		if err := p.ground(ctx, by); err != nil {
			return Spread{}, err
		}
	}
	return p.Spread, nil
}

// A spreader widens a spread by one answer after another.
type spreader struct {
	Spread
	site    *plan.Site
	account *Account
}

// begin takes the figures themselves, and those of the other way to measure them.
func (p *spreader) begin() {
	a := p.account
	only := func(v float64) geo.Range { return geo.Range{Low: v, Likely: v, High: v} }
	p.Spread = Spread{
		Contact: only(a.Contact), WetBank: only(a.WetBank), Surface: only(a.Surface), Depth: only(a.Depth),
		Storage: only(a.Storage), Cut: only(a.Cut), Fill: only(a.Fill),
	}
	widen(&p.Contact, a.ContactOnGround)
	widen(&p.WetBank, a.Wet.WetBank)
	widen(&p.Surface, a.Wet.Surface)
	widen(&p.Storage, a.Wet.Volume)
}

func widen(r *geo.Range, v float64) {
	if !math.IsNaN(v) {
		r.Low, r.High = min(r.Low, v), max(r.High, v)
	}
}

// water takes in what the sections measure of a network.
func (p *spreader) water(ctx context.Context, network *channel.Network) error {
	lines, err := network.Measure(ctx, channel.Step{})
	if err != nil {
		return err
	}
	var b Account
	b.sum(lines)
	widen(&p.Contact, b.Contact)
	widen(&p.WetBank, b.WetBank)
	widen(&p.Surface, b.Surface)
	widen(&p.Storage, b.Storage)
	widen(&p.Depth, b.Depth)
	return nil
}

// ground takes in what the scheme comes to on ground that is higher by some metres.
func (p *spreader) ground(ctx context.Context, by float64) error {
	moved := *p.site
	moved.Ground = lifted(p.site.Ground, by)
	l, err := layOut(ctx, &moved, p.account.Scheme)
	if err != nil {
		return err
	}
	network := l.network
	if err := p.water(ctx, network); err != nil {
		return err
	}
	if p.account.Scheme == plan.AsItIs {
		return nil // nothing is dug
	}
	proposed, err := earthwork.Shape(ctx, moved.Ground, network)
	if err != nil {
		return err
	}
	volume := earthwork.Volume(moved.Ground, proposed)
	widen(&p.Cut, volume.Cut)
	widen(&p.Fill, volume.Fill)
	return nil
}

func lifted(g grid.Ground, by float64) grid.Ground {
	up := grid.New[float32](g.Frame)
	for i, z := range g.V {
		up.V[i] = z + float32(by)
	}
	return up
}
