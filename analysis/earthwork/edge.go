package earthwork

import (
	"context"
	"math"

	"runnel/geo/grid"
)

// edge adds the length of the water's edge: the line of no depth between the
// middles of cells, drawn square by square. Where the ground ends there is none.
func (f *flood) edge(ctx context.Context, w *Wet) error {
	x0, y0, x1, y1 := f.extent()
	for y := y0 - 1; y <= y1; y++ {
		if err := ctx.Err(); err != nil {
			return err
		}
		for x := x0 - 1; x <= x1; x++ {
			if f.ground.In(x, y) && f.ground.In(x+1, y+1) {
				w.WetBank += f.edgeIn(x, y)
			}
		}
	}
	return nil
}

func (f *flood) extent() (x0, y0, x1, y1 int) {
	x0, y0, x1, y1 = f.ground.W, f.ground.H, -1, -1
	for _, i := range f.touched {
		if f.owner[i] > 0 {
			x, y := int(i)%f.ground.W, int(i)/f.ground.W
			x0, y0, x1, y1 = min(x0, x), min(y0, y), max(x1, x), max(y1, y)
		}
	}
	return x0, y0, x1, y1
}

// edgeIn returns the length of the edge in the square whose north-west corner is
// the middle of cell (x, y) [m].
func (f *flood) edgeIn(x, y int) float64 {
	first := y*f.ground.W + x
	corner := [4]int{first, first + 1, first + f.ground.W + 1, first + f.ground.W}
	level, wet := math.NaN(), 0
	for _, i := range corner {
		if f.owner[i] > 0 {
			level = f.seeds[f.owner[i]-1].Level
			wet++
		}
	}
	if wet == 0 || wet == 4 {
		return 0
	}
	for _, i := range corner {
		if grid.IsNoData(f.ground.V[i]) {
			return 0
		}
	}
	var depth [4]float64
	for k, i := range corner {
		depth[k] = level - float64(f.ground.V[i])
		if f.owner[i] > 0 {
			depth[k] = f.depth(i)
		} else if depth[k] >= 0 {
			depth[k] = -1e-9 // low ground that the water does not reach
		}
	}
	return cut(depth, f.ground.DX, f.ground.DY)
}

// cut returns the length of the line of no depth across a square of dx by dy [m],
// with depths at its north-west, north-east, south-east and south-west corners.
// Where opposite corners are wet the water is parted.
func cut(depth [4]float64, dx, dy float64) float64 {
	x, y := [4]float64{0, 1, 1, 0}, [4]float64{0, 0, 1, 1}
	var px, py [4]float64
	n := 0
	for k := range depth {
		j := (k + 1) % 4
		if (depth[k] > 0) == (depth[j] > 0) {
			continue
		}
		t := depth[k] / (depth[k] - depth[j])
		px[n], py[n] = (x[k]+t*(x[j]-x[k]))*dx, (y[k]+t*(y[j]-y[k]))*dy
		n++
	}
	length := func(a, b int) float64 { return math.Hypot(px[a]-px[b], py[a]-py[b]) }
	switch {
	case n == 2:
		return length(0, 1)
	case n == 4 && depth[0] > 0:
		return length(3, 0) + length(1, 2)
	case n == 4:
		return length(0, 1) + length(2, 3)
	}
	return 0
}
