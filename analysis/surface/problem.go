package surface

import (
	"context"
	"errors"
	"math"
	"slices"
	"sort"

	"runnel/geo/grid"
	"runnel/geo/survey"

	"github.com/paulmach/orb"
)

// A problem is a survey in the terms of a grid: lengths in cells from the centre
// of the first one, heights above datum.
type problem struct {
	frame grid.Frame
	// w and h are the frame's, but least at least.
	w, h   int
	dx, dy float64 // of a cell, so that its area is 1
	datum  float64
	pins   []pin
	// spacing is how far apart measurements lie [cells].
	spacing float64
	breaks  [][]spot
	// contours and levels are for what is known between contours; interval is the
	// usual difference of levels.
	contours []contour
	levels   []float64
	interval float64
	// known is what the contours say of each cell.
	known []between
	// scale is how many of the frame's cells one of the problem's is wide.
	scale float64
}

// A spot is a place in cells.
type spot [2]float64

// A contour is a level line; level is its place in problem.levels.
type contour struct {
	at    []spot
	level int32
}

// grip is how much stiffer than the surface a measurement holds: a contour comes
// out within a few hundredths of the interval.
const grip = 1000

// stride is how far apart a line is pinned at most [cells]. A contour drawn on a raster
// has its points where it crosses the links between centres, at most a diagonal apart:
// there it is right, and in between it cuts corners.
const stride = 1.5

var errNothing = errors.New("no height is known inside the ground that is asked for; give contours or points that have heights")

func newProblem(ctx context.Context, s survey.Survey, f grid.Frame) (*problem, error) {
	side := math.Sqrt(f.DX * f.DY)
	p := &problem{frame: f, w: max(f.W, least), h: max(f.H, least), dx: f.DX / side, dy: f.DY / side, interval: Interval(s), scale: 1}
	p.findLevels(s)
	for i := range s.Lines {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		p.addLine(&s.Lines[i])
	}
	lined := p.used(p.pins)
	points := len(p.pins)
	p.addSpots(s)
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	if len(p.pins) == 0 {
		return nil, errNothing
	}
	n := float64(p.w * p.h)
	p.spacing = max(1/(lined/n+math.Sqrt(p.used(p.pins[points:])/n)), 1)
	p.pins = append(slices.Clone(p.pins[:points]), merged(p.pins[points:], 4)...)
	p.level()
	return p, nil
}

// level measures all heights from their mean, so that none loses digits to a high
// datum.
func (p *problem) level() {
	for _, q := range p.pins {
		p.datum += q.z / float64(len(p.pins))
	}
	for i := range p.pins {
		p.pins[i].z -= p.datum
	}
	for i := range p.levels {
		p.levels[i] -= p.datum
	}
}

// used counts the cells that hold pins.
func (p *problem) used(pins []pin) float64 {
	seen := make([]bool, p.w*p.h)
	n := 0.0
	for _, q := range pins {
		x, y, _, _ := q.dual(p.w, p.h)
		if !seen[y*p.w+x] {
			seen[y*p.w+x] = true
			n++
		}
	}
	return n
}

func (p *problem) findLevels(s survey.Survey) {
	for _, l := range s.Lines {
		if z := levelOf(&l); !l.Out && !math.IsNaN(z) {
			p.levels = append(p.levels, z)
		}
	}
	slices.Sort(p.levels)
	p.levels = slices.Compact(p.levels)
}

// levelOf returns the one height of a contour, and NaN for lines that have no such.
func levelOf(l *survey.Line) float64 {
	if l.Use != survey.Contour || len(l.Z) == 0 {
		return math.NaN()
	}
	for _, z := range l.Z {
		if z != l.Z[0] {
			return math.NaN()
		}
	}
	return l.Z[0]
}

func (p *problem) place(at orb.Point) spot { return placeOn(p.frame, at) }

// placeOn returns a position in cells, to some hundred thousandth of one, so that a survey
// that another file has to the micrometre gives the same ground.
func placeOn(f grid.Frame, at orb.Point) spot {
	const parts = 1 << 17
	round := func(v float64) float64 { return math.Round(v*parts) / parts }
	return spot{round((at[0]-f.West)/f.DX - 0.5), round((f.North-at[1])/f.DY - 0.5)}
}

// reaches reports whether a place is in the grid or within two cells of it: what is
// further off says nothing of its cells.
func (p *problem) reaches(q spot) bool {
	return q[0] > -2.5 && q[1] > -2.5 && q[0] < float64(p.frame.W)+1.5 && q[1] < float64(p.frame.H)+1.5
}

// addLine pins the surface along a line, at its points and at least every stride.
func (p *problem) addLine(l *survey.Line) {
	if l.Out {
		return
	}
	at, level := make([]spot, len(l.At)), int32(ofLine)
	for i, q := range l.At {
		at[i] = p.place(q)
	}
	switch {
	case l.Use == survey.Break || l.Use == survey.Kerb:
		p.breaks = append(p.breaks, at)
	case !math.IsNaN(levelOf(l)):
		level = int32(sort.SearchFloat64s(p.levels, levelOf(l))) + 1
		p.contours = append(p.contours, contour{at, level - 1})
	}
	first := len(p.pins)
	for i := range at {
		if z := l.Height(i); i > 0 {
			p.addSegment(at[i-1], at[i], l.Height(i-1), z)
		}
		p.addPin(at[i], l.Height(i), grip)
	}
	for i := range p.pins[first:] {
		p.pins[first+i].level = level
	}
}

func (p *problem) addSegment(a, b spot, za, zb float64) {
	a, b, za, zb, ok := p.clip(a, b, za, zb)
	if !ok {
		return
	}
	n := math.Ceil(math.Hypot(b[0]-a[0], b[1]-a[1]) / stride)
	for k := 1.0; k < n; k++ {
		t := k / n
		p.addPin(spot{a[0] + t*(b[0]-a[0]), a[1] + t*(b[1]-a[1])}, za+t*(zb-za), grip)
	}
}

// clip cuts a segment to the part that reaches the grid, so that a line across a
// country costs no more than what is seen of it.
func (p *problem) clip(a, b spot, za, zb float64) (spot, spot, float64, float64, bool) {
	from, to := 0.0, 1.0
	for axis, n := range [2]int{p.frame.W, p.frame.H} {
		d := b[axis] - a[axis]
		lo, hi := -2.5-a[axis], float64(n)+1.5-a[axis]
		if d == 0 {
			if lo > 0 || hi < 0 {
				return a, b, za, zb, false
			}
			continue
		}
		from, to = max(from, min(lo/d, hi/d)), min(to, max(lo/d, hi/d))
	}
	if !(from < to) {
		return a, b, za, zb, false
	}
	if from == 0 && to == 1 {
		return a, b, za, zb, true
	}
	on := func(t float64) (spot, float64) {
		return spot{a[0] + t*(b[0]-a[0]), a[1] + t*(b[1]-a[1])}, za + t*(zb-za)
	}
	c, zc := on(from)
	d, zd := on(to)
	return c, d, zc, zd, true
}

// addPin pins the surface at a place. Beyond the outermost centres it is only drawn
// there: where lines are cut off they often bend toward the border.
func (p *problem) addPin(at spot, z, w float64) {
	if math.IsNaN(z) || !p.reaches(at) {
		return
	}
	if at[0] < 0 || at[1] < 0 || at[0] > float64(p.frame.W-1) || at[1] > float64(p.frame.H-1) {
		w /= grip
	}
	p.pins = append(p.pins, pin{x: at[0], y: at[1], z: z, w: w})
}

// addSpots pins the surface at the spots. Those of sources with an error are marked
// with it; see loosen.
func (p *problem) addSpots(s survey.Survey) {
	for _, q := range s.Spots {
		if q.Out {
			continue
		}
		n := len(p.pins)
		p.addPin(p.place(q.At), q.Z, grip)
		if len(p.pins) > n && int(q.Source) >= 0 && int(q.Source) < len(s.Sources) {
			p.pins[n].off = s.Sources[q.Source].Error
		}
	}
}
