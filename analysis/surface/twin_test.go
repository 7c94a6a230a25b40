package surface

import (
	"context"
	"math"
	"testing"

	"runnel/geo/grid"
	"runnel/geo/survey"

	"github.com/paulmach/orb"
)

// A term is one square of the energy: (Σ c·u[at] − z)².
type term struct {
	at []int
	c  []float64
	z  float64
}

func square(weight, z float64, at []int, c ...float64) term {
	t := term{at: at, z: z * math.Sqrt(weight)}
	for _, v := range c {
		t.c = append(t.c, v*math.Sqrt(weight))
	}
	return t
}

// terms writes out the energy of a problem that has no breaks and no bounds.
func terms(p *problem, k stiffness) (ts []term) {
	for at := range p.w * p.h {
		x, y := at%p.w, at/p.w
		if x > 0 && x < p.w-1 {
			ts = append(ts, square(k.bend/math.Pow(p.dx, 4), 0, []int{at - 1, at, at + 1}, 1, -2, 1))
		}
		if y > 0 && y < p.h-1 {
			ts = append(ts, square(k.bend/math.Pow(p.dy, 4), 0, []int{at - p.w, at, at + p.w}, 1, -2, 1))
		}
		if x < p.w-1 && y < p.h-1 {
			ts = append(ts, square(2*k.bend, 0, []int{at, at + 1, at + p.w, at + p.w + 1}, 1, -1, -1, 1))
		}
		if x < p.w-1 {
			ts = append(ts, square(k.stretch/math.Pow(p.dx, 2), 0, []int{at, at + 1}, 1, -1))
		}
		if y < p.h-1 {
			ts = append(ts, square(k.stretch/math.Pow(p.dy, 2), 0, []int{at, at + p.w}, 1, -1))
		}
	}
	for _, q := range p.pins {
		at, row := q.row(p.w, p.h)
		ts = append(ts, square(q.w*(k.bend+k.stretch), q.z, []int{at, at + 1, at + p.w, at + p.w + 1}, row[:]...))
	}
	return ts
}

// slow answers the same energy as the multigrid by plain conjugate gradients.
func slow(p *problem, tension float64) []float64 {
	ts, n := terms(p, p.stiffness(tension)), p.w*p.h
	x, r := make([]float64, n), make([]float64, n)
	for _, t := range ts {
		for i, a := range t.at {
			r[a] += t.c[i] * t.z
		}
	}
	d, rr := append([]float64(nil), r...), dot(r, r)
	for first := rr; rr > 1e-26*first; {
		ad := make([]float64, n)
		for _, t := range ts {
			s := 0.0
			for i, a := range t.at {
				s += t.c[i] * d[a]
			}
			for i, a := range t.at {
				ad[a] += t.c[i] * s
			}
		}
		alpha := rr / dot(d, ad)
		for i := range x {
			x[i] += alpha * d[i]
			r[i] -= alpha * ad[i]
		}
		now := dot(r, r)
		for i := range d {
			d[i] = r[i] + now/rr*d[i]
		}
		rr = now
	}
	return x
}

func dot(a, b []float64) float64 {
	s := 0.0
	for i := range a {
		s += a[i] * b[i]
	}
	return s
}

func TestTheSlowTwinAgrees(t *testing.T) {
	var s survey.Survey
	for i := range 60 {
		x, y := math.Mod(float64(i)*0.6180339887, 1)*40, math.Mod(float64(i)*0.7548776662, 1)*33
		s.Spots = append(s.Spots, survey.Spot{At: orb.Point{x, y}, Z: rolling(x, y)})
	}
	for _, f := range []grid.Frame{grid.Square(40, 33, 0, 33, 1), {W: 31, H: 35, West: 0, North: 33, DX: 1.3, DY: 0.95}} {
		for _, tension := range []float64{0, 0.5} {
			p, err := newProblem(context.Background(), s, f)
			if err != nil {
				t.Fatal(err)
			}
			got, want := p.solve(context.Background(), tension, func(float64) {}), slow(p, tension)
			for i := range got {
				if off := math.Abs(got[i]-want[i]) / p.relief(); off > 1e-6 {
					t.Fatalf("%v, tension %g: cell %d is %g of the relief off the slow answer", f, tension, i, off)
				}
			}
		}
	}
}
