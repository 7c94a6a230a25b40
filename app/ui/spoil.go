package ui

import (
	"context"

	"runnel/analysis/earthwork"
	"runnel/app/site"
	"runnel/app/work"
	"runnel/geo/plan"
)

// placeSpoil raises the islands and banks of the scheme until its spoil is taken up, as
// one edit, and says below the map what became of it.
func (w *Window) placeSpoil() {
	f := w.figures
	if w.doc == nil || !f.known || f.of == plan.AsItIs {
		return
	}
	w.tellBelow(tr("Finding room for the spoil…"))
	doc := w.doc
	go func() {
		var placed earthwork.Balanced
		err := work.Guard(func() (err error) {
			placed, err = earthwork.Balance(context.Background(), f.site, f.of, earthwork.BalanceOptions{})
			return err
		})
		w.post(func() { w.takeBalance(doc, f, placed, err) })
	}()
}

// takeBalance makes the edit, unless the drawing has changed meanwhile.
func (w *Window) takeBalance(doc *site.Document, f figures, b earthwork.Balanced, err error) {
	switch {
	case w.doc != doc:
	case err != nil:
		w.complain(err)
	case w.doc.Site() != f.site:
		w.tellBelow(tr("The drawing has changed meanwhile; place the spoil again."))
	case len(b.Features) == 0:
		w.tellBelow(tr("There is no island nor bank that the spoil could be put on without going over its limit; it is to be carted away."))
	default:
		edit := &site.Alter{After: b.Features, What: toldLater("place the spoil on %d things", len(b.Features))}
		if err := w.doc.Do(edit); err != nil {
			w.complain(err)
			return
		}
		w.tellBelow(w.saysBalance(b))
	}
}

// saysBalance says where the spoil went and what is left of it.
func (w *Window) saysBalance(b earthwork.Balanced) string {
	u, to := w.units, trf("%d things", len(b.Placed))
	if len(b.Placed) == 1 {
		to = b.Placed[0].Title
	}
	const little = 0.05 // that is not spoken of [m³]
	switch {
	case b.Left > little:
		return trf("The spoil raises %[1]s; %[2]s is left to cart away, loose as it lies on the cart. Ctrl+Z takes it back.", to, u.volume(b.LeftLoose))
	case b.Left < -little:
		return trf("The spoil raises %[1]s; %[2]s is lacking. Ctrl+Z takes it back.", to, u.volume(-b.Left))
	}
	return trf("The spoil raises %s and is used up. Ctrl+Z takes it back.", to)
}
