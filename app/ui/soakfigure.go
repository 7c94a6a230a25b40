package ui

import (
	"math"
	"strconv"

	"runnel/analysis/soakin"
	"runnel/geo"
	"runnel/geo/plan"
)

// A soakFigure is one of those that the water's account comes to.
type soakFigure struct {
	figure
	of func(*soakin.Account) float64
	// within is its range; nil where it has none. That of the storm is the account's own.
	within func(*soakin.Account, *soakin.Spread) geo.Range
	storm  bool
	// note stands in the place of the difference where that says nothing; it may be nil.
	note func(*Window, *soakin.Account) string
}

func dayCount(_ units, v float64) string { return with(rounded(v), tr("days")) }

// hourCount writes how long water takes to be gone; what does not go is told as longer.
func hourCount(_ units, v float64) string {
	if math.IsInf(v, 1) {
		return with("> "+decimal(soakin.Longest, 0), "h")
	}
	return with(rounded(v), "h")
}

func percentage(_ units, v float64) string { return share(v) }

// yearFigures are those of a year.
func yearFigures() []soakFigure {
	spread := func(of func(*soakin.Spread) geo.Range) func(*soakin.Account, *soakin.Spread) geo.Range {
		return func(_ *soakin.Account, s *soakin.Spread) geo.Range { return of(s) }
	}
	return []soakFigure{
		{figure: figure{key: "soaked", label: tr("Soaked in a mean year"), write: units.volume},
			of:     func(a *soakin.Account) float64 { return a.Mean.Soaked },
			within: spread(func(s *soakin.Spread) geo.Range { return s.Soaked })},
		rechargeOf(),
		{figure: figure{key: "draw", label: tr("Draw from the well"), write: units.volume},
			of:     func(a *soakin.Account) float64 { return a.Mean.Draw },
			within: spread(func(s *soakin.Spread) geo.Range { return s.Draw })},
		{figure: figure{key: "share", label: tr("Share put back"), counts: true, write: percentage},
			of:     func(a *soakin.Account) float64 { return a.Mean.Share() },
			within: spread(func(s *soakin.Spread) geo.Range { return s.Share })},
		{figure: figure{key: "share", label: under + tr("in the driest year"), write: percentage},
			of: func(a *soakin.Account) float64 { return shareOf(a.Dry) }, note: ofYear(func(a *soakin.Account) *soakin.Year { return a.Dry }),
			within: func(a *soakin.Account, s *soakin.Spread) geo.Range { return shareWithin(s, a.Dry) }},
		{figure: figure{key: "share", label: under + tr("in the wettest year"), write: percentage},
			of: func(a *soakin.Account) float64 { return shareOf(a.Wet) }, note: ofYear(func(a *soakin.Account) *soakin.Year { return a.Wet }),
			within: func(a *soakin.Account, s *soakin.Spread) geo.Range { return shareWithin(s, a.Wet) }},
		{figure: figure{key: "days-under-water", label: tr("Days under water"), write: dayCount},
			of:     func(a *soakin.Account) float64 { return a.Mean.WetDays },
			within: spread(func(s *soakin.Spread) geo.Range { return s.Wet })},
	}
}

// rechargeOf is the figure that the work is about.
func rechargeOf() soakFigure {
	return soakFigure{figure: figure{key: "recharge", label: tr("Recharge potential"), counts: true, write: units.volume},
		of:     func(a *soakin.Account) float64 { return a.Mean.Recharge },
		within: func(_ *soakin.Account, s *soakin.Spread) geo.Range { return s.Recharge }}
}

func shareOf(y *soakin.Year) float64 {
	if y == nil {
		return math.NaN()
	}
	return y.Share()
}

// shareWithin is the range of a year's share, if it comes again.
func shareWithin(s *soakin.Spread, y *soakin.Year) geo.Range {
	if y == nil {
		return geo.Range{Low: math.NaN(), Likely: math.NaN(), High: math.NaN()}
	}
	return s.OfYear(y.Year).Share
}

// ofYear says which year it is, and its rain.
func ofYear(of func(*soakin.Account) *soakin.Year) func(*Window, *soakin.Account) string {
	return func(w *Window, a *soakin.Account) string {
		y := of(a)
		if y == nil {
			return ""
		}
		return trf("%[1]s, rain %[2]s", strconv.Itoa(y.Year), w.units.rain(y.RainDepth))
	}
}

// stormFigures are those of the design storm, of the channels' pools alone.
func stormFigures() []soakFigure {
	of := func(f figure, of func(soakin.Through) geo.Range) soakFigure {
		within := func(a *soakin.Account) geo.Range {
			t, _ := a.Through()
			return of(t)
		}
		return soakFigure{figure: f, storm: true, of: func(a *soakin.Account) float64 { return within(a).Likely },
			within: func(a *soakin.Account, _ *soakin.Spread) geo.Range { return within(a) }}
	}
	return []soakFigure{
		of(figure{key: "storm-level", label: tr("Highest water"), write: units.height}, func(t soakin.Through) geo.Range { return t.Highest }),
		of(figure{key: "storm-freeboard", label: tr("Freeboard"), counts: true, write: units.length}, func(t soakin.Through) geo.Range { return t.Freeboard }),
		of(figure{key: "hours-to-empty", label: tr("Hours to empty"), write: hourCount}, func(t soakin.Through) geo.Range { return t.Empty }),
		of(figure{key: "overflow", label: tr("Overflow"), write: units.volume}, func(t soakin.Through) geo.Range { return t.Overflow }),
	}
}

// channelPools are the numbers of the pools that a storm is told of: those of channels.
func channelPools(a *soakin.Account) (list []int) {
	for i := range a.Storm.Likely.Pools {
		if !a.Setup.Pools.Pools[i].Drain {
			list = append(list, i)
		}
	}
	return list
}

// stormWords say what falls, and of which pool level and freeboard are told where there
// are several.
func (w *Window) stormWords() string {
	setting, k := w.doc.Site().Setting, w.soaking
	said := trf("%[1]s in %[2]s h", w.units.rain(setting.Storm), typedNumber(setting.StormHours))
	if k.last() && len(channelPools(k.scheme)) > 1 {
		said += " · " + shortened(w.poolName(k.scheme, k.scheme.Fullest()), mostOfName)
	}
	return said
}

// poolName is what a pool is called now.
func (w *Window) poolName(a *soakin.Account, i int) string {
	p := a.Setup.Pools.Pools[i]
	if len(p.Lines) == 1 {
		if f, ok := w.doc.Site().Plan.Find(p.Lines[0]); ok && f.Title() == p.Title {
			return titleOf(f)
		}
	}
	return told(p.Title)
}

// costFigures are what it costs, in the currency that is set; nothing is built in the
// site as it is.
func (w *Window) costFigures() []soakFigure {
	currency := w.doc.Site().Setting.Costs.Currency
	return []soakFigure{
		{figure: figure{key: "cost", label: tr("Cost"), write: func(_ units, v float64) string { return with(rounded(v), currency) }},
			of: func(a *soakin.Account) float64 {
				if a.Scheme == plan.AsItIs {
					return math.NaN()
				}
				return a.Cost.Total
			}},
		{figure: figure{key: "cost", label: under + costPer(w.units), write: func(u units, v float64) string {
			return with(rounded(v*u.yard(3).each), currency)
		}}, of: func(a *soakin.Account) float64 { return a.Cost.PerSoaked }},
	}
}

func costPer(u units) string {
	if u == usFeet {
		return tr("for a ft³ put back")
	}
	return tr("for a m³ put back")
}

// paired is what a row says of a figure.
func (f soakFigure) paired(k *soaking) paired {
	is := paired{now: dash, was: dash, stale: !k.current()}
	if f.within != nil {
		is.span, is.wasIn = dash, dash
	}
	if !k.last() {
		return is
	}
	u, now, was := k.w.units, f.of(k.scheme), f.of(k.asItIs)
	is.now, is.was = f.write(u, now), f.write(u, was)
	switch {
	case f.note != nil:
		is.differs = f.note(k.w, k.scheme)
	case f.within == nil || math.IsNaN(now-was) || math.IsInf(now-was, 0):
	case f.key == "share":
		is.differs = points(now - was)
	default:
		is.differs = f.differenceAndRatio(u, now, was)
	}
	if f.within == nil {
		return is
	}
	is.staleSpan = !f.storm && !k.spread.current() || is.stale
	if f.storm || k.spread.last() {
		is.span = f.between(u, f.within(k.scheme, &k.spread.value.scheme))
		is.wasIn = f.between(u, f.within(k.asItIs, &k.spread.value.asItIs))
	}
	return is
}

// points writes how much more or less one share is than another.
func points(more float64) string {
	sign := "+"
	if more < 0 {
		sign = "−"
	}
	return trf("%s percentage points", sign+rounded(100*math.Abs(more)))
}
