package ui

import (
	"math"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"runnel/analysis/caution"
	"runnel/analysis/soakin"
	"runnel/app/sheet"
	"runnel/geo"
	"runnel/geo/plan"
)

// A moundPart tells how what soaks in raises the water table.
type moundPart struct {
	*yearPage
	table  *figureTable
	charts chartPlace
	note   *widget.RichText
}

func (m *moundPart) word() string { return tr("Groundwater") }

func (m *moundPart) all() string { return tr("All years") }

func (m *moundPart) lines() []lineChoice { return m.years() }

func (m *moundPart) focus() *figureTable { return m.table }

func (m *moundPart) content() fyne.CanvasObject {
	m.table, m.note = newFigureTable(m.key), quiet("")
	m.charts = chartPlace{p: &m.figurePage, box: container.NewStack()}
	return container.New(besideOrBelow{share: 0.6}, container.New(footed(0.5), m.table, container.NewVScroll(flush(m.note))), m.charts.box)
}

func (m *moundPart) rises() []soakin.Rise {
	if a := m.account(); a != nil {
		return a.Rises
	}
	return nil
}

func (m *moundPart) update() {
	m.table.show(m.sheets()[0])
	setQuiet(m.note, runOn(m.said()))
	m.charts.show(drawnOf{account: m.account(), line: m.line}, func() []fyne.CanvasObject { return []fyne.CanvasObject{m.picture(m.chart().Draw)} })
}

func (m *moundPart) said() []string {
	a := m.account()
	switch {
	case a == nil:
		return nil
	case len(a.Rises) == 0:
		for _, h := range a.Withheld {
			if h.What == "mound" {
				return []string{sentence(m.w.units.told(h.Why))}
			}
		}
		return nil
	}
	said := []string{tr("The rise is what the channels' water adds at the end of each day to the water table that is set, in which that of the drains is already; how the table moves by itself through the year is not in it.")}
	if days := a.Season.Total.Limited; days > 0 {
		said = append(said, trf("On %s days of the record the water table reaches a bed, and soaking is held back to what flows off below.", decimal(days, 0)))
	}
	return said
}

// limit is the most that the table is to rise at a place, NaN for none.
func (m *moundPart) limit(r soakin.Rise) float64 {
	if r.Place.Kind == plan.Roof || r.Place.Kind == plan.SepticField {
		return caution.InForce(m.w.soaking.site, caution.Limits{}).Mound
	}
	return math.NaN()
}

// span are the days of the year that is told of, or all.
func (m *moundPart) span(days int) (from, to int) {
	first := m.firstDay()
	if m.line == 0 || first.IsZero() {
		return 0, days
	}
	day := func(year int) int {
		const hours = 24
		at := time.Date(year, 1, 1, 0, 0, 0, 0, first.Location())
		return min(days, max(0, int(math.Round(at.Sub(first).Hours()/hours))))
	}
	return day(int(m.line)), day(int(m.line) + 1)
}

func (m *moundPart) chart() sheet.Mound {
	one := m.w.units.yard(1)
	c := sheet.Mound{
		Title: tr("Rise of the water table"), First: m.firstDay(), Across: tr("Days"), Up: trf("Rise [%s]", one.unit),
		LimitName: tr("the most that it should rise"), None: tr("The rise of the water table is not told."),
	}
	limited := false
	for i, r := range m.rises() {
		from, to := m.span(len(r.Days))
		if i == 0 {
			for day := range to - from {
				c.At = append(c.At, float64(day+1))
			}
			if !c.First.IsZero() {
				c.First = c.First.AddDate(0, 0, from)
			}
		}
		limit := m.limit(r)
		limited = limited || !math.IsNaN(limit)
		c.Places = append(c.Places, sheet.Place{Name: titleOf(r.Place), Rise: each(r.Days[from:to], one.each), Limit: limit / one.each})
	}
	if !limited {
		c.LimitName = ""
	}
	return c
}

// within is the range of the greatest rise at a place, NaN until it is known.
func (m *moundPart) within(row int) geo.Range {
	if s := m.spreadNow(); s != nil && row < len(s.Rises) {
		return s.Rises[row]
	}
	return geo.Range{Low: math.NaN(), Likely: math.NaN(), High: math.NaN()}
}

func (m *moundPart) sheets() []figureSheet {
	rises, one, first := m.rises(), m.w.units.yard(1), m.firstDay()
	return []figureSheet{{
		rows: len(rises), stale: m.stale(),
		place: func(row int) sheetPlace {
			return sheetPlace{rises[row].At, rises[row].Place.ID, titleOf(rises[row].Place)}
		},
		columns: []figureColumn{
			wordColumn(tr("Place"), func(row int) string { return titleOf(rises[row].Place) }),
			one.column(tr("Greatest rise"), 2, func(row int) float64 { return rises[row].Peak }),
			one.column(tr("low"), 2, func(row int) float64 { return m.within(row).Low }),
			one.column(tr("high"), 2, func(row int) float64 { return m.within(row).High }),
			wordColumn(tr("on"), func(row int) string {
				if first.IsZero() {
					return trf("day %s", decimal(float64(rises[row].PeakDay+1), 0))
				}
				return dated(first, rises[row].PeakDay)
			}),
			one.column(tr("at the end of the record"), 2, func(row int) float64 { return rises[row].Days[len(rises[row].Days)-1] }),
			one.column(tr("Table below bed or floor then"), 2, func(row int) float64 { return rises[row].Below }),
			one.column(tr("Limit"), 2, func(row int) float64 { return m.limit(rises[row]) }),
		},
	}}
}
