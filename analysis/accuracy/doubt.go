package accuracy

import (
	"context"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/internal/raster"
	"runnel/geo/grid"
	"runnel/geo/survey"
)

// Doubt returns the standard deviation of each cell's height [m]; NaN at no data.
//
// Over a survey of points and lines its square is that of the measurements plus what
// grows in proportion to the distance from the nearest one, as fast as makes it agree
// with the differences at the points that were kept back, which lie as far from the
// others as they do. Where contours alone were measured it agrees with the ground's
// error over the whole ground instead, for contours lie closest where it is steep and
// least in doubt; and what grows is at most 1/√12 of their interval, the standard
// deviation of a height of which no more is known.
//
// A raster has the error of its source everywhere but in patches. There it grows
// with the distance from the rim, as far as the ground outside the patch leaves a
// straight line that is laid across a gap as wide.
func Doubt(ctx context.Context, s survey.Survey, ground grid.Ground, q survey.Quality) (grid.Grid[float32], error) {
	measured := measuredCells(s, ground)
	away, err := distances(ctx, ground.Frame, measured)
	if err != nil {
		return grid.Grid[float32]{}, err
	}
	var law growth
	if overRaster(s) {
		law = rasterLaw(ground, measured, q)
	} else if law, err = measuredLaw(ctx, s, ground, away, q); err != nil {
		return grid.Grid[float32]{}, err
	}
	farthest := float32(math.Hypot(float64(ground.W)*ground.DX, float64(ground.H)*ground.DY))
	err = shared(ctx, ground.H, func(low, high int) {
		for i := low * ground.W; i < high*ground.W; i++ {
			if grid.IsNoData(ground.V[i]) {
				away.V[i] = grid.NoData
			} else {
				away.V[i] = float32(math.Sqrt(law.at(float64(min(away.V[i], farthest)))))
			}
		}
	})
	return away, err
}

// overRaster reports whether a ground rests on a raster.
func overRaster(s survey.Survey) bool {
	return !s.Measured() || slices.ContainsFunc(s.Sources, func(f survey.Source) bool { return f.Form == survey.Raster })
}

// measuredCells returns the cells in which something was measured.
func measuredCells(s survey.Survey, ground grid.Ground) []bool {
	set := make([]bool, len(ground.V))
	if overRaster(s) {
		for i, z := range ground.V {
			set[i] = !grid.IsNoData(z)
		}
	}
	for _, p := range s.Spots {
		if x, y, ok := ground.Cell(p.At); ok && !p.Out && finite(p.Z) {
			set[y*ground.W+x] = true
		}
	}
	for _, l := range s.Lines {
		if tells(l) {
			raster.Along(ground.Frame, l.At, func(c int32) { set[c] = true })
		}
	}
	for _, p := range s.Patches {
		for _, c := range raster.Within(ground.Frame, p.Outline) {
			set[c] = false
		}
	}
	return set
}

// A growth is how the variance of a height grows with the distance from the nearest
// measurement: from start [m²], by rate [m²/m], to most above the start [m²]; or by
// what it is at distances that double.
type growth struct {
	start, rate, most float64
	// steps are what the variance has grown by at distances of first, twice that and
	// so on [m²].
	steps []float64
	first float64
}

// at returns the variance at a distance [m].
func (g growth) at(far float64) float64 {
	if len(g.steps) == 0 || far <= 0 {
		return g.start + min(g.most, g.rate*far)
	}
	t := math.Log2(far / g.first)
	i := min(max(int(math.Floor(t)), 0), len(g.steps)-1)
	if t <= 0 { // heights differ by the distance, so that their squares fall by four
		return g.start + g.steps[0]*square(far/g.first)
	}
	next := min(i+1, len(g.steps)-1)
	return g.start + at(g.steps[i], g.steps[next], min(t-float64(i), 1))
}

// measuredLaw returns the growth over a survey of points and lines.
func measuredLaw(ctx context.Context, s survey.Survey, ground grid.Ground, away grid.Grid[float32], q survey.Quality) (growth, error) {
	k := &check{Survey: s, ctx: ctx}
	points, levels := k.telling()
	law := growth{start: square(k.own(q, points)), most: math.Inf(1)}
	if step, _ := interval(levels); step > 0 && points == 0 {
		law.most = step * step / 12
	}
	far, goal := meanWhereKnown(ground, away), q.Error
	if q.HeldOut >= fewest && points > 0 {
		k.string()
		far, goal = k.apart(), q.RMSE
	}
	if far > 0 {
		law.rate = max(0, square(goal)-law.start) / far
	}
	return law, ctx.Err()
}

// telling counts the points of a survey and lists the levels of its contours.
func (k *check) telling() (points int, levels []float64) {
	for _, p := range k.Spots {
		if !p.Out && finite(p.Z) {
			points++
		}
	}
	for _, l := range k.Lines {
		if contour(l) {
			levels = append(levels, l.Level())
		}
	}
	return points, levels
}

// own returns the standard deviation of the measurements themselves [m]: as a person
// gave it, and otherwise a quarter of the ground's, or half if points were measured
// and instruments are no better.
func (k *check) own(q survey.Quality, points int) float64 {
	given := k.given()
	switch {
	case given > 0:
		return given
	case points > 0:
		return min(q.Error/2, alike)
	}
	return q.Error / 4
}

// apart returns the mean distance of measurements from the nearest of the others [m]:
// of a point from any, and of a place on a contour from a line of another height.
func (k *check) apart() float64 {
	var at []place
	for i, p := range k.Spots {
		if !p.Out && placed(p.At) && finite(p.Z) {
			at = append(at, place{p.At[0], p.At[1], p.Z, int32(-2 - i)})
		}
	}
	points := len(at)
	at = append(at, k.strung.at...)
	h := hunt{cloud: newCloud(slices.Clone(at))}
	sum, n := 0.0, 0
	for i := 0; i < len(at); i += len(at)/5000 + 1 {
		p := at[i]
		for _, hit := range h.near(p.x, p.y, p.of, 12) {
			if i < points || hit.z != p.z {
				sum, n = sum+math.Sqrt(hit.square), n+1
				break
			}
		}
	}
	return sum / float64(max(n, 1))
}

// meanWhereKnown returns the mean of values at cells that have a height.
func meanWhereKnown(ground grid.Ground, values grid.Grid[float32]) float64 {
	sum, n := 0.0, 0
	for i, z := range ground.V {
		if v := float64(values.V[i]); !grid.IsNoData(z) && finite(v) {
			sum, n = sum+v, n+1
		}
	}
	return sum / float64(max(n, 1))
}

// rasterLaw returns the growth into the patches of a raster.
func rasterLaw(ground grid.Ground, measured []bool, q survey.Quality) growth {
	law := growth{start: square(q.Error), first: math.Sqrt(ground.DX * ground.DY)}
	if !slices.ContainsFunc(measured, func(set bool) bool { return !set }) {
		return law
	}
	for lag := 1; 2*lag < max(ground.W, ground.H); lag *= 2 {
		across, n := bend(ground, measured, orb.Point{float64(lag), 0})
		down, m := bend(ground, measured, orb.Point{0, float64(lag)})
		if n+m < 2*fewest {
			break
		}
		law.steps = append(law.steps, max(last(law.steps), (across+down)/float64(n+m)))
	}
	return law
}

func last(values []float64) float64 {
	if len(values) == 0 {
		return 0
	}
	return values[len(values)-1]
}

// bend returns the sum of the squares of how far measured cells lie off the middle of
// the two that are a way before and behind [columns and rows], and their number.
func bend(ground grid.Ground, measured []bool, way orb.Point) (sum float64, n int) {
	dx, dy := int(way[0]), int(way[1])
	over := dy*ground.W + dx
	step := max(1, int(math.Sqrt(float64(ground.Len())/250_000)))
	for y := dy; y < ground.H-dy; y += step {
		for x := dx; x < ground.W-dx; x += step {
			i := y*ground.W + x
			if measured[i] && measured[i-over] && measured[i+over] {
				off := float64(ground.V[i]) - float64(ground.V[i-over]+ground.V[i+over])/2
				sum, n = sum+off*off, n+1
			}
		}
	}
	return sum, n
}
