package earthwork

import (
	"context"
	"fmt"
	"math"

	"runnel/analysis/channel"
	"runnel/geo/plan"
)

// BalanceOptions tunes where spoil is put. The zero BalanceOptions is the usual one.
type BalanceOptions struct {
	// IslandRise and BankRise are the most that islands and banks are raised above
	// the lowest ground that they stand on [m]; nought is the usual 0.5 m and 0.3 m,
	// less than nought puts none there. Both are common practice, with no source.
	IslandRise, BankRise float64
}

func (o BalanceOptions) orUsual() BalanceOptions {
	if o.IslandRise == 0 {
		o.IslandRise = 0.5
	}
	if o.BankRise == 0 {
		o.BankRise = 0.3
	}
	return o
}

// Balanced is where the spoil of a scheme goes.
type Balanced struct {
	// Features are those that change, each in place of the one of its number.
	Features []plan.Feature
	// Placed lists what takes spoil, islands first.
	Placed []Placed
	// Cut is what is dug, in place; Room what that is rammed into a fill, and Fill
	// what the scheme takes up of it [m³].
	Cut, Room, Fill float64
	// Left is how much of Room is left to cart away [m³]; where it is less than
	// nought, so much is lacking. LeftLoose is what it is on the cart [m³].
	Left, LeftLoose float64
	// Change is what the soil does when it is dug.
	Change Change
}

// Placed is an island or a channel whose banks take spoil.
type Placed struct {
	ID   plan.ID
	Kind plan.Kind
	// Title names it, Field is the level that is set.
	Title, Field string
	// Level is that level, Rise how far it lies above the lowest ground that it stands
	// on [m], Volume the fill that it adds [m³].
	Level, Rise, Volume float64
}

// balanced is how near fill comes to the spoil, as a share of it.
const balanced = 0.002

// Balance puts the spoil of a scheme on its islands, all up by one share of what
// each may rise, and what they do not take on the banks of its channels, until the
// fill is what the cut comes to when rammed, to 1 %. Islands' tops are found anew.
// Tops of banks that are set stay as they are; only banks without one are raised.
//
// A level rises no further than half the island's width would carry at its side
// slope, nor where it would fill what is dug or bring a Problem. Volumes are those of
// the grid without sills. Levels are whole millimetres; the answer is always the same.
func Balance(ctx context.Context, s *plan.Site, scheme plan.SchemeID, o BalanceOptions) (Balanced, error) {
	b := balancer{ctx: ctx, scheme: scheme, change: ChangeOf(s.Setting.Soil)}
	b.site = s.Clone()
	for i, f := range b.site.Plan.Features {
		if f.Kind == plan.Island && f.Scheme == scheme {
			b.site.Plan.Features[i] = f.Without("top")
		}
	}
	start, n, err := b.reckon()
	if err != nil {
		return Balanced{}, err
	}
	b.start = start
	if start.Cut == 0 {
		return Balanced{}, fmt.Errorf("%s digs nothing, so there is no spoil to place; draw a channel first", s.Plan.SchemeName(scheme))
	}
	o = o.orUsual()
	islands := b.islands(n, o.IslandRise)
	banks := b.banks(n, o.BankRise)
	for _, takers := range [][]taker{islands, banks} {
		if err := b.curb(takers); err != nil {
			return Balanced{}, err
		}
	}
	if err := b.place(islands); err != nil {
		return Balanced{}, err
	}
	if err := b.place(banks); err != nil {
		return Balanced{}, err
	}
	return b.answer(s, append(islands, banks...))
}

// A taker is a level that may be raised with spoil.
type taker struct {
	at    int // in the plan's features
	field string
	// low is the lowest ground that it stands on, high the highest it may be [m].
	low, high float64
	// set is set once the level is.
	set bool
}

// level returns a level at a share of what it may rise [m].
func (t *taker) level(share float64) float64 {
	return math.Round((t.low+share*(t.high-t.low))*1000) / 1000
}

// A balancer tries levels on a site of its own.
type balancer struct {
	ctx    context.Context
	site   plan.Site
	scheme plan.SchemeID
	change Change
	start  trial
}

// A trial is what a try comes to.
type trial struct {
	Volumes
	problems int
}

// excess is the rammed spoil that has no place yet [m³].
func (b *balancer) excess(t trial) float64 { return t.Cut*b.change.Compacted - t.Fill }

// reckon measures the site as it is tried.
func (b *balancer) reckon() (trial, *channel.Network, error) {
	n, problems := channel.NewNetwork(&b.site, b.scheme)
	proposed, err := shape(b.ctx, b.site.Ground, n)
	if err != nil {
		return trial{}, nil, err
	}
	return trial{Volume(b.site.Ground, proposed), len(problems)}, n, nil
}

// raise sets the level of each taker at a share of what it may rise; at nought it
// leaves it unset.
func (b *balancer) raise(takers []taker, share float64) {
	for i := range takers {
		t := &takers[i]
		f := &b.site.Plan.Features[t.at]
		if t.set = share > 0 && t.high > t.low; t.set {
			*f = f.With(t.field, plan.Value{Number: t.level(share)})
		} else {
			*f = f.Without(t.field)
		}
	}
}

// curbs is how often what a taker may rise is halved to find where it does harm, and
// harm the share of the cut that it may fill.
const (
	curbs = 6
	harm  = 0.002
)

// curb lowers what each taker may rise to where, by itself, it does no harm.
func (b *balancer) curb(takers []taker) error {
	for i := range takers {
		one := takers[i : i+1]
		good, bad := 0.0, 1.0
		for k := range curbs {
			share := (good + bad) / 2
			if k == 0 {
				share = 1
			}
			b.raise(one, share)
			t, _, err := b.reckon()
			if err != nil {
				return err
			}
			if t.problems <= b.start.problems && t.Cut >= b.start.Cut*(1-harm) {
				good = share
			} else {
				bad = share
			}
			if good == 1 {
				break
			}
		}
		b.raise(one, 0)
		one[0].high = one[0].low + good*(one[0].high-one[0].low)
	}
	return nil
}

// tries is how often a share is halved to find the balance.
const tries = 24

// place raises takers together until no spoil is left, or as far as they may.
func (b *balancer) place(takers []taker) error {
	low, high := 0.0, 1.0
	for k := range tries {
		share := (low + high) / 2
		switch k {
		case 0:
			share = 0 // what is there already may take it all
		case 1:
			share = 1
		}
		b.raise(takers, share)
		t, _, err := b.reckon()
		if err != nil {
			return err
		}
		left := b.excess(t)
		switch {
		case t.problems > b.start.problems:
			high = share
		case math.Abs(left) <= balanced*t.Cut*b.change.Compacted, share == 0 && left < 0, share == 1 && left > 0:
			return nil
		case left > 0:
			low = share
		default:
			high = share
		}
	}
	b.raise(takers, low)
	return nil
}

// answer says what the balance comes to.
func (b *balancer) answer(s *plan.Site, takers []taker) (Balanced, error) {
	all, _, err := b.reckon()
	if err != nil {
		return Balanced{}, err
	}
	a := Balanced{Cut: all.Cut, Room: all.Cut * b.change.Compacted, Fill: all.Fill, Left: b.excess(all), Change: b.change}
	a.LeftLoose = a.Left / b.change.Compacted * b.change.Loose
	for i := range takers {
		t := &takers[i]
		f := b.site.Plan.Features[t.at]
		if was := s.Plan.Features[t.at].Num(t.field); was != f.Num(t.field) && !(math.IsNaN(was) && !t.set) {
			a.Features = append(a.Features, f)
		}
		if !t.set {
			continue
		}
		b.site.Plan.Features[t.at] = f.Without(t.field)
		without, _, err := b.reckon()
		if err != nil {
			return Balanced{}, err
		}
		b.site.Plan.Features[t.at] = f
		level := f.Num(t.field)
		a.Placed = append(a.Placed, Placed{f.ID, f.Kind, f.Title(), t.field, level, level - t.low, all.Fill - without.Fill})
	}
	return a, nil
}
