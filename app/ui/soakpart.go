package ui

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"runnel/geo"
)

// A soakPanel says what soaks in under the scheme, beside the site as it is, against
// what the well gives up; how the design storm goes through it; what it costs; and
// what to measure next.
type soakPanel struct {
	w             *Window
	box           *fyne.Container
	state, storm  *canvas.Text
	schemeHeading *widget.Label
	rows          []*soakRow
	recharge      *rechargeBars
	basis, held   *widget.RichText
	causes        *causeList
}

// A soakRow is a row of the panel.
type soakRow struct {
	*pairRow
	figure soakFigure
}

func newSoakPanel(w *Window) *soakPanel {
	p := &soakPanel{w: w, state: text("", caption), storm: rightText("", caption), schemeHeading: columnHead(""), basis: quiet(""), held: quiet("")}
	p.box = container.NewVBox(
		spread(text(tr("Soak-in"), heading), p.state), flush(p.basis),
		container.New(figureGrid{}, container.NewHBox(text(tr("and ranges"), caption), w.mark("soak-range")),
			flush(p.schemeHeading), flush(columnHead(tr("As it is")))))
	p.recharge = newRechargeBars(w)
	for _, f := range yearFigures() {
		if f.key == "recharge" {
			p.box.Add(p.recharge.object)
			continue
		}
		p.add(f)
	}
	p.box.Add(spread(text(tr("The design storm"), strong), p.storm))
	for _, f := range stormFigures() {
		p.add(f)
	}
	p.box.Add(rule())
	for _, f := range w.costFigures() {
		p.add(f)
	}
	p.causes = newCauseList(w)
	p.box.Objects = append(p.box.Objects, rule(), p.causes.object, flush(p.held), newButton(tr("The year's water"), w.yearsWater))
	return p
}

func (p *soakPanel) add(f soakFigure) {
	r := &soakRow{newPairRow(p.w, f.figure), f}
	shown(r.small, f.within != nil || f.note != nil)
	p.rows = append(p.rows, r)
	p.box.Add(r.object)
}

func (p *soakPanel) content() fyne.CanvasObject { return p.box }

// update writes what is known; before that each figure is a dash.
func (p *soakPanel) update() {
	w, k := p.w, p.w.soaking
	k.follow()
	say(p.state, p.working())
	name := ""
	if !w.alone() {
		name = w.schemeName()
	}
	if p.schemeHeading.Text != name {
		p.schemeHeading.SetText(name)
	}
	say(p.storm, w.stormWords())
	for _, r := range p.rows {
		r.show(r.figure.paired(k), w.alone())
	}
	p.recharge.update()
	p.causes.update()
	basis := ""
	if k.last() {
		basis = w.units.told(k.scheme.Basis.String())
		if k.scheme.Basis.Record {
			basis = trf("In the mean of %s whole years of the daily record.", decimal(float64(k.scheme.Basis.Years), 0))
		}
	}
	setQuiet(p.basis, basis)
	shown(p.basis, basis != "")
	held := k.withheld()
	setQuiet(p.held, held)
	shown(p.held, held != "")
}

// working says that figures or ranges are on their way.
func (p *soakPanel) working() string {
	switch k := p.w.soaking; {
	case !p.w.figures.known:
		return p.w.pending(false)
	case k.why != "":
		return ""
	case !k.current() || !k.spread.current():
		return tr("Working…")
	}
	return ""
}

// withheld says what is not told and why, a sentence each.
func (k *soaking) withheld() string {
	var said []string
	if k.why != "" {
		said = append(said, sentence(k.w.units.told(k.why)))
	}
	if k.last() {
		for _, h := range k.scheme.Withheld {
			said = append(said, sentence(k.w.units.told(h.Why)))
		}
	}
	return strings.Join(said, "\n")
}

// rechargeBars are the recharge potential, drawn as bars from low to high.
type rechargeBars struct {
	w      *Window
	object *fyne.Container
	row    *soakRow
	bars   [2]*rangeBar
}

func newRechargeBars(w *Window) *rechargeBars {
	f := rechargeOf()
	b := &rechargeBars{w: w, row: &soakRow{newPairRow(w, f.figure), f}}
	b.object = container.NewVBox(b.row.object)
	for i, ink := range []fyne.ThemeColorName{theme.ColorNamePrimary, quietColour} {
		b.bars[i] = newRangeBar(geo.Range{}, 1, ink)
		b.object.Add(b.bars[i])
	}
	b.object.Add(paragraph(tr("The upper bar is the scheme's, the lower that of the site as it is, from low to high. It is a potential and promises nothing of a well's yield.")))
	return b
}

func (b *rechargeBars) update() {
	k := b.w.soaking
	k.follow()
	b.row.show(b.row.figure.paired(k), b.w.alone())
	now, was := geo.Range{}, geo.Range{}
	if k.spread.last() {
		now, was = k.spread.value.scheme.Recharge, k.spread.value.asItIs.Recharge
	}
	full := max(now.High, was.High)
	b.bars[0].show(now, full)
	b.bars[1].show(was, full)
	shown(b.bars[0], !b.w.alone())
}
