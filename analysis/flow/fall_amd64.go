package flow

import (
	"math"

	"golang.org/x/sys/cpu"

	"runnel/geo/grid"
)

// offGround is no lower than any height that is finite.
const offGround float32 = math.MaxFloat32

// vectors are what descend reads and writes: the heights of three rows of the
// ground, each with one cell off the ground before it and some after, up to a
// whole number of parts of 64 cells; and of the middle row the directions, and a
// bit for each cell that has no lower neighbour. Off the ground is offGround.
type vectors struct {
	up, mid, down      []float32
	dir                []grid.Dir
	stuck              []uint64
	perSide, perCorner float64 // of the fall to a neighbour [1/m]
}

// descend finds the steepest way of each cell of the middle row, NoDir for none,
// and which neighbours are lower; eight cells at a time, with the instructions of
// AVX2. It reports whether all of the row is finite.
//
//go:noescape
func descend(v *vectors, plane []lower) (finite bool)

// fallByVectors is fall for square cells and finite heights on processors that
// have AVX2. It reports false for others.
func (r *Router) fallByVectors(s *strip, v *vectors) bool {
	g := r.flow.Ground
	if !cpu.X86.HasAVX2 || g.DX != g.DY {
		return false
	}
	v.fit(r.words)
	v.perSide, v.perCorner = r.perMetre[0], r.perMetre[1]
	readHeights(g, s.lo-1, v.up)
	readHeights(g, s.lo, v.mid)
	for y := s.lo; y < s.hi; y++ {
		readHeights(g, y+1, v.down)
		r.holed[y] = false
		if !descend(v, r.plane[y*r.words:(y+1)*r.words]) && !r.markMissing(y) {
			s.pit, s.level = s.pit[:0], s.level[:0]
			return false
		}
		copy(r.flow.Fall.Row(y), v.dir)
		v.stuck[r.words-1] &= ^uint64(0) >> (r.words*64 - g.W)
		r.settle(s, y, v.stuck)
		v.up, v.mid, v.down = v.mid, v.down, v.up
	}
	return true
}

// fit makes room for rows of the given number of parts.
func (v *vectors) fit(parts int) {
	for _, row := range []*[]float32{&v.up, &v.mid, &v.down} {
		*row = resize(*row, parts*64+2)
	}
	v.dir, v.stuck = resize(v.dir, parts*64), resize(v.stuck, parts)
}

// readHeights writes row y of the ground, which may lie off it, to row.
func readHeights(g grid.Ground, y int, row []float32) {
	n := 1
	if row[0] = offGround; y >= 0 && y < g.H {
		n += copy(row[1:], g.Row(y))
	}
	for x := n; x < len(row); x++ {
		row[x] = offGround
	}
}
