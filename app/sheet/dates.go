package sheet

import (
	"strconv"
	"time"

	"gonum.org/v1/plot/vg"
)

// dates are days in a row from First on: day i lies from i to i+1 on the axis across.
type dates struct {
	look  Look
	first time.Time
	days  int
}

// byYear is the number of days from which an axis is marked by years.
const byYear = 420

func (l Look) month(m time.Month) string {
	if name := l.Months[m-1]; name != "" {
		return name
	}
	const letters = 3
	return m.String()[:letters]
}

// day returns where a date lies.
func (d dates) day(at time.Time) float64 { return at.Sub(d.first).Hours() / 24 }

// caption is the year or the years of the days.
func (d dates) caption() string {
	from, to := d.first.Year(), d.first.AddDate(0, 0, max(0, d.days-1)).Year()
	if from == to {
		return strconv.Itoa(from)
	}
	return strconv.Itoa(from) + "–" + strconv.Itoa(to)
}

// marks marks the months, or the years of a long time, with as many labels as there is
// room for.
func (d dates) marks(wide vg.Length) []mark {
	start, next, name := d.periods()
	style, widest := d.look.style(d.look.Small, d.look.Ink), vg.Length(0)
	var all []mark
	for at := start; d.day(at) < float64(d.days); at = next(at) {
		from, to := max(0, d.day(at)), min(float64(d.days), d.day(next(at)))
		all = append(all, mark{d.day(at), (from + to) / 2, name(at)})
		widest = max(widest, style.Width(name(at)))
	}
	each := wide / vg.Length(max(1, len(all)))
	every := sparse(widest+5, each)
	for i := range all {
		if i%every != 0 || all[i].at < 0 && 2*all[i].middle*float64(wide)/float64(d.days) < float64(widest) {
			all[i].label = ""
		}
	}
	return all
}

// periods are the months or the years that hold the days: the start of the first, what
// comes after one, and what it is called.
func (d dates) periods() (start time.Time, next func(time.Time) time.Time, name func(time.Time) string) {
	if d.days > byYear {
		return time.Date(d.first.Year(), 1, 1, 0, 0, 0, 0, time.UTC), func(t time.Time) time.Time { return t.AddDate(1, 0, 0) },
			func(t time.Time) string { return strconv.Itoa(t.Year()) }
	}
	return time.Date(d.first.Year(), d.first.Month(), 1, 0, 0, 0, 0, time.UTC), func(t time.Time) time.Time { return t.AddDate(0, 1, 0) },
		func(t time.Time) string { return d.look.month(t.Month()) }
}

// sparse returns of how many labels one is written, so that they stand apart.
func sparse(label, each vg.Length) int {
	for _, every := range []int{1, 2, 3, 5, 10, 20} {
		if each*vg.Length(every) >= label {
			return every
		}
	}
	return 50
}

// months are the days that belong to one month each: from the one up to before the other.
func (d dates) months() (runs [][2]int) {
	for i := 0; i < d.days; {
		at := d.first.AddDate(0, 0, i)
		next := time.Date(at.Year(), at.Month()+1, 1, 0, 0, 0, 0, time.UTC)
		end := min(d.days, i+int(next.Sub(at).Hours()/24+0.5))
		runs = append(runs, [2]int{i, end})
		i = end
	}
	return runs
}
