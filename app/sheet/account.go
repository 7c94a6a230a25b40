package sheet

import (
	"image"
	"math"
	"slices"

	plotdraw "gonum.org/v1/plot/vg/draw"

	"runnel/geo"
)

// An Account lays what a scheme puts back beside what the well gives, month by month of
// a mean year or of one year: January first.
type Account struct {
	Title string
	// Recharge is what goes back with its range; Irrigation and House are drawn from the
	// well, one over the other. What is not known is NaN.
	Recharge          [12]geo.Range
	Irrigation, House [12]float64
	// Rain and Reference, the reference evapotranspiration, stand in a panel of their own.
	Rain, Reference [12]float64
	// The axes name their figures with their units, and the names what is drawn.
	WaterAxis, WeatherAxis                  string
	RechargeName, RangeName, IrrigationName string
	HouseName, RainName, ReferenceName      string
	// Notes are said under it: the share put back first.
	Notes []string
}

// Draw draws the chart on an image of w by h pixels.
func (a Account) Draw(w, h int, l Look) *image.RGBA {
	var all []pair
	for i, r := range a.Recharge {
		all = append(all, pair{r, []float64{a.Irrigation[i], a.House[i]}})
	}
	across := span{high: 12}
	weather := func(f frame) {
		x := make([]float64, len(a.Rain))
		for i := range x {
			x[i] = float64(i) + 0.5
		}
		f.line(x, a.Rain[:], l.rainLine())
		f.line(x, a.Reference[:], l.airLine())
	}
	return stack{
		look: l, title: a.Title, notes: a.Notes, across: across, marks: l.twelve,
		key: []keyed{
			l.keyBar(a.RechargeName, l.Soak, 0), l.keyRange(a.RangeName), l.keyBar(a.IrrigationName, l.Plants, drawnHatches[0]),
			l.keyBar(a.HouseName, l.House, drawnHatches[1]), keyLine(a.RainName, l.rainLine()), keyLine(a.ReferenceName, l.airLine()),
		},
		panels: []panel{
			{a.WaterAxis, 0.68, pairSpan(all), func(f frame) { drawPairs(f, all) }},
			{a.WeatherAxis, 0.32, fromNought(a.Rain[:], a.Reference[:]), weather},
		},
	}.draw(w, h)
}

func (l Look) rainLine() plotdraw.LineStyle { return plotdraw.LineStyle{Color: l.Rain, Width: 1.8} }

func (l Look) airLine() plotdraw.LineStyle {
	return plotdraw.LineStyle{Color: l.Sun, Width: 1.8, Dashes: dashes[1]}
}

// drawnHatches tell apart what is drawn from the well, from the foot up.
var drawnHatches = [2]int{1, 3}

// A pair is what goes back, and beside it what is drawn, one part over the other.
type pair struct {
	back  geo.Range
	drawn []float64
}

func (p pair) sum() (sum float64) {
	for _, v := range p.drawn {
		if !math.IsNaN(v) {
			sum += v
		}
	}
	return sum
}

func pairSpan(all []pair) span {
	var values []float64
	for _, p := range all {
		values = append(values, p.back.Low, p.back.Likely, p.back.High, p.sum())
	}
	return fromNought(values)
}

// drawPairs draws pairs of bars, each in its own unit of the axis across.
func drawPairs(f frame, all []pair) {
	const outside, between = 0.12, 0.02
	inks := []struct{ of, with int }{{0, drawnHatches[0]}, {1, drawnHatches[1]}}
	for i, p := range all {
		from, middle, to := float64(i)+outside, float64(i)+0.5, float64(i+1)-outside
		if !math.IsNaN(p.back.Likely) {
			f.look.paint(f.Canvas, f.box(from, middle-between, 0, p.back.Likely), f.look.Soak, 0)
			f.whisker(f.box(from, middle-between, 0, 0), p.back.Low, p.back.High)
		}
		foot := 0.0
		for k, v := range p.drawn {
			if math.IsNaN(v) || v == 0 {
				continue
			}
			ink := f.look.Plants
			if inks[k%2].of == 1 {
				ink = f.look.House
			}
			f.look.paint(f.Canvas, f.box(middle+between, to, foot, foot+v), ink, inks[k%2].with)
			foot += v
		}
	}
}

// A YearKind says whether a year is dry or wet.
type YearKind uint8

// The kinds of years.
const (
	Usual YearKind = iota
	Dry
	Wet
)

// A YearFigures is what a year of the record puts back and draws.
type YearFigures struct {
	Year              int
	Recharge          geo.Range
	Irrigation, House float64
	Kind              YearKind
}

// Years lays what goes back beside what is drawn, year by year.
type Years struct {
	Title                                   string
	Years                                   []YearFigures
	WaterAxis                               string
	RechargeName, RangeName, IrrigationName string
	HouseName, DryName, WetName             string
	Notes                                   []string
	// None is said where there is no year.
	None string
}

// Draw draws the chart on an image of w by h pixels.
func (y Years) Draw(w, h int, l Look) *image.RGBA {
	if len(y.Years) == 0 {
		return l.nothing(w, h, y.Title, y.None)
	}
	years := slices.SortedFunc(slices.Values(y.Years), func(a, b YearFigures) int { return a.Year - b.Year })
	var all []pair
	for _, v := range years {
		all = append(all, pair{v.Recharge, []float64{v.Irrigation, v.House}})
	}
	up := pairSpan(all)
	up.high += 0.08 * (up.high - up.low) // for the signs of dry and wet years
	return stack{
		look: l, title: y.Title, notes: y.Notes, across: span{high: float64(len(years))}, marks: l.yearMarks(years),
		key: []keyed{
			l.keyBar(y.RechargeName, l.Soak, 0), l.keyRange(y.RangeName), l.keyBar(y.IrrigationName, l.Plants, drawnHatches[0]),
			l.keyBar(y.HouseName, l.House, drawnHatches[1]), l.keyYear(y.DryName, Dry), l.keyYear(y.WetName, Wet),
		},
		panels: []panel{{y.WaterAxis, 1, up, func(f frame) {
			for i, v := range years {
				f.look.drawYear(f.Canvas, f.box(float64(i), float64(i+1), up.low, up.high), v.Kind)
			}
			drawPairs(f, all)
		}}},
	}.draw(w, h)
}
