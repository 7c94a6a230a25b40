package grid

import (
	"fmt"
	"strconv"
	"strings"
)

// Parse reads a ground from rows of numbers parted by spaces, north first, for
// tests and examples; "." is a cell of no data. Cells are 1 m, the south-west
// corner is at (0, 0). It panics on ragged rows and on what is not a number.
func Parse(rows ...string) Ground {
	var g Ground
	for _, row := range rows {
		cells := strings.Fields(row)
		if g.H > 0 && len(cells) != g.W {
			panic("grid: rows of different lengths")
		}
		g.W, g.H = len(cells), g.H+1
		for _, cell := range cells {
			if cell == "." {
				g.V = append(g.V, NoData)
				continue
			}
			v, err := strconv.ParseFloat(cell, 32)
			if err != nil {
				panic("grid: " + cell + " is not a number")
			}
			g.V = append(g.V, float32(v))
		}
	}
	g.Frame = Square(g.W, g.H, 0, float64(g.H), 1)
	return g
}

// Print writes a grid as Parse reads it, columns aligned.
func Print[T any](g Grid[T]) string {
	var b strings.Builder
	for y := range g.H {
		for x, v := range g.Row(y) {
			text := fmt.Sprint(v)
			if text == "NaN" {
				text = "."
			}
			if x > 0 {
				b.WriteByte(' ')
			}
			fmt.Fprintf(&b, "%4s", text)
		}
		b.WriteByte('\n')
	}
	return b.String()
}
