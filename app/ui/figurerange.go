package ui

import (
	"context"
	"time"

	"runnel/analysis/compare"
	"runnel/app/site"
	"runnel/app/work"
	"runnel/geo/plan"
)

// ranged is the ranges of what was measured of a site as it is and of one scheme.
type ranged struct {
	doc            *site.Document
	site           *plan.Site
	of             plan.SchemeID
	asItIs, scheme compare.Spread
	known          bool
}

// ranges works out the ranges of the newest figures once nothing has moved for a
// moment, and never while a thing is dragged.
type ranges struct {
	w      *Window
	latest *work.Latest[ranged]
	ranged
	by spreader
	// asked counts the times that ranges were asked for.
	asked int
}

// A spreader keeps the ranges of the site as it is, which seldom change. One
// goroutine at a time uses it.
type spreader struct {
	before *plan.Site
	asItIs compare.Spread
}

func newRanges(w *Window) *ranges {
	r := &ranges{w: w}
	r.latest = work.NewLatest(func(got ranged, err error) { w.post(func() { r.take(got, err) }) })
	return r
}

// follow stops the work on the ranges before, and asks for those of the newest
// figures once no newer ones have come for a moment.
func (r *ranges) follow() {
	r.latest.Request(func(context.Context) (ranged, error) { return ranged{}, nil })
	r.asked++
	asked := r.asked
	time.AfterFunc(rest, func() {
		r.w.post(func() {
			if asked == r.asked {
				r.ask()
			}
		})
	})
}

func (r *ranges) ask() {
	f := r.w.figures
	switch {
	case r.w.doc == nil || !f.known || r.current():
		return
	case r.w.dragging():
		r.follow()
		return
	}
	r.latest.Request(func(ctx context.Context) (ranged, error) { return r.by.spread(ctx, f) })
}

func (m *spreader) spread(ctx context.Context, f figures) (ranged, error) {
	got := ranged{doc: f.doc, site: f.site, of: f.of, known: true}
	var err error
	if m.before == nil || !sameAsItIs(m.before, f.site) {
		if m.asItIs, err = compare.SpreadOf(ctx, f.site, &f.asItIs); err != nil {
			m.before = nil
			return ranged{}, err
		}
		m.before = f.site
	}
	got.asItIs, got.scheme = m.asItIs, m.asItIs
	if f.of != plan.AsItIs {
		got.scheme, err = compare.SpreadOf(ctx, f.site, &f.scheme)
	}
	return got, err
}

// take shows the ranges. A figure whose range cannot be worked out keeps its dash:
// what is wrong with the site is said with the figures.
func (r *ranges) take(got ranged, err error) {
	if err != nil || !got.known || r.w.doc != got.doc {
		return
	}
	r.ranged = got
	r.w.ledger.refresh()
	r.w.trace.say("ranges", "scheme", r.w.schemeName(), "low", got.scheme.Contact.Low, "high", got.scheme.Contact.High)
}

// current reports whether the ranges are those of the figures that are shown, and
// last whether they are of the same scheme at least, as it was before.
func (r *ranges) current() bool { return r.last() && r.site == r.w.figures.site }

func (r *ranges) last() bool {
	return r.known && r.doc == r.w.figures.doc && r.of == r.w.figures.of && r.w.figures.known
}
