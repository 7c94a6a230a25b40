package ui

import (
	"context"
	"time"

	"golang.org/x/sync/errgroup"

	"runnel/analysis/compare"
	"runnel/analysis/pool"
	"runnel/analysis/soakin"
	"runnel/app/view"
	"runnel/geo/plan"
)

// A soaker works out what soaks in. The site as it is seldom changes, so its account is
// kept. One goroutine at a time uses it.
type soaker struct {
	site   *plan.Site
	asItIs *soakin.Account
	before soaks
}

// account works out both accounts, and where the map shows it on how many days the
// ground is under water.
func (k *soaker) account(ctx context.Context, f figures, show view.Layers) (soaks, error) {
	start := time.Now()
	got := soaks{doc: f.doc, site: f.site, of: f.of, known: true, asked: f.asked}
	if k.before.site == f.site && k.before.of == f.of {
		got.asItIs, got.scheme = k.before.asItIs, k.before.scheme
	} else if err := k.both(ctx, f, &got); err != nil {
		return soaks{}, err
	}
	k.before = got
	if show.Has(view.Days) {
		var err error
		if got.days, err = daysWet(ctx, f.site, got.scheme); err != nil {
			return soaks{}, err
		}
	}
	got.took = time.Since(start)
	return got, ctx.Err()
}

// both accounts for the site as it is, where that has changed, and for the scheme, at a
// time.
func (k *soaker) both(ctx context.Context, f figures, got *soaks) error {
	group, ctx := errgroup.WithContext(ctx)
	same := k.site != nil && sameAsItIs(k.site, f.site) && k.site.Weather.Same(f.site.Weather)
	if same {
		got.asItIs = k.asItIs
	} else {
		group.Go(func() (err error) {
			got.asItIs, err = accountAfter(ctx, f.site, f.asItIs, k.before.asItIs)
			return err
		})
	}
	if f.of != plan.AsItIs {
		group.Go(func() (err error) {
			got.scheme, err = accountAfter(ctx, f.site, f.scheme, k.before.scheme)
			return err
		})
	}
	if err := group.Wait(); err != nil {
		return err
	}
	k.site, k.asItIs = f.site, got.asItIs
	if f.of == plan.AsItIs {
		got.scheme = got.asItIs
	} else {
		soakin.Against([]*soakin.Account{got.asItIs, got.scheme})
	}
	return nil
}

// accountAfter accounts for a scheme, from an account of it before or of another. It keeps
// what was measured, alone: not the figures in which that came.
func accountAfter(ctx context.Context, s *plan.Site, measured compare.Account, before *soakin.Account) (*soakin.Account, error) {
	var known *soakin.Setup
	if before != nil {
		known = before.Setup
	}
	setup, err := soakin.NewSetup(ctx, s, &measured, known)
	if err != nil {
		return nil, err
	}
	return soakin.Of(ctx, s, setup)
}

// daysWet makes a scene that holds the days; nil where there are no pools.
func daysWet(ctx context.Context, s *plan.Site, a *soakin.Account) (*view.Scene, error) {
	pools := a.Setup.Pools.Pools
	if len(pools) == 0 || len(a.Season.Standing) != len(pools) {
		return nil, nil
	}
	days, err := pool.DaysWet(ctx, s.Ground, a.Setup.Measured.Network, pools, a.Season.Standing)
	if err != nil {
		return nil, err
	}
	return (&view.Scene{}).WithDays(days), nil
}

// spreads are the ranges of both.
type spreads struct{ asItIs, scheme soakin.Spread }

// A ranger keeps the ranges of the site as it is. One goroutine at a time uses it.
type ranger struct {
	of     *soakin.Account
	spread soakin.Spread
}

func (k *soaking) findSpread(ctx context.Context, f figures) (spreads, error) {
	got, both := k.newest.Load(), spreads{}
	if got == nil || got.site != f.site || got.of != f.of {
		return both, context.Canceled // a newer one asks again
	}
	var err error
	if k.ranger.of != got.asItIs {
		k.ranger.of = nil
		if k.ranger.spread, err = soakin.SpreadOf(ctx, f.site, got.asItIs, soakin.Draws); err != nil {
			return both, err
		}
		k.ranger.of = got.asItIs
	}
	both.asItIs, both.scheme = k.ranger.spread, k.ranger.spread
	if f.of != plan.AsItIs {
		both.scheme, err = soakin.SpreadOf(ctx, f.site, got.scheme, soakin.Draws)
	}
	return both, err
}
