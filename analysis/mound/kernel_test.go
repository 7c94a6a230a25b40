package mound

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// winding makes fields of pieces in a row, somewhere in a square of a side.
func winding(r *rand.Rand, n, pieces int, side float64) [][]Rect {
	var fields [][]Rect
	for range n {
		at, turn := orb.Point{side * r.Float64(), side * r.Float64()}, 6*r.Float64()
		var field []Rect
		for range pieces {
			half := 2 + 3*r.Float64()
			turn += .3 * r.NormFloat64()
			e, n := math.Cos(turn), math.Sin(turn)
			field = append(field, Rect{orb.Point{at[0] + e*half, at[1] + n*half}, orb.Point{e, n}, half, .5 + r.Float64()})
			at = orb.Point{at[0] + 2*e*half, at[1] + 2*n*half}
		}
		fields = append(fields, field)
	}
	return fields
}

// anyAquifer is one between silt and gravel.
func anyAquifer(r *rand.Rand) plan.Aquifer {
	return plan.Aquifer{Conductivity: math.Exp(7.6*r.Float64() - 3), Yield: .02 + .28*r.Float64(), Thickness: math.Exp(3.4 * r.Float64())}
}

// slowly is the answer at lags by Hantush's function at many places of a field, of the table
// that is linear in its rise: (h² − hi²)/2hi.
func slowly(to, of []Rect, a plan.Aquifer, lags []float64) []float64 {
	table := Table{Aquifer: a, Fields: []Field{{of, []Pulse{{0, 1, 1 / areaOf(of)}}}}}
	mean := make([]float64, len(lags))
	long, wide := gauss(8), gauss(2)
	for _, r := range to {
		e, n := r.direction()
		for i, x := range long.x {
			for j, y := range wide.x {
				x, y := (2*x-1)*r.HalfLength, (2*y-1)*r.HalfWidth
				at := orb.Point{r.At[0] + e*x - n*y, r.At[1] + n*x + e*y}
				for k, lag := range lags {
					mean[k] += r.area() / areaOf(to) * long.w[i] * wide.w[j] * table.squares(at, lag+1, a.Thickness) / (2 * a.Thickness)
				}
			}
		}
	}
	return mean
}

func TestKernelAgainstHantush(t *testing.T) {
	r, worst, told := rand.New(rand.NewPCG(7, 1)), 0.0, 0.0
	lags := []float64{0, 1, 2, 4, 12, 50, 150, 399}
	for range 4 {
		a, fields := anyAquifer(r), winding(r, 3, 3, 40)
		fields = append(fields, []Rect{{At: orb.Point{20, 20}, HalfLength: .5, HalfWidth: .5}})
		m, misfit := KernelOf(fields, a, 400)
		told = max(told, misfit)
		own := make([]float64, len(fields))
		for i := range fields {
			own[i] = slowly(fields[i], fields[i], a, lags[:1])[0]
		}
		for i := range fields {
			for j := range fields {
				want := slowly(fields[i], fields[j], a, lags)
				peak, off := slight*min(own[i], own[j]), 0.0
				for k, lag := range lags {
					peak = max(peak, want[k])
					off = max(off, math.Abs(sumAt(m.Days, m.Rise[i][j], lag)-want[k]))
				}
				worst = max(worst, off/peak)
				if off > .05*peak {
					t.Errorf("%+v: the answer of field %d to %d is off by %.1f %% of its peak", a, i, j, 100*off/peak)
				}
			}
		}
	}
	t.Logf("off by %.1f %% of the peak at the most; told are %.1f %%", 100*worst, 100*told)
}

func TestKernelHoldsInManyGrounds(t *testing.T) {
	r, worst := rand.New(rand.NewPCG(1, 2)), 0.0
	for range 60 {
		a := anyAquifer(r)
		fields := winding(r, 4, 10, 60)
		m, misfit := KernelOf(fields, a, 400)
		worst = max(worst, misfit)
		for i := range m.Rise {
			own, last := sumAt(m.Days, m.Rise[i][i], 0), math.Inf(1)
			for lag := 0.0; lag < 4000; lag = max(lag+1, math.Floor(lag*1.2)) {
				v := sumAt(m.Days, m.Rise[i][i], lag)
				if v < 0 || v > last+.002*own {
					t.Errorf("%+v: field %d answers itself by %g m after %g days, by %g the day before", a, i, v, lag, last)
				}
				last = v
				for j := range m.Rise {
					if v := sumAt(m.Days, m.Rise[i][j], lag); v < -.003*own || v != sumAt(m.Days, m.Rise[j][i], lag) {
						t.Errorf("%+v: field %d answers %d by %g m after %g days", a, i, j, v, lag)
					}
				}
			}
		}
	}
	if worst > .05 {
		t.Errorf("the sums are off by %.1f %% of the peak", 100*worst)
	}
	t.Logf("off by %.1f %% of the peak at the most", 100*worst)
}

// What soaks in day by day for a year adds up to Hantush's rise of a year's recharge.
func TestKernelAddsUpToASteadyRecharge(t *testing.T) {
	a := plan.Aquifer{Conductivity: 3, Yield: .2, Thickness: 6}
	fields := winding(rand.New(rand.NewPCG(3, 3)), 2, 3, 30)
	m, _ := KernelOf(fields, a, 400)
	table := Table{Aquifer: a, Fields: []Field{{fields[1], []Pulse{{0, 365, 1 / areaOf(fields[1])}}}}}
	for i := range fields {
		sum, want := 0.0, 0.0
		for lag := range 365 {
			sum += sumAt(m.Days, m.Rise[i][1], float64(lag))
		}
		points := gauss(12)
		for _, r := range fields[i] {
			e, n := r.direction()
			for k, x := range points.x {
				x = (2*x - 1) * r.HalfLength
				at := orb.Point{r.At[0] + e*x, r.At[1] + n*x}
				want += r.area() / areaOf(fields[i]) * points.w[k] * table.squares(at, 365, a.Thickness) / (2 * a.Thickness)
			}
		}
		if math.Abs(sum-want) > .02*want {
			t.Errorf("one cubic metre a day of field 1 raises the table under field %d by %.4f m in a year, want %.4f", i, sum, want)
		}
	}
}

func TestKernelOfFieldsWithoutArea(t *testing.T) {
	a := plan.Aquifer{Conductivity: 3, Yield: .2, Thickness: 6}
	piece := Rect{Along: orb.Point{1, 0}, HalfLength: 5, HalfWidth: 1}
	line := piece
	line.HalfWidth = 0
	m, misfit := KernelOf([][]Rect{{piece}, {line}, nil}, a, 400)
	for i := range m.Rise {
		for j := range m.Rise {
			v := sumAt(m.Days, m.Rise[i][j], 0)
			if want := i == 0 && j == 0; (v > 0) != want || math.IsNaN(v) {
				t.Errorf("field %d answers %d by %g m", i, j, v)
			}
		}
	}
	if !(misfit < .05) {
		t.Errorf("the sums are off by %g", misfit)
	}
	if m, misfit := KernelOf(nil, a, 400); len(m.Rise) != 0 || misfit != 0 {
		t.Errorf("of no fields there is %v, off by %g", m, misfit)
	}
}

func BenchmarkKernelOf(b *testing.B) {
	for _, spots := range []int{0, 12} {
		r := rand.New(rand.NewPCG(1, 2))
		fields := winding(r, 4, 10, 60)
		for range spots {
			fields = append(fields, []Rect{{At: orb.Point{60 * r.Float64(), 60 * r.Float64()}, HalfLength: .5, HalfWidth: .5}})
		}
		b.Run(fmt.Sprintf("4 pools and %d places", spots), func(b *testing.B) {
			for b.Loop() {
				KernelOf(fields, plan.Aquifer{Conductivity: 5, Yield: .2, Thickness: 6}, 400)
			}
		})
	}
}
