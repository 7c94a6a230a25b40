package ui

import (
	"math"
	"slices"
	"strconv"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"runnel/analysis/pool"
	"runnel/analysis/soakin"
	"runnel/app/sheet"
	"runnel/geo"
	"runnel/geo/plan"
)

// A recordPart tells the years of the record, and how one pool went through one of them
// or through all.
type recordPart struct {
	*yearPage
	table  *figureTable
	charts chartPlace
	pool   int
	pick   *picker
	picked *fyne.Container
	pools  []string
}

func (r *recordPart) word() string { return tr("The record") }

func (r *recordPart) focus() *figureTable { return r.table }

func (r *recordPart) all() string { return tr("All years") }

func (r *recordPart) lines() []lineChoice { return r.years() }

// years are those of the record, by their numbers.
func (p *yearPage) years() []lineChoice {
	a := p.account()
	if a == nil || !a.Basis.Record {
		return nil
	}
	var list []lineChoice
	for _, y := range a.Years {
		list = append(list, lineChoice{plan.ID(y.Year), strconv.Itoa(y.Year)})
	}
	return list
}

func (r *recordPart) content() fyne.CanvasObject {
	r.table = newFigureTable(r.key)
	r.table.onChoose = r.choose
	r.charts = chartPlace{p: &r.figurePage, box: container.NewStack()}
	r.pick, r.pools = r.w.newPicker(nil), nil
	r.pick.keys = r.key
	const wide = 210
	r.picked = container.NewHBox(container.NewCenter(text(tr("Pool"), body)), container.New(widthOf(wide), r.pick))
	return container.New(down{}, r.picked, container.New(besideOrBelow{share: 0.64}, r.table, r.charts.box), space(0))
}

// choose shows the year of a row.
func (r *recordPart) choose(row int) {
	if lines := r.lines(); row < len(lines) {
		r.head.pick.SetSelectedIndex(row + 1)
	}
}

func (r *recordPart) update() {
	a := r.account()
	r.table.show(r.sheets()[0])
	r.showPools(a)
	of := drawnOf{account: a, line: r.line, pool: r.pool, ranged: r.spreadNow() != nil}
	r.charts.show(of, func() []fyne.CanvasObject {
		if a == nil || r.pool >= len(a.Season.Days) {
			return []fyne.CanvasObject{r.picture(sheet.Season{None: tr("No year is told yet.")}.Draw)}
		}
		trace := r.picture(r.trace(a).Draw)
		if r.line != 0 || len(a.Years) < 2 {
			return []fyne.CanvasObject{trace}
		}
		return []fyne.CanvasObject{container.New(evenly{}, trace, r.picture(r.byYear(a).Draw))}
	})
}

// showPools offers the pools, where there are several.
func (r *recordPart) showPools(a *soakin.Account) {
	var names []string
	if a != nil {
		for i := range a.Setup.Pools.Pools {
			names = append(names, r.w.poolName(a, i))
		}
	}
	shown(r.picked, len(names) > 1)
	if slices.Equal(names, r.pools) {
		return
	}
	r.pools = names
	if r.pool >= len(names) {
		r.pool = 0
	}
	r.pick.OnChanged = nil
	r.pick.SetOptions(names)
	if len(names) > 0 {
		r.pick.SetSelectedIndex(r.pool)
	}
	r.pick.OnChanged = func(string) {
		r.pool = max(0, r.pick.SelectedIndex())
		r.update()
	}
}

// trace is how the pool went through the days.
func (r *recordPart) trace(a *soakin.Account) sheet.Season {
	u, p := r.w.units, a.Setup.Pools.Pools[r.pool]
	cubic, one, gauge := u.yard(3), u.yard(1), u.gauge()
	c := sheet.Season{
		Title: r.w.poolName(a, r.pool), First: a.Season.First, RainAxis: trf("Rain [%s a day]", gauge.unit),
		LevelAxis: levelAxis(p, one.unit), SoakAxis: trf("Soaked in since the first of the year [%s]", cubic.unit),
		LevelName: tr("water"), RunsName: tr("the drain runs"), SoakName: tr("soaked in"), SpreadName: tr("lowest and highest of the month"),
		None: tr("No year is told yet."), Marks: levelMarks(u, p),
	}
	record := r.w.soaking.site.Weather.Days
	for i, d := range a.Season.Days[r.pool] {
		rain := math.NaN()
		if i < len(record) {
			rain = record[i].Rain / gauge.each
		}
		c.Rain, c.Level = append(c.Rain, rain), append(c.Level, d.Level/one.each)
		c.Soaked, c.Runs = append(c.Soaked, d.Soaked/cubic.each), append(c.Runs, d.Runs)
	}
	if r.line != 0 {
		c = c.Of(int(r.line))
	}
	if c.ByMonth() {
		c.RainAxis = trf("Rain [%s a month]", gauge.unit)
	}
	return c
}

func levelAxis(p pool.Pool, unit string) string {
	if p.Drain {
		return trf("Depth of the water in the drain [%s]", unit)
	}
	return trf("Level of the water [%s]", unit)
}

// levelMarks are the bed, the lowest outlet and the brim of a pool.
func levelMarks(u units, p pool.Pool) []sheet.Mark {
	one := u.yard(1)
	marks := []sheet.Mark{{Name: trf("bed %s", lettered(u.height(p.Stages[0].Level))), At: p.Stages[0].Level / one.each, Kind: sheet.Bed}}
	if p.Drain {
		return marks
	}
	for i, o := range p.Outlets {
		switch {
		case o.Kind == pool.Brim:
			marks = append(marks, sheet.Mark{Name: trf("brim %s", lettered(u.height(o.Crest))), At: o.Crest / one.each, Kind: sheet.Brim})
		case i == 0:
			marks = append(marks, sheet.Mark{Name: trf("lowest outlet %s", lettered(u.height(o.Crest))), At: o.Crest / one.each, Kind: sheet.Crest})
		}
	}
	return marks
}

// byYear lays what goes back beside what is drawn, year by year.
func (r *recordPart) byYear(a *soakin.Account) sheet.Years {
	cubic, names := r.w.units.yard(3), newWaterNames()
	c := sheet.Years{
		Title: tr("Put back and drawn, year by year"), WaterAxis: trf("Put back and drawn [%s a year]", cubic.unit),
		RechargeName: names.recharge, RangeName: tr("from low to high"), IrrigationName: names.irrigation, HouseName: names.house,
		DryName: tr("the driest year"), WetName: tr("the wettest year"), None: tr("No year is told yet."),
	}
	for _, y := range a.Years {
		f := sheet.YearFigures{Year: y.Year, Irrigation: y.Irrigation / cubic.each, House: y.Household / cubic.each}
		f.Recharge = geo.Range{Low: math.NaN(), Likely: y.Recharge / cubic.each, High: math.NaN()}
		if spread := r.spreadNow(); spread != nil {
			f.Recharge = spread.OfYear(y.Year).Recharge.Scale(1 / cubic.each)
		}
		switch {
		case a.Dry != nil && y.Year == a.Dry.Year:
			f.Kind = sheet.Dry
		case a.Wet != nil && y.Year == a.Wet.Year:
			f.Kind = sheet.Wet
		}
		c.Years = append(c.Years, f)
	}
	return c
}

func (r *recordPart) sheets() []figureSheet {
	a := r.account()
	s := figureSheet{stale: r.stale()}
	var years []soakin.Year
	if a != nil && a.Basis.Record {
		years = a.Years
	}
	s.rows = len(years)
	s.columns = []figureColumn{
		wordColumn(tr("Year"), func(row int) string { return strconv.Itoa(years[row].Year) }),
		wordColumn(tr("Rank"), func(row int) string {
			switch years[row].Year {
			case a.Dry.Year:
				return tr("driest")
			case a.Wet.Year:
				return tr("wettest")
			}
			return ""
		}),
		yardstick{"%", 0.01}.column(tr("Share put back"), 0, func(row int) float64 { return years[row].Share() }),
	}
	s.heavy = func(row int) bool { return r.line != 0 && years[row].Year == int(r.line) }
	own := len(s.columns)
	s.columns = append(s.columns, waterColumns(r.w.units, func(row int) soakin.Water { return years[row].Water })...)
	s.columns = slices.Insert(s.columns, own+rechargeColumn+1, r.rangeColumns(r.ranges(years))...)
	return []figureSheet{s}
}

// ranges are the recharge of each year, if it comes again; nil until they are known.
func (r *recordPart) ranges(years []soakin.Year) (ranges []geo.Range) {
	if spread := r.spreadNow(); spread != nil {
		for _, y := range years {
			ranges = append(ranges, spread.OfYear(y.Year).Recharge)
		}
	}
	return ranges
}

// firstDay is that of the record, the zero Time where there is none.
func (p *yearPage) firstDay() time.Time {
	if a := p.account(); a != nil && a.Basis.Record {
		return a.Season.First
	}
	return time.Time{}
}
