package accuracy

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/geo/survey"
)

// lines finds the faults of single lines and of lines that are there twice.
func (k *check) lines() error {
	var unknown []finding
	var levels []float64
	for i, l := range k.Lines {
		switch {
		case l.Out || len(l.At) == 0:
		case l.Use != survey.Edge && !tells(l) || !placedAll(l.At):
			unknown = append(unknown, finding{of: int32(i), leave: true})
			k.blank = append(k.blank, int32(i))
		case contour(l):
			levels = append(levels, l.Level())
		}
	}
	k.addAll(unknown, func(f finding) Fault {
		return k.line(NoHeight, f, "Line %d of %s has no height, or not for all of its points; give it one, or leave it out.")
	}, "%d more lines have no height; give them one, or leave them out.")
	k.repeated()
	step, from := interval(levels)
	k.step = step
	k.string()
	return k.outOfStep(from)
}

// contour reports whether a line is a contour of a known height that is not left out.
func contour(l survey.Line) bool {
	return tells(l) && l.Use == survey.Contour && finite(l.Level()) && len(l.At) > 1
}

// tells reports whether a line tells the ground.
func tells(l survey.Line) bool {
	return !l.Out && l.Use != survey.Edge && l.Known() && len(l.At) > 0 && placedAll(l.At) && finite(slices.Max(l.Z)) && finite(slices.Min(l.Z))
}

func placedAll(line orb.LineString) bool {
	for _, p := range line {
		if !placed(p) {
			return false
		}
	}
	return true
}

// line makes the fault of a line; the format names its number, the name of its file
// and what else is given.
func (k *check) line(sort Sort, f finding, format string, more ...any) Fault {
	l := k.Lines[f.of]
	says := fmt.Sprintf(format, append([]any{l.Number, k.name(l.Source)}, more...)...)
	return Fault{Sort: sort, At: l.At[len(l.At)/2], Lines: []int{int(f.of)}, Off: math.Abs(f.off), Says: says, Leave: f.leave}
}

// string lays places along the lines, as far apart as the lines lie from each other
// on the mean.
func (k *check) string() {
	length, box := 0.0, orb.Bound{Min: orb.Point{math.Inf(1), math.Inf(1)}, Max: orb.Point{math.Inf(-1), math.Inf(-1)}}
	for _, l := range k.Lines {
		if tells(l) {
			length += planar.Length(l.At)
			box = box.Union(l.At.Bound())
		}
	}
	k.strung = newCloud(nil)
	if length == 0 {
		return
	}
	wide, high := box.Max[0]-box.Min[0], box.Max[1]-box.Min[1]
	k.gap = max(wide*high/length, max(wide, high)/1000) // a single straight line has no others
	var at []place
	for i, l := range k.Lines {
		if tells(l) {
			along(l, max(k.gap, length/500_000), func(p orb.Point, z float64) {
				at = append(at, place{p[0], p[1], z, int32(i)})
			})
		}
	}
	k.strung = newCloud(at)
}

// along visits places of a line that are a distance apart [m], its first among them,
// with their heights.
func along(l survey.Line, apart float64, visit func(p orb.Point, z float64)) {
	visit(l.At[0], l.Height(0))
	left := apart
	for i := 1; i < len(l.At); i++ {
		a, b := l.At[i-1], l.At[i]
		long := planar.Distance(a, b)
		for ; left < long; left += apart {
			t := left / long
			visit(orb.Point{a[0] + t*(b[0]-a[0]), a[1] + t*(b[1]-a[1])}, l.Height(i-1)+t*(l.Height(i)-l.Height(i-1)))
		}
		left -= long
	}
}

// outOfStep finds contours whose height does not belong among those around them, or
// not to the interval.
func (k *check) outOfStep(from float64) error {
	if k.step == 0 {
		return nil
	}
	around, err := k.surroundings()
	if err != nil {
		return err
	}
	var found, between []finding
	for i, l := range k.Lines {
		if !contour(l) {
			continue
		}
		off := l.Level() - around[i].middle
		most := farSteps * max(k.step, normal*around[i].high)
		blank := math.Abs(off) > most && k.besideBlank(l)
		if blank {
			most *= 2
		}
		if math.Abs(off) > most {
			found = append(found, finding{of: int32(i), off: off, leave: !blank})
		} else if !onStep(l.Level()-from, k.step) {
			between = append(between, finding{of: int32(i)})
		} else {
			continue
		}
		k.odd[i] = true
	}
	k.addAll(found, func(f finding) Fault { return k.outside(f, around[f.of].middle, from) },
		"%d more contours have heights out of step with those around them; correct them, or leave them out.")
	k.addAll(between, func(f finding) Fault {
		return k.line(OddHeight, f, "Line %d of %s has a height of %.2f m, while the contours are %.2f m apart; see whether it is right.", k.Lines[f.of].Level(), k.step)
	}, "%d more contours have heights that are not in steps like the others; see whether they are right.")
	return nil
}

// farSteps is how many intervals, or spreads of the heights around it, a contour lies
// off the middle of those at most. At the foot of a straight slope it lies two of
// them off.
const farSteps = 4

// surroundings returns the middle of the heights of the other lines nearest to each
// contour, and as high their median absolute deviation from it [m].
func (k *check) surroundings() ([]span, error) {
	own := make([][]place, len(k.Lines))
	for _, p := range k.strung.at {
		own[p.of] = append(own[p.of], p)
	}
	around := make([]span, len(k.Lines))
	return around, shared(k.ctx, len(own), func(low, high int) {
		h := hunt{cloud: k.strung}
		for i := low; i < high; i++ {
			around[i] = spread(others(&h, own[i]))
		}
	})
}

// others returns a height of each of the lines nearest to some places of one; none
// where they are too few to say what is usual.
func others(h *hunt, own []place) []float64 {
	nearest := map[int32]hit{}
	for j := 0; j < len(own); j += len(own)/30 + 1 {
		for _, hit := range h.near(own[j].x, own[j].y, own[j].of, 24) {
			if was, ok := nearest[hit.of]; !ok || hit.square < was.square {
				nearest[hit.of] = hit
			}
		}
	}
	hits := slices.SortedFunc(maps.Values(nearest), func(a, b hit) int {
		return cmp.Or(cmp.Compare(a.square, b.square), cmp.Compare(a.of, b.of))
	})
	if len(hits) < 3 {
		return nil
	}
	var z []float64
	for _, hit := range hits[:min(len(hits), 8)] {
		z = append(z, hit.z)
	}
	return z
}

// spread returns the middle of heights and as high their median absolute deviation.
func spread(z []float64) span {
	m := median(z)
	for i := range z {
		z[i] = math.Abs(z[i] - m)
	}
	return span{middle: m, high: median(z)}
}

// feet are in a metre.
const feet = 1 / 0.3048

// outside is the fault of a contour among others of a middle height [m], when levels
// are counted from another.
func (k *check) outside(f finding, middle, from float64) Fault {
	z := k.Lines[f.of].Level()
	for _, by := range []float64{feet, 1 / feet} {
		if math.Abs(z/by-middle) <= farSteps*k.step && onStep(z/by-from, k.step) {
			return k.line(OddHeight, f, "Line %d of %s has a height of %.2f m among contours near %.2f m, which %.2f m would fit, as if its unit were another; correct it, or leave it out.", z, middle, z/by)
		}
	}
	return k.line(OddHeight, f, "Line %d of %s has a height of %.2f m among contours near %.2f m; correct it, or leave it out.", z, middle)
}
