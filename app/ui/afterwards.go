package ui

import (
	"context"
	"time"

	"runnel/app/site"
	"runnel/app/work"
	"runnel/geo/plan"
)

// An afterwards works something out of the newest figures once nothing has moved for a
// moment, and never while a thing is dragged. What it came to stays, as that of the
// drawing before, until newer is known.
type afterwards[T any] struct {
	w      *Window
	latest *work.Latest[found[T]]
	found[T]
	// find works it out on another goroutine; wanted says whether anyone looks at it.
	find   func(context.Context, figures) (T, error)
	wanted func() bool
	// took is called once it is known.
	took func()
	// asked counts the times that it was asked for.
	asked int
	// under is the site that it is being worked out of, of the scheme underOf; nil for
	// none. left is the one of which that was given up.
	under, left *plan.Site
	underOf     plan.SchemeID
}

// found is what came of some figures.
type found[T any] struct {
	doc   *site.Document
	site  *plan.Site
	of    plan.SchemeID
	value T
	// why says why there is no value; empty where there is one.
	why   string
	known bool
}

func newAfterwards[T any](w *Window, find func(context.Context, figures) (T, error)) *afterwards[T] {
	a := &afterwards[T]{w: w, find: find, wanted: func() bool { return true }, took: func() { w.ledger.refresh() }}
	a.latest = work.NewLatest(func(got found[T], err error) { w.post(func() { a.take(got, err) }) })
	return a
}

// follow stops the work on the figures before, and asks for that on the newest once no
// newer ones have come for a moment.
func (a *afterwards[T]) follow() {
	if a.w.doc == nil || a.current() || a.running() || a.stopped() || !a.wanted() {
		return
	}
	a.drop()
	asked := a.asked
	time.AfterFunc(rest, func() {
		a.w.post(func() {
			if asked == a.asked {
				a.ask()
			}
		})
	})
}

func (a *afterwards[T]) ask() {
	f := a.w.figures
	switch {
	case a.w.doc == nil || !f.known || a.current() || a.stopped() || !a.wanted():
		return
	case a.w.dragging():
		a.follow()
		return
	}
	a.under, a.underOf = f.site, f.of
	a.latest.Request(func(ctx context.Context) (found[T], error) {
		got := found[T]{doc: f.doc, site: f.site, of: f.of, known: true}
		var err error
		if got.value, err = a.find(ctx, f); err != nil && ctx.Err() == nil {
			got.why, err = err.Error(), nil
		}
		return got, err
	})
}

func (a *afterwards[T]) take(got found[T], err error) {
	if err != nil || !got.known || a.w.doc != got.doc {
		return
	}
	a.found, a.under = got, nil
	a.took()
}

// then has something more called once it is known.
func (a *afterwards[T]) then(do func()) {
	before := a.took
	a.took = func() { before(); do() }
}

// drop gives up what is being worked out.
func (a *afterwards[T]) drop() {
	a.latest.Request(func(context.Context) (found[T], error) { return found[T]{}, nil })
	a.asked++
	a.under = nil
}

// running reports whether it is being worked out of the figures that are shown.
func (a *afterwards[T]) running() bool {
	return a.under != nil && a.under == a.w.figures.site && a.underOf == a.w.figures.of
}

// stop gives it up until the drawing changes, or until again.
func (a *afterwards[T]) stop() {
	a.drop()
	a.left = a.w.figures.site
}

func (a *afterwards[T]) again() { a.left = nil }

func (a *afterwards[T]) stopped() bool { return a.left != nil && a.left == a.w.figures.site }

// forget drops what is known as well.
func (a *afterwards[T]) forget() {
	a.drop()
	a.found, a.left = found[T]{}, nil
}

// current reports whether what is known is of the figures that are shown, and last
// whether it is of the same scheme at least, as it was before.
func (a *afterwards[T]) current() bool { return a.last() && a.site == a.w.figures.site }

func (a *afterwards[T]) last() bool {
	return a.known && a.doc == a.w.figures.doc && a.of == a.w.figures.of && a.w.figures.known
}
