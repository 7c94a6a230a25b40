package view

import (
	"context"
	"math"
	"strconv"

	"github.com/paulmach/orb"

	"runnel/analysis/accuracy"
	"runnel/app/groundwork"
	"runnel/geo/grid"
	"runnel/geo/plan"
	"runnel/geo/survey"
)

// A Doubt is how well the height of each cell of the surveyed ground is known,
// prepared for drawing. It is not changed once made.
type Doubt struct {
	groundwork.Known
	// TooLittle and Little are the shares of the ground of which the survey does not
	// tell which way water runs, and of which it tells little.
	TooLittle, Little float64

	tint *Tint
	// low and high are the doubts [m] at the ends of the colours.
	low, high float64
	// thin marks the cells where the survey is too thin, and then copies of a half, a
	// quarter and so on of the size.
	thin []grid.Grid[uint8]
	of   doubted
}

// doubted is what a doubt rests on.
type doubted struct {
	ground       *float32
	frame        grid.Frame
	survey       survey.Survey
	error, reach float64
}

func doubtedOf(s *plan.Site) doubted {
	d := doubted{frame: s.Ground.Frame, survey: s.Survey, error: s.Setting.SurveyError, reach: s.Setting.SurveyReach}
	if len(s.Ground.V) > 0 {
		d.ground = &s.Ground.V[0]
	}
	return d
}

func (d doubted) is(e doubted) bool {
	return d.ground == e.ground && d.frame == e.frame && d.error == e.error && d.reach == e.reach && d.survey.Is(e.survey)
}

// leastDoubt is the least doubt [m] at the foot of a scale: what a careful level gives.
const leastDoubt = 0.01

// decade is how many times as large the end of a scale is as its foot, at least.
const decade = 10

// mostMarks is how many figures the scale has room for.
const mostMarks = 5

// doubtScale returns the doubts [m] at the foot and at the end of a site's colours: the
// steps of 1, 2, 5, 10 … below and above which a fiftieth of the ground lies at most, so
// that the little that is known best or worst does not take the colours from the rest.
func doubtScale(doubt grid.Grid[float32]) (low, high float64) {
	const beyond = 0.02
	// Counted by twentieths of an octave: no copy of a large ground is sorted.
	var counts [1024]int
	known := 0
	for _, v := range doubt.V {
		if v == v {
			counts[max(0, min(len(counts)-1, int(20*(order(float64(v))-order(leastDoubt)))))]++
			known++
		}
	}
	quantile := func(share float64) float64 {
		at, under := 0, 0
		for ; at < len(counts)-1 && float64(under+counts[at]) < share*float64(known); at++ {
			under += counts[at]
		}
		return leastDoubt * math.Exp2(float64(at)/20)
	}
	high = stepAbove(max(decade*leastDoubt, quantile(1-beyond)))
	return max(leastDoubt, min(high/decade, stepBelow(quantile(beyond)))), high
}

// stepAbove is the least of 1, 2, 5, 10 … that is no less than a length.
func stepAbove(v float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(v)))
	for _, step := range []float64{1, 2, 5} {
		if v <= step*power*(1+1e-9) {
			return step * power
		}
	}
	return 10 * power
}

// stepBelow is the most of 1, 2, 5, 10 … that is no more than a length.
func stepBelow(v float64) float64 { return 1 / stepAbove(1/v) }

// marks are doubts [m] at even steps along the scale.
func (d *Doubt) marks() (marks []float64) {
	for i := range mostMarks {
		marks = append(marks, d.low*math.Pow(d.high/d.low, float64(i)/(mostMarks-1)))
	}
	return marks
}

// newDoubt works out how well a site's ground is known.
func newDoubt(ctx context.Context, s *plan.Site) (*Doubt, error) {
	known, err := groundwork.KnownOf(ctx, s)
	if err != nil {
		return nil, err
	}
	d := &Doubt{Known: known, of: doubtedOf(s)}
	d.grade(doubtScale(known.Doubt))
	d.TooLittle, d.Little = known.Shares()
	thin := grid.New[uint8](known.Thin.Frame)
	eachRow(thin.H, func(y int) {
		row := thin.Row(y)
		for x, t := range known.Thin.Row(y) {
			if t == accuracy.TooLittle {
				row[x] = 1
			}
		}
	})
	d.thin = halves(thin, surest)
	return d, ctx.Err()
}

// grade gives a doubt the ends of its colours [m].
func (d *Doubt) grade(low, high float64) {
	d.low, d.high, d.tint = low, high, newTint(orders(d.Doubt), order(low), order(high))
}

// order grades a doubt [m] by how many times as large it is as another: what lies
// between 1 and 2 cm matters as much as what lies between 10 and 20.
func order(doubt float64) float64 { return math.Log2(max(doubt, 1e-3)) }

func orders(doubt grid.Grid[float32]) grid.Grid[float32] {
	all := grid.New[float32](doubt.Frame)
	eachRow(all.H, func(y int) {
		row := all.Row(y)
		for x, v := range doubt.Row(y) {
			row[x] = v // no data stays
			if v == v {
				row[x] = float32(order(float64(v)))
			}
		}
	})
	return all
}

// colours gives the colour of each quarter grade of a doubt's tint.
func (d *Doubt) colours(p Palette) (colours [reliefSteps]Colour) {
	for i := range colours {
		colours[i] = rampColour(p.Doubts, (float64(i)/4-1)/254)
	}
	return colours
}

// drawThin hatches the ground for which the survey is too thin to say which way water
// runs.
func (k *canvas) drawThin(ctx context.Context, d *Doubt) error {
	if d == nil || len(k.look.Thin.Strokes) == 0 {
		return nil
	}
	return k.hatchCells(ctx, k.suited(d.thin), k.look.Thin, func(v uint8) bool { return v != 0 })
}

// doubtFigures write the marks of the scale to one figure, where they are metres, or two.
func (s *Scene) doubtFigures() []string {
	metres, sign := s.Units.length()
	var figures []string
	for _, mark := range s.Doubt.marks() {
		v := mark / metres
		places := -int(math.Floor(math.Log10(v)))
		if metres != 1 {
			places++
		}
		figures = append(figures, strconv.FormatFloat(v, 'f', max(0, places), 64))
	}
	figures[len(figures)-1] += " " + sign
	return figures
}

func sampleDoubts(k *canvas, b orb.Bound) {
	const parts = 64
	k.strip(b, parts, func(i int) Colour { return rampColour(k.look.Doubts, float64(i)/(parts-1)) })
	k.hem(b)
}

func sampleThin(k *canvas, b orb.Bound) {
	sampleArea(k, b, Style{Body: k.look.Paper, Hatch: k.look.Thin, Edge: Pen{Colour: k.look.Thin.Colour, Width: k.px}})
}
