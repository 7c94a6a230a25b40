package ui

import (
	"image"
	"math"
	"slices"
	"strconv"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"runnel/analysis/soakin"
	"runnel/app/sheet"
	"runnel/geo"
)

// A monthPart tells the months of a mean year.
type monthPart struct {
	*yearPage
	table  *figureTable
	charts chartPlace
	note   *widget.RichText
}

func (m *monthPart) word() string { return tr("Through the year") }

func (m *monthPart) focus() *figureTable { return m.table }

func (m *monthPart) content() fyne.CanvasObject {
	m.table, m.note = newFigureTable(m.key), quiet("")
	m.charts = chartPlace{p: &m.figurePage, box: container.NewStack()}
	return container.New(besideOrBelow{share: 0.5}, container.New(footed(0.4), m.table, container.NewVScroll(flush(m.note))), m.charts.box)
}

func (m *monthPart) update() {
	m.table.show(m.sheets()[0])
	setQuiet(m.note, runOn(m.said()))
	a := m.account()
	m.charts.show(drawnOf{account: a, ranged: m.ranges() != nil}, func() []fyne.CanvasObject { return []fyne.CanvasObject{m.picture(m.chart(a).Draw)} })
}

// said says how the year stands against the well.
func (m *monthPart) said() []string {
	a := m.account()
	if a == nil {
		return nil
	}
	said := []string{m.w.units.told(a.Basis.String())}
	if s := a.Mean.Share(); !math.IsNaN(s) && a.Dry != nil {
		said = append(said, trf("In a mean year %[1]s of what is drawn from the well is put back; in the driest, %[2]s, %[3]s, and in the wettest, %[4]s, %[5]s.",
			share(s), strconv.Itoa(a.Dry.Year), share(a.Dry.Share()), strconv.Itoa(a.Wet.Year), share(a.Wet.Share())))
	}
	if m.ranges() != nil {
		said = append(said, trf("Ranges are of %s draws, from the 5th to the 95th of a hundred; the year itself is drawn among those of the record.", decimal(soakin.Draws, 0)))
	}
	if held := m.w.soaking.withheld(); held != "" {
		said = append(said, held)
	}
	return append(said, tr("All of it is a potential and promises nothing of a well's yield."))
}

// monthNames are the short names of the months.
func monthNames() [12]string {
	return [12]string{tr("Jan"), tr("Feb"), tr("Mar"), tr("Apr"), tr("May"), tr("Jun"), tr("Jul"), tr("Aug"), tr("Sep"), tr("Oct"), tr("Nov"), tr("Dec")}
}

// waters12 are the twelve months and the year.
func waters12(a *soakin.Account) []soakin.Water {
	if a == nil || math.IsNaN(a.Mean.Soaked) {
		return nil
	}
	var all []soakin.Water
	for _, m := range a.Months {
		all = append(all, m.Water)
	}
	return append(all, a.Mean.Water)
}

func (m *monthPart) sheets() []figureSheet {
	u, rows := m.w.units, waters12(m.account())
	var before []soakin.Water
	if k := m.w.soaking; k.last() && !m.w.alone() {
		before = waters12(k.asItIs)
	}
	last := len(rows) - 1
	s := figureSheet{rows: len(rows), stale: m.stale(), heavy: func(row int) bool { return row == last }}
	s.columns = append(s.columns, wordColumn(tr("Month"), func(row int) string {
		if row == last {
			return tr("A mean year")
		}
		return monthNames()[row]
	}))
	s.columns = append(s.columns, waterColumns(u, func(row int) soakin.Water { return rows[row] })...)
	s.columns = slices.Insert(s.columns, 1+rechargeColumn+1, m.rangeColumns(m.ranges())...)
	if len(before) == len(rows) && len(rows) > 0 {
		s.columns = append(s.columns, u.volumes(tr("Recharge potential as it is"), func(row int) float64 { return before[row].Recharge }))
	}
	return []figureSheet{s}
}

// rechargeColumn is the place of what is put back in waterColumns.
const rechargeColumn = 4

// waterColumns are the figures of a water: what counts first.
func waterColumns(u units, of func(row int) soakin.Water) []figureColumn {
	volume := func(head string, v func(soakin.Water) float64) figureColumn {
		return u.volumes(head, func(row int) float64 { return v(of(row)) })
	}
	return []figureColumn{
		u.depths(tr("Rain"), func(row int) float64 { return of(row).RainDepth }),
		u.depths(tr("Reference evapotranspiration"), func(row int) float64 { return of(row).Reference }),
		volume(tr("Soaked in"), func(w soakin.Water) float64 { return w.Soaked }),
		volume(tr("Taken by roots"), func(w soakin.Water) float64 { return w.Roots }),
		volume(tr("Recharge potential"), func(w soakin.Water) float64 { return w.Recharge }),
		volume(tr("Irrigation"), func(w soakin.Water) float64 { return w.Irrigation }),
		volume(tr("Household and other"), func(w soakin.Water) float64 { return w.Household }),
		volume(tr("Draw from the well"), func(w soakin.Water) float64 { return w.Draw }),
		daysColumn(tr("Under water"), func(row int) float64 { return of(row).WetDays }),
		daysColumn(tr("Drain runs"), func(row int) float64 { return of(row).RunDays }),
		volume(tr("From the drain"), func(w soakin.Water) float64 { return w.Drain }),
		volume(tr("Runoff that comes"), func(w soakin.Water) float64 { return w.Runoff }),
		volume(tr("Rain on the water"), func(w soakin.Water) float64 { return w.Rain }),
		volume(tr("Evaporated"), func(w soakin.Water) float64 { return w.Evaporated }),
		volume(tr("Left over outlets"), func(w soakin.Water) float64 { return w.Spilled }),
		volume(tr("Ran back to the drain"), func(w soakin.Water) float64 { return w.RanBack }),
	}
}

// ranges are the recharge of the months and of a mean year, from low to high; nil until they
// are known of the account that is shown.
func (m *monthPart) ranges() []geo.Range {
	if s := m.spreadNow(); s != nil {
		return append(slices.Clone(s.Months[:]), s.Recharge)
	}
	return nil
}

// chart lays the months out, with the ranges that are known.
func (m *monthPart) chart(a *soakin.Account) chartOf {
	if a == nil || math.IsNaN(a.Mean.Soaked) {
		return chartOf{sheet.Season{None: tr("No year is told yet.")}.Draw}
	}
	u, names, ranges := m.w.units, newWaterNames(), m.ranges()
	cubic, rain := u.yard(3), u.gauge()
	c := sheet.Account{
		Title:     trf("A mean year of %s", m.w.schemeName()),
		WaterAxis: trf("Put back and drawn [%s a month]", cubic.unit), WeatherAxis: trf("Rain and evapotranspiration [%s a month]", rain.unit),
		RechargeName: names.recharge, RangeName: tr("from low to high"), IrrigationName: names.irrigation, HouseName: names.house, RainName: names.rain, ReferenceName: names.reference,
	}
	for i, w := range a.Months {
		c.Recharge[i] = geo.Range{Low: math.NaN(), Likely: w.Recharge / cubic.each, High: math.NaN()}
		if ranges != nil {
			c.Recharge[i] = ranges[i].Scale(1 / cubic.each)
		}
		c.Irrigation[i], c.House[i] = w.Irrigation/cubic.each, w.Household/cubic.each
		c.Rain[i], c.Reference[i] = w.RainDepth/rain.each, w.Reference/rain.each
	}
	return chartOf{c.Draw}
}

// chartOf is anything that draws itself.
type chartOf struct {
	Draw func(w, h int, l sheet.Look) *image.RGBA
}

// dated writes a day.
func dated(first time.Time, day int) string { return first.AddDate(0, 0, day).Format(time.DateOnly) }
