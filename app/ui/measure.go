package ui

import (
	"context"
	"math"
	"reflect"
	"time"

	"runnel/analysis/compare"
	"runnel/app/site"
	"runnel/geo/plan"
)

// figures is what was measured of the site as it is and of the scheme shown.
type figures struct {
	doc            *site.Document
	site           *plan.Site
	of             plan.SchemeID
	asItIs, scheme compare.Account
	known          bool
	// asked is when they were asked for.
	asked time.Time
}

// A measurer works out the figures of one site after another. The site as it is
// seldom changes while a scheme is drawn, so its account is kept. It is used by
// one goroutine at a time.
type measurer struct {
	site   *plan.Site
	asItIs compare.Account
}

// measure accounts for the site as it is and for one scheme.
func (m *measurer) measure(ctx context.Context, s *plan.Site, scheme plan.SchemeID) (figures, error) {
	if m.site == nil || !sameAsItIs(m.site, s) {
		account, err := compare.Measure(ctx, s, plan.AsItIs, compare.Options{})
		if err != nil {
			return figures{}, err
		}
		m.site, m.asItIs = s, account
	}
	f := figures{site: s, of: scheme, asItIs: m.asItIs, scheme: m.asItIs, known: true}
	if scheme != plan.AsItIs {
		var err error
		if f.scheme, err = compare.Measure(ctx, s, scheme, compare.Options{AsItIs: &m.asItIs}); err != nil {
			return figures{}, err
		}
	}
	for _, a := range []*compare.Account{&f.asItIs, &f.scheme} {
		a.Ratio = math.NaN()
		if f.asItIs.Contact > 0 {
			a.Ratio = a.Contact / f.asItIs.Contact
		}
	}
	return f, nil
}

// sameAsItIs reports whether two sites are one before anything is designed.
func sameAsItIs(a, b *plan.Site) bool {
	return sameGround(a.Ground, b.Ground) && a.Setting == b.Setting && reflect.DeepEqual(a.Plan.In(plan.AsItIs), b.Plan.In(plan.AsItIs))
}
