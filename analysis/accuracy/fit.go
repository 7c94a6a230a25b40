package accuracy

import (
	"math"
	"slices"
)

// normal is 1/Φ⁻¹(3/4), by which the median absolute deviation of normal values makes
// their standard deviation.
const normal = 1.4826

// terms are those of a quadratic surface: the height at the place asked for, two
// slopes, three bends.
const terms = 6

// A quadric fits the heights around a place and tells the height there.
//
// The fit is robust: the places count by Tukey's biweight of how far they are off
// it [BeatonTukey1974], so that a few bad ones among them do not bend it. Slopes and
// bends are drawn to nought as far as the places do not tell them, and the further
// the place asked for lies from their middle, the less is its height told.
type quadric struct {
	hits  []hit
	shape [][terms]float64
	off   []float64
	sort  []float64
	count []float64
	used  int
	far   float64
	// z is the height at the place, spread the standard deviation of the places
	// about the fit, and lever that of z in spreads, squared.
	z, spread, lever float64
}

// steepest and bendiest are the standard deviations of slopes [m/m] and of bends, by
// which slopes change from a place to the next, that are reckoned with where the
// places do not tell them: ground at 1 in 2 is common.
const steepest, bendiest = 0.5, 0.25

// fit fits hits around x, y; least is the smallest spread that is reckoned with [m].
func (s *quadric) fit(x, y float64, hits []hit, least float64) {
	s.lay(x, y, hits)
	s.first(least)
	for range 6 {
		s.solve()
		s.spread = max(least, s.deviation())
		for i, off := range s.off {
			s.count[i] = biweight(off / s.spread)
		}
	}
	s.solve()
	s.spread = max(least, s.deviation())
}

// lay sets up the shape of each place, in units of how far the places lie.
func (s *quadric) lay(x, y float64, hits []hit) {
	n := len(hits)
	s.hits, s.used = hits, terms
	if n < 2*terms {
		s.used = 3
	}
	s.shape, s.off = slices.Grow(s.shape[:0], n)[:n], slices.Grow(s.off[:0], n)[:n]
	s.count, s.sort = slices.Grow(s.count[:0], n)[:n], slices.Grow(s.sort[:0], n)[:n]
	far := max(math.Sqrt(hits[n-1].square), tolerance)
	for i, h := range hits {
		u, v := (h.x-x)/far, (h.y-y)/far
		s.shape[i] = [terms]float64{1, u, v, u * u, u * v, v * v}
	}
	s.far = far
}

// first gives all places the count of one and guesses the spread from their heights.
func (s *quadric) first(least float64) {
	for i := range s.count {
		s.count[i], s.off[i] = 1, s.hits[i].z-s.hits[0].z
	}
	s.spread = max(least, s.deviation()/4)
}

// solve finds the surface by the places' counts: the normal equations, with what is
// reckoned of slopes and bends beforehand, by Cholesky's decomposition.
func (s *quadric) solve() {
	var a [terms][terms]float64
	var b [terms]float64
	base := s.hits[0].z
	for i, x := range s.shape {
		for r := range s.used {
			w := s.count[i] * x[r]
			b[r] += w * (s.hits[i].z - base)
			for c := range r + 1 {
				a[r][c] += w * x[c]
			}
		}
	}
	a[0][0] += 1e-9
	for r := 1; r < s.used; r++ {
		before := steepest
		if r > 2 {
			before = bendiest
		}
		a[r][r] += square(s.spread / (before * s.far))
	}
	decompose(&a, s.used)
	c := solved(&a, b, s.used)
	s.z, s.lever = base+c[0], solved(&a, [terms]float64{1}, s.used)[0]
	for i, x := range s.shape {
		s.off[i] = s.hits[i].z - base
		for r := range s.used {
			s.off[i] -= c[r] * x[r]
		}
	}
}

func square(v float64) float64 { return v * v }

// decompose makes of the lower half of a its Cholesky factor.
func decompose(a *[terms][terms]float64, n int) {
	for r := range n {
		for c := range r + 1 {
			sum := a[r][c]
			for k := range c {
				sum -= a[r][k] * a[c][k]
			}
			if r == c {
				a[r][r] = math.Sqrt(max(sum, 1e-12))
			} else {
				a[r][c] = sum / a[c][c]
			}
		}
	}
}

// solved returns the answer to a right side of a factor's matrix.
func solved(a *[terms][terms]float64, b [terms]float64, n int) [terms]float64 {
	for r := range n {
		for k := range r {
			b[r] -= a[r][k] * b[k]
		}
		b[r] /= a[r][r]
	}
	for r := n - 1; r >= 0; r-- {
		for k := r + 1; k < n; k++ {
			b[r] -= a[k][r] * b[k]
		}
		b[r] /= a[r][r]
	}
	return b
}

// deviation returns the robust standard deviation of what the places are off.
func (s *quadric) deviation() float64 {
	for i, off := range s.off {
		s.sort[i] = math.Abs(off)
	}
	slices.Sort(s.sort)
	n := len(s.sort)
	free := max(float64(n-s.used), 1)
	return normal * s.sort[n/2] * math.Sqrt(float64(n)/free)
}

// biweight is Tukey's, whose constant makes it 95 % as good as least squares where
// nothing is wrong.
func biweight(off float64) float64 {
	const wide = 4.685
	if t := off / wide; math.Abs(t) < 1 {
		return (1 - t*t) * (1 - t*t)
	}
	return 0
}
