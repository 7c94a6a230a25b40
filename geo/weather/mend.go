package weather

import (
	"fmt"
	"math"
	"strings"
	"time"
)

// tellOrder tells of rows that do not follow one another.
func (r *reader) tellOrder(report *Report) {
	var back rows
	for i := 1; i < len(r.entries); i++ {
		if r.entries[i].day < r.entries[i-1].day {
			back.add(r.entries[i].row)
		}
	}
	switch n := len(r.entries) - 1; {
	case back.count == 0:
	case back.count == n:
		report.note("The rows run from the newest day to the oldest; they are taken in the order of the days.")
	default:
		report.note("The rows are out of order at %s; they are taken in the order of the days.", back.named())
	}
}

// single leaves one row a day: of several the first. It refuses a file that has many
// rows a day all along.
func (r *reader) single(report *Report) error {
	var again rows
	kept := r.entries[:0:0]
	differ := false
	for _, e := range r.entries {
		if n := len(kept); n > 0 && kept[n-1].day == e.day {
			again.add(e.row)
			differ = differ || !alike(kept[n-1].figures, e.figures)
			continue
		}
		kept = append(kept, e)
	}
	if all := len(r.entries); len(kept) > 1 && all >= 2*len(kept) {
		return fmt.Errorf("it has %d rows for %d days; give a record of one place with one row a day", all, len(kept))
	}
	r.entries = kept
	switch {
	case again.count == 0:
	case differ:
		report.note("The day of %s stands in an earlier row too, with other figures; the first row of each day is taken.", again.named())
	default:
		report.note("The day of %s stands in an earlier row too, with the same figures; the first row of each day is taken.", again.named())
	}
	return nil
}

// alike reports whether two days have the same figures.
func alike(a, b Day) bool {
	for _, q := range quantities {
		if x, y := *q.Of(&a), *q.Of(&b); x != y && !(math.IsNaN(x) && math.IsNaN(y)) {
			return false
		}
	}
	return true
}

// Days that lie further than strayDays from all others and are fewer than one in
// strayShare of them are mistyped.
const strayDays, strayShare = 5 * 366, 10

// dropStrays leaves out days that lie years from the rest.
func (r *reader) dropStrays(report *Report) {
	var groups [][]entry
	start := 0
	for i := 1; i <= len(r.entries); i++ {
		if i == len(r.entries) || r.entries[i].day-r.entries[i-1].day > strayDays {
			groups = append(groups, r.entries[start:i])
			start = i
		}
	}
	if len(groups) == 1 {
		return
	}
	var kept []entry
	var strays rows
	first := 0
	for _, g := range groups {
		if strayShare*len(g) >= len(r.entries) {
			kept = append(kept, g...)
			continue
		}
		for _, e := range g {
			if strays.count == 0 {
				first = e.day
			}
			strays.add(e.row)
		}
	}
	if strays.count > 0 && len(kept) > 0 {
		r.entries = kept
		report.note("The date of %s, such as %s, lies years from all others; those rows are left out.", strays.named(), dateText(first))
	}
}

// totals refuses rain that is of several days together: most figures come two days and more
// after the one before, and fewer than half of the days have one.
func (r *reader) totals() error {
	var days []int
	for _, e := range r.entries {
		if !math.IsNaN(e.figures.Rain) {
			days = append(days, e.day)
		}
	}
	apart, n := 0, len(days)
	for i := 1; i < n; i++ {
		if days[i]-days[i-1] > 1 {
			apart++
		}
	}
	if n < 2 || 2*apart < n || 2*n >= r.entries[len(r.entries)-1].day-r.entries[0].day+1 {
		return nil
	}
	return fmt.Errorf("it has a figure of rain for one day in %.0f only, so that it is of weeks or months together, or leaves dry days out; "+
		"give a record with a figure for each day, 0 where no rain fell", math.Round(float64(days[n-1]-days[0])/float64(n-1)))
}

// fill makes days without a gap, and tells of those that are missing.
func (r *reader) fill(report *Report) Record {
	first, last := r.entries[0].day, r.entries[len(r.entries)-1].day
	record := Record{
		Latitude: math.NaN(), Elevation: math.NaN(), WindHeight: r.look.WindHeight,
		First: timeOf(first), Days: Unknown(last - first + 1),
	}
	for _, e := range r.entries {
		record.Days[e.day-first] = e.figures
	}
	r.tellGaps(report)
	return record
}

// tellGaps tells of days that have no row; leap days that are left out by rule are told
// apart.
func (r *reader) tellGaps(report *Report) {
	var leap []string
	var after rows
	days, longest, longestAfter := 0, 0, 0
	for i := 1; i < len(r.entries); i++ {
		before := r.entries[i-1]
		missing := r.entries[i].day - before.day - 1
		if missing == 0 {
			continue
		}
		if t := timeOf(before.day + 1); missing == 1 && t.Month() == time.February && t.Day() == 29 {
			leap = append(leap, fmt.Sprint(t.Year()))
			continue
		}
		days += missing
		after.add(before.row)
		if missing > longest {
			longest, longestAfter = missing, before.day+1
		}
	}
	switch n := len(leap); {
	case n == 1:
		report.note("29 February %s is missing; that day is not known.", leap[0])
	case n > mostNamed:
		report.note("29 February is missing in %d leap years, the first of them %s; those days are not known.", n, leap[0])
	case n > 1:
		report.note("29 February is missing in %s and %s; those days are not known.", strings.Join(leap[:n-1], ", "), leap[n-1])
	}
	switch from := dateText(longestAfter); {
	case days == 1:
		report.note("1 day has no row, %s, after %s; it is not known.", from, after.named())
	case longest == 1:
		report.note("%d days have no row, after %s, no two of them together and the first %s; they are not known.", days, after.named(), from)
	case days > 1:
		report.note("%d days have no row, after %s, the longest run of them %d days from %s; they are not known.", days, after.named(), longest, from)
	}
}

// tellFigures tells of figures that are not taken.
func (r *reader) tellFigures(report *Report) {
	for i, q := range quantities {
		t, label := r.tallies[i], strings.ToLower(q.Label)
		unit := *q.Unit(&r.look.Units)
		if unit == "" {
			unit = q.Units[0]
		}
		if t.marks.count > 0 {
			report.note("The %s is %s in %s, which stands for no figure; it is taken as not known.", label, t.mark, t.marks.named())
		}
		if t.negative.count > 0 {
			report.note("The %s is below nought in %s, which cannot be; it is taken as not known.", label, t.negative.named())
		}
		if t.outside.count > 0 {
			report.note("The %s is out of reason in %s, such as %s %s; it is taken as not known.", label, t.outside.named(), t.first, unit)
		}
		if t.wrong.count > 0 {
			report.note("The %s is no number in %s, such as %q; it is taken as not known.", label, t.wrong.named(), t.word)
		}
		if t.great.count > 0 {
			report.note("The %s is above %d mm in %s, up to %.0f mm, which hardly any place has had in a day; look at its unit, and whether it is of one day.", label, greatRain, t.great.named(), t.greatest)
		}
		if t.trace.count > 0 {
			report.note("The %s is a trace in %s; it is taken as nought.", label, t.trace.named())
		}
	}
}

// mend takes back temperatures and humidities whose least is above their greatest.
func (r *Record) mend(from *reader, report *Report) {
	r.part(from, report, quantities[lowAt], quantities[highAt])
	r.part(from, report, quantities[highAt+1], quantities[highAt+2])
}

func (r *Record) part(from *reader, report *Report, low, high Quantity) {
	var crossed rows
	first := numberOf(r.First)
	both := 0
	for _, e := range from.entries {
		d := &r.Days[e.day-first]
		l, h := low.Of(d), high.Of(d)
		if *l <= *h {
			both++
		}
		if *l > *h {
			crossed.add(e.row)
			*l, *h = math.NaN(), math.NaN()
		}
	}
	switch what := strings.ToLower(low.Label); {
	case crossed.count == 0:
	case crossed.count > both:
		report.note("The %s is above the greatest in %s, most of all; the two columns may be interchanged, and neither is taken there.", what, crossed.named())
	default:
		report.note("The %s is above the greatest in %s; neither is taken there.", what, crossed.named())
	}
}
