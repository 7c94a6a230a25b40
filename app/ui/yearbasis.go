package ui

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"runnel/analysis/pool"
	"runnel/analysis/sampling"
	"runnel/analysis/soakin"
	"runnel/app/sheet"
	"runnel/geo"
)

// A basisPart tells what the account rests on: what its spread comes from, the soil of
// each pool, what is left out and what is withheld.
type basisPart struct {
	*yearPage
	scroll *container.Scroll
	charts chartPlace
	soils  *figureTable
	ranks  *figureTable
	note   *widget.RichText
}

func (b *basisPart) word() string { return tr("What it rests on") }

func (b *basisPart) focus() *figureTable { return nil }

func (b *basisPart) turn(key fyne.KeyName) bool { return turnScroll(b.scroll, key) }

func (b *basisPart) works() []worked { return []worked{b.w.soaking, b.w.soaking.spread} }

func (b *basisPart) content() fyne.CanvasObject {
	b.charts = chartPlace{p: &b.figurePage, box: container.NewStack()}
	b.soils, b.ranks, b.note = newFigureTable(b.key), newFigureTable(b.key), quiet("")
	b.soils.whole, b.ranks.whole = true, true
	const high = 290
	b.scroll = container.NewVScroll(container.NewVBox(
		b.w.labelled(tr("What the spread comes from"), strong, "causes"), container.New(heightOf(high), b.charts.box), b.ranks, space(3*gap),
		b.w.labelled(tr("The soil under each pool"), strong, "soil-test"), b.soils, space(3*gap),
		text(tr("What it rests on, and what is left out"), strong), flush(b.note)))
	return b.scroll
}

// rankings are those of the recharge and of the share.
func (b *basisPart) rankings() (recharge, share sampling.Ranking) {
	if s := b.w.soaking.spread; s.last() {
		return s.value.scheme.RechargeCauses, s.value.scheme.ShareCauses
	}
	return recharge, share
}

func (b *basisPart) update() {
	sheets := b.sheets()
	b.ranks.show(sheets[0])
	b.soils.show(sheets[1])
	setQuiet(b.note, b.said())
	spread := b.w.soaking.spread
	b.charts.show(drawnOf{account: b.account(), site: spread.site}, func() []fyne.CanvasObject {
		recharge, share := b.rankings()
		list := []fyne.CanvasObject{b.picture(ranked(tr("Of the recharge potential"), recharge).Draw)}
		if len(share.Causes) > 0 {
			list = append(list, b.picture(ranked(tr("Of the share put back"), share).Draw))
		}
		return []fyne.CanvasObject{container.New(evenly{}, list...)}
	})
	b.scroll.Content.Refresh()
}

// ranked is the chart of a ranking: what can be measured, then the year's weather and
// what no cause explains by itself.
func ranked(title string, r sampling.Ranking) sheet.Ranking {
	c := sheet.Ranking{Title: title, None: tr("The ranges are not drawn yet.")}
	measured, weather := splitCauses(r)
	if len(r.Causes) == 0 {
		return c
	}
	for _, k := range measured {
		c.Ranks = append(c.Ranks, sheet.Rank{Name: causeName(k.Name), Share: k.Share})
	}
	if weather > 0 {
		c.Ranks = append(c.Ranks, sheet.Rank{Name: causeName(soakin.WeatherCause), Detail: tr("nobody can measure it"), Share: weather})
	}
	c.Rest = sheet.Rank{Name: tr("Several together"), Share: r.Rest}
	return c
}

// said are the sentences about the basis, a line each.
func (b *basisPart) said() string {
	a := b.account()
	if a == nil {
		return ""
	}
	said := "• " + b.w.units.told(a.Basis.String())
	for _, h := range a.Withheld {
		said += "\n• " + sentence(b.w.units.told(h.Why))
	}
	for _, n := range a.Notes {
		said += "\n• " + sentence(b.w.units.told(n))
	}
	return said + "\n• " + trf("Ranges are of %s draws, from the 5th to the 95th of a hundred; the year itself is drawn among those of the record.", decimal(soakin.Draws, 0))
}

// unseen is a share that would be written as nought.
const unseen = 0.0005

func (b *basisPart) sheets() []figureSheet {
	recharge, share := b.rankings()
	of := map[string]float64{}
	for _, c := range share.Causes {
		of[c.Name] = c.Share
	}
	percent := yardstick{"%", 0.01}
	recharge.Causes = slices.DeleteFunc(slices.Clone(recharge.Causes), func(c sampling.Cause) bool { return max(c.Share, of[c.Name]) < unseen })
	causes := figureSheet{rows: len(recharge.Causes), stale: !b.w.soaking.spread.current(), columns: []figureColumn{
		wordColumn(tr("Cause"), func(row int) string { return causeName(recharge.Causes[row].Name) }),
		percent.column(tr("of the recharge's spread"), 1, func(row int) float64 { return recharge.Causes[row].Share }),
	}}
	if len(share.Causes) > 0 {
		causes.columns = append(causes.columns, percent.column(tr("of the share's spread"), 1, func(row int) float64 { return of[recharge.Causes[row].Name] }))
	}
	return []figureSheet{causes, b.soilSheet()}
}

func (b *basisPart) soilSheet() figureSheet {
	a := b.account()
	var pools []pool.Pool
	if a != nil {
		pools = a.Setup.Pools.Pools
	}
	u := b.w.units
	rate := yardstick{"mm/h", 1}
	if u == usFeet {
		rate = yardstick{"in/h", millimetresPerInch}
	}
	ksat := func(head string, of func(geo.Range) float64) figureColumn {
		return rate.column(head, 2, func(row int) float64 { return of(pools[row].Soil.Ksat) })
	}
	return figureSheet{rows: len(pools), stale: b.stale(), columns: []figureColumn{
		wordColumn(tr("Pool"), func(row int) string { return b.w.poolName(a, row) }),
		wordColumn(tr("Soil"), func(row int) string { return told(pools[row].Soil.Name) }),
		ksat(tr("Conductivity, low"), func(r geo.Range) float64 { return r.Low }),
		ksat(tr("likely"), func(r geo.Range) float64 { return r.Likely }),
		ksat(tr("high"), func(r geo.Range) float64 { return r.High }),
		wordColumn(tr("Hydrologic group"), func(row int) string { return pools[row].Soil.Group.String() }),
		wordColumn(tr("From"), func(row int) string { return u.told(pools[row].Soil.Source) }),
	}}
}
