package ui

import (
	"image/color"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"runnel/analysis/compare"
	"runnel/geo"
	"runnel/geo/plan"
)

// figureShares are the widths of a label, the scheme's figure and the site's.
var figureShares = columns{10, 6, 6}

// A figuresPanel shows what was measured, always beside the site as it is.
type figuresPanel struct {
	w             *Window
	box           *fyne.Container
	rows          []*figureRow
	recharge      *figureRow
	bars          [2]*rangeBar
	spans         [2]*brief
	schemeHeading *widget.Label
	state         *canvas.Text
	// water says whether channels are measured as they flow or as they stand.
	water    *widget.RichText
	waterRow fyne.CanvasObject
}

func newFiguresPart(w *Window) *figuresPanel {
	p := &figuresPanel{w: w, schemeHeading: columnHead(""), state: text("", caption), water: quiet("")}
	p.box = container.NewVBox(
		spread(text(tr("Figures"), heading), p.state),
		container.New(figureGrid{}, container.NewHBox(text(tr("and ranges"), caption), w.mark("range")),
			flush(p.schemeHeading), flush(columnHead(tr("As it is")))),
	)
	for _, f := range accountFigures() {
		if !f.checks {
			p.addRow(f)
		}
	}
	p.waterRow = flush(p.water)
	p.box.Add(p.waterRow)
	p.box.Add(rule())
	p.addRecharge()
	return p
}

func (p *figuresPanel) addRow(f figure) {
	r := newFigureRow(p.w, f)
	p.rows = append(p.rows, r)
	p.box.Add(r.object)
}

// addRecharge adds the figure that is a range from the start, drawn as bars.
func (p *figuresPanel) addRecharge() {
	p.recharge = newFigureRow(p.w, rechargeFigure())
	p.box.Add(p.recharge.object)
	for i, ink := range []fyne.ThemeColorName{theme.ColorNamePrimary, quietColour} {
		p.bars[i] = newRangeBar(geo.Range{}, 1, ink)
		p.spans[i] = newBrief(caption)
		p.box.Add(p.spans[i].object)
		p.box.Add(p.bars[i])
	}
	p.box.Add(paragraph(tr("A season's potential, from low to high, the likely figure at the mark. It rests on the soil and on the days that the drain runs; nothing is taken off for what evaporates, and how much water comes is not counted. It promises nothing of a well's yield.")))
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
	p.recharge.show()
	full := max(f.scheme.Recharge.High, f.asItIs.Recharge.High)
	for i, a := range []compare.Account{f.scheme, f.asItIs} {
		hidden := i == 0 && p.w.alone()
		shown(p.bars[i], !hidden)
		shown(p.spans[i].object, !hidden)
		name := tr("As it is")
		if i == 0 {
			name = p.w.schemeName()
		}
		said := dash
		if f.known {
			said = p.recharge.figure.between(p.w.units, a.Recharge)
		}
		p.bars[i].show(a.Recharge, full)
		p.spans[i].sayWith(name, func(name string) string { return trf("%s: %s", name, said) })
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

// A figureRow is a figure of the scheme and of the site as it is; beneath, small,
// how they differ and between which values each lies.
type figureRow struct {
	w                    *Window
	figure               figure
	object               fyne.CanvasObject
	now, was             *canvas.Text
	differs, span, wasIn *canvas.Text
}

func newFigureRow(w *Window, f figure) *figureRow {
	weight := body
	if f.counts {
		weight = strong
	}
	r := &figureRow{
		w: w, figure: f, now: rightText("", weight), was: rightText("", body),
		differs: text("", caption), span: rightText("", caption), wasIn: rightText("", caption),
	}
	r.object = container.New(layout.NewCustomPaddedVBoxLayout(0),
		container.New(figureGrid{}, w.labelled(f.label, weight, f.key), r.now, r.was),
		container.New(figureGrid{}, r.differs, r.span, r.wasIn))
	return r
}

// show writes the row from the newest figures and ranges.
func (r *figureRow) show() {
	f, u, figures := r.figure, r.w.units, &r.w.figures
	now, was, differs := dash, dash, ""
	if figures.known {
		now, was = f.write(u, f.value(&figures.scheme)), f.write(u, f.value(&figures.asItIs))
		differs = f.differenceAndRatio(u, f.value(&figures.scheme), f.value(&figures.asItIs))
	}
	if r.w.alone() {
		now, differs = "", ""
	}
	say(r.now, now)
	say(r.was, was)
	say(r.differs, differs)
	r.showRanges()
}

// stale is the opacity of a range that newer figures have overtaken.
const stale = 0.55

// showRanges writes the ranges, pale while newer ones are worked out.
func (r *figureRow) showRanges() {
	if r.figure.span == nil {
		return
	}
	known := r.w.ranges
	now, was := dash, dash
	if known.last() {
		now = r.figure.between(r.w.units, r.figure.span(&known.scheme))
		was = r.figure.between(r.w.units, r.figure.span(&known.asItIs))
	}
	if r.w.alone() {
		now = ""
	}
	ink := theme.Color(quietColour)
	if !known.current() {
		ink = faded(ink, stale)
	}
	fit(r.span, now, schemeColumn, ink)
	fit(r.wasIn, was, siteColumn, ink)
}

// fit says a range in a column. Where that is too narrow for it, its unit is left to
// the figure above.
func fit(t *canvas.Text, words string, column float32, ink color.Color) {
	size := fyne.MeasureText(words, t.TextSize, t.TextStyle)
	if size.Width > scaled(column)-gap {
		words, _ = cutUnit(words)
	}
	if t.Text != words || t.Color != ink {
		t.Text, t.Color = words, ink
		t.Refresh()
	}
}

// figureGrid lays a label and two figures in three columns, of which the first
// gives way: what does not fit the second or the third reaches into it.
type figureGrid struct{}

// schemeColumn and siteColumn are the widths of the figures [dp].
const (
	schemeColumn = 92
	siteColumn   = 84
)

// Layout implements fyne.Layout.
func (figureGrid) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	right := size.Width
	for i, column := range []float32{siteColumn, schemeColumn} {
		o, width := objects[2-i], scaled(column)-gap
		if _, words := o.(*canvas.Text); words {
			width = max(width, o.MinSize().Width)
		}
		place(o, right-width, width, size.Height)
		right -= scaled(column)
	}
	place(objects[0], 0, max(objects[0].MinSize().Width, right), size.Height)
}

// place puts an object in a column, in the middle of the row's height.
func place(o fyne.CanvasObject, left, width, height float32) {
	o.Resize(fyne.NewSize(width, o.MinSize().Height))
	o.Move(fyne.NewPos(left, (height-o.MinSize().Height)/2))
}

// MinSize is the height of the tallest; the width is what the ledger gives.
func (figureGrid) MinSize(objects []fyne.CanvasObject) fyne.Size {
	var size fyne.Size
	for _, o := range objects {
		size.Height = max(size.Height, o.MinSize().Height)
	}
	return size
}
