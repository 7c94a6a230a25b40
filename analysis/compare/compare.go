// Package compare accounts for a scheme, and lays schemes side by side with the
// site as it is.
//
// A scheme's figures are those of its channels and of the drains that run on the
// site, which run still. The account is a pure function of the site. Contact is
// got in two ways that share no arithmetic: along the sections (package channel)
// and on the proposed ground (package earthwork). They differ by what the cells
// are too coarse to show; a difference of more than a few per cent says that the
// cells are too large for the channels, that water stands where the sections do
// not look for it, or that a ditch is drawn where the ground does not have one.
// Past a twentieth a Problem says so. Both take no channel to be more than full to the
// brim: where its water is to stand above its lowest bank a Problem says so. Where a
// flow is set for a channel, water is taken as it flows in all that are joined to it, by
// package hydraulics, where that stands higher than the water at rest.
package compare

import (
	"context"
	"fmt"
	"math"

	"github.com/paulmach/orb/planar"
	"golang.org/x/sync/errgroup"

	"runnel/analysis/caution"
	"runnel/analysis/channel"
	"runnel/analysis/earthwork"
	"runnel/analysis/soil"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// An Account is what one scheme comes to.
type Account struct {
	Scheme plan.SchemeID
	Name   string
	// Network is what was laid out and measured.
	Network *channel.Network
	// Contact is the soil under water along the sections [m²], ContactOnGround
	// the same on the proposed ground [m²].
	Contact, ContactOnGround float64
	// Ratio is Contact over that of the site as it is; NaN where that has none.
	Ratio float64
	// Perimeter is the mean wetted perimeter along what is wet of the lines [m], NaN
	// where nothing is; PlotRatio is Contact over the area of the plot, NaN where no
	// boundary is drawn.
	Perimeter, PlotRatio float64
	// WetBank is the length of the water's edge [m], Surface the area of the
	// water's surface [m²], Storage its volume [m³].
	WetBank, Surface, Storage float64
	// Cut and Fill are the earth moved [m³].
	Cut, Fill float64
	// Length is that of the lines of the channels, and of the drains on the site
	// [m]: where an island parts the water in two arms the line counts once. Depth
	// is the greatest [m]. WetLength is the part of Length over whose bed water stands [m].
	Length, Depth, WetLength float64
	// Channels lists what each channel comes to, then each drain.
	Channels []channel.Line
	// Usuals lists the levels in use where none is set.
	Usuals   []channel.Usual
	Cautions []caution.Caution
	Problems []channel.Problem
	// Notes say of channels for which a flow is set whether they are measured with the
	// water as it flows or as it stands.
	Notes []string
	// Proposed is the ground with the scheme in it, Wet the water that stands there.
	Proposed grid.Ground
	Wet      earthwork.Wet
	// asked is the level that Options asked for [m]; NaN where it asked for none.
	asked float64
}

// Options tunes an account. The zero Options is the usual one.
type Options struct {
	// Level of the water in every channel [m above datum], or its brim where that
	// is lower; nought or NaN leaves each its own.
	Level float64
	// Limits of the cautions; the zero Limits are caution.UsualLimits.
	Limits caution.Limits
	// AsItIs is the account of the site as it is, if it is known, which the Ratio is
	// to. The drains are not measured for it again.
	AsItIs *Account
}

// Measure accounts for one scheme.
func Measure(ctx context.Context, s *plan.Site, scheme plan.SchemeID, o Options) (Account, error) {
	a, err := account(ctx, s, scheme, o)
	switch {
	case err != nil || scheme == plan.AsItIs:
		a.Ratio = ratio(a.Contact, a.Contact)
		return a, err
	case o.AsItIs != nil:
		a.Ratio = ratio(a.Contact, o.AsItIs.Contact)
		return a, nil
	}
	drains, _ := channel.NewNetwork(s, plan.AsItIs)
	lines, err := drains.Measure(ctx, channel.Step{})
	a.Ratio = ratio(a.Contact, contact(lines))
	return a, err
}

// Schemes accounts for the site as it is and then for every scheme, in order.
func Schemes(ctx context.Context, s *plan.Site, o Options) ([]Account, error) {
	ids := []plan.SchemeID{plan.AsItIs}
	for _, scheme := range s.Plan.Schemes {
		ids = append(ids, scheme.ID)
	}
	var accounts []Account
	for _, id := range ids {
		a, err := account(ctx, s, id, o)
		if err != nil {
			return nil, err
		}
		accounts = append(accounts, a)
	}
	for i := range accounts {
		accounts[i].Ratio = ratio(accounts[i].Contact, accounts[0].Contact)
	}
	return accounts, nil
}

// ratio returns a over base; NaN where base is nought.
func ratio(a, base float64) float64 {
	if base == 0 {
		return math.NaN()
	}
	return a / base
}

func contact(lines []channel.Line) float64 {
	sum := 0.0
	for _, l := range lines {
		sum += l.Measure.Contact
	}
	return sum
}

func account(ctx context.Context, s *plan.Site, scheme plan.SchemeID, o Options) (Account, error) {
	a := Account{Scheme: scheme, Name: s.Plan.SchemeName(scheme), Ratio: math.NaN(), Perimeter: math.NaN(), PlotRatio: math.NaN(), asked: math.NaN()}
	if err := s.Ground.Check(); err != nil {
		return a, fmt.Errorf("%s: %w", a.Name, err)
	}
	if _, err := soil.TextureNamed(s.Setting.Soil); err != nil {
		return a, err
	}
	network, err := a.layOut(ctx, s, o.Level)
	if err != nil {
		return a, err
	}
	if err := a.measure(ctx, s.Ground, network); err != nil {
		return a, err
	}
	a.Network, a.Usuals = network, network.Usuals()
	a.checkAgreement(s.Ground, network.Features())
	a.PlotRatio = ratio(a.Contact, plotArea(&s.Plan))
	a.Cautions = a.check(s, o.Limits)
	return a, nil
}

// check lists the cautions of what was measured.
func (a *Account) check(s *plan.Site, limits caution.Limits) []caution.Caution {
	water := caution.Water{Features: a.Network.Features(), Mouths: a.Network.Mouths(), Sills: a.Network.Sills(),
		Lines: a.Channels, Proposed: a.Proposed, Wet: a.Wet, Tables: earthwork.Watertables(s, a.Network)}
	return caution.Check(s, a.Scheme, water, limits)
}

// layOut lays the scheme out with its own water, or at the level that is asked for.
func (a *Account) layOut(ctx context.Context, s *plan.Site, level float64) (*channel.Network, error) {
	if level != 0 && !math.IsNaN(level) {
		a.asked = level
		network, _ := channel.NewNetwork(s, a.Scheme)
		network, a.Problems = network.WithLevel(level)
		return network, nil
	}
	l, err := layOut(ctx, s, a.Scheme)
	a.Problems, a.Notes = l.problems, l.notes
	return l.network, err
}

// measure fills in what the network and its ground come to.
func (a *Account) measure(ctx context.Context, ground grid.Ground, network *channel.Network) error {
	group, ctx := errgroup.WithContext(ctx)
	group.Go(func() (err error) {
		a.Channels, err = network.Measure(ctx, channel.Step{})
		return err
	})
	group.Go(func() (err error) {
		a.Proposed, a.Wet, err = earthwork.Stand(ctx, ground, network)
		return err
	})
	if err := group.Wait(); err != nil {
		return err
	}
	a.ContactOnGround = a.Wet.Contact
	moved := earthwork.Volume(ground, a.Proposed)
	a.Cut, a.Fill = moved.Cut, moved.Fill
	a.sum(a.Channels)
	return nil
}

// sum adds up what lines measure.
func (a *Account) sum(lines []channel.Line) {
	a.Contact = contact(lines)
	wet := 0.0
	for _, l := range lines {
		wet += l.Measure.Wet
		a.WetBank += l.Measure.WetBank
		a.Surface += l.Measure.Surface
		a.Storage += l.Measure.Volume
		a.Length += l.Measure.Length
		a.Depth = max(a.Depth, l.Measure.Depth)
	}
	a.WetLength = wet
	a.Perimeter = channel.Measure{Contact: a.Contact, Wet: wet}.Perimeter()
}

// plotArea adds up the areas inside the boundaries [m²].
func plotArea(p *plan.Plan) float64 {
	sum := 0.0
	for _, f := range p.Of(plan.Boundary, plan.AsItIs) {
		sum += math.Abs(planar.Area(f.Area()))
	}
	return sum
}
