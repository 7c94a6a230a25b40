package flow

import (
	"math/bits"

	"runnel/geo/grid"
)

// ways follow the water of a strip to where it ends: in a pit, in the rows next
// to the strip, or outside. They have their own copy of the directions, with one
// cell more on every side in which all water stays.
type ways struct {
	w, stride int
	dir       []grid.Dir
	step      [256]int32 // to the next cell of dir; 0 where water stays
	at        []sides    // cells that water has come to
	going     []int32    // positions in at of what has not come to its end
	seen      []int32    // of each cell, 1 + the cell where its water ends, where that is known
	trail     []int32

	// A place is where water can end: first outside, then the cells of the row above,
	// the strip's pits, and the cells of the row below. mark has a bit for each cell
	// that is a place of its own, and rank the number of the first in each word, so
	// that placeOf looks them up close to the processor.
	mark []uint64
	rank []int32
	// code names each place: a pit by its number in the strip, Outside, or
	// beyond(cell) for a cell of the next row.
	code []int32
	pits int32 // the place of the strip's first pit

	border, forced []uint64
	saddles        []saddle
	edges          []edge
	order, spare   []uint64 // the positions of the edges below their sortable heights, the lowest first
}

// sides are two cells whose water is followed together: it is of no interest any
// more once it has met.
type sides struct{ own, other int32 }

// nowhere is the first cell of ways, whose water stays, outside.
const nowhere = 0

// beyond is the name of what the water ends in that has come to cell c of the
// next strip, and the other way about.
func beyond(c int32) int32 { return -2 - c }

// readWays copies the directions of a strip and numbers its places.
func (r *Router) readWays(s *strip, k *ways) {
	g := r.flow.Fall
	k.w, k.stride = g.W, g.W+2
	for d := range 8 {
		k.step[d] = int32(grid.StepY[d]*k.stride + grid.StepX[d])
	}
	rows := s.hi - s.lo
	k.dir = resize(k.dir, (rows+2)*k.stride)
	k.mark, k.rank = resize(k.mark, len(k.dir)/64+1), resize(k.rank, len(k.dir)/64+1)
	clear(k.mark)
	k.border, k.forced = resize(k.border, r.words), resize(k.forced, r.words)
	k.code = append(k.code[:0], Outside)
	r.addNextRow(k, 0, s.lo-1)
	k.pits = int32(len(k.code))
	for i, c := range s.pit {
		k.addPlace(k.local(s, c), int32(i))
	}
	r.addNextRow(k, rows+1, s.hi)
	for y := range rows {
		dir := k.dir[(y+1)*k.stride:][:k.stride]
		copy(dir[1:], g.Row(s.lo+y))
		dir[0], dir[k.w+1] = grid.Stay, grid.Stay
	}
	next := int32(1)
	for i, word := range k.mark {
		k.rank[i] = next
		next += int32(bits.OnesCount64(word))
	}
}

// addNextRow adds the cells of row y, which lies next to the strip, as places: it
// is row at in k.
func (r *Router) addNextRow(k *ways, at, y int) {
	dir := k.dir[at*k.stride:][:k.stride]
	for x := range dir {
		dir[x] = grid.Stay
	}
	if y < 0 || y >= r.flow.Fall.H {
		return
	}
	for x, d := range r.flow.Fall.Row(y) {
		if d != grid.NoDir {
			k.addPlace(at*k.stride+x+1, beyond(int32(y*k.w+x)))
		}
	}
}

// addPlace adds a place at index i, which is above those of the places before.
func (k *ways) addPlace(i int, code int32) {
	k.mark[i/64] |= 1 << (i % 64)
	k.code = append(k.code, code)
}

// placeOf returns the number of the place where water has come to stay at index i.
func (k *ways) placeOf(i int32) int32 {
	word, bit := k.mark[uint32(i)/64], uint64(1)<<(uint32(i)%64)
	place := k.rank[uint32(i)/64] + int32(bits.OnesCount64(word&(bit-1)))
	if word&bit == 0 {
		place = 0
	}
	return place
}

// local returns the index in k of cell c of the strip.
func (k *ways) local(s *strip, c int32) int {
	y := int(c) / k.w
	return (y-s.lo+1)*k.stride + int(c) - y*k.w + 1
}

// longWay is how many rounds of four steps are walked cell by cell.
const longWay = 32

// walk moves both sides of all of at on to where their water ends, or to where it
// meets. All walk four steps in turn, which keeps the processor busy with many
// that do not wait for each other. What has far to go then leaves word of the end
// in the cells that it has passed.
func (k *ways) walk() {
	k.going = resize(k.going, len(k.at))
	for i := range k.going {
		k.going[i] = int32(i)
	}
	going := k.going
	for round := 0; round < longWay && len(going) > 0; round++ {
		going = k.walkFour(going)
	}
	if len(going) == 0 {
		return
	}
	k.seen = resize(k.seen, len(k.dir))
	clear(k.seen)
	for _, i := range going {
		k.at[i] = sides{k.walkFar(k.at[i].own), k.walkFar(k.at[i].other)}
	}
}

// walkFour moves the given sides four steps on, and returns those that have yet
// to go.
func (k *ways) walkFour(going []int32) []int32 {
	dir, all := k.dir, k.at
	left := 0
	for _, i := range going {
		at := &all[i]
		a, b := uint32(at.own), uint32(at.other)
		a += uint32(k.step[dir[a]])
		b += uint32(k.step[dir[b]])
		a += uint32(k.step[dir[a]])
		b += uint32(k.step[dir[b]])
		a += uint32(k.step[dir[a]])
		b += uint32(k.step[dir[b]])
		a += uint32(k.step[dir[a]])
		b += uint32(k.step[dir[b]])
		at.own, at.other = int32(a), int32(b)
		going[left] = i
		more, apart := k.step[dir[a]]|k.step[dir[b]], int32(a-b)
		left += int(uint32((more|-more)&(apart|-apart)) >> 31)
	}
	return going[:left]
}

// walkFar returns where the water of cell c ends.
func (k *ways) walkFar(c int32) int32 {
	k.trail = k.trail[:0]
	for k.seen[c] == 0 {
		step := k.step[k.dir[c]]
		if step == 0 {
			k.seen[c] = c + 1
			break
		}
		k.trail = append(k.trail, c)
		c += step
	}
	end := k.seen[c]
	for _, t := range k.trail {
		k.seen[t] = end
	}
	return end - 1
}
