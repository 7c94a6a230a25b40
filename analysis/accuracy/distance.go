package accuracy

import (
	"context"
	"math"

	"runnel/geo/grid"
)

// distances returns how far the middle of each cell lies from the middle of the
// nearest one that is set [m]; +Inf where none is. The distances down the columns
// come first, and then along each row the lowest of the parabolas that stand on
// them, as [FelzenszwalbHuttenlocher2012] find it.
func distances(ctx context.Context, f grid.Frame, set []bool) (grid.Grid[float32], error) {
	d := grid.New[float32](f)
	down(d, set)
	err := shared(ctx, f.H, func(low, high int) {
		e := envelope{at: make([]int32, f.W), from: make([]float64, f.W), down: make([]float64, f.W)}
		for y := low; y < high; y++ {
			e.row(d.Row(y), f.DX)
		}
	})
	return d, err
}

// down writes the distances along the columns.
func down(d grid.Grid[float32], set []bool) {
	dy := float32(d.DY)
	for y := range d.H {
		row, on := d.Row(y), set[y*d.W:(y+1)*d.W]
		for x := range row {
			switch {
			case on[x]:
				row[x] = 0
			case y == 0:
				row[x] = float32(math.Inf(1))
			default:
				row[x] = d.V[(y-1)*d.W+x] + dy
			}
		}
	}
	for y := d.H - 2; y >= 0; y-- {
		row, next := d.Row(y), d.Row(y+1)
		for x, v := range next {
			row[x] = min(row[x], v+dy)
		}
	}
}

// An envelope is the lowest of parabolas: the columns that they stand in, from where
// along the row each is the lowest, and how high they stand, all in columns.
type envelope struct {
	at         []int32
	from, down []float64
}

// row replaces the distances down the columns of a row by those to the nearest.
func (e *envelope) row(row []float32, dx float64) {
	n := 0
	for x, v := range row {
		if math.IsInf(float64(v), 1) {
			continue
		}
		high := square(float64(v) / dx)
		from := math.Inf(-1)
		for n > 0 {
			p := float64(e.at[n-1])
			// Where the parabola at p rises above that at x.
			from = (high - e.down[n-1] + square(float64(x)) - p*p) / (2 * (float64(x) - p))
			if from > e.from[n-1] {
				break
			}
			n--
			from = math.Inf(-1)
		}
		e.at[n], e.from[n], e.down[n] = int32(x), from, high
		n++
	}
	if n == 0 {
		return
	}
	i := 0
	for x := range row {
		for i+1 < n && e.from[i+1] <= float64(x) {
			i++
		}
		row[x] = float32(dx * math.Sqrt(e.down[i]+square(float64(x)-float64(e.at[i]))))
	}
}
