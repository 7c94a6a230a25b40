package grid

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// A Grid is a raster of values on a Frame. The zero Grid is empty.
type Grid[T any] struct {
	Frame
	// V holds the rows one after another, north first: cell (x, y) is V[y*W+x].
	V []T
}

// Ground is a surface of heights [m]; NaN marks a cell of no data.
type Ground = Grid[float32]

// New returns a grid of zero values on f.
func New[T any](f Frame) Grid[T] { return Grid[T]{Frame: f, V: make([]T, f.Len())} }

// At returns the value of cell (x, y). Inner loops use Row instead.
func (g Grid[T]) At(x, y int) T { return g.V[y*g.W+x] }

// Set puts v into cell (x, y).
func (g Grid[T]) Set(x, y int, v T) { g.V[y*g.W+x] = v }

// Row returns row y, sharing the grid's memory.
func (g Grid[T]) Row(y int) []T { return g.V[y*g.W : (y+1)*g.W : (y+1)*g.W] }

// Clone returns a copy that shares nothing with g.
func (g Grid[T]) Clone() Grid[T] { return Grid[T]{Frame: g.Frame, V: slices.Clone(g.V)} }

// NoData is the value of a cell whose height is not known.
var NoData = float32(math.NaN())

// IsNoData reports whether v is NoData.
func IsNoData(v float32) bool { return v != v }

// Sample returns the height at p, bilinear between the four nearest cell
// centres; in the outer half cell and beside cells of no data, the height of
// the cell that holds p. It is NaN outside the grid and in cells of no data.
func Sample(g Ground, p orb.Point) float64 {
	x, y, ok := g.Cell(p)
	if !ok {
		return math.NaN()
	}
	own := float64(g.At(x, y))
	fx, fy := (p[0]-g.West)/g.DX-0.5, (g.North-p[1])/g.DY-0.5
	x0, y0 := int(math.Floor(fx)), int(math.Floor(fy))
	if !g.In(x0, y0) || !g.In(x0+1, y0+1) {
		return own
	}
	tx, ty := fx-float64(x0), fy-float64(y0)
	top := float64(g.At(x0, y0))*(1-tx) + float64(g.At(x0+1, y0))*tx
	bottom := float64(g.At(x0, y0+1))*(1-tx) + float64(g.At(x0+1, y0+1))*tx
	if z := top*(1-ty) + bottom*ty; !math.IsNaN(z) {
		return z
	}
	return own
}

// Extent returns the lowest and highest heights, and how many cells have one.
// With no such cell low and high are NaN.
func Extent(g Ground) (low, high float64, known int) {
	low, high = math.NaN(), math.NaN()
	for _, v := range g.V {
		if IsNoData(v) {
			continue
		}
		z := float64(v)
		if known == 0 || z < low {
			low = z
		}
		if known == 0 || z > high {
			high = z
		}
		known++
	}
	return low, high, known
}
