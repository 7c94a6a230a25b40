package soakin

import (
	"context"
	"math"
	"slices"

	"runnel/analysis/sampling"
	"runnel/analysis/season"
	"runnel/geo"
	"runnel/geo/plan"
)

// A Spread is between which values a year's figures lie: by drawing all that is not
// known for sure, the year itself among it. Ranges are from the 5th to the 95th of a
// hundred draws; the likely figure is the account's own, of its mean year.
type Spread struct {
	Draws                                                   int
	Soaked, Recharge, Draw, Share, Evaporated, Spilled, Wet geo.Range
	// Months are the recharge of each calendar month.
	Months [12]geo.Range
	// Years are the recharge and the share of each year that is told, if it comes again.
	Years []YearSpread
	// Rises go with the account's: the greatest rise at each place over the record [m].
	Rises []geo.Range
	// Causes of the recharge's and the share's spread, the greatest first: what to measure next.
	RechargeCauses, ShareCauses sampling.Ranking
	// each is every draw's figures, by output and draw, so that schemes can be set against each other draw by draw.
	each [figureOuts][]float64
}

// A YearSpread is the ranges of one year of the record.
type YearSpread struct {
	Year            int
	Recharge, Share geo.Range
}

// OfYear returns the ranges of a year; NaN where it is not told.
func (s *Spread) OfYear(year int) YearSpread {
	for _, y := range s.Years {
		if y.Year == year {
			return y
		}
	}
	return YearSpread{year, unknownRange, unknownRange}
}

// unknownRange is of a figure that is not known.
var unknownRange = geo.Range{Low: math.NaN(), Likely: math.NaN(), High: math.NaN()}

// The outputs of a draw.
const (
	soakedOut = iota
	rechargeOut
	drawOut
	shareOut
	evaporatedOut
	spilledOut
	wetOut
	figureOuts
	outputs = figureOuts + 12 // and the recharge of each month
)

// WeatherCause is the one cause of spread that no one can measure away.
const WeatherCause = "the weather of the year"

// seed is where the draws begin: alike for all schemes, so that a draw is the same world in each.
const seed = 1

// SpreadOf draws the ranges of an account.
func SpreadOf(ctx context.Context, s *plan.Site, a *Account, draws int) (Spread, error) {
	sp := Spread{Draws: draws}
	if a.model == nil || len(a.Years) == 0 {
		none := unknownRange
		sp.Soaked, sp.Recharge, sp.Draw, sp.Share, sp.Evaporated, sp.Spilled, sp.Wet = none, none, none, none, none, none, none
		for i := range sp.Months {
			sp.Months[i] = none
		}
		sp.Rises = slices.Repeat([]geo.Range{none}, len(a.Rises))
		return sp, nil
	}
	d := newDrawing(s, a)
	got, err := sampling.Run(ctx, sampling.Plan{Inputs: d.inputs, Outputs: outputs, Draws: draws, Seed: seed}, d.worker)
	if err != nil {
		return sp, err
	}
	mean := a.Mean.Water
	for i, one := range []struct {
		to     *geo.Range
		likely float64
	}{
		{&sp.Soaked, mean.Soaked}, {&sp.Recharge, mean.Recharge}, {&sp.Draw, mean.Draw}, {&sp.Share, mean.Share()},
		{&sp.Evaporated, mean.Evaporated}, {&sp.Spilled, mean.Spilled}, {&sp.Wet, mean.WetDays},
	} {
		sp.each[i], *one.to = got.Out[i], about(one.likely, got.Range(i))
	}
	for i := range sp.Months {
		sp.Months[i] = about(a.Months[i].Recharge, got.Range(figureOuts+i))
	}
	sp.Years = d.byYear(got)
	if sp.Rises, err = d.rises(ctx, draws); err != nil {
		return sp, err
	}
	sp.RechargeCauses = got.Ranking(rechargeOut)
	if !math.IsNaN(sp.Share.Likely) {
		sp.ShareCauses = got.Ranking(shareOut)
	}
	return sp, nil
}

// about is a range about a likely figure.
func about(likely float64, r geo.Range) geo.Range {
	if math.IsNaN(likely + r.Likely) {
		return unknownRange
	}
	return geo.Range{Low: min(r.Low, likely), Likely: likely, High: max(r.High, likely)}
}

// over returns how much more a figure of this spread is than that of another, draw by
// draw; sure is set where all but one in twenty draws agree on which is more.
func (s Spread) over(t Spread, of func(*Spread) (geo.Range, []float64)) (d Difference) {
	is, a := of(&s)
	was, b := of(&t)
	if len(a) != len(b) || len(a) == 0 {
		d.Range = unknownRange
		return d
	}
	each := make([]float64, len(a))
	for i := range a {
		each[i] = a[i] - b[i]
	}
	r := sampling.RangeOf(each)
	d.Range = about(is.Likely-was.Likely, r)
	d.Sure = d.Low > 0 || d.High < 0 // which no figure that is not known is
	return d
}

// A drawing turns draws into figures.
type drawing struct {
	account *Account
	inputs  []sampling.Input
	takes   []func(*worker, float64)
	// years are the places in the record of those that are told.
	years []int
	told  map[int]Year
	// model remembers how each year of the likely season begins.
	model *season.Model
}

// A worker has memory of its own.
type worker struct {
	*drawing
	model   *season.Model
	factors season.Factors
	mound   season.Mound
	// crops and rises are how many times as much as is likely the planting needs and the
	// water table answers.
	crops, rises float64
}

// The spreads of inputs that no one measures: common practice, no source.
const (
	evaporationOff = 0.10 // standard deviation of evaporation, as a share
	cropsOff       = 0.15 // the same of what the planting needs
	runoffLow      = 0.5  // runoff by curve number: a dry ground's, as a share
	runoffHigh     = 1.6  // and a wet ground's
	deficitLow     = 0.4
	deficitHigh    = 1.2
	clogOff        = 0.5 // how far the share that clogging leaves may be off, as a share of it
	tableOff       = 0.3 // standard deviation of the depth to the water table [m]
	aquiferFactor  = 2   // by how much the aquifer's answer may be off either way, nine draws in ten
)

// chance is an even one from 0 to 1: where in a range of its own each pool's figure lies.
type chance struct{}

// Quantile implements sampling.Distribution.
func (chance) Quantile(share float64) float64 { return share }

// Check implements sampling.Distribution.
func (chance) Check() error { return nil }

// newDrawing lists what is drawn. It is the same list for every scheme, so that a draw is one world for
// all; what has no bearing on one causes none of its spread.
func newDrawing(s *plan.Site, a *Account) *drawing {
	d := &drawing{account: a, told: map[int]Year{}, model: a.model.Clone()}
	d.model.Remember(a.factors)
	for i, y := range a.Season.Years {
		for _, told := range a.Years {
			if told.Year == y.Year {
				d.years, d.told[i] = append(d.years, i), told
			}
		}
	}
	pools := a.Setup.Pools.Pools
	d.add("soil conductivity", chance{}, func(w *worker, u float64) {
		for i := range pools {
			w.factors.Conductivity[i] = sampling.LogTriangular(pools[i].Soil.Ksat).Quantile(u)
		}
	})
	d.add("days that the drain runs", chance{}, func(w *worker, u float64) {
		for i := range pools {
			w.factors.RunDays[i] = sampling.Triangular(d.runDays(pools[i].RunDays)).Quantile(u)
		}
	})
	d.add("error of the survey", sampling.Normal{Mean: 1, Deviation: a.contactOff(s.Setting.SurveyError)}, func(w *worker, v float64) { w.factors.Contact = max(0, v) })
	left := s.Setting.Clogging.Remains
	d.add("clogging", sampling.Triangular{Low: left * (1 - clogOff), Likely: left, High: max(left, min(1, left*(1+clogOff)))},
		func(w *worker, v float64) { w.factors.Clogging.Remains = v })
	d.add("moisture of the soil at first", sampling.Triangular{Low: deficitLow, Likely: 1, High: deficitHigh}, func(w *worker, v float64) { w.factors.Deficit = v })
	d.add("evaporation", sampling.Normal{Mean: 1, Deviation: evaporationOff}, func(w *worker, v float64) { w.factors.Evaporation = max(0, v) })
	d.add("runoff of the ground", sampling.Triangular{Low: runoffLow, Likely: 1, High: runoffHigh}, func(w *worker, v float64) { w.factors.Runoff = v })
	d.add("water that the planting needs", sampling.Normal{Mean: 1, Deviation: cropsOff}, func(w *worker, v float64) { w.crops = max(0, v) })
	d.add(WeatherCause, sampling.Choice(len(d.years)), func(w *worker, v float64) { w.factors.Years[0] = d.years[int(v)] })
	d.add("depth to groundwater", sampling.Normal{Deviation: tableOff}, func(w *worker, v float64) {
		for i := range w.mound.Room {
			w.mound.Room[i] = a.Setup.mound.Room[i] + v
		}
	})
	d.add("aquifer", sampling.Lognormal{Median: 1, Factor: aquiferFactor}, (*worker).scaleRise)
	return d
}

// byYear parts the draws by the year that each is of.
func (d *drawing) byYear(got *sampling.Sample) []YearSpread {
	which := slices.IndexFunc(d.inputs, func(in sampling.Input) bool { return in.Name == WeatherCause })
	recharge, share := make([][]float64, len(d.years)), make([][]float64, len(d.years))
	for i, v := range got.Drawn[which] {
		k := int(v)
		recharge[k], share[k] = append(recharge[k], got.Out[rechargeOut][i]), append(share[k], got.Out[shareOut][i])
	}
	var years []YearSpread
	for k, place := range d.years {
		y := d.told[place]
		years = append(years, YearSpread{y.Year, about(y.Recharge, sampling.RangeOf(recharge[k])), about(y.Share(), sampling.RangeOf(share[k]))})
	}
	return years
}

func (d *drawing) add(name string, of sampling.Distribution, take func(*worker, float64)) {
	d.inputs = append(d.inputs, sampling.Input{Name: name, Of: of})
	d.takes = append(d.takes, take)
}

// scaleRise has the water table answer so many times as much as is likely.
func (w *worker) scaleRise(times float64) {
	w.rises = times
	for i, row := range w.mound.Rise {
		for j, terms := range row {
			for k := range terms {
				terms[k] = w.account.Setup.mound.Rise[i][j][k] * times
			}
		}
	}
}

// worker returns what works out one draw after another.
func (d *drawing) worker() func(values, out []float64) { return d.newWorker().run }

func (d *drawing) newWorker() *worker {
	w := &worker{drawing: d, model: d.model.Clone(), factors: d.account.factors, crops: 1, rises: 1}
	w.factors.Conductivity, w.factors.RunDays = slices.Clone(w.factors.Conductivity), slices.Clone(w.factors.RunDays)
	w.factors.Years = []int{d.years[0]}
	if m := d.account.Setup.mound; m != nil {
		w.own(m)
	}
	return w
}

// own gives the worker a mound of its own to change.
func (w *worker) own(m *season.Mound) {
	w.mound = season.Mound{Days: m.Days, Room: slices.Clone(m.Room)}
	for _, row := range m.Rise {
		var mine [][]float64
		for _, terms := range row {
			mine = append(mine, slices.Clone(terms))
		}
		w.mound.Rise = append(w.mound.Rise, mine)
	}
	w.factors.Mound = &w.mound
}

// take takes up one draw.
func (w *worker) take(values []float64) {
	for i, v := range values {
		w.takes[i](w, v)
	}
}

func (w *worker) run(values, out []float64) {
	w.take(values)
	r := w.model.Run(w.factors)
	sum := &r.Total
	if !w.account.dries {
		sum.Recharge, sum.Evaporated = math.NaN(), math.NaN()
	}
	told := w.told[w.factors.Years[0]]
	draw := told.Household + told.Irrigation*w.crops
	out[soakedOut], out[rechargeOut], out[drawOut] = sum.Soaked, sum.Recharge, draw
	out[shareOut] = math.NaN()
	if draw > 0 {
		out[shareOut] = sum.Recharge / draw
	}
	out[evaporatedOut], out[spilledOut], out[wetOut] = sum.Evaporated, sum.Spilled, sum.Wet
	for i := range r.Months {
		out[figureOuts+int(r.Months[i].Month)-1] = r.Months[i].Recharge
	}
}

// runDays is the range of the days in a year that a drain runs. Where years of a record differ already
// it is that of their mean, half as wide: common practice, no source.
func (d *drawing) runDays(r geo.Range) geo.Range {
	if len(d.years) < 2 {
		return r
	}
	return geo.Range{Low: (r.Low + r.Likely) / 2, Likely: r.Likely, High: (r.High + r.Likely) / 2}
}

// contactOff is how far the contact area may be off, as a share, where the water's level is off
// against the ground by the survey's error [m].
func (a *Account) contactOff(off float64) float64 {
	is, less := 0.0, 0.0
	for _, p := range a.Setup.Pools.Pools {
		level := p.Running
		if p.Drain {
			level = p.Top().Level
		}
		if math.IsNaN(level) {
			level = p.Top().Level
		}
		is += p.StageAt(level).Contact
		less += p.StageAt(level - off).Contact
	}
	if is == 0 {
		return 0
	}
	return (is - less) / is
}
