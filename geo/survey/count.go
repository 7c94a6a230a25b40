package survey

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// A Crossing is where a stroke crosses a contour line.
type Crossing struct {
	// Line is the place of the line in Survey.Lines.
	Line int
	At   orb.Point
	// Along is how far along the stroke it lies, from 0 at its start to 1 at its end.
	Along float64
}

// Crossings returns where a stroke crosses contour lines, in their order along it. A
// stroke that only touches a line does not cross it; lines that are left out and other
// uses than contours are passed over.
func (s Survey) Crossings(stroke orb.LineString) []Crossing {
	var found []Crossing
	length, total := lengths(stroke)
	if total == 0 {
		return nil
	}
	seen := stroke.Bound()
	for i, l := range s.Lines {
		if l.Use != Contour || l.Out || !seen.Intersects(l.At.Bound()) {
			continue
		}
		for k := 1; k < len(stroke); k++ {
			p, q := stroke[k-1], stroke[k]
			for _, t := range crossed(p, q, l.At) {
				at := orb.Point{p[0] + t*(q[0]-p[0]), p[1] + t*(q[1]-p[1])}
				found = append(found, Crossing{i, at, (length[k-1] + t*(length[k]-length[k-1])) / total})
			}
		}
	}
	slices.SortStableFunc(found, func(a, b Crossing) int { return cmp.Compare(a.Along, b.Along) })
	return found
}

// lengths returns how far along a line each of its points lies, and the whole.
func lengths(line orb.LineString) (at []float64, total float64) {
	at = make([]float64, len(line))
	for i := 1; i < len(line); i++ {
		total += math.Hypot(line[i][0]-line[i-1][0], line[i][1]-line[i-1][1])
		at[i] = total
	}
	return at, total
}

// crossed returns where along p to q, from 0 to 1, a line crosses it. A point on the
// other's line counts as lying left of it, so that no crossing is counted twice.
func crossed(p, q orb.Point, line orb.LineString) (shares []float64) {
	box := orb.Bound{Min: p, Max: p}.Extend(q)
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		if max(a[0], b[0]) < box.Min[0] || min(a[0], b[0]) > box.Max[0] || max(a[1], b[1]) < box.Min[1] || min(a[1], b[1]) > box.Max[1] {
			continue
		}
		sideP, sideQ := side(a, b, p), side(a, b, q)
		if (side(p, q, a) >= 0) == (side(p, q, b) >= 0) || (sideP >= 0) == (sideQ >= 0) {
			continue
		}
		shares = append(shares, sideP/(sideP-sideQ))
	}
	return shares
}

// side is positive where p lies left of the way from a to b.
func side(a, b, p orb.Point) float64 {
	return (b[0]-a[0])*(p[1]-a[1]) - (b[1]-a[1])*(p[0]-a[0])
}

// A Count gives heights to the contours that a stroke crosses.
type Count struct {
	// First is the height of the first line [m]; NaN takes it from the first line
	// along the stroke whose height is known.
	First float64
	// Step is from each line to the next along the stroke [m], negative down the
	// slope; 0 takes it from two lines of known and different heights.
	Step float64
}

// A Level is the height that a count gives a line.
type Level struct {
	// Line is the place of the line in Survey.Lines.
	Line int
	Z    float64
	// Known is the height that the line had before; NaN where it had none.
	Known float64
}

// heightSlack is how far apart [m] two heights of a line may lie and be one.
const heightSlack = 1e-3

// Against reports whether the line had another height before.
func (l Level) Against() bool { return math.Abs(l.Known-l.Z) > heightSlack }

// CountAlong counts heights along a stroke: each line that it crosses for the first time
// is one step from the line before.
//
// The second line is always one step from the first. A later line that is crossed again
// keeps its height, and the count turns round there: a stroke that goes over a closed top and leaves it by the same line comes down again, so
// that the line after it is one step back. Where such a stroke goes on to another top
// across a saddle, whose first line has the height of the one that was left, it is counted
// a step too low; draw one stroke for each slope. Nothing tells a line that is missing.
func (s Survey) CountAlong(stroke orb.LineString, c Count) ([]Level, error) {
	steps := counted(s.Crossings(stroke))
	if len(steps) == 0 {
		return nil, fmt.Errorf("the stroke crosses no contour; draw it across some")
	}
	levels := make([]Level, len(steps))
	for i, at := range steps {
		levels[i] = Level{Line: at.line, Known: s.Lines[at.line].Level()}
	}
	step, err := stepOf(levels, steps, c.Step)
	if err != nil {
		return nil, err
	}
	first := c.First
	for i := 0; i < len(levels) && math.IsNaN(first); i++ {
		first = levels[i].Known - float64(steps[i].n)*step
	}
	if math.IsNaN(first) {
		return nil, fmt.Errorf("none of the %d contours along the stroke has a height; type that of the first", len(levels))
	}
	for i := range levels {
		levels[i].Z = first + float64(steps[i].n)*step
	}
	return levels, nil
}

// A paced line lies so many steps from the first line of a stroke.
type paced struct{ line, n int }

// counted returns the lines of some crossings in the order in which they are first
// crossed.
func counted(crossings []Crossing) (lines []paced) {
	at := map[int]int{} // steps by line
	n, way := -1, 1
	for _, c := range crossings {
		if again, ok := at[c.Line]; ok {
			// The way is crossed back: the ground beyond lies on the side from which the
			// line was first come to.
			switch {
			case len(lines) == 1: // the first line, in and out: the way is that to the second
			case again == n:
				way = -way
			default:
				way = cmp.Compare(again, n)
			}
			n = again
			continue
		}
		n += way
		at[c.Line] = n
		lines = append(lines, paced{c.Line, n})
	}
	return lines
}

// stepOf returns the step that is given, or that which two known heights tell.
func stepOf(levels []Level, at []paced, given float64) (float64, error) {
	if given != 0 {
		return given, nil
	}
	for i, a := range levels {
		for j, b := range levels[:i] {
			if n := at[i].n - at[j].n; n != 0 && math.Abs(a.Known-b.Known) > heightSlack {
				return (a.Known - b.Known) / float64(n), nil
			}
		}
	}
	return 0, fmt.Errorf("no two contours along the stroke have different heights; give the interval from each contour to the next")
}
