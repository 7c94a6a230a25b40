package accuracy

import (
	"math"

	"github.com/paulmach/orb"
)

// repeated finds lines that follow the same course as an earlier one: of the same
// height they add nothing, of another one of the two is wrong.
func (k *check) repeated() {
	first := newPlaces(len(k.Lines))
	var twice, against []finding
	for i, l := range k.Lines {
		if !tells(l) || len(l.At) < 2 {
			continue
		}
		at := l.At.Bound().Center()
		if !placed(at) {
			continue
		}
		j := first.find(at, func(of int32) bool { return k.Lines[of].Use == l.Use && sameCourse(k.Lines[of].At, l.At) })
		if j < 0 {
			first.add(at, int32(i))
			continue
		}
		f := finding{of: int32(i), beside: j, off: math.Abs(l.Height(0) - k.Lines[j].Height(0))}
		if finite(l.Level()) && finite(k.Lines[j].Level()) && f.off > alike {
			against = append(against, f)
		} else {
			f.off, f.leave = 0, true
			twice = append(twice, f)
		}
	}
	k.addAll(twice, func(f finding) Fault {
		other := k.Lines[f.beside]
		return k.beside(k.line(Repeated, f, "Line %d of %s is line %d of %s once more; leave it out, the ground stays the same.", other.Number, k.name(other.Source)), f)
	}, "%d more lines are there twice; leave them out, the ground stays the same.")
	k.addAll(against, func(f finding) Fault {
		other := k.Lines[f.beside]
		return k.beside(k.line(Duplicate, f, "Line %d of %s, at %.2f m, follows the same course as line %d of %s at %.2f m; see which height is right and leave the other out.",
			k.Lines[f.of].Level(), other.Number, k.name(other.Source), other.Level()), f)
	}, "%d more lines follow the same course as another at a different height; see which is right.")
}

func (k *check) beside(fault Fault, f finding) Fault {
	fault.Beside = []int{int(f.beside)}
	return fault
}

// sameCourse reports whether two lines have the same points, forward or backward,
// and closed ones from any point.
func sameCourse(a, b orb.LineString) bool {
	if len(a) != len(b) {
		return false
	}
	n := len(a)
	if follows(a, func(i int) orb.Point { return b[i] }) || follows(a, func(i int) orb.Point { return b[n-1-i] }) {
		return true
	}
	if !together(a[0], a[n-1]) || !together(b[0], b[n-1]) {
		return false
	}
	round := n - 1
	for j, p := range b[:round] {
		if together(a[0], p) && (follows(a, func(i int) orb.Point { return b[(j+i)%round] }) ||
			follows(a, func(i int) orb.Point { return b[(j+round*2-i)%round] })) {
			return true
		}
	}
	return false
}

func follows(a orb.LineString, b func(i int) orb.Point) bool {
	for i, p := range a {
		if !together(p, b(i)) {
			return false
		}
	}
	return true
}
