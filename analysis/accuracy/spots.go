package accuracy

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"runnel/geo/survey"
)

// spots finds the faults of points, source by source.
func (k *check) spots() error {
	good, twice := k.once(k.known())
	bySource := make([][]int32, len(k.Sources)+1)
	for _, i := range good {
		at := k.source(k.Spots[i]) + 1
		bySource[at] = append(bySource[at], i)
	}
	var stray, wrong []finding
	usual := make([]float64, len(bySource))
	for at, part := range bySource {
		if len(part) < fewest {
			continue
		}
		f := k.field(part)
		far, err := f.strays(k)
		if err != nil {
			return err
		}
		bad, err := f.blunders(k)
		if err != nil {
			return err
		}
		stray, wrong, usual[at] = append(stray, far...), append(wrong, bad...), f.usual
	}
	k.addAll(stray, k.stray, "%d more points lie far from all others of their file; leave them out if they were taken by mistake.")
	k.twice(twice, usual)
	k.addAll(wrong, k.blunder, "%d more points lie far off the surface of their neighbours; look at them on the map, and leave them out if nothing stands there.")
	return k.ctx.Err()
}

// source returns the place of a point's source, -1 for none.
func (k *check) source(p survey.Spot) int {
	if s := int(p.Source); s < len(k.Sources) {
		return max(s, -1)
	}
	return -1
}

// fewest is the fewest points of a file that tell what is usual in it.
const fewest = 10

// says makes the sentence of a point: its row, the name of its file and what else
// the format names.
func (k *check) says(format string, p survey.Spot, more ...any) string {
	return fmt.Sprintf(format, append([]any{p.Row, k.name(int(p.Source))}, more...)...)
}

// none are heights that stand for no height in files.
var none = []float64{0, -9999, -999, -99, -99999, -32768, -32767, 9999, 99999, 32767}

// known returns the places of the points that are not left out and have a height, and
// adds the faults of the others.
func (k *check) known() []int32 {
	good := make([]int32, 0, len(k.Spots))
	var bad []finding
	for i, p := range k.Spots {
		switch {
		case p.Out:
		case !placed(p.At) || !finite(p.Z) || k.stands(p):
			bad = append(bad, finding{of: int32(i), leave: true})
		default:
			good = append(good, int32(i))
		}
	}
	k.addAll(bad, k.unknown, "%d more points have no height; leave them out.")
	return good
}

func (k *check) unknown(f finding) Fault {
	p := k.Spots[f.of]
	says := k.says("Row %d of %s has no height or no place; correct it in the file, or leave it out.", p)
	if placed(p.At) && finite(p.Z) {
		says = k.says("Row %d of %s has a height of %g m where all others lie near %.1f m, as if it had none; leave it out.",
			p, p.Z, k.ranges[p.Source].middle)
	}
	return Fault{Sort: NoHeight, At: p.At, Spots: []int{int(f.of)}, Leave: true, Says: says}
}

// stands reports whether a height stands for none: it is one that files write so and
// far from the others of its file.
func (k *check) stands(p survey.Spot) bool {
	for _, z := range none {
		if p.Z == z && int(p.Source) < len(k.ranges) && p.Source >= 0 {
			r := k.ranges[p.Source]
			wide := 2*(r.high-r.low) + 1
			return z < r.low-wide || z > r.high+wide
		}
	}
	return false
}

// once returns the points less those that lie where an earlier one does, and those
// with the earlier ones beside them.
func (k *check) once(points []int32) (good []int32, twice []finding) {
	first := newPlaces(len(points))
	near := func(at orb.Point) func(int32) bool {
		return func(of int32) bool { return together(k.Spots[of].At, at) }
	}
	good = points[:0]
	for _, i := range points {
		p := k.Spots[i]
		if j := first.find(p.At, near(p.At)); j >= 0 {
			twice = append(twice, finding{of: i, beside: j, off: math.Abs(p.Z - k.Spots[j].Z), leave: true})
			continue
		}
		first.add(p.At, i)
		good = append(good, i)
	}
	return good, twice
}

// twice adds the faults of points that lie where an earlier one does: alike they are
// harmless, otherwise one of the two is wrong. Points that usually lie as far off
// their neighbours are alike; usual is that of each source.
func (k *check) twice(found []finding, usual []float64) {
	var repeats []int
	apart := found[:0]
	for _, f := range found {
		p := k.Spots[f.of]
		if f.off > max(alike, far*usual[k.source(p)+1]) {
			apart = append(apart, f)
		} else {
			repeats = append(repeats, int(f.of))
		}
	}
	k.addAll(apart, k.doubled, "%d more points have a second height for the same place; see which is right.")
	if len(repeats) > 0 {
		says := "A point lies within 1 cm of an earlier one, at about the same height; it does no harm, and nothing need be done."
		if len(repeats) > 1 {
			says = fmt.Sprintf("%d points lie within 1 cm of an earlier one, at about the same height; they do no harm, and nothing need be done.", len(repeats))
		}
		k.add(Fault{Sort: Repeated, At: k.Spots[repeats[0]].At, Spots: repeats, Says: says})
	}
}

func (k *check) doubled(f finding) Fault {
	p, q := k.Spots[f.of], k.Spots[f.beside]
	says := "Row %d of %s gives %.2f m and row %d of %s %.2f m for the same place, %.2f m apart; see which is right and leave the other out."
	return Fault{Sort: Duplicate, At: p.At, Spots: []int{int(f.of)}, Off: f.off, Leave: f.leave,
		Says: k.says(says, p, p.Z, q.Row, k.name(int(q.Source)), q.Z, f.off)}
}
