package view

import (
	"context"

	"runnel/geo/grid"
)

// A grade of how sure a water path is: the least share of the plausible grounds
// in which water runs there, and what that is called.
type grade struct {
	least float32
	words string
}

// grades run from the surest down; what is less sure than the last is left bare.
var grades = [...]grade{
	{0.9, "Water runs in nine tenths or more of the grounds"},
	{0.5, "Water runs in half or more of the grounds"},
	{0.1, "Water runs in a tenth or more of the grounds"},
}

// Grades lists what the grades are called, the surest first, in the order of the
// palette's colours.
func Grades() []string {
	var words []string
	for _, g := range grades {
		words = append(words, g.words)
	}
	return words
}

// gradeOf returns 0 for a share that is left bare, then more the surer it is.
func gradeOf(share float32) int {
	for i, g := range grades {
		if share >= g.least {
			return len(grades) - i
		}
	}
	return 0
}

// Sureness is how sure it is that water runs through each cell, prepared for
// drawing. It is not changed once made.
type Sureness struct {
	// Share is the share of the plausible grounds in which water runs there, 0 to 1;
	// NaN at no data.
	Share grid.Grid[float32]

	// graded holds the grades of the cells, then copies of a half, a quarter and so
	// on of the size.
	graded []grid.Grid[uint8]
}

// NewSureness prepares the shares of the cells. The outermost are left bare: what
// runs along the edge of the survey tells of the edge, not of the ground.
func NewSureness(share grid.Grid[float32]) *Sureness {
	g := grid.New[uint8](share.Frame)
	eachRow(max(g.H-2, 0), func(above int) {
		row, shares := g.Row(above+1), share.Row(above+1)
		for x := 1; x < g.W-1; x++ {
			row[x] = uint8(gradeOf(shares[x]))
		}
	})
	return &Sureness{Share: share, graded: halves(g, surest)}
}

// drawSure colours the cells by how sure water is to run there.
func (k *canvas) drawSure(ctx context.Context, s *Sureness) error {
	if s == nil {
		return nil
	}
	g := k.suited(s.graded)
	columns, lines := k.columns(g.Frame), k.lines(g.Frame)
	first, last := within(columns)
	top, bottom := within(lines)
	return rows(ctx, top, bottom, func(y int) {
		row, pix := g.Row(int(lines[y].nearest())), k.dst.Pix[y*k.dst.Stride:]
		for x := first; x < last; x++ {
			if at := row[columns[x].nearest()]; at > 0 {
				blend(pix[4*x:], k.look.Sure[len(grades)-int(at)], 255)
			}
		}
	})
}
