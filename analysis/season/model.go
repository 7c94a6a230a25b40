package season

import (
	"cmp"
	"math"
	"slices"
	"time"

	"runnel/analysis/pool"
	"runnel/geo/plan"
)

// A Model is a season made ready to be run many times. One runs in one goroutine at a time;
// each needs its own, by Clone.
type Model struct {
	*record
	states []state
	// draw is what of the factors is the same on all days.
	draw draw
	// mound holds what is left of all that soaked in, by pool and time constant [m³].
	mound, fade []float64
	// rise is Mound.Rise in one row.
	rise  []float64
	today today
	// trial takes the standing of days that are only tried.
	trial  []float64
	result Result
	// starts are by year of the record; nil where none are remembered.
	starts []start
}

// A record is what does not change from run to run.
type record struct {
	in     Input
	basins []basin
	order  []int
	years  []year
	// rank orders the days from the wettest on; days that are left out come after all.
	rank []int32
	// known is the number of days that are not left out.
	known int
	// holds is what each pool holds on each day at the level that was read, NaN where none was; nil for none.
	holds [][]float64
}

// A year is a calendar year of the record: its months, as days from and to.
type year struct {
	number        int
	months        []month
	days, unknown int
	rain          float64
}

type month struct {
	time.Month
	from, to int
}

// New makes a model of an input.
func New(in Input) (*Model, error) {
	if err := in.Check(); err != nil {
		return nil, err
	}
	out := ways(in.Pools)
	up, err := order(in.Pools, out)
	if err != nil {
		return nil, err
	}
	r := &record{in: in, order: up}
	for i := range in.Pools {
		b := newBasin(&in.Pools[i])
		b.lead(&in.Pools[i], out[i])
		r.basins = append(r.basins, b)
	}
	r.readYears()
	r.readRank()
	r.readLevels()
	m := &Model{record: r}
	return m.Clone(), nil
}

// Clone returns a model of the same input that can run beside this one.
func (m *Model) Clone() *Model {
	c := &Model{record: m.record, states: make([]state, len(m.basins)), starts: m.starts}
	most := 0
	for i := range m.basins {
		c.states[i].standing = make([]float64, len(m.basins[i].segments))
		c.states[i].passes = make([]float64, len(m.basins[i].ways))
		most = max(most, len(m.basins[i].segments))
	}
	c.trial = make([]float64, most)
	c.result.First = m.in.First
	c.result.Pools = make([]Sum, len(m.basins))
	for i := range m.basins {
		c.result.Standing = append(c.result.Standing, make([]float64, len(m.basins[i].stages)))
	}
	return c
}

// isUnknown says whether rain or evaporation of a day is not known.
func (r *record) isUnknown(d int) bool {
	return math.IsNaN(r.in.Rain[d]) || r.in.Evaporation != nil && math.IsNaN(r.in.Evaporation[d])
}

func (r *record) readYears() {
	for d := range r.in.Rain {
		date := r.in.First.AddDate(0, 0, d)
		if d == 0 || date.YearDay() == 1 {
			r.years = append(r.years, year{number: date.Year()})
		}
		y := &r.years[len(r.years)-1]
		if len(y.months) == 0 || date.Day() == 1 {
			y.months = append(y.months, month{Month: date.Month(), from: d})
		}
		y.months[len(y.months)-1].to = d + 1
		y.days++
		y.rain += known(r.in.Rain[d])
		if r.isUnknown(d) {
			y.unknown++
		}
	}
	for i := range r.years {
		if y := &r.years[i]; !y.left() {
			r.known += y.days
		}
	}
}

// left says whether a year is left out.
func (y *year) left() bool { return y.unknown == y.days }

// known takes a figure that is not known for nought.
func known(v float64) float64 {
	if math.IsNaN(v) {
		return 0
	}
	return v
}

func (r *record) readRank() {
	wetness := r.in.Wetness
	if wetness == nil {
		wetness = Wetness(r.in.Rain)
	}
	var days []int32
	r.rank = make([]int32, len(wetness))
	for i := range r.years {
		for _, month := range r.years[i].months {
			for d := month.from; d < month.to; d++ {
				r.rank[d] = math.MaxInt32
				if !r.years[i].left() {
					days = append(days, int32(d))
				}
			}
		}
	}
	slices.SortStableFunc(days, func(a, b int32) int { return cmp.Compare(wetness[b], wetness[a]) })
	for i, d := range days {
		r.rank[d] = int32(i)
	}
}

// readLevels finds what pools hold at the levels that were read. A drain as it is has
// depths for levels.
func (r *record) readLevels() {
	if r.in.Levels == nil {
		return
	}
	for i := range r.basins {
		b := &r.basins[i]
		holds := make([]float64, len(r.in.Levels))
		for d, level := range r.in.Levels {
			if b.drain {
				level -= r.in.Bed
			}
			holds[d] = math.NaN()
			if !math.IsNaN(level) {
				holds[d] = r.in.Pools[i].StageAt(level).Volume
			}
		}
		r.holds = append(r.holds, holds)
	}
}

// Wetness is an antecedent index of rain, by which days are ordered: what is left of it each
// day is nine tenths, and the day's rain comes to it [mm]. It is our own rule for when a
// drain runs, with no source. A day that is not known adds nothing.
func Wetness(rain []float64) []float64 {
	const kept = 0.9
	wetness := make([]float64, len(rain))
	var w float64
	for d, r := range rain {
		w = kept*w + known(r)
		wetness[d] = w
	}
	return wetness
}

// Plain returns a made-up year in which it neither rains nor dries, for where there is no
// record: the drain runs on its first days, as many as Factors.RunDays says, and
// what stands then goes down until the year is over.
func Plain(pools []pool.Pool) Input {
	const days = 365
	in := Input{First: time.Date(2001, 1, 1, 0, 0, 0, 0, time.UTC), Rain: make([]float64, days), Wetness: make([]float64, days), Pools: pools}
	for d := range in.Wetness {
		in.Wetness[d] = float64(days - d)
	}
	return in
}

// UsualFactors are the likely ones, with the clogging of a usual setting and a water table that
// is not known.
func UsualFactors(in Input) Factors {
	f := Factors{Contact: 1, Evaporation: 1, Runoff: 1, Deficit: 1, Clogging: plan.UsualSetting().Clogging}
	for i := range in.Pools {
		f.Conductivity = append(f.Conductivity, in.Pools[i].Soil.Ksat.Likely)
		f.RunDays = append(f.RunDays, in.Pools[i].RunDays.Likely)
	}
	return f
}
