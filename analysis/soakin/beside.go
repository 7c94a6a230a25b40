package soakin

import (
	"context"
	"math"
	"slices"

	"golang.org/x/sync/errgroup"

	"runnel/analysis/compare"
	"runnel/geo"
	"runnel/geo/plan"
)

// A Column is one scheme of a comparison. The first of several is the site as it is.
type Column struct {
	*Account
	Spread Spread
	// MoreSoaked, MoreRecharge and MoreShare are over the site as it is, draw by draw.
	// Shares are each of what the scheme's own planting draws.
	MoreSoaked, MoreRecharge, MoreShare Difference
	// PerMore is the cost for each m³ a year that is put back over the site as it is; High is +Inf
	// where it may put back no more.
	PerMore geo.Range
}

// A Difference is a range, and whether nearly all draws agree on its sign.
type Difference struct {
	geo.Range
	Sure bool
}

// Draws is how many worlds are drawn for ranges, unless someone is in haste.
const Draws = 10_000

// Accounts accounts for every scheme, beside what each measures, in order.
func Accounts(ctx context.Context, s *plan.Site, measured []compare.Account) ([]*Account, error) {
	accounts := make([]*Account, len(measured))
	group, ctx := errgroup.WithContext(ctx)
	group.SetLimit(2)
	for i := range measured {
		group.Go(func() error {
			setup, err := NewSetup(ctx, s, &measured[i], nil)
			if err != nil {
				return err
			}
			accounts[i], err = Of(ctx, s, setup)
			return err
		})
	}
	if err := group.Wait(); err != nil {
		return nil, err
	}
	if len(accounts) > 0 && accounts[0].Scheme == plan.AsItIs {
		Against(accounts)
	}
	return accounts, nil
}

// Beside lays accounts of one site side by side, the site as it is first: alike for
// alike, for each draw is of the same weather, soil and wear for all. Of known columns it
// takes over the ranges of the accounts that are in them.
func Beside(ctx context.Context, s *plan.Site, accounts []*Account, draws int, known ...Column) ([]Column, error) {
	columns := make([]Column, len(accounts))
	for i, a := range accounts {
		columns[i].Account = a
		var err error
		if k := slices.IndexFunc(known, func(c Column) bool { return c.Account == a && c.Spread.Draws == draws }); k >= 0 {
			columns[i].Spread = known[k].Spread
		} else if columns[i].Spread, err = SpreadOf(ctx, s, a, draws); err != nil {
			return nil, err
		}
		columns[i].over(columns[0].Spread)
	}
	return columns, nil
}

// over sets the column's draws against those of the site as it is.
func (c *Column) over(was Spread) {
	c.MoreSoaked = c.Spread.over(was, func(s *Spread) (geo.Range, []float64) { return s.Soaked, s.each[soakedOut] })
	c.MoreRecharge = c.Spread.over(was, func(s *Spread) (geo.Range, []float64) { return s.Recharge, s.each[rechargeOut] })
	c.MoreShare = c.Spread.over(was, func(s *Spread) (geo.Range, []float64) { return s.Share, s.each[shareOut] })
	c.PerMore = perMore(c.Account, c.MoreRecharge.Range)
}

// perMore is what each m³ more costs.
func perMore(a *Account, more geo.Range) geo.Range {
	per := func(m3 float64) float64 {
		if m3 <= 0 {
			return math.Inf(1)
		}
		return a.Cost.Total / m3
	}
	if a.Scheme == plan.AsItIs || math.IsNaN(more.Likely+a.Cost.Total) {
		return unknownRange
	}
	return geo.Range{Low: per(more.High), Likely: a.Cost.PerSoaked, High: per(more.Low)}
}
