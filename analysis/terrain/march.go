package terrain

import (
	"cmp"
	"context"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/internal/band"
	"runnel/geo/grid"
)

// averaged returns the ground averaged with weights 1, 2, 1 along rows and then
// along columns. A cell that lacks a neighbour on one side keeps its height in
// that way, so a plane stays as it is.
func averaged(ctx context.Context, g grid.Ground) (grid.Ground, error) {
	along, out := grid.New[float32](g.Frame), grid.New[float32](g.Frame)
	err := band.Rows(ctx, g.H, func(lo, hi int) {
		for y := lo; y < hi; y++ {
			from, to := g.Row(y), along.Row(y)
			copy(to, from)
			for x := 1; x < g.W-1; x++ {
				to[x] = average(from[x-1], from[x], from[x+1])
			}
		}
	})
	if err != nil {
		return grid.Ground{}, err
	}
	err = band.Rows(ctx, g.H, func(lo, hi int) {
		for y := lo; y < hi; y++ {
			to := out.Row(y)
			copy(to, along.Row(y))
			if y == 0 || y == g.H-1 {
				continue
			}
			above, below := along.Row(y-1), along.Row(y+1)
			for x, z := range to {
				to[x] = average(above[x], z, below[x])
			}
		}
	})
	return out, err
}

func average(a, z, b float32) float32 {
	if mean := (float64(a) + 2*float64(z) + float64(b)) / 4; mean == mean {
		return float32(mean)
	}
	return z
}

// A side is a piece of a contour across one square, from one edge between two
// neighbouring centres to another, with the higher ground on its right. The edge
// from cell c east is 2c, that from c south 2c+1.
type side struct{ from, to int32 }

// A march takes contours across a ground square by square.
type march struct {
	ground   grid.Ground
	interval float64
	first    int      // the lowest level, in intervals
	sides    [][]side // for each level from first on
}

// height is the height that the lines of the level k intervals high run at [m].
func (m *march) height(k int) float64 { return (float64(k) - hair) * m.interval }

// squares finds the sides of every square whose four corners have heights.
func (m *march) squares(ctx context.Context) error {
	w := m.ground.W
	per := 1 / m.interval
	for y := range m.ground.H - 1 {
		if y%64 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		north, south := m.ground.Row(y), m.ground.Row(y+1)
		for x := range w - 1 {
			// Clockwise from the north-west.
			z := [4]float32{north[x], north[x+1], south[x+1], south[x]}
			low, high := min(z[0], z[1], z[2], z[3]), max(z[0], z[1], z[2], z[3])
			if low != low || low == high {
				continue
			}
			from := int(math.Ceil(float64(low)*per + hair))
			to := int(math.Floor(float64(high)*per + hair))
			for k := max(from, m.first); k <= min(to, m.first+len(m.sides)-1); k++ {
				m.cross(k, int32(y*w+x), z)
			}
		}
	}
	return nil
}

// cross adds the sides of level k across the square whose north-west corner is
// the centre of cell c and whose corners are z high, clockwise from there.
//
// Going round clockwise, a side begins where the ground falls below the level
// and ends where it rises above it again. Where it does so twice, the corners'
// mean tells whether the high corners are joined across the middle: the side
// then goes on to the next rise, about a low corner; otherwise back to the one
// before, about a high corner. As one mean serves all levels, and the higher the
// level the less it is above, lines of different levels cannot cross.
func (m *march) cross(k int, c int32, z [4]float32) {
	level := m.height(k)
	edges := [4]int32{2 * c, 2*(c+1) + 1, 2 * (c + int32(m.ground.W)), 2*c + 1}
	mean := (float64(z[0]) + float64(z[1]) + float64(z[2]) + float64(z[3])) / 4
	turn := 3 // a step counter-clockwise
	if mean >= level {
		turn = 1
	}
	for i := range 4 {
		if float64(z[i]) < level || float64(z[(i+1)&3]) >= level {
			continue
		}
		j := (i + turn) & 3
		for float64(z[j]) >= level || float64(z[(j+1)&3]) < level {
			j = (j + turn) & 3
		}
		m.sides[k-m.first] = append(m.sides[k-m.first], side{edges[i], edges[j]})
	}
}

// join puts the sides of level k together into lines as long as may be.
func (m *march) join(k int, sides []side) []orb.LineString {
	slices.SortFunc(sides, func(a, b side) int { return cmp.Compare(a.from, b.from) })
	next := make([]int32, len(sides))
	follows := make([]bool, len(sides))
	for i, s := range sides {
		n, ok := slices.BinarySearchFunc(sides, s.to, func(s side, edge int32) int { return cmp.Compare(s.from, edge) })
		if !ok {
			next[i] = -1
			continue
		}
		next[i], follows[n] = int32(n), true
	}
	var lines []orb.LineString
	drawn := make([]bool, len(sides))
	draw := func(i int32) {
		line := orb.LineString{m.point(k, sides[i].from)}
		for ; i >= 0 && !drawn[i]; i = next[i] {
			drawn[i] = true
			line = append(line, m.point(k, sides[i].to))
		}
		lines = append(lines, line)
	}
	for i := range sides {
		if !follows[i] {
			draw(int32(i))
		}
	}
	// What is left runs in rings.
	for i := range sides {
		if !drawn[i] {
			draw(int32(i))
		}
	}
	return lines
}

// point returns where level k cuts an edge between two centres.
func (m *march) point(k int, edge int32) orb.Point {
	g, c := m.ground, int(edge/2)
	p := g.Centre(c%g.W, c/g.W)
	a := float64(g.V[c])
	if edge%2 == 0 {
		p[0] += g.DX * (m.height(k) - a) / (float64(g.V[c+1]) - a)
	} else {
		p[1] -= g.DY * (m.height(k) - a) / (float64(g.V[c+g.W]) - a)
	}
	return p
}
