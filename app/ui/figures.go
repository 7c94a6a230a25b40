package ui

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"runnel/geo/plan"
)

// figureShares are the widths of a label, the scheme's figure and the site's.
var figureShares = columns{10, 6, 6}

// A figuresPanel shows what was measured, always beside the site as it is.
type figuresPanel struct {
	w             *Window
	box           *fyne.Container
	rows          []*figureRow
	recharge      *rechargeBars
	fold          *fold
	schemeHeading *widget.Label
	state         *canvas.Text
	// water says whether channels are measured as they flow or as they stand.
	water    *widget.RichText
	waterRow fyne.CanvasObject
}

func newFiguresPart(w *Window) *figuresPanel {
	p := &figuresPanel{w: w, schemeHeading: columnHead(""), state: text("", caption), water: quiet("")}
	rows := container.NewVBox(container.New(figureGrid{}, container.NewHBox(text(tr("and ranges"), caption), w.mark("range")),
		flush(p.schemeHeading), flush(columnHead(tr("As it is")))))
	for _, f := range accountFigures() {
		if !f.checks {
			r := newFigureRow(w, f)
			p.rows = append(p.rows, r)
			rows.Add(r.object)
		}
	}
	p.waterRow = flush(p.water)
	rows.Add(p.waterRow)
	p.finish(rows)
	return p
}

// finish folds the rows where what soaks in stands before them, which is what counts
// there. Elsewhere the recharge potential comes after them.
func (p *figuresPanel) finish(rows *fyne.Container) {
	if p.w.showsPart(soakPart) {
		p.fold = newFold(p.w, "figures", tr("Figures of the channels"), rows)
		p.box = p.fold.object
		return
	}
	p.recharge = newRechargeBars(p.w)
	p.box = container.NewVBox(spread(text(tr("Figures"), heading), p.state))
	p.box.Objects = append(p.box.Objects, rows, rule(), p.recharge.object)
}

func (p *figuresPanel) content() fyne.CanvasObject { return p.box }

// update writes the figures; before they are known each is a dash.
func (p *figuresPanel) update() {
	f := p.w.figures
	say(p.state, p.w.pending(f.known))
	name := ""
	if !p.w.alone() {
		name = p.w.schemeName()
	}
	if p.schemeHeading.Text != name {
		p.schemeHeading.SetText(name)
	}
	for _, r := range p.rows {
		r.show()
	}
	p.sayWater(f.scheme.Notes)
	if p.recharge != nil {
		p.recharge.update()
	}
	if p.fold != nil && f.known {
		p.fold.say(trf("contact area %s", p.w.units.area(f.scheme.Contact)))
	}
}

// sayWater says how the water of channels for which a flow is set is measured.
func (p *figuresPanel) sayWater(notes []string) {
	var said []string
	for _, note := range notes {
		said = append(said, sentence(p.w.units.told(note)))
	}
	setQuiet(p.water, strings.Join(said, " "))
	shown(p.waterRow, len(said) > 0)
}

// alone reports whether there is no scheme to set beside the site as it is.
func (w *Window) alone() bool { return w.board.Scheme == plan.AsItIs }

// A figureRow is a figure of the scheme and of the site as it is.
type figureRow struct {
	*pairRow
	w      *Window
	figure figure
}

func newFigureRow(w *Window, f figure) *figureRow { return &figureRow{newPairRow(w, f), w, f} }

// show writes the row from the newest figures and ranges.
func (r *figureRow) show() {
	f, u, figures := r.figure, r.w.units, &r.w.figures
	is := paired{now: dash, was: dash}
	if figures.known {
		now, was := f.value(&figures.scheme), f.value(&figures.asItIs)
		is.now, is.was, is.differs = f.write(u, now), f.write(u, was), f.differenceAndRatio(u, now, was)
	}
	if f.span != nil {
		known := r.w.ranges
		is.span, is.wasIn, is.staleSpan = dash, dash, !known.current()
		if known.last() {
			is.span, is.wasIn = f.between(u, f.span(&known.scheme)), f.between(u, f.span(&known.asItIs))
		}
	}
	r.pairRow.show(is, r.w.alone())
}
