package sheet

import (
	"image"
	"math"
	"time"

	"gonum.org/v1/plot/vg"
	plotdraw "gonum.org/v1/plot/vg/draw"

	"runnel/geo"
)

// A Season is how one pool goes through the days: rain from the top down, the level or
// the volume of its water, and what has soaked in since the first day or the new year.
// Over more than a year each figure is told by months.
type Season struct {
	Title string
	// First is the first day; Rain, Level and Soaked have a figure a day, NaN where it is
	// not known. Runs are the days on which the drain runs; nil for none.
	First               time.Time
	Rain, Level, Soaked []float64
	Runs                []bool
	// Marks are levels to hold the water against.
	Marks []Mark
	// Total is the range of what soaks in over all the days, drawn where that is a year at
	// most; the zero range is not drawn.
	Total geo.Range
	// The axes name their figures with their units, and the names what is drawn.
	RainAxis, LevelAxis, SoakAxis string
	LevelName, RunsName, SoakName string
	SpreadName, TotalName         string
	Notes                         []string
	// None is said in place of the figures where there is no day.
	None string
}

// Of returns the days of one year. Marks, words and the range stay.
func (s Season) Of(year int) Season {
	from := max(0, min(len(s.Rain), s.index(year)))
	to := max(from, min(len(s.Rain), s.index(year+1)))
	s.First = s.First.AddDate(0, 0, from)
	s.Rain, s.Level, s.Soaked = part(s.Rain, from, to), part(s.Level, from, to), part(s.Soaked, from, to)
	s.Runs = part(s.Runs, from, to)
	return s
}

func (s Season) index(year int) int {
	d := dates{first: midnight(s.First)}
	return int(d.day(time.Date(year, 1, 1, 0, 0, 0, 0, time.UTC)))
}

func part[T any](of []T, from, to int) []T { return of[min(from, len(of)):min(to, len(of))] }

func midnight(t time.Time) time.Time {
	return time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, time.UTC)
}

// ByMonth reports whether so many days are told by months, so that rain is of a month.
func (s Season) ByMonth() bool { return len(s.Rain) > byYear }

// Draw draws the chart on an image of w by h pixels.
func (s Season) Draw(w, h int, l Look) *image.RGBA {
	if len(s.Rain) == 0 {
		return l.nothing(w, h, s.Title, s.None)
	}
	d := dates{look: l, first: midnight(s.First), days: len(s.Rain)}
	soaked := s.soaked(d)
	rain := func(f frame) { f.bars(s.Rain, 1, l.Rain) }
	fallen := s.Rain
	if s.ByMonth() {
		fallen = sums(s.Rain, d.months())
		rain = func(f frame) { drawMonths(f, d, fallen) }
	}
	down := fromNought(fallen)
	down.hangs = true
	levels := spanOf(s.Level, levels(s.Marks))
	levels.low -= 0.06 * (levels.high - levels.low) // for the days on which the drain runs
	return stack{
		look: l, title: s.Title, key: s.key(l), notes: s.Notes, across: span{high: float64(d.days)}, caption: d.caption(), marks: d.marks,
		panels: []panel{
			{s.RainAxis, 0.24, down, rain},
			{s.LevelAxis, 0.42, levels, func(f frame) { s.drawLevel(f, d) }},
			{s.SoakAxis, 0.34, fromNought(soaked.y, s.total()), func(f frame) { s.drawSoaked(f, soaked) }},
		},
	}.draw(w, h)
}

func (s Season) key(l Look) []keyed {
	key := []keyed{keyLine(s.LevelName, plotdraw.LineStyle{Color: l.Water, Width: 1.8})}
	if s.ByMonth() {
		key = append(key, keyPlain(s.SpreadName, faint(l.Water, spreadShare)))
	}
	key = append(key, l.keyMarks(s.Marks)...)
	if len(s.Runs) > 0 {
		key = append(key, keyPlain(s.RunsName, l.Runs))
	}
	key = append(key, keyLine(s.SoakName, plotdraw.LineStyle{Color: l.Soak, Width: 1.8, Dashes: dashes[2]}))
	if len(s.total()) > 0 {
		key = append(key, l.keyRange(s.TotalName))
	}
	return key
}

// total are the ends of the range that is drawn.
func (s Season) total() []float64 {
	if s.ByMonth() || s.Total == (geo.Range{}) || math.IsNaN(s.Total.Low+s.Total.High) {
		return nil
	}
	return []float64{s.Total.Low, s.Total.High}
}

// spreadShare is the opacity of what lies between the least and the greatest.
const spreadShare = 0.3

// drawLevel draws the water, or by months its mean and how far it goes up and down.
func (s Season) drawLevel(f frame, d dates) {
	drawMarks(f, s.Marks)
	style := plotdraw.LineStyle{Color: f.look.Water, Width: 1.8}
	if s.ByMonth() {
		x, low, mean, high := spread(s.Level, d.months())
		f.area(x, low, high, faint(f.look.Water, spreadShare))
		f.line(x, mean, style)
	} else {
		x := make([]float64, len(s.Level))
		for i := range x {
			x[i] = float64(i) + 0.5
		}
		f.line(x, s.Level, style)
	}
	const high = 5
	for i := 0; i < len(s.Runs); i++ {
		start := i
		for i < len(s.Runs) && s.Runs[i] {
			i++
		}
		if i > start {
			r := f.box(float64(start), float64(i), f.up.low, f.up.low)
			r.Max.Y += high
			f.FillPolygon(f.look.Runs, corners(r))
		}
	}
}

// A curve is what has soaked in up to each moment.
type curve struct{ x, y []float64 }

// soaked sums what soaks in, from nought in each new year; over many years by months.
func (s Season) soaked(d dates) (c curve) {
	ends := make(map[int]bool)
	for _, m := range d.months() {
		ends[m[1]-1] = true
	}
	sum := 0.0
	c.x, c.y = append(c.x, 0), append(c.y, 0)
	for i, v := range s.Soaked {
		if at := d.first.AddDate(0, 0, i); i > 0 && at.YearDay() == 1 {
			sum = 0
			c.x, c.y = append(c.x, float64(i), float64(i)), append(c.y, math.NaN(), 0)
		}
		if !math.IsNaN(v) {
			sum += v
		}
		if !s.ByMonth() || ends[i] {
			c.x, c.y = append(c.x, float64(i+1)), append(c.y, sum)
		}
	}
	return c
}

func (s Season) drawSoaked(f frame, c curve) {
	f.area(c.x, make([]float64, len(c.x)), c.y, faint(f.look.Soak, 0.22))
	f.line(c.x, c.y, plotdraw.LineStyle{Color: f.look.Soak, Width: 1.8, Dashes: dashes[2]})
	if len(s.total()) > 0 {
		const inside = 6
		x := f.Max.X - inside
		f.look.whisker(f.Canvas, vg.Point{X: x, Y: f.at(0, s.Total.Low).Y}, vg.Point{X: x, Y: f.at(0, s.Total.High).Y}, 4)
	}
}
