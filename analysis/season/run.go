package season

import "math"

// Run works out a season. The slices of its Result are the model's, which uses them again in
// the next run; Days is nil.
func (m *Model) Run(f Factors) Result {
	m.result.Days = nil
	m.run(&f)
	return m.result
}

// RunSum works out the total alone.
func (m *Model) RunSum(f Factors, total *Sum) {
	m.result.Days = nil
	m.run(&f)
	*total = m.result.Total
}

// Trace works out a season with every day of it, in memory of its own.
func (m *Model) Trace(f Factors) Result {
	c := m.Clone()
	c.result.Days = make([][]Trace, len(c.basins))
	c.run(&f)
	return c.result
}

func (m *Model) run(f *Factors) {
	m.start(f)
	r := &m.result
	r.Total, r.Years, r.Months, r.Unknown, r.Left = Sum{}, r.Years[:0], r.Months[:0], 0, 0
	clear(r.Pools)
	days := 0
	if f.Years == nil {
		for i := range m.years {
			days += m.year(&m.years[i])
		}
	}
	for _, i := range f.Years {
		m.resume(i)
		days += m.year(&m.years[i])
	}
	m.finish(days)
}

// year leads all pools through a year and returns how many days that were.
func (m *Model) year(y *year) int {
	r := &m.result
	sum := YearSum{Year: y.number, RainDepth: y.rain, Days: y.days, Unknown: y.unknown}
	r.Unknown += y.unknown
	if y.left() {
		r.Left++
		sum.RainDepth, sum.Sum = math.NaN(), unknownSum
		for i := range y.months {
			r.Months = append(r.Months, MonthSum{y.number, y.months[i].Month, unknownSum})
			m.leaveOut(&y.months[i])
		}
		r.Years = append(r.Years, sum)
		return 0
	}
	for i := range y.months {
		s := m.month(&y.months[i])
		sum.Sum.add(&s)
		r.Months = append(r.Months, MonthSum{y.number, y.months[i].Month, s})
	}
	r.Total.add(&sum.Sum)
	r.Years = append(r.Years, sum)
	return y.days
}

// month leads all pools through a month and returns their sum.
func (m *Model) month(span *month) Sum {
	for i := range m.states {
		s := &m.states[i]
		s.month, s.atFirst, s.storeAtFirst = Sum{}, s.v, s.store
	}
	var sum Sum
	for d := span.from; d < span.to; d++ {
		m.oneDay(d)
		if m.today.wet {
			sum.Wet++
		}
		if m.today.runs {
			sum.Runs++
		}
		if m.today.limited {
			sum.Limited++
		}
	}
	wet, runs, limited := sum.Wet, sum.Runs, sum.Limited
	for i := range m.states {
		s := &m.states[i]
		s.month.Change = s.v - s.atFirst
		s.month.RootChange = s.store - s.storeAtFirst
		s.month.Recharge = s.month.Soaked - s.month.Roots - s.month.RootChange
		if s.bad {
			s.month = unknownSum
		}
		m.result.Pools[i].add(&s.month)
		sum.add(&s.month)
	}
	sum.Spilled -= sum.Received
	sum.Received = 0
	sum.Wet, sum.Runs, sum.Limited = wet, runs, limited
	if math.IsNaN(sum.Soaked) {
		return unknownSum
	}
	return sum
}

// oneDay leads all pools through a day.
func (m *Model) oneDay(d int) {
	const metres = 0.001
	in := &m.in
	t := today{d: d, rain: known(in.Rain[d]) * metres}
	if in.Evaporation != nil {
		t.dry = known(in.Evaporation[d]) * metres * m.draw.dry
	}
	if in.Roots != nil {
		t.roots = known(in.Roots[d]) * metres * m.draw.dry
	}
	m.today = t
	m.sink()
	for _, i := range m.order {
		s := &m.states[i]
		if s.bad {
			m.note(i, unknownTrace)
			continue
		}
		m.day(i)
	}
}

// finish makes the standing of each pool that of a mean year.
func (m *Model) finish(days int) {
	const year = 365.25
	for i := range m.states {
		b, s, standing := &m.basins[i], &m.states[i], m.result.Standing[i]
		for j := range standing {
			var time float64
			for k := range b.segments {
				if b.segments[k].v >= b.stages[j].Volume {
					time += s.standing[k]
				}
			}
			standing[j] = time / float64(days) * year
			if s.bad || days == 0 {
				standing[j] = math.NaN()
			}
		}
	}
	if days == 0 {
		m.result.Total = unknownSum
	}
}
