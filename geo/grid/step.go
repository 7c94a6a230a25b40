package grid

import "math"

// Dir is the way from a cell to one of its eight neighbours: 0 is north, then
// clockwise, so that 2 is east and 7 north-west. A direction times 45 is its
// compass bearing in degrees on a north-up grid.
type Dir uint8

// Stay marks a cell whose water goes no further over the ground: the lowest of
// a hollow that is not full, or one with an inlet that swallows it.
const Stay Dir = 8

// NoDir marks a cell with no direction, such as one of no data.
const NoDir Dir = 255

// StepX and StepY are the change of column and row from a cell to its
// neighbour in each direction.
var (
	StepX = [8]int{0, 1, 1, 1, 0, -1, -1, -1}
	StepY = [8]int{-1, -1, 0, 1, 1, 1, 0, -1}
)

// Back returns the opposite direction.
func (d Dir) Back() Dir { return (d + 4) & 7 }

// StepLengths returns the ground distance [m] to the neighbour in each direction.
func (f Frame) StepLengths() [8]float64 {
	diagonal := math.Hypot(f.DX, f.DY)
	return [8]float64{f.DY, diagonal, f.DX, diagonal, f.DY, diagonal, f.DX, diagonal}
}

// StepOffsets returns what to add to a cell's index to reach each neighbour.
func (f Frame) StepOffsets() [8]int {
	var offset [8]int
	for d := range offset {
		offset[d] = StepY[d]*f.W + StepX[d]
	}
	return offset
}
