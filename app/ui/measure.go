package ui

import (
	"context"
	"math"
	"reflect"
	"slices"
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

// A measurer works out the figures of one site after another. What a change does not
// touch is kept: the site as it is while a scheme is drawn, and all that is dug while
// only the soil or the season changes. It is used by one goroutine at a time.
type measurer struct{ asItIs, scheme measuredOnce }

// measuredOnce is what was measured of one scheme of one site.
type measuredOnce struct {
	site    *plan.Site
	account compare.Account
}

// measure accounts for the site as it is and for one scheme.
func (m *measurer) measure(ctx context.Context, s *plan.Site, scheme plan.SchemeID) (figures, error) {
	if m.asItIs.site == nil || !sameAsItIs(m.asItIs.site, s) {
		if err := m.asItIs.follow(ctx, s, plan.AsItIs, compare.Options{}); err != nil {
			return figures{}, err
		}
	}
	f := figures{site: s, of: scheme, asItIs: m.asItIs.account, scheme: m.asItIs.account, known: true}
	if scheme != plan.AsItIs {
		if err := m.scheme.follow(ctx, s, scheme, compare.Options{AsItIs: &m.asItIs.account}); err != nil {
			return figures{}, err
		}
		f.scheme = m.scheme.account
	}
	for _, a := range []*compare.Account{&f.asItIs, &f.scheme} {
		a.Ratio = math.NaN()
		if f.asItIs.Contact > 0 {
			a.Ratio = a.Contact / f.asItIs.Contact
		}
	}
	return f, nil
}

// follow measures a scheme, or takes over what was measured of it where nothing has
// changed that is dug or wet.
func (m *measuredOnce) follow(ctx context.Context, s *plan.Site, scheme plan.SchemeID, o compare.Options) error {
	if m.site != nil && m.account.Scheme == scheme && sameGround(m.site.Ground, s.Ground) && sameDug(m.site, s, scheme) {
		m.site, m.account = s, m.account.Again(s)
		return nil
	}
	account, err := compare.Measure(ctx, s, scheme, o)
	if err != nil {
		return err
	}
	m.site, m.account = s, account
	return nil
}

// sameDug reports whether two sites have the same things drawn in a scheme, those left
// out that only say what the soil is.
func sameDug(a, b *plan.Site, scheme plan.SchemeID) bool {
	dug := func(s *plan.Site) []plan.Feature {
		return slices.DeleteFunc(s.Plan.In(scheme), func(f plan.Feature) bool { return f.Kind == plan.SoilZone || f.Kind == plan.SoilTest })
	}
	return reflect.DeepEqual(dug(a), dug(b))
}

// sameAsItIs reports whether two sites are one before anything is designed.
func sameAsItIs(a, b *plan.Site) bool {
	return sameGround(a.Ground, b.Ground) && a.Setting == b.Setting && reflect.DeepEqual(a.Plan.In(plan.AsItIs), b.Plan.In(plan.AsItIs))
}
