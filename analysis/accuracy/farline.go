package accuracy

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// widened is how many times as wide as the box round most points of a file the one is
// that all of its lines lie in, and fewestFar how few points tell such a box.
const (
	widened   = 10
	fewestFar = 10
)

// far finds lines with a point that lies far off all others of their file. They are
// left out of what is looked at after, for one alone would stretch all distances.
func (k *check) far() error {
	boxes := make([]orb.Bound, len(k.Sources))
	for i := range boxes {
		boxes[i] = k.most(i)
	}
	var found []finding
	for i, l := range k.Lines {
		if l.Out || l.Source < 0 || l.Source >= len(boxes) {
			continue
		}
		if box := boxes[l.Source]; slices.ContainsFunc(l.At, func(p orb.Point) bool { return !box.Contains(p) }) {
			found = append(found, finding{of: int32(i), leave: true})
		}
	}
	k.addAll(found, func(f finding) Fault {
		fault := k.line(Astray, f, "Line %d of %s has a point far off the others of its file; see whether its coordinates are right, or leave it out.")
		fault.At = shown(k.Lines[f.of].At, boxes[k.Lines[f.of].Source])
		return fault
	}, "%d more lines have a point far off the others of their file; see whether their coordinates are right, or leave them out.")
	if len(found) > 0 {
		k.Lines = slices.Clone(k.Lines)
	}
	for _, f := range found {
		k.Lines[f.of].Out = true
	}
	return k.ctx.Err()
}

// shown returns where a line that runs out of a box is shown: in the box if it can be.
func shown(line orb.LineString, box orb.Bound) orb.Point {
	for _, fits := range []func(orb.Point) bool{box.Contains, placed} {
		if at := slices.IndexFunc(line, fits); at >= 0 {
			return line[at]
		}
	}
	return box.Center()
}

// most returns the box that all lines of a source may lie in: the one that a tenth of
// its points are beyond at each side, widened.
func (k *check) most(source int) orb.Bound {
	var x, y []float64
	all := 0
	for _, l := range k.Lines {
		if l.Source == source && !l.Out {
			all += len(l.At)
		}
	}
	step, seen := all/enough+1, 0 // some of them tell it as well
	for _, l := range k.Lines {
		if l.Source != source || l.Out {
			continue
		}
		for _, p := range l.At {
			if seen++; seen%step == 0 {
				x, y = append(x, p[0]), append(y, p[1])
			}
		}
	}
	n := len(x)
	if n < fewestFar {
		return orb.Bound{Min: orb.Point{math.Inf(-1), math.Inf(-1)}, Max: orb.Point{math.Inf(1), math.Inf(1)}}
	}
	slices.Sort(x)
	slices.Sort(y)
	b := orb.Bound{Min: orb.Point{x[n/10], y[n/10]}, Max: orb.Point{x[n-1-n/10], y[n-1-n/10]}}
	return b.Pad(max(width(b), 1) * (widened - 1) / 2)
}

// unlike finds the fault of two sources that lie beside each other, whose heights are
// further apart than both rise and would meet if one of them were in feet.
func (k *check) unlike(i, j int, files []file) bool {
	f, g := files[i].bound, files[j].bound
	high, low := k.ranges[i], k.ranges[j]
	if high.middle < low.middle {
		i, j, high, low = j, i, low, high
	}
	rise := high.high - high.low + low.high - low.low
	meet := math.Abs(high.middle/feet-low.middle) <= (high.high-high.low)/feet+low.high-low.low+alike
	if apart(f, g) > max(width(f), width(g)) || high.low-low.high <= rise || !meet {
		return false
	}
	k.off[i] = true
	k.add(Fault{Sort: OddUnit, At: files[i].bound.Center(), Sources: []int{i}, Off: high.middle - low.middle, Says: fmt.Sprintf(
		"The heights of %s look like feet beside those of %s, which look like metres; see in which unit each file has its heights.", k.name(i), k.name(j))})
	return true
}
