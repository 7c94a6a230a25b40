package flow_test

import (
	"context"
	"math"
	"slices"
	"strings"

	"pgregory.net/rapid"

	"runnel/analysis/flow"
	"runnel/geo/grid"
)

// reconstruct fills a ground by morphological reconstruction by erosion, in the
// textbook form of Soille, Morphological Image Analysis (2nd ed., Springer 2003),
// chapter 6 on geodesic transformations, from memory: the marker is the ground at
// the border and the greatest value inside; it is eroded by the 3 by 3 square and
// held above the ground, again and again until nothing moves.
func reconstruct(ground grid.Ground) grid.Ground {
	highest := float32(math.Inf(-1))
	for _, z := range ground.V {
		if z > highest {
			highest = z
		}
	}
	marker := ground.Clone()
	for y := range ground.H {
		for x := range ground.W {
			if !grid.IsNoData(ground.At(x, y)) && !atBorder(ground, x, y) {
				marker.Set(x, y, highest)
			}
		}
	}
	for {
		eroded := marker.Clone()
		for y := range ground.H {
			for x := range ground.W {
				if z := ground.At(x, y); !grid.IsNoData(z) {
					eroded.Set(x, y, max(z, lowestAround(marker, x, y)))
				}
			}
		}
		if sameHeights(eroded, marker) {
			return marker
		}
		marker = eroded
	}
}

func atBorder(g grid.Ground, x, y int) bool {
	for d := range 8 {
		nx, ny := x+grid.StepX[d], y+grid.StepY[d]
		if !g.In(nx, ny) || grid.IsNoData(g.At(nx, ny)) {
			return true
		}
	}
	return false
}

func lowestAround(g grid.Ground, x, y int) float32 {
	lowest := g.At(x, y)
	for d := range 8 {
		if nx, ny := x+grid.StepX[d], y+grid.StepY[d]; g.In(nx, ny) && g.At(nx, ny) < lowest {
			lowest = g.At(nx, ny)
		}
	}
	return lowest
}

func sameHeights(a, b grid.Ground) bool {
	return slices.EqualFunc(a.V, b.V, func(p, q float32) bool { return p == q || p != p && q != q })
}

// solve returns a of (I - Pᵀ) a = w by Gaussian elimination with row pivoting:
// what drains through a cell is its own weight and what its donors hand on.
func solve(dir grid.Grid[grid.Dir], w []float64) []float64 {
	n := dir.Len()
	m := make([][]float64, n)
	for c := range m {
		m[c] = make([]float64, n+1)
		m[c][c], m[c][n] = 1, w[c]
	}
	for y := range dir.H {
		for x := range dir.W {
			d := dir.At(x, y)
			if d > 7 {
				continue
			}
			if nx, ny := x+grid.StepX[d], y+grid.StepY[d]; dir.In(nx, ny) {
				m[ny*dir.W+nx][y*dir.W+x] -= 1
			}
		}
	}
	for k := range n {
		pivot := k
		for r := k + 1; r < n; r++ {
			if math.Abs(m[r][k]) > math.Abs(m[pivot][k]) {
				pivot = r
			}
		}
		m[k], m[pivot] = m[pivot], m[k]
		for r := k + 1; r < n; r++ {
			factor := m[r][k] / m[k][k]
			for c := k; c <= n; c++ {
				m[r][c] -= factor * m[k][c]
			}
		}
	}
	a := make([]float64, n)
	for k := n - 1; k >= 0; k-- {
		a[k] = m[k][n]
		for c := k + 1; c < n; c++ {
			a[k] -= m[k][c] * a[c]
		}
		a[k] /= m[k][k]
	}
	return a
}

// grounds draws small grounds with few different heights, so that flats and
// hollows abound, with holes of no data and cells that need not be square. Heights
// are quarters of a metre, so sums with whole numbers are exact.
func grounds() *rapid.Generator[grid.Ground] {
	return rapid.Custom(func(t *rapid.T) grid.Ground {
		w, h := rapid.IntRange(1, 12).Draw(t, "w"), rapid.IntRange(1, 12).Draw(t, "h")
		size := rapid.SampledFrom([]float64{0.25, 0.5, 1, 2})
		g := grid.New[float32](grid.Frame{
			W: w, H: h, West: 500, North: 900, DX: size.Draw(t, "dx"), DY: size.Draw(t, "dy"),
		})
		heights := rapid.IntRange(0, rapid.SampledFrom([]int{0, 2, 6, 40}).Draw(t, "highest"))
		for c := range g.V {
			g.V[c] = float32(heights.Draw(t, "z")) / 4
		}
		for range rapid.IntRange(0, 3).Draw(t, "holes") {
			g.V[rapid.IntRange(1, len(g.V)).Draw(t, "hole")-1] = grid.NoData
		}
		if rapid.Bool().Draw(t, "walled") {
			wall(g, rapid.IntRange(0, w-1).Draw(t, "gap"))
		}
		g.V[rapid.IntRange(0, len(g.V)-1).Draw(t, "known")] = 1
		return g
	})
}

// wall raises the cells at the edge of g to 12 m, but for a gap in the last row.
func wall(g grid.Ground, gap int) {
	for c := range g.V {
		if x, y := c%g.W, c/g.W; x == 0 || y == 0 || x == g.W-1 || y == g.H-1 {
			g.V[c] = 12
		}
	}
	g.Set(gap, g.H-1, 0)
}

// routed is Route, whose errors end the test.
func routed(t rapid.TB, ground grid.Ground) *flow.Flow {
	t.Helper()
	f, err := flow.Route(context.Background(), ground, flow.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// route returns the filled surface of a ground and its directions.
func route(t rapid.TB, ground grid.Ground) (grid.Ground, grid.Grid[grid.Dir]) {
	t.Helper()
	f := routed(t, ground)
	return f.Filled, f.Dir
}

var compass = [8]string{"N", "NE", "E", "SE", "S", "SW", "W", "NW"}

// ways writes directions as compass points, one row a line; "." has none.
func ways(dir grid.Grid[grid.Dir]) string {
	var rows []string
	for y := range dir.H {
		var row []string
		for _, d := range dir.Row(y) {
			if d > 7 {
				row = append(row, ".")
				continue
			}
			row = append(row, compass[d])
		}
		rows = append(rows, strings.Join(row, " "))
	}
	return strings.Join(rows, "\n")
}
