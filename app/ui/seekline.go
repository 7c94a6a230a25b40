package ui

import (
	"context"
	"errors"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"runnel/analysis/propose"
	"runnel/app/site"
	"runnel/app/work"
	"runnel/geo/plan"
)

// seekLine seeks lines, with its progress and a way to stop it.
func (w *Window) seekLine(q propose.Question) {
	doc, s := w.doc, w.doc.Site()
	bar := widget.NewProgressBar()
	var hide func()
	cancel := work.Start(work.Long[[]propose.Proposal]{
		Do: func(ctx context.Context, report func(work.Progress)) ([]propose.Proposal, error) {
			return propose.Lines(ctx, s, q, func(done float64) { report(work.Progress{Fraction: done}) })
		},
		Show: func(p work.Progress) { w.post(func() { bar.SetValue(p.Fraction) }) },
		Done: func(found []propose.Proposal, err error) {
			w.post(func() {
				hide()
				w.trace.say("sought", "found", len(found), "ok", err == nil)
				switch {
				case w.doc != doc:
				case errors.Is(err, context.Canceled):
					w.tellBelow(tr("The search was stopped; nothing was added."))
				default:
					w.takeLines(s, q, found, err)
				}
			})
		},
	})
	hide = w.ask(prompt{title: tr("Seeking lines"), content: container.NewVBox(bar), size: fyne.NewSize(420, 130), waits: true,
		choices: []choice{{word: tr("Cancel"), do: cancel}}})
}

// takeLines makes schemes of what was found, as one edit, and says what they come to
// beside what is drawn. The best is shown where it is better than that.
func (w *Window) takeLines(s *plan.Site, q propose.Question, found []propose.Proposal, err error) {
	if err != nil {
		w.complain(err)
		return
	}
	edit := &site.AddSchemes{Schemes: w.proposed(s, q, found), What: toldLater("add %d proposals", len(found))}
	if err := w.doc.Do(edit); err != nil {
		w.complain(err)
		return
	}
	before := w.measured(q.Instead)
	title := tr("Nothing better was found")
	if found[0].Contact > before {
		title = tr("Lines found")
		w.showScheme(edit.Schemes[0].ID)
	}
	w.tell(title, w.saysProposals(found, before))
}

// measured is the contact that a channel has in the newest figures [m²]; nought where
// there is none.
func (w *Window) measured(id plan.ID) float64 {
	m, ok := w.measureOf(id)
	if !ok || id == 0 {
		return 0
	}
	return m.Contact
}

// proposed are the schemes of proposals: each with what stays of the scheme.
func (w *Window) proposed(s *plan.Site, q propose.Question, found []propose.Proposal) []site.Filled {
	var schemes []site.Filled
	next, kept := s.Clone(), propose.Kept(s, q)
	for _, p := range found {
		name := site.NextSchemeName(&next, tr("Proposal %s"))
		next.Plan.Schemes = append(next.Plan.Schemes, plan.Scheme{ID: plan.SchemeID(next.Plan.NextID()), Name: name})
		course := p.Channel
		course.Name = name
		schemes = append(schemes, site.Filled{Name: name, Features: append(slices.Clone(kept), course)})
	}
	return schemes
}

// saysProposals says what was found, beside the channel that it takes the place of.
func (w *Window) saysProposals(found []propose.Proposal, before float64) string {
	u, best := w.units, found[0]
	stand := trf("%d lines stand as schemes of their own.", len(found))
	if len(found) == 1 {
		stand = tr("One line stands as a scheme of its own.")
	}
	compared := trf("The best touches %[1]s of soil for %[2]s of digging.", u.area(best.Contact), u.volume(best.Volume))
	switch {
	case before > 0 && best.Contact > before:
		compared = trf("The best touches %[1]s of soil for %[2]s of digging; yours touches %[3]s.", u.area(best.Contact), u.volume(best.Volume), u.area(before))
	case before > 0:
		compared = trf("Nothing better was found: yours touches %[1]s, the best proposal %[2]s.", u.area(before), u.area(best.Contact))
	}
	return strings.Join([]string{compared, stand, leftOut(), tr("Ctrl+Z takes them away.")}, "\n\n")
}

// leftOut says what a proposal has none of.
func leftOut() string {
	return tr("A proposal is a channel alone, of one section. It has none of the islands, sills, spillways, raised banks, crossings and sections of the channel that it stands in for, nor its set flow.")
}
