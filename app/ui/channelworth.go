package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"runnel/analysis/compare"
)

// A worthPart tells what the winding buys, and what one more metre of each dimension
// would.
type worthPart struct {
	*channelPage
	led, levers   *figureTable
	said, leverly *widget.RichText
	scroll        *container.Scroll
}

func (v *worthPart) word() string { return tr("What it buys") }

func (v *worthPart) works() []worked { return []worked{v.w.outcomes.worth} }

func (v *worthPart) focus() *figureTable { return nil }

// turn scrolls the part, since its tables are shown whole.
func (v *worthPart) turn(key fyne.KeyName) bool {
	return turnScroll(v.scroll, key)
}

func (v *worthPart) lines() []lineChoice { return nil }

func (v *worthPart) content() fyne.CanvasObject {
	v.led, v.levers, v.said, v.leverly = newFigureTable(v.key), newFigureTable(v.key), quiet(""), quiet("")
	v.led.whole, v.levers.whole = true, true
	v.scroll = container.NewVScroll(container.NewVBox(
		v.w.labelled(tr("Winding against straight"), strong, "gain"), v.led, flush(v.said), space(3*gap),
		v.w.labelled(oneMoreBuys(v.w.units), strong, "sensitivity"), v.levers, flush(v.leverly)))
	return v.scroll
}

func (v *worthPart) update() {
	sheets := v.sheets()
	v.led.show(sheets[0])
	v.levers.show(sheets[1])
	v.led.Refresh()
	v.levers.Refresh()
	o, u := v.w.outcomes.worth, v.w.units
	said, levers := []string{}, []string{}
	switch {
	case !o.last():
	case o.why != "":
		said = []string{o.why}
	default:
		g, s := o.value.gain, o.value.sensitivity
		said = append([]string{g.Sentence(), g.EdgeSentence(), g.StorageSentence()}, g.Notes...)
		if levers = []string{s.LevelSentence()}; s.Why != "" {
			levers = []string{s.Why}
		}
	}
	for i := range said {
		said[i] = sentence(u.told(said[i]))
	}
	for i := range levers {
		levers[i] = sentence(u.told(levers[i]))
	}
	levers = append(levers, tr("These are rates at a small step; what is far from what is drawn differs."))
	for _, r := range v.levered() {
		levers = append(levers, trf("%[1]s: %[2]s", leverWord(r), u.told(r.Note())+"."))
	}
	setQuiet(v.said, runOn(said))
	setQuiet(v.leverly, runOn(levers))
}

// sheets are the channels led in three ways, and the levers.
func (v *worthPart) sheets() []figureSheet {
	o := v.w.outcomes.worth
	if !o.last() || o.why != "" {
		return []figureSheet{v.ledSheet(compare.Gain{Why: dash}), v.leverSheet(nil)}
	}
	led, levers := v.ledSheet(o.value.gain), v.leverSheet(o.value.sensitivity.Rows)
	led.stale, levers.stale = !o.current(), !o.current()
	return []figureSheet{led, levers}
}

// A ledFigure is what channels come to by one measure.
type ledFigure struct {
	word     string
	power    int
	decimals int
	of       func(compare.Led) float64
}

func ledFigures() []ledFigure {
	return []ledFigure{
		{tr("Contact area"), 2, 1, func(l compare.Led) float64 { return l.Contact }},
		{tr("Wet bank"), 1, 1, func(l compare.Led) float64 { return l.WetEdge }},
		{tr("Storage"), 3, 1, func(l compare.Led) float64 { return l.Storage }},
		{tr("Length"), 1, 1, func(l compare.Led) float64 { return l.Length }},
		{tr("Dug, by sections"), 3, 1, func(l compare.Led) float64 { return l.Dug }},
		{tr("Width of the bed"), 1, 2, func(l compare.Led) float64 { return l.BedWidth }},
	}
}

func (v *worthPart) ledSheet(g compare.Gain) figureSheet {
	figures, u := ledFigures(), v.w.units
	way := func(head string, led compare.Led) figureColumn {
		cell := func(row int) string {
			f := figures[row]
			if g.Why != "" {
				return dash
			}
			return decimal(f.of(led)/u.yard(f.power).each, f.decimals)
		}
		return figureColumn{head: head, words: cell, right: true, raw: func(row int) string {
			if g.Why != "" {
				return ""
			}
			return plainNumber(figures[row].of(led) / u.yard(figures[row].power).each)
		}}
	}
	return figureSheet{
		rows: len(figures), heavy: func(row int) bool { return row == 0 },
		columns: []figureColumn{
			wordColumn(tr("Of the channels"), func(row int) string {
				return trf("%s [%s]", figures[row].word, u.yard(figures[row].power).unit)
			}),
			way(tr("Winding, as drawn"), g.Winding), way(tr("Straight, as drawn"), g.Straight), way(tr("Straight, for the same digging"), g.Equal),
		},
	}
}

func (v *worthPart) leverSheet(rows []compare.SensitivityRow) figureSheet {
	u := v.w.units
	one, two, three := u.yard(1), u.yard(2), u.yard(3)
	over := func(a, b yardstick) yardstick { return yardstick{a.unit + "/" + b.unit, a.each / b.each} }
	return figureSheet{
		rows: len(rows),
		columns: []figureColumn{
			wordColumn(oneMore(u), func(row int) string { return leverWord(rows[row]) }),
			over(two, one).column(tr("Contact area"), 2, func(row int) float64 { return rows[row].Contact }),
			over(three, one).column(tr("Digging"), 2, func(row int) float64 { return rows[row].Dig }),
			over(two, three).column(tr("Contact for the digging"), 2, func(row int) float64 { return rows[row].PerDig }),
			over(one, one).column(tr("Change of the water level"), 2, func(row int) float64 { return rows[row].Level }),
		},
	}
}

// levered are the levers that are known.
func (v *worthPart) levered() []compare.SensitivityRow {
	if o := v.w.outcomes.worth; o.last() && o.why == "" {
		return o.value.sensitivity.Rows
	}
	return nil
}

// oneMoreBuys is the title of the levers.
func oneMoreBuys(u units) string {
	if u == usFeet {
		return tr("What one more foot buys")
	}
	return tr("What one more metre buys")
}

// oneMore is the head of the levers.
func oneMore(u units) string {
	if u == usFeet {
		return tr("One more foot of")
	}
	return tr("One more metre of")
}
