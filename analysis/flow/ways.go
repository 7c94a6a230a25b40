package flow

import "runnel/geo/grid"

// ways follow the water of a strip to where it ends: in a pit, in the rows next
// to the strip, or outside. They have their own copy of the directions, with one
// cell more on every side in which all water stays.
type ways struct {
	w, stride int
	dir       []grid.Dir
	step      [256]int32 // to the next cell of dir; 0 where water stays
	at        []int32    // cells that water has come to
	going     []int32    // positions in at of what has not come to its end
	seen      []int32    // of each cell, 1 + the cell where its water ends, where that is known
	trail     []int32

	// A place is where water can end: first outside, then the cells of the row above,
	// the strip's pits, and the cells of the row below. place holds the number of
	// the place at each cell where the water of the strip can come to stay.
	place []int32
	// code names each place: a pit by its number in the strip, Outside, or
	// beyond(cell) for a cell of the next row.
	code []int32
	pits int32 // the place of the strip's first pit

	border, forced []uint64
	saddles        []saddle
	edges          []edge
	order, spare   []uint64 // the positions of the edges below their sortable heights, the lowest first
}

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
	k.dir, k.place = resize(k.dir, (rows+2)*k.stride), resize(k.place, (rows+2)*k.stride)
	k.border, k.forced = resize(k.border, r.words), resize(k.forced, r.words)
	k.code = append(k.code[:0], Outside)
	r.addNextRow(k, 0, s.lo-1)
	k.pits = int32(len(k.code))
	for i, c := range s.pit {
		k.place[k.local(s, c)] = int32(len(k.code))
		k.code = append(k.code, int32(i))
	}
	r.addNextRow(k, rows+1, s.hi)
	for y := range rows {
		dir, place := k.dir[(y+1)*k.stride:][:k.stride], k.place[(y+1)*k.stride:][:k.stride]
		copy(dir[1:], g.Row(s.lo+y))
		dir[0], dir[k.w+1] = grid.Stay, grid.Stay
		place[0], place[k.w+1] = 0, 0
		if r.holed[s.lo+y] {
			for x, d := range g.Row(s.lo + y) {
				if d == grid.NoDir {
					place[x+1] = 0
				}
			}
		}
	}
	for _, c := range r.inlets(r.cells(s)) {
		k.place[k.local(s, c)] = 0
	}
}

// addNextRow adds the cells of row y, which lies next to the strip, as places: it
// is row at in k.
func (r *Router) addNextRow(k *ways, at, y int) {
	dir, place := k.dir[at*k.stride:][:k.stride], k.place[at*k.stride:][:k.stride]
	for x := range dir {
		dir[x], place[x] = grid.Stay, 0
	}
	if y < 0 || y >= r.flow.Fall.H {
		return
	}
	for x, d := range r.flow.Fall.Row(y) {
		if d != grid.NoDir {
			place[x+1] = int32(len(k.code))
			k.code = append(k.code, beyond(int32(y*k.w+x)))
		}
	}
}

// local returns the index in k of cell c of the strip.
func (k *ways) local(s *strip, c int32) int {
	y := int(c) / k.w
	return (y-s.lo+1)*k.stride + int(c) - y*k.w + 1
}

// longWay is how many rounds of four steps are walked cell by cell.
const longWay = 32

// walk moves every cell of at on to where its water ends. All walk four steps in
// turn, which keeps the processor busy with many that do not wait for each other.
// What has far to go then leaves word of the end in the cells that it has passed.
func (k *ways) walk() {
	dir, at := k.dir, k.at
	k.going = resize(k.going, len(k.at))
	for i := range k.going {
		k.going[i] = int32(i)
	}
	going := k.going
	for round := 0; round < longWay && len(going) > 0; round++ {
		left := 0
		for _, i := range going {
			c := at[i]
			c += k.step[dir[uint32(c)]]
			c += k.step[dir[uint32(c)]]
			c += k.step[dir[uint32(c)]]
			c += k.step[dir[uint32(c)]]
			at[i] = c
			going[left] = i
			more := k.step[dir[uint32(c)]]
			left += int(uint32(more|-more) >> 31)
		}
		going = going[:left]
	}
	if len(going) == 0 {
		return
	}
	k.seen = resize(k.seen, len(dir))
	clear(k.seen)
	for _, i := range going {
		k.at[i] = k.walkFar(k.at[i])
	}
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
