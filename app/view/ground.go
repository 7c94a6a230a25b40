package view

import (
	"context"
	"encoding/binary"
	"math"

	"github.com/paulmach/orb"

	"runnel/geo/grid"
)

// drawGround lays the relief, or bare paper where there is none, on the desk.
func (k *canvas) drawGround(ctx context.Context, s *Scene, x *index) error {
	k.clearTo(k.look.Desk)
	shade := s.Shade
	if s.Show.Has(Shade) && shade.Len() > 0 {
		g := k.closeUp(k.suited(x.shades))
		if err := steps(ctx, func(ctx context.Context) error { return k.relief(ctx, g) },
			func(ctx context.Context) error { return k.drawTint(ctx, s) },
			func(ctx context.Context) error { return k.drawUnderlays(ctx, s) }); err != nil || !x.unknown {
			return err
		}
		return k.hatchUnknown(ctx, g)
	}
	if b := s.Bound(); !b.IsZero() {
		k.fill([]orb.Ring{k.line(b.ToRing())}, k.look.Paper)
	}
	return steps(ctx, func(ctx context.Context) error { return k.drawTint(ctx, s) },
		func(ctx context.Context) error { return k.drawUnderlays(ctx, s) })
}

func (k *canvas) clearTo(c Colour) {
	v := pixel(c)
	for i := 0; i < len(k.dst.Pix); i += 4 {
		binary.LittleEndian.PutUint32(k.dst.Pix[i:], v)
	}
}

// suited returns the relief whose cells are nearest to the size of a pixel but
// not much smaller.
func (k *canvas) suited(shades []grid.Grid[uint8]) grid.Grid[uint8] {
	for _, g := range shades {
		if min(g.DX, g.DY)*k.camera.Scale > 0.7 {
			return g
		}
	}
	return shades[len(shades)-1]
}

// coarse is the size of a cell on the screen [px] from which the relief is
// rounded before it is drawn: blended between four cells only, it would show
// the grid.
const coarse = 5

// closeUp returns the part of a relief in view, several cells for one, rounded
// by a quadratic B-spline; the relief itself while its cells are small.
func (k *canvas) closeUp(g grid.Grid[uint8]) grid.Grid[uint8] {
	cell := max(g.DX, g.DY) * k.camera.Scale
	if cell < coarse {
		return g
	}
	n := int(min(8, math.Ceil(cell/3)))
	x0, x1, y0, y1 := cellsIn(g.Frame, k.camera.Bound(k.w, k.h))
	if x0 >= x1 || y0 >= y1 {
		return g
	}
	near := grid.New[uint8](grid.Frame{
		W: (x1 - x0) * n, H: (y1 - y0) * n, DX: g.DX / float64(n), DY: g.DY / float64(n),
		West: g.West + float64(x0)*g.DX, North: g.North - float64(y0)*g.DY,
	})
	weights := spline(n)
	for y := range near.H {
		row, cy := near.Row(y), y0+y/n
		rows := [3][]uint8{g.Row(max(cy-1, 0)), g.Row(cy), g.Row(min(cy+1, g.H-1))}
		for x := range row {
			row[x] = rounded9(rows, x0+x/n, weights[x%n], weights[y%n])
		}
	}
	return near
}

// spline returns the weights of a cell and its two neighbours at n places
// across the cell.
func spline(n int) [][3]int32 {
	weights := make([][3]int32, n)
	for i := range weights {
		t := (float64(i)+0.5)/float64(n) - 0.5
		a, c := (0.5-t)*(0.5-t)/2, (0.5+t)*(0.5+t)/2
		weights[i][0], weights[i][2] = int32(a*256+0.5), int32(c*256+0.5)
		weights[i][1] = 256 - weights[i][0] - weights[i][2]
	}
	return weights
}

// rounded9 weighs the nine cells round column x; the cell itself where one of
// them is not known.
func rounded9(rows [3][]uint8, x int, across, down [3]int32) uint8 {
	left, right := max(x-1, 0), min(x+1, len(rows[0])-1)
	var sum int32
	for i, row := range rows {
		a, b, c := int32(row[left]), int32(row[x]), int32(row[right])
		if a == 0 || b == 0 || c == 0 {
			return rows[1][x]
		}
		sum += down[i] * (across[0]*a + across[1]*b + across[2]*c)
	}
	return uint8((sum + 1<<15) >> 16)
}

// cellsIn returns the cells of a frame that a ground rectangle touches, and one
// more on each side.
func cellsIn(f grid.Frame, b orb.Bound) (x0, x1, y0, y1 int) {
	column := func(east float64) int { return int(max(0, min(float64(f.W), math.Floor((east-f.West)/f.DX)))) }
	line := func(north float64) int { return int(max(0, min(float64(f.H), math.Floor((f.North-north)/f.DY)))) }
	return max(column(b.Min[0])-1, 0), min(column(b.Max[0])+2, f.W), max(line(b.Max[1])-1, 0), min(line(b.Min[1])+2, f.H)
}

// A tap says between which two cells a pixel lies, and how far from the first
// to the second in 256ths. Outside the grid a is -1.
type tap struct {
	a, b int32
	t    int32
}

// taps returns the tap of each of n pixels along one axis: the middle of pixel
// i lies at cell position start + (i+0.5)·step, of size cells.
func taps(n, size int, start, step float64) []tap {
	all := make([]tap, n)
	for i := range all {
		at := start + (float64(i)+0.5)*step
		if !(at >= 0 && at <= float64(size)) {
			all[i].a = -1
			continue
		}
		at -= 0.5
		low := math.Floor(at)
		all[i] = tap{
			a: int32(max(low, 0)), b: int32(min(low+1, float64(size-1))),
			t: int32((at - low) * 256),
		}
	}
	return all
}

func (k *canvas) columns(f grid.Frame) []tap {
	return taps(k.w, f.W, (k.camera.West-f.West)/f.DX, 1/(k.camera.Scale*f.DX))
}

func (k *canvas) lines(f grid.Frame) []tap {
	return taps(k.h, f.H, (f.North-k.camera.North)/f.DY, 1/(k.camera.Scale*f.DY))
}

// relief draws a shade grid through the palette's table, each pixel bilinear
// between the four cells round it.
func (k *canvas) relief(ctx context.Context, g grid.Grid[uint8]) error {
	table, columns, lines := k.look.relief(), k.columns(g.Frame), k.lines(g.Frame)
	first, last := within(columns)
	top, bottom := within(lines)
	return rows(ctx, top, bottom, func(y int) {
		row := lines[y]
		pix := k.dst.Pix[y*k.dst.Stride+4*first : y*k.dst.Stride+4*last]
		shadeRow(pix, columns[first:last], [2][]uint8{g.Row(int(row.a)), g.Row(int(row.b))}, row.t, table)
	})
}

// within returns the pixels whose taps lie in the grid, from first up to before last.
func within(all []tap) (first, last int) {
	for first < len(all) && all[first].a < 0 {
		first++
	}
	last = first
	for last < len(all) && all[last].a >= 0 {
		last++
	}
	return first, last
}

// shadeRow blends in 256ths of 256ths of a shade, and drops to the quarter
// shades of the table at the end. Beside cells that are not known it takes the
// nearest cell, so that paper ends sharply.
func shadeRow(pix []uint8, columns []tap, rows [2][]uint8, down int32, table *[reliefSteps]uint32) {
	top, bottom := rows[0], rows[1]
	for x, c := range columns {
		p, q := int32(top[c.a]), int32(top[c.b])
		r, s := int32(bottom[c.a]), int32(bottom[c.b])
		var v int32
		if p == 0 || q == 0 || r == 0 || s == 0 {
			v = nearest([4]int32{p, q, r, s}, c.t, down) << 2
		} else {
			v = ((p<<8+(q-p)*c.t)*(256-down) + (r<<8+(s-r)*c.t)*down) >> 14
		}
		binary.LittleEndian.PutUint32(pix[4*x:], table[v])
	}
}

// hatchUnknown hatches the paper that relief leaves where ground is not known,
// so that it is not taken for level ground.
func (k *canvas) hatchUnknown(ctx context.Context, g grid.Grid[uint8]) error {
	return k.hatchCells(ctx, g, k.look.Unknown, func(v uint8) bool { return v == 0 })
}

// hatchCells hatches the cells of g whose value is meant.
func (k *canvas) hatchCells(ctx context.Context, g grid.Grid[uint8], with Hatch, meant func(uint8) bool) error {
	hatch := k.tile(with)
	if hatch.size == 0 {
		return nil
	}
	columns, lines := k.columns(g.Frame), k.lines(g.Frame)
	first, last := within(columns)
	top, bottom := within(lines)
	ox, oy := k.anchor(hatch.size)
	return rows(ctx, top, bottom, func(y int) {
		row, strokes := g.Row(int(lines[y].nearest())), hatch.cover[(y+oy)%hatch.size*hatch.size:][:hatch.size]
		pix := k.dst.Pix[y*k.dst.Stride:]
		for x := first; x < last; x++ {
			if meant(row[columns[x].nearest()]) {
				blend(pix[4*x:], with.Colour, uint32(strokes[(x+ox)%hatch.size]))
			}
		}
	})
}

func (t tap) nearest() int32 {
	if t.t >= 128 {
		return t.b
	}
	return t.a
}

func nearest(four [4]int32, right, down int32) int32 {
	i := 0
	if right >= 128 {
		i++
	}
	if down >= 128 {
		i += 2
	}
	return four[i]
}

// frameGround draws the edge of the surveyed ground.
func (k *canvas) frameGround(s *Scene) {
	if s.Ground.Len() == 0 {
		return
	}
	k.draw(k.line(s.Ground.Bound().ToRing()), Pen{Colour: faint(k.look.Muted, 0.6), Width: k.px})
}
