package demand

import (
	"math"
	"time"

	"runnel/geo/weather"
)

// A span is the days of one calendar month in a record, from one to before another.
type span struct {
	year     int
	month    time.Month
	from, to int
	whole    bool
}

func spansOf(r weather.Record) []span {
	var all []span
	for from := 0; from < len(r.Days); {
		y, m, day := r.Date(from).Date()
		left := time.Date(y, m+1, 0, 0, 0, 0, 0, time.UTC).Day() - day + 1
		to := min(len(r.Days), from+left)
		all = append(all, span{y, m, from, to, day == 1 && to-from == left})
		from = to
	}
	return all
}

// monthOf sums up the weather of a month.
func monthOf(r weather.Record, of span, et []float64) Month {
	m := Month{Year: of.year, Month: of.month, Sum: Sum{Known: of.whole}}
	for i := of.from; i < of.to; i++ {
		m.Rain += r.Days[i].Rain
		m.Reference += et[i]
	}
	if m.Known = of.whole && known(m.Rain, m.Reference); !m.Known {
		m.Rain, m.Reference = math.NaN(), math.NaN()
	}
	return m
}

func unknownWater() Water {
	nan := math.NaN()
	return Water{nan, nan, nan, nan}
}

func (w *Water) add(v Water) {
	w.Crop += v.Crop
	w.Effective += v.Effective
	w.Net += v.Net
	w.Gross += v.Gross
}

func (w Water) times(k float64) Water {
	return Water{w.Crop * k, w.Effective * k, w.Net * k, w.Gross * k}
}

// add makes of two sums that of both; it is known where both are.
func (s *Sum) add(t Sum) {
	s.Rain += t.Rain
	s.Reference += t.Reference
	s.Water.add(t.Water)
	s.Household += t.Household
	s.Draw += t.Draw
	s.Known = s.Known && t.Known
}

// meanOf is the mean of a calendar month over those that are known.
func (d *Demand) meanOf(month time.Month) Sum {
	sum, n := Sum{Known: true}, 0
	for _, m := range d.Months {
		if m.Month == month && m.Known {
			sum.add(m.Sum)
			n++
		}
	}
	if n == 0 {
		return d.unknownMean(month)
	}
	k := 1 / float64(n)
	return Sum{sum.Rain * k, sum.Reference * k, sum.Water.times(k), sum.Household * k, sum.Draw * k, true}
}

// unknownMean is a calendar month of which nothing is known but the wells.
func (d *Demand) unknownMean(month time.Month) Sum {
	days := float64(time.Date(2001, month+1, 0, 0, 0, 0, 0, time.UTC).Day())
	s := Sum{Rain: math.NaN(), Reference: math.NaN(), Household: d.Household * days, Draw: math.NaN()}
	if len(d.Beds) > 0 {
		s.Water = unknownWater()
	} else if math.IsNaN(d.Measured) {
		s.Draw = s.Household
	}
	return s
}

// sumUp makes means and years of the months.
func (d *Demand) sumUp() {
	d.MeanYear.Known = true
	for i := range d.Mean {
		d.Mean[i] = Month{Month: time.Month(i + 1), Sum: d.meanOf(time.Month(i + 1))}
		d.MeanYear.take(d.Mean[i], d.Dry)
	}
	for b := range d.Beds {
		d.Beds[b].sumUp(d.Months)
	}
	had := 0
	for i, m := range d.Months {
		if i == 0 || m.Year != d.Months[i-1].Year {
			d.Years = append(d.Years, Year{Year: m.Year, Sum: Sum{Known: true}})
			had = 0
		}
		y := &d.Years[len(d.Years)-1]
		y.take(m, d.Dry)
		had++
		if last := i == len(d.Months)-1 || d.Months[i+1].Year != m.Year; last && had < 12 {
			*y = Year{y.Year, partOfYear(), math.NaN()}
		}
	}
}

// partOfYear is the sum of a year that the record does not cover.
func partOfYear() Sum {
	nan := math.NaN()
	return Sum{nan, nan, unknownWater(), nan, nan, false}
}

func (y *Year) take(m Month, dry [12]bool) {
	y.Sum.add(m.Sum)
	if dry[m.Month-1] {
		y.DryDraw += m.Draw
	}
}

// sumUp makes the means of a bed's months.
func (b *Bed) sumUp(months []Month) {
	var n [12]int
	for i, m := range months {
		if m.Known {
			b.Mean[m.Month-1].add(b.Months[i])
			n[m.Month-1]++
		}
	}
	for i, n := range n {
		if n == 0 {
			b.Mean[i] = unknownWater()
			continue
		}
		b.Mean[i] = b.Mean[i].times(1 / float64(n))
	}
}
