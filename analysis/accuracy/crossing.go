package accuracy

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/geo/survey"
)

// A crossing is where two lines cross, the first of them the earlier.
type crossing struct {
	lines [2]int32
	at    orb.Point
	off   float64
}

// mostCrossings is how many pairs of lines are looked for.
const mostCrossings = 10_000

// crossings finds lines that cross at different heights, each pair once.
func (k *check) crossings() error {
	found, err := k.crossed()
	if err != nil {
		return err
	}
	count := map[int32]int{}
	for _, c := range found {
		count[c.lines[0]]++
		count[c.lines[1]]++
	}
	var all []finding
	at := map[[2]int32]orb.Point{}
	for _, c := range found {
		f := k.worse(c, count)
		all = append(all, f)
		at[[2]int32{f.of, f.beside}] = c.at
	}
	k.addAll(all, func(f finding) Fault {
		i, other := [2]int32{f.of, f.beside}, k.Lines[f.beside]
		fault := k.line(Crossing, f, "Line %d of %s crosses line %d of %s, %.2f m apart in height; correct one of them in its file, or leave the first out.",
			other.Number, k.name(other.Source), f.off)
		fault.At = at[i]
		return k.beside(fault, f)
	}, "%d more pairs of lines cross at different heights; see which are right.")
	return nil
}

// worse says which of two crossing lines is to blame: the one that crosses more
// others, else the shorter, which then is not proposed to be left out.
func (k *check) worse(c crossing, count map[int32]int) finding {
	a, b := c.lines[0], c.lines[1]
	switch d := count[a] - count[b]; {
	case d > 0:
		return finding{of: a, beside: b, off: c.off, leave: true}
	case d < 0:
		return finding{of: b, beside: a, off: c.off, leave: true}
	case len(k.Lines[a].At) < len(k.Lines[b].At):
		return finding{of: a, beside: b, off: c.off}
	}
	return finding{of: b, beside: a, off: c.off}
}

// crossed looks for the crossings. A line whose height is out of step has that told
// of it, and what it crosses is not.
func (k *check) crossed() ([]crossing, error) {
	var found []crossing
	seen := map[[2]int32]bool{}
	t := newChains(k.Lines)
	err := t.meet(k.ctx, func(a, b chain) bool {
		pair := [2]int32{min(a.line, b.line), max(a.line, b.line)}
		if a.line == b.line || seen[pair] || k.odd[int(a.line)] || k.odd[int(b.line)] ||
			agree(k.Lines[a.line], k.Lines[b.line]) {
			return true
		}
		if c, ok := k.cross(a, b); ok {
			seen[pair] = true
			c.lines = pair
			found = append(found, c)
		}
		return len(found) < mostCrossings
	})
	return found, err
}

// agree reports whether two lines may cross: they are level and of one height.
func agree(a, b survey.Line) bool { return math.Abs(a.Level()-b.Level()) <= 1e-3 }

// cross returns the first place where two parts of lines cross at different heights.
func (k *check) cross(a, b chain) (crossing, bool) {
	l, m := k.Lines[a.line], k.Lines[b.line]
	least := 1e-3
	if !finite(l.Level()) || !finite(m.Level()) {
		least = max(2*alike, k.step/2)
	}
	for i := a.from; i < a.to; i++ {
		for j := b.from; j < b.to; j++ {
			t, u, ok := intersect(l.At[i], l.At[i+1], m.At[j], m.At[j+1])
			if !ok {
				continue
			}
			z, y := at(l.Height(int(i)), l.Height(int(i+1)), t), at(m.Height(int(j)), m.Height(int(j+1)), u)
			if off := math.Abs(z - y); off > least {
				p, q := l.At[i], l.At[i+1]
				return crossing{at: orb.Point{at(p[0], q[0], t), at(p[1], q[1], t)}, off: off}, true
			}
		}
	}
	return crossing{}, false
}

// at returns what lies a share of the way from a to b.
func at(a, b, share float64) float64 { return a + share*(b-a) }

// intersect returns the shares along a–b and c–d of where they meet.
func intersect(a, b, c, d orb.Point) (t, u float64, ok bool) {
	rx, ry, sx, sy := b[0]-a[0], b[1]-a[1], d[0]-c[0], d[1]-c[1]
	qx, qy := c[0]-a[0], c[1]-a[1]
	det := rx*sy - ry*sx
	if det != 0 {
		t, u = (qx*sy-qy*sx)/det, (qx*ry-qy*rx)/det
		return t, u, t >= 0 && t <= 1 && u >= 0 && u <= 1
	}
	long := rx*rx + ry*ry
	switch {
	case a == b && c == d:
		return 0, 0, a == c
	case a == b:
		u, t, ok = intersect(c, d, a, b)
		return t, u, ok
	case qx*ry-qy*rx != 0:
		return 0, 0, false
	}
	// On one line: where c–d begins to lie on a–b.
	from, to := (qx*rx+qy*ry)/long, ((qx+sx)*rx+(qy+sy)*ry)/long
	t = max(0, min(from, to))
	if t > min(1, max(from, to)) {
		return 0, 0, false
	}
	if to != from {
		u = (t - from) / (to - from)
	}
	return t, u, true
}
