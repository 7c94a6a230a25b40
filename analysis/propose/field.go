package propose

import (
	"context"
	"math"
	"runtime"

	"github.com/paulmach/orb"
	"golang.org/x/sync/errgroup"
)

// A field holds a length at the nodes of a lattice [m], and is read between them.
type field struct {
	west, south, cell float64
	w, h              int
	v                 []float32
}

// A field has about so many nodes, no nearer than leastCell [m].
const (
	fieldNodes = 60_000
	leastCell  = 0.25
)

// newField lays a lattice over a rectangle, its nodes no nearer than least [m].
func newField(b orb.Bound, least float64) field {
	width, height := b.Max[0]-b.Min[0], b.Max[1]-b.Min[1]
	f := field{west: b.Min[0], south: b.Min[1], cell: max(least, math.Sqrt(width*height/fieldNodes))}
	f.w, f.h = int(width/f.cell)+2, int(height/f.cell)+2
	f.v = make([]float32, f.w*f.h)
	return f
}

func (f *field) node(i int) orb.Point {
	return orb.Point{f.west + float64(i%f.w)*f.cell, f.south + float64(i/f.w)*f.cell}
}

// nearest returns the node nearest to p.
func (f *field) nearest(p orb.Point) int {
	x := int(math.Round((p[0] - f.west) / f.cell))
	y := int(math.Round((p[1] - f.south) / f.cell))
	return max(0, min(f.h-1, y))*f.w + max(0, min(f.w-1, x))
}

// set works out every node, rows at a time on every processor.
func (f *field) set(ctx context.Context, at func(p orb.Point) float64) error {
	group, ctx := errgroup.WithContext(ctx)
	group.SetLimit(runtime.GOMAXPROCS(0))
	for y := range f.h {
		group.Go(func() error {
			for i := y * f.w; i < (y+1)*f.w && ctx.Err() == nil; i++ {
				f.v[i] = float32(at(f.node(i)))
			}
			return ctx.Err()
		})
	}
	return group.Wait()
}

// at reads the field at p; beyond its edges it falls by a metre for each metre.
func (f *field) at(p orb.Point) float64 {
	fx, fy := (p[0]-f.west)/f.cell, (p[1]-f.south)/f.cell
	cx, cy := max(0, min(float64(f.w-1), fx)), max(0, min(float64(f.h-1), fy))
	off := 0.0
	if cx != fx || cy != fy {
		off = (math.Abs(fx-cx) + math.Abs(fy-cy)) * f.cell
	}
	x, y := min(int(cx), f.w-2), min(int(cy), f.h-2)
	tx, ty := cx-float64(x), cy-float64(y)
	i := y*f.w + x
	south := float64(f.v[i]) + tx*float64(f.v[i+1]-f.v[i])
	i += f.w
	north := float64(f.v[i]) + tx*float64(f.v[i+1]-f.v[i])
	return south + ty*(north-south) - off
}
