package compare

import (
	"context"
	"reflect"
	"slices"
	"sync"

	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A Keeper keeps the accounts of a site's schemes, so that after a change of the setting
// nothing is measured again, and after one of the drawing only what it touches. Several
// goroutines may use it.
type Keeper struct {
	mu   sync.Mutex
	kept map[plan.SchemeID]kept
}

type kept struct {
	site    *plan.Site
	account Account
}

// Account returns what Measure does with the zero Options, but for the Ratio, which is
// not known.
func (k *Keeper) Account(ctx context.Context, s *plan.Site, scheme plan.SchemeID) (Account, error) {
	k.mu.Lock()
	was, ok := k.kept[scheme]
	k.mu.Unlock()
	switch {
	case ok && was.site == s:
		return was.account, ctx.Err()
	case ok && SameShape(was.site, s, scheme):
		was = kept{s, was.account.Again(s)}
	default:
		a, err := account(ctx, s, scheme, Options{})
		if err != nil {
			return a, err
		}
		was = kept{s, a}
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.kept == nil {
		k.kept = map[plan.SchemeID]kept{}
	}
	k.kept[scheme] = was
	return was.account, nil
}

// SameShape reports whether what a scheme digs and where water stands in it is one in two
// states of a site; SameDrawn whether all that is drawn is.
func SameShape(a, b *plan.Site, scheme plan.SchemeID) bool {
	return sameGround(a.Ground, b.Ground) && sameFeatures(a, b, scheme, func(f plan.Feature) bool { return f.Kind != plan.SoilZone && f.Kind != plan.SoilTest })
}

// SameDrawn is the like with the scheme's name, and soil zones and tests too.
func SameDrawn(a, b *plan.Site, scheme plan.SchemeID) bool {
	return sameGround(a.Ground, b.Ground) && a.Plan.SchemeName(scheme) == b.Plan.SchemeName(scheme) &&
		sameFeatures(a, b, scheme, func(plan.Feature) bool { return true })
}

// sameFeatures reports whether a scheme has the same features of a sort in both.
func sameFeatures(a, b *plan.Site, scheme plan.SchemeID, sort func(plan.Feature) bool) bool {
	of := func(s *plan.Site) []plan.Feature {
		return slices.DeleteFunc(s.Plan.In(scheme), func(f plan.Feature) bool { return !sort(f) })
	}
	return reflect.DeepEqual(of(a), of(b))
}

// sameGround reports whether two grounds are one, in memory too.
func sameGround(a, b grid.Ground) bool {
	return a.Frame == b.Frame && len(a.V) == len(b.V) && (len(a.V) == 0 || &a.V[0] == &b.V[0])
}

// RatioTo sets the Ratio to what the site as it is comes to.
func (a *Account) RatioTo(asItIs *Account) {
	a.Ratio = ratio(a.Contact, asItIs.Contact)
}
