package ui

import (
	"math"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"runnel/analysis/hydrograph"
	"runnel/analysis/pool"
	"runnel/analysis/route"
	"runnel/analysis/soakin"
	"runnel/app/sheet"
	"runnel/geo/plan"
)

// A routePart tells how the design storm goes through the channels' pools.
type routePart struct {
	*yearPage
	scroll *container.Scroll
	charts chartPlace
	tables [3]*figureTable
	heads  [3]fyne.CanvasObject
	note   *widget.RichText
}

func (s *routePart) word() string { return tr("The design storm") }

func (s *routePart) focus() *figureTable { return nil }

func (s *routePart) turn(key fyne.KeyName) bool { return turnScroll(s.scroll, key) }

func (s *routePart) all() string { return tr("All pools") }

// lines are the pools of channels, numbered from 1.
func (s *routePart) lines() []lineChoice {
	a := s.account()
	if a == nil {
		return nil
	}
	var list []lineChoice
	for _, i := range channelPools(a) {
		list = append(list, lineChoice{plan.ID(i + 1), s.w.poolName(a, i)})
	}
	return list
}

func (s *routePart) content() fyne.CanvasObject {
	s.charts = chartPlace{p: &s.figurePage, box: container.NewVBox()}
	s.note = quiet("")
	all := container.NewVBox(flush(s.note), s.charts.box)
	heads := []struct{ words, key string }{
		{tr("How each pool stands"), "storm-level"}, {tr("What comes to each pool"), "storm-inflow"}, {tr("Where the overflow goes"), "overflow"},
	}
	for i := range s.tables {
		s.tables[i] = newFigureTable(s.key)
		s.tables[i].whole = true
		s.heads[i] = s.w.labelled(heads[i].words, strong, heads[i].key)
		all.Add(s.heads[i])
		all.Add(s.tables[i])
		all.Add(space(2 * gap))
	}
	s.scroll = container.NewVScroll(all)
	return s.scroll
}

func (s *routePart) update() {
	for i, of := range s.sheets() {
		s.tables[i].show(of)
		shown(s.tables[i], of.rows > 0)
		shown(s.heads[i], of.rows > 0)
	}
	setQuiet(s.note, runOn(s.said()))
	a := s.account()
	s.charts.show(drawnOf{account: a, line: s.line}, func() []fyne.CanvasObject {
		var list []fyne.CanvasObject
		for _, i := range s.told() {
			const high = 390
			list = append(list, container.New(heightOf(high), s.picture(s.chart(a, i).Draw)))
		}
		return list
	})
	s.scroll.Content.Refresh()
}

// told are the numbers of the pools that are told of.
func (s *routePart) told() (list []int) {
	if a := s.account(); a != nil {
		for _, i := range channelPools(a) {
			if s.line == 0 || s.line == plan.ID(i+1) {
				list = append(list, i)
			}
		}
	}
	return list
}

func (s *routePart) said() []string {
	a := s.account()
	if a == nil {
		return nil
	}
	if len(channelPools(a)) == 0 {
		return []string{tr("No channel holds water here, so there is no pool to lead the storm through.")}
	}
	said := []string{trf("%[1]s of rain fall in %[2]s h; distribution: %[3]s. The pools stand as they do in use when it begins, and the drain runs until it ends.",
		s.w.units.rain(a.Storm.Rain), typedNumber(a.Storm.Hours), told(a.Storm.Shape))}
	if shape, err := hydrograph.ShapeNamed(a.Storm.Shape, s.w.soaking.site.Setting.StormTable); err == nil {
		if told := shape.Told(a.Storm.Hours); told != "" {
			said = append(said, sentence(s.w.units.told(told)))
		}
	}
	if len(a.Storm.Overflows) == 0 {
		said = append(said, tr("Nothing runs over a brim or a spillway."))
	}
	return said
}

// chart is how one pool stands through the storm, until what comes to it is over.
func (s *routePart) chart(a *soakin.Account, i int) sheet.Storm {
	u, p := s.w.units, a.Storm.Likely.Pools[i]
	one, gauge, flow := u.yard(1), u.gauge(), u.stream()
	step := a.Storm.Likely.Step / secondsAnHour
	n := lasting(p.Inflow, a.Storm.Hours/step)
	n = min(n, len(p.Level))
	c := sheet.Storm{
		Title: s.w.poolName(a, i), Step: step, TimeAxis: tr("Hours since the rain began"),
		RainAxis: trf("Rain [%s/h]", gauge.unit), FlowAxis: trf("Flow [%s]", flow.unit), LevelAxis: trf("Level of the water [%s]", one.unit),
		InflowName: tr("comes, with the rain on it"), OutflowName: tr("leaves, back to the drain too"), LevelName: tr("water"), None: tr("No storm is told."),
		Marks: levelMarks(u, a.Setup.Pools.Pools[i]),
		Level: each(p.Level[:n], one.each), Inflow: each(p.Inflow[:min(n, len(p.Inflow))], flow.each), Outflow: each(p.Outflow[:min(n, len(p.Outflow))], flow.each),
		Rain: each(a.Storm.Hyetograph, gauge.each*step),
	}
	return c
}

// leaving is what leaves a pool by some ways out [m³].
func leaving(p route.Pool, kinds ...pool.OutletKind) float64 {
	sum := 0.0
	for _, out := range p.Outlets {
		if slices.Contains(kinds, out.Kind) {
			sum += out.Volume
		}
	}
	return sum
}

// lasting is how many steps of an inflow are worth drawing: half as many again as until
// it is over, and no fewer than the rain has.
func lasting(inflow []float64, rain float64) int {
	const little, more = 0.01, 1.5
	peak, last := 0.0, 0
	for _, q := range inflow {
		peak = max(peak, q)
	}
	for i, q := range inflow {
		if q > little*peak {
			last = i + 1
		}
	}
	return int(math.Ceil(more * max(rain, float64(last))))
}

// stream is the yardstick of flows [m³/s].
func (u units) stream() yardstick {
	if u == usFeet {
		return yardstick{"ft³/s", u.yard(3).each}
	}
	return yardstick{"L/s", 0.001}
}

func (s *routePart) sheets() []figureSheet {
	a, pools := s.account(), s.told()
	var inflows []soakin.Inflow
	var over []soakin.Overflow
	if a != nil {
		for _, i := range pools {
			for _, in := range a.Storm.Inflows {
				if in.Pool == i {
					inflows = append(inflows, in)
				}
			}
			for _, o := range a.Storm.Overflows {
				if o.Pool == i {
					over = append(over, o)
				}
			}
		}
	}
	return []figureSheet{s.poolSheet(a, pools), s.inflowSheet(a, inflows), s.overflowSheet(a, over)}
}

func (s *routePart) poolSheet(a *soakin.Account, pools []int) figureSheet {
	one := s.w.units.yard(1)
	hour := func(head string, of func(row int) float64) figureColumn {
		return figureColumn{head: head, unit: "h", right: true, words: func(row int) string { n, _ := cutUnit(hourCount(s.w.units, of(row))); return n },
			raw: func(row int) string { return plainNumber(of(row)) }}
	}
	return figureSheet{rows: len(pools), stale: s.stale(), columns: []figureColumn{
		wordColumn(tr("Pool"), func(row int) string { return s.w.poolName(a, pools[row]) }),
		one.column(tr("Highest water"), 2, func(row int) float64 { return a.Storm.Likely.Pools[pools[row]].Peak }),
		yardstick{"h", 1}.column(tr("at"), 1, func(row int) float64 { return a.Storm.Likely.Pools[pools[row]].PeakAt }),
		one.column(tr("Deepest"), 2, func(row int) float64 { return a.Storm.Likely.Pools[pools[row]].Depth }),
		one.column(tr("Freeboard"), 2, func(row int) float64 { return a.Storm.Likely.Pools[pools[row]].Freeboard }),
		s.w.units.yard(3).column(tr("Back to the drain"), 1, func(row int) float64 { return leaving(a.Storm.Likely.Pools[pools[row]], pool.Mouth) }),
		s.w.units.yard(3).column(tr("Over spillways and brims"), 1, func(row int) float64 {
			return leaving(a.Storm.Likely.Pools[pools[row]], pool.Spillway, pool.Pipe, pool.Brim)
		}),
		hour(tr("Empty after"), func(row int) float64 { return a.Storm.Empty[pools[row]].Likely }),
		hour(tr("at the soonest"), func(row int) float64 { return a.Storm.Empty[pools[row]].Low }),
		hour(tr("at the latest"), func(row int) float64 { return a.Storm.Empty[pools[row]].High }),
	}}
}

func (s *routePart) inflowSheet(a *soakin.Account, in []soakin.Inflow) figureSheet {
	u := s.w.units
	two, flow := u.yard(2), u.stream()
	return figureSheet{rows: len(in), stale: s.stale(), columns: []figureColumn{
		wordColumn(tr("Pool"), func(row int) string { return s.w.poolName(a, in[row].Pool) }),
		two.column(tr("Ground that drains to it"), 0, func(row int) float64 { return in[row].Area }),
		two.column(tr("roofs and paving"), 0, func(row int) float64 { return in[row].Hard }),
		two.column(tr("street"), 0, func(row int) float64 { return in[row].Street }),
		yardstick{"", 1}.column(tr("Curve number"), 0, func(row int) float64 { return in[row].CurveNumber }),
		yardstick{tr("min"), 1.0 / 60}.column(tr("Time of concentration"), 0, func(row int) float64 { return in[row].Concentration }),
		u.volumes(tr("Runs off"), func(row int) float64 { return in[row].Volume }),
		flow.column(tr("Greatest flow"), 2, func(row int) float64 { return in[row].Peak }),
		flow.column(tr("by the rational method"), 2, func(row int) float64 { return in[row].Rational }),
	}}
}

func (s *routePart) overflowSheet(a *soakin.Account, over []soakin.Overflow) figureSheet {
	u := s.w.units
	one, flow := u.yard(1), u.stream()
	return figureSheet{rows: len(over), stale: s.stale(),
		place: func(row int) sheetPlace { return sheetPlace{over[row].Outlet.At, over[row].Outlet.ID, over[row].Title} },
		columns: []figureColumn{
			wordColumn(tr("Pool"), func(row int) string { return s.w.poolName(a, over[row].Pool) }),
			wordColumn(tr("Over"), func(row int) string { return outletWord(over[row].Outlet) }),
			flow.column(tr("Greatest flow"), 2, func(row int) float64 { return over[row].Peak }),
			u.volumes(tr("Overflow"), func(row int) float64 { return over[row].Volume }),
			one.column(tr("Its way on the ground"), 1, func(row int) float64 { return over[row].Length() }),
			wordColumn(tr("Nearest building"), func(row int) string {
				if math.IsInf(over[row].Away, 1) {
					return dash
				}
				return titleOf(over[row].Building)
			}),
			one.column(tr("Distance of it"), 1, func(row int) float64 { return over[row].Away }),
		}}
}

// outletWord is what a pool runs over.
func outletWord(o pool.Outlet) string {
	switch o.Kind {
	case pool.Brim:
		return tr("the lowest bank")
	case pool.Pipe:
		return tr("a pipe")
	}
	return told(o.Title)
}
