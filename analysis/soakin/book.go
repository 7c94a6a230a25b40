package soakin

import (
	"context"
	"math"

	"golang.org/x/sync/errgroup"

	"runnel/analysis/compare"
	"runnel/geo/plan"
	"runnel/geo/weather"
)

// A Book keeps the accounts of every scheme of a site, so that after a change only what
// hangs on it is worked out anew: another soil digs nothing, and what is drawn in one
// scheme leaves the others as they are. One goroutine at a time uses it.
type Book struct {
	measured compare.Keeper
	kept     map[plan.SchemeID]entry
}

// An entry is a scheme of one state of the site.
type entry struct {
	site     *plan.Site
	measured *compare.Account
	account  *Account
}

// Accounts returns what each scheme measures and its account, the site as it is first. An
// account that is as it was is the same pointer.
func (b *Book) Accounts(ctx context.Context, s *plan.Site) ([]compare.Account, []*Account, error) {
	schemes := append([]plan.Scheme{{ID: plan.AsItIs}}, s.Plan.Schemes...)
	entries := make([]entry, len(schemes))
	group, ctx := errgroup.WithContext(ctx)
	group.SetLimit(2)
	for i, scheme := range schemes {
		group.Go(func() (err error) {
			entries[i], err = b.follow(ctx, s, scheme.ID)
			return err
		})
	}
	if err := group.Wait(); err != nil {
		return nil, nil, err
	}
	b.kept = map[plan.SchemeID]entry{}
	measured, accounts := make([]compare.Account, len(schemes)), make([]*Account, len(schemes))
	for i, e := range entries {
		b.kept[schemes[i].ID] = e
		measured[i], accounts[i] = *e.measured, e.account
		measured[i].RatioTo(entries[0].measured)
	}
	Against(accounts)
	return measured, accounts, nil
}

// follow brings the entry of a scheme up to a state of the site.
func (b *Book) follow(ctx context.Context, s *plan.Site, scheme plan.SchemeID) (entry, error) {
	e := b.kept[scheme]
	if e.site != nil && e.site.Setting == s.Setting && sameRecord(e.site.Weather, s.Weather) && compare.SameDrawn(e.site, s, scheme) {
		e.site = s
		return e, nil
	}
	measured, err := b.measured.Account(ctx, s, scheme)
	if err != nil {
		return entry{}, err
	}
	setup, err := NewSetup(ctx, s, &measured, e.setup())
	if err != nil {
		return entry{}, err
	}
	account, err := Of(ctx, s, setup)
	return entry{s, &measured, account}, err
}

// setup is that of the account that is kept; nil where none is.
func (e entry) setup() *Setup {
	if e.account == nil {
		return nil
	}
	return e.account.Setup
}

// sameRecord reports whether two records are one, in memory too.
func sameRecord(a, b weather.Record) bool {
	same := func(x, y float64) bool { return x == y || math.IsNaN(x) && math.IsNaN(y) }
	return len(a.Days) == len(b.Days) && (len(a.Days) == 0 || &a.Days[0] == &b.Days[0]) && a.First.Equal(b.First) &&
		same(a.Latitude, b.Latitude) && same(a.Elevation, b.Elevation) && a.WindHeight == b.WindHeight
}
