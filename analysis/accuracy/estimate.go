package accuracy

import (
	"context"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/surface"
	"runnel/geo/grid"
	"runnel/geo/survey"
)

// folds are into how many parts measurements are dealt; one is kept back at a time.
const folds = 10

// wanted is how many are kept back in one part, or in several on a coarser grid that
// together cost as much as the ground did.
const wanted = 100

// A maker makes a ground of a survey on a frame.
type maker func(context.Context, survey.Survey, grid.Frame) (grid.Ground, error)

// Estimate returns how well the ground that was made of a survey is known, by keeping
// measurements back; progress, when set, is told the share that is done. The ground of
// a raster has the error of its source, as OfRaster has it.
func Estimate(ctx context.Context, s survey.Survey, made surface.Made, progress func(share float64)) (survey.Quality, error) {
	if overRaster(s) {
		return ofSources(s), ctx.Err()
	}
	e := estimate{check: check{Survey: s, ctx: ctx}, ground: made.Ground, progress: progress,
		remake: func(ctx context.Context, s survey.Survey, f grid.Frame) (grid.Ground, error) {
			again, err := surface.Make(ctx, s, f, surface.Options{Tension: made.Tension})
			return again.Ground, err
		}}
	q, err := e.quality()
	if err != nil {
		return survey.Quality{}, fmt.Errorf("see how good the ground is: %w", err)
	}
	q.Tension = made.Tension
	return q, nil
}

// ofSources returns the quality of a ground of rasters: that of the worst.
func ofSources(s survey.Survey) survey.Quality {
	var q survey.Quality
	for _, f := range s.Sources {
		if of := OfRaster(f.Cell, f.Error); f.Form == survey.Raster && of.Error > q.Error {
			q = of
		}
	}
	return q
}

// An estimate keeps measurements back and gathers how far the ground of the others
// lies from them.
type estimate struct {
	check
	ground   grid.Ground
	remake   maker
	progress func(float64)
	levels   []float64 // of the contours, each once
	points   []difference
	contours []difference
}

// A difference is that of the surface from a measurement that was kept back [m].
type difference struct {
	at  orb.Point
	off float64
}

func (e *estimate) quality() (survey.Quality, error) {
	points, levels := e.telling()
	e.step, _ = interval(levels)
	slices.Sort(levels)
	e.levels = slices.Compact(levels)
	e.string()
	rounds := e.rounds(points)
	f := coarser(e.ground.Frame, rounds)
	for fold := range rounds {
		if err := e.keepBack(fold, f); err != nil {
			return survey.Quality{}, err
		}
		if e.progress != nil {
			e.progress(float64(fold+1) / float64(rounds))
		}
	}
	return e.sum(), nil
}

// rounds returns how many parts are kept back in turn.
func (e *estimate) rounds(points int) int {
	lines := 0
	for _, p := range e.strung.at {
		if contour(e.Lines[p.of]) {
			lines++
		}
	}
	if lines > 0 && len(e.levels) > 2 { // as many as have a level to keep back
		return min(max((wanted*folds-1)/(points+lines)+1, 1), folds, max(len(e.levels)-2, 1))
	}
	return min((wanted*folds-1)/max(points, 1)+1, folds)
}

// coarser returns a frame over the same ground with so many times fewer cells.
func coarser(f grid.Frame, times int) grid.Frame {
	by := math.Sqrt(float64(times))
	if times == 1 || f.Len() < 10_000 {
		return f
	}
	return grid.Frame{W: int(math.Ceil(float64(f.W) / by)), H: int(math.Ceil(float64(f.H) / by)),
		West: f.West, North: f.North, DX: f.DX * by, DY: f.DY * by}
}

// dealt returns the part that point i is dealt to, by chance and always the same.
func dealt(i int) int {
	h := uint64(i)*0x9E3779B97F4A7C15 + 1
	h ^= h >> 30
	h *= 0xBF58476D1CE4E5B9
	h ^= h >> 27
	return int(h % folds)
}

// keepBack makes the ground without one part and compares.
func (e *estimate) keepBack(fold int, f grid.Frame) error {
	rest := e.Survey
	rest.Lines, rest.Spots = slices.Clone(e.Lines), slices.Clone(e.Spots)
	held := make([]bool, len(rest.Lines))
	for i, l := range rest.Lines {
		held[i] = contour(l) && e.level(l.Level(), fold)
		rest.Lines[i].Out = l.Out || held[i]
	}
	var points []int
	for i, p := range rest.Spots {
		if !p.Out && placed(p.At) && finite(p.Z) && dealt(i) == fold {
			rest.Spots[i].Out = true
			points = append(points, i)
		}
	}
	if !slices.Contains(held, true) && len(points) == 0 || !left(rest) {
		return nil
	}
	ground, err := e.remake(e.ctx, rest, f)
	if err != nil {
		return err
	}
	for _, i := range points {
		e.points = compared(e.points, ground, e.Spots[i].At, e.Spots[i].Z)
	}
	for _, p := range e.strung.at {
		if held[p.of] {
			e.contours = compared(e.contours, ground, orb.Point{p.x, p.y}, p.z)
		}
	}
	return nil
}

// level reports whether the contours of a height are kept back in a round: each
// tenth level, the lowest and the highest never.
func (e *estimate) level(z float64, fold int) bool {
	i, _ := slices.BinarySearch(e.levels, z)
	return i > 0 && i < len(e.levels)-1 && (i-1-fold)%folds == 0
}

// left reports whether a ground can be made of what is left.
func left(s survey.Survey) bool {
	n := 0
	for _, p := range s.Spots {
		if !p.Out {
			n++
		}
	}
	for _, l := range s.Lines {
		if tells(l) {
			n += len(l.At)
		}
	}
	return n >= fewest/2
}

// compared adds the difference of a ground from a height.
func compared(to []difference, ground grid.Ground, at orb.Point, z float64) []difference {
	if off := grid.Sample(ground, at) - z; finite(off) {
		return append(to, difference{at, off})
	}
	return to
}

// nationalMap is what a contour map's heights are off [intervals]: nine in ten by less
// than half an interval [NMAS1947], which of normal errors is a standard deviation of
// 0.5/1.6449.
const nationalMap = 0.5 / 1.6449

// betweenLines is the share of the variance at contours that were kept back which the
// ground between contours has.
const betweenLines = 1. / 3

// widest is over how many times the distance between measurements an error of the
// surface between them reaches at most. Differences along one contour agree further,
// for the ground bends alike along it.
const widest = 5

// sum makes the quality of the differences.
func (e *estimate) sum() survey.Quality {
	all := append(slices.Clone(e.points), e.contours...)
	q := survey.Quality{HeldOut: len(all), Reach: e.apart()}
	if len(all) < fewest {
		q = survey.Quality{Reach: q.Reach, Error: max(e.given(), e.unheld())}
		return q
	}
	for _, d := range all {
		q.RMSE += d.off * d.off
		q.Bias += d.off
		if math.Abs(d.off) > math.Abs(q.Worst) {
			q.Worst = d.off
		}
	}
	n := float64(len(all))
	q.RMSE, q.Bias = math.Sqrt(q.RMSE/n), q.Bias/n
	variance := 0.0
	for _, d := range e.points {
		variance += d.off * d.off / n
	}
	for _, d := range e.contours {
		variance += betweenLines * d.off * d.off / n
	}
	q.Error = max(math.Sqrt(variance), e.given())
	if reach := reach(all, q.Reach); reach > 0 {
		q.Reach = min(reach, widest*q.Reach)
	}
	return q
}

// given returns the largest error that a person gave of the sources [m], 0 for none.
func (k *check) given() (most float64) {
	for _, f := range k.Sources {
		most = max(most, f.Error)
	}
	return most
}

// unheld returns the error of a survey that has too little to keep any back: that of
// a map by its interval, or a tenth of the relief, for want of anything better. Where
// there is next to no relief it is 0, for not known.
func (e *estimate) unheld() float64 {
	if len(e.levels) > 1 {
		step := e.step
		if step == 0 {
			step = (e.levels[len(e.levels)-1] - e.levels[0]) / float64(len(e.levels)-1)
		}
		return nationalMap * step
	}
	low, high, known := grid.Extent(e.ground)
	if share := (high - low) / 10; known > 0 && share > alike {
		return share
	}
	return 0
}
