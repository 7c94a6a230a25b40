package ui

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"runnel/app/view"
	"runnel/geo/plan"
)

// section names a part of the ledger.
type section uint8

const (
	selection section = iota
	siteFacts
	rests
	underlays
	rain
	fates
	hollows
	sureness
	figuresPart
	outcomePart
	soakPart
	season
	cautions
)

// A part is one section of the ledger as it stands on the screen.
type part interface {
	content() fyne.CanvasObject
	// update shows the site and its figures as they are now.
	update()
}

// ledgerWidth holds the longest label beside two figures [dp].
const ledgerWidth = 324

// A ledger is the panel of fields and figures beside the map.
type ledger struct {
	w      *Window
	box    *fyne.Container
	scroll *container.Scroll
	object fyne.CanvasObject
	parts  []part
	// shown is what the parts were built for; they are built anew for another.
	shown string
}

func newLedger(w *Window) *ledger {
	l := &ledger{w: w, box: container.NewVBox()}
	l.scroll = container.NewVScroll(padded(l.box))
	l.object = container.New(widthOf(ledgerWidth), container.NewStack(l.scroll, w.inquiry.box))
	return l
}

// refresh brings the ledger up to date. The fields are kept while the same
// thing is selected, so that what is being typed stays.
func (l *ledger) refresh() {
	f, _ := l.w.selected()
	shown := fmt.Sprint(l.w.step, f.ID, f.Kind, l.w.board.Others, l.w.board.Scheme, l.w.units)
	if shown != l.shown {
		l.shown = shown
		l.build()
	}
	for _, p := range l.parts {
		p.update()
	}
}

func (l *ledger) build() {
	l.parts = nil
	l.box.RemoveAll()
	for i, s := range steps[l.w.step].ledger {
		p := l.part(s)
		if i > 0 {
			l.box.Add(space(gap))
			l.box.Add(rule())
		}
		l.parts = append(l.parts, p)
		l.box.Add(p.content())
	}
	l.scroll.ScrollToTop()
	l.box.Refresh()
}

// stay does what builds the ledger anew, and has what is read in it keep its place: its
// end lies as far below as before.
func (l *ledger) stay(do func()) {
	before, below := l.shown, l.box.MinSize().Height-l.scroll.Offset.Y
	do()
	if l.shown != before {
		l.scroll.ScrollToOffset(fyne.NewPos(0, max(0, l.box.MinSize().Height-below)))
	}
}

func (l *ledger) part(s section) part {
	switch s {
	case selection:
		return newSelectedPart(l.w)
	case siteFacts:
		return newSurveyPart(l.w)
	case rests:
		return newRestsPart(l.w)
	case underlays:
		return newUnderlaysPart(l.w)
	case rain:
		return newStormPart(l.w)
	case fates:
		return newFatesPart(l.w)
	case hollows:
		return newHollowsPart(l.w)
	case sureness:
		return newSurePart(l.w)
	case season:
		return newSeasonPart(l.w)
	case outcomePart:
		return newOutcomePanel(l.w)
	case soakPart:
		return newSoakPanel(l.w)
	case cautions:
		return newCautionsPart(l.w)
	}
	return newFiguresPart(l.w)
}

// quiet is a paragraph in small type.
func quiet(words string) *widget.RichText {
	style := widget.RichTextStyle{SizeName: captionSize, ColorName: quietColour}
	r := widget.NewRichText(&widget.TextSegment{Text: words, Style: style})
	r.Wrapping = fyne.TextWrapWord
	return r
}

// paragraph is a quiet paragraph that stays as it is.
func paragraph(words string) fyne.CanvasObject { return flush(quiet(words)) }

// setQuiet changes what a quiet paragraph says.
func setQuiet(r *widget.RichText, words string) {
	if segment := r.Segments[0].(*widget.TextSegment); segment.Text != words {
		segment.Text = words
		r.Refresh()
	}
}

// sceneNow returns what the map shows, or nothing before it is worked out.
func (w *Window) sceneNow() view.Scene {
	if w.scene == nil {
		return view.Scene{}
	}
	return *w.scene
}

// selected returns the selected feature, if there is one that the scheme shows.
func (w *Window) selected() (plan.Feature, bool) {
	f, ok := w.doc.Site().Plan.Find(w.board.Selected)
	return f, ok && w.board.Selected != 0
}

func spread(left, right fyne.CanvasObject) fyne.CanvasObject {
	return container.NewHBox(left, layout.NewSpacer(), right)
}
