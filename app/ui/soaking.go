package ui

import (
	"context"
	"math"
	"slices"
	"sync/atomic"
	"time"

	"runnel/analysis/caution"
	"runnel/analysis/soakin"
	"runnel/app/site"
	"runnel/app/view"
	"runnel/app/work"
	"runnel/geo/plan"
)

// soaks is what soaks in on the site as it is and under one scheme.
type soaks struct {
	doc            *site.Document
	site           *plan.Site
	of             plan.SchemeID
	asItIs, scheme *soakin.Account
	// days is a scene that holds the days on which the ground is under water; nil where
	// the map does not show them.
	days  *view.Scene
	known bool
	// asked is when the change was made that it follows, took how long it took.
	asked time.Time
	took  time.Duration
}

// soaking follows the newest figures with what soaks in: at once where the step is
// about that, else once nothing is dragged. Its ranges come a moment later.
type soaking struct {
	w      *Window
	latest *work.Latest[soaks]
	soaks
	by     soaker
	spread *afterwards[spreads]
	ranger ranger
	// newest is the account that ranges are drawn of, on another goroutine.
	newest atomic.Pointer[soaks]
	// why says why there is no account; empty where there is one.
	why string
	// under is what was asked for last; waits is set while it is asked for again in a
	// moment, left the site of which it was given up.
	under soakQuery
	waits bool
	left  *plan.Site
}

// A soakQuery is of which figures an account is asked for, and whether the map shows days.
type soakQuery struct {
	site *plan.Site
	of   plan.SchemeID
	show view.Layers
}

func newSoaking(w *Window) *soaking {
	k := &soaking{w: w}
	k.latest = work.NewLatest(func(got soaks, err error) { w.post(func() { k.take(got, err) }) })
	k.latest.Patience = patience
	k.spread = newAfterwards(w, k.findSpread)
	k.spread.wanted = func() bool { return k.ranged() && k.current() && !k.w.comparing.on }
	k.spread.took = k.shown
	return k
}

// wanted reports whether anyone looks at it, and ranged whether at its ranges.
func (k *soaking) wanted() bool {
	return k.ranged() || k.w.showsPart(cautions) || k.w.show.Has(view.Days)
}

func (k *soaking) ranged() bool {
	return k.w.showsPart(figuresPart) || k.w.showsPart(soakPart) || k.w.year.on
}

// quick is how long an account may take that is worked out while a thing is dragged.
const quick = 250 * time.Millisecond

// follow asks for what soaks in under the newest figures.
func (k *soaking) follow() {
	if k.w.comparing.on {
		k.handed()
		return
	}
	f := k.w.figures
	q := soakQuery{f.site, f.of, k.w.show & view.Days}
	if k.w.doc == nil || !f.known || k.stopped() || !k.wanted() || q == k.under {
		return
	}
	if k.w.dragging() && !(k.w.showsPart(soakPart) && k.took < quick) {
		k.wait()
		return
	}
	if !k.current() {
		k.spread.drop() // which would take the processors from it
	}
	k.under = q
	k.latest.Request(func(ctx context.Context) (soaks, error) { return k.by.account(ctx, f, q.show) })
}

// handed takes over what the comparison, which accounts for every scheme, has worked out
// of the same site.
func (k *soaking) handed() {
	f, got := k.w.figures, &k.w.comparing.strokes
	if !f.known || f.site != got.site || f.doc != got.doc {
		return // the other of the two is not there yet
	}
	scheme := slices.IndexFunc(got.soaked, func(a *soakin.Account) bool { return a.Scheme == f.of })
	if scheme < 0 {
		return
	}
	if q := (soakQuery{site: f.site, of: f.of}); q != k.under || !k.current() {
		k.under = q
		k.take(soaks{doc: f.doc, site: f.site, of: f.of, asItIs: got.soaked[0], scheme: got.soaked[scheme], known: true, asked: f.asked}, nil)
	}
	if got.draws.site == f.site && !k.spread.current() {
		both := spreads{got.draws.columns[0].Spread, got.draws.columns[scheme].Spread}
		k.spread.take(found[spreads]{doc: f.doc, site: f.site, of: f.of, value: both, known: true}, nil)
	}
}

// wait asks again in a moment.
func (k *soaking) wait() {
	if k.waits {
		return
	}
	k.waits = true
	time.AfterFunc(rest, func() {
		k.w.post(func() {
			k.waits = false
			k.follow()
		})
	})
}

func (k *soaking) take(got soaks, err error) {
	switch {
	case k.w.doc == nil || err == nil && (got.doc != k.w.doc || got.of != k.w.figures.of):
		return
	case err == nil && k.current() && got.site != k.site:
		return // of the drawing before; what the comparison handed over came first
	case err != nil:
		k.why = err.Error()
	default:
		k.soaks, k.why = got, ""
		k.newest.Store(&got)
		k.tell()
	}
	k.spread.follow()
	k.shown()
	k.w.reshow()
}

// tell says in the trace what soaks in.
func (k *soaking) tell() {
	pairs := []any{"scheme", k.w.schemeName(), "ms", time.Since(k.asked).Milliseconds(), "took", k.took.Milliseconds()}
	if recharge := k.scheme.Mean.Recharge; !math.IsNaN(recharge) {
		pairs = append(pairs, "recharge", recharge)
	}
	k.w.trace.say("soaked", pairs...)
}

// shown writes it wherever it is seen.
func (k *soaking) shown() {
	k.w.ledger.refresh()
	k.w.year.refresh()
}

// forget drops what is known of another site.
func (k *soaking) forget() {
	k.drop()
	k.soaks, k.why, k.left = soaks{}, "", nil
	k.newest.Store(nil)
	k.spread.forget()
}

// drop gives up what is being worked out.
func (k *soaking) drop() {
	k.under = soakQuery{}
	k.latest.Request(func(context.Context) (soaks, error) { return soaks{}, nil })
}

// stop gives it up until the drawing changes, or until again.
func (k *soaking) stop() {
	k.drop()
	k.left = k.w.figures.site
}

func (k *soaking) again() { k.left = nil }

func (k *soaking) stopped() bool { return k.left != nil && k.left == k.w.figures.site }

// current reports whether what is known is of the figures that are shown, and last
// whether it is of the same scheme at least, as it was before.
func (k *soaking) current() bool { return k.last() && k.site == k.w.figures.site }

func (k *soaking) last() bool {
	return k.known && k.doc == k.w.figures.doc && k.of == k.w.figures.of && k.w.figures.known
}

// cautions are those of the scheme that is shown. Those that rest on what soaks in are of
// the drawing before while newer are worked out.
func (k *soaking) cautions() []caution.Caution {
	measured := k.w.figures.scheme.Cautions
	if !k.last() {
		return measured
	}
	return slices.Concat(measured, k.scheme.Cautions[len(k.scheme.Setup.Measured.Cautions):])
}

// onMap puts the days under water and the cautions on a scene.
func (k *soaking) onMap(shown view.Scene) view.Scene {
	if k.days != nil && k.days.Days.Frame == shown.Ground.Frame {
		shown = *shown.WithDaysOf(k.days)
	}
	shown.Cautions = k.cautions()
	return shown
}
