package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"runnel/analysis/compare"
	"runnel/geo/plan"
)

// A measured figure of an account, as the ledger and the comparison name it.
type measured struct {
	label string
	// write gives the figure with its unit.
	write func(units, compare.Account) string
	// counts marks the figures that the work is about.
	counts bool
}

// measuredFigures are in the order in which they are read.
var measuredFigures = []measured{
	{"Contact area", func(u units, a compare.Account) string { return u.area(a.Contact) }, true},
	{"times as it is", func(_ units, a compare.Account) string { return times(a.Ratio) }, false},
	{"by the ground's cells", func(u units, a compare.Account) string { return u.area(a.ContactOnGround) }, false},
	{"Wet bank", func(u units, a compare.Account) string { return u.length(a.WetBank) }, false},
	{"Water surface", func(u units, a compare.Account) string { return u.area(a.Surface) }, false},
	{"Deepest water", func(u units, a compare.Account) string { return u.length(a.Depth) }, false},
	{"Storage", func(u units, a compare.Account) string { return u.volume(a.Storage) }, true},
	{"Length of water", func(u units, a compare.Account) string { return u.length(a.Length) }, false},
	{"Cut", func(u units, a compare.Account) string { return u.volume(a.Cut) }, false},
	{"Fill", func(u units, a compare.Account) string { return u.volume(a.Fill) }, false},
}

// figureShares are the widths of a label, the scheme's figure and the site's.
var figureShares = columns{10, 6, 6}

// A figuresPanel shows what was measured, always beside the site as it is.
type figuresPanel struct {
	w             *Window
	box           *fyne.Container
	scheme, asIs  []*canvas.Text
	bars          [2]*rangeBar
	ranges        [2]*canvas.Text
	likely        [2]*canvas.Text
	schemeHeading *widget.Label
	state         *canvas.Text
}

func newFiguresPart(w *Window) *figuresPanel {
	p := &figuresPanel{w: w, schemeHeading: columnHead(""), state: text("", caption)}
	p.box = container.NewVBox(
		spread(text("Figures", heading), p.state),
		container.New(columns{16, 6}, flush(p.schemeHeading), flush(columnHead("As it is"))),
	)
	for _, m := range measuredFigures {
		weight := body
		if m.counts {
			weight = strong
		}
		now, was := rightText("", weight), rightText("", body)
		p.scheme, p.asIs = append(p.scheme, now), append(p.asIs, was)
		p.box.Add(container.New(figureShares, text(m.label, weight), now, was))
	}
	p.box.Add(space(gap))
	p.box.Add(text("Recharge potential in a season", strong))
	for i, ink := range []fyne.ThemeColorName{theme.ColorNamePrimary, quietColour} {
		p.bars[i] = newRangeBar(w.figures.scheme.Recharge, 1, ink)
		p.likely[i], p.ranges[i] = rightText("", strong), text("", caption)
		p.box.Add(spread(p.ranges[i], p.likely[i]))
		p.box.Add(p.bars[i])
	}
	p.box.Add(paragraph("From low to high, the likely figure at the mark. It rests on the soil and on the days that the drain runs; nothing is taken off for what evaporates, and how much water comes is not counted. It promises nothing of a well's yield."))
	return p
}

func (p *figuresPanel) content() fyne.CanvasObject { return p.box }

// update writes the figures; before they are known each is a dash.
func (p *figuresPanel) update() {
	u, f := p.w.units, p.w.figures
	say(p.state, p.w.pending(f.known))
	alone := p.w.board.Scheme == plan.AsItIs
	if alone {
		p.schemeHeading.SetText("")
	} else {
		p.schemeHeading.SetText(p.w.schemeName())
	}
	for i, m := range measuredFigures {
		now, was := dash, dash
		if f.known {
			now, was = m.write(u, f.scheme), m.write(u, f.asItIs)
		}
		if alone {
			now = ""
		}
		say(p.scheme[i], now)
		say(p.asIs[i], was)
	}
	full := max(f.scheme.Recharge.High, f.asItIs.Recharge.High)
	for i, a := range []compare.Account{f.scheme, f.asItIs} {
		for _, o := range []fyne.CanvasObject{p.bars[i], p.ranges[i], p.likely[i]} {
			if i == 0 && alone {
				o.Hide()
			}
		}
		name := "As it is"
		if i == 0 {
			name = p.w.schemeName()
		}
		p.bars[i].show(a.Recharge, full)
		say(p.ranges[i], name+": "+u.volumes(a.Recharge))
		say(p.likely[i], u.volume(a.Recharge.Likely))
	}
}
