package flow

import (
	"encoding/binary"

	"runnel/geo/grid"
)

// partCells is about how many cells are counted at a time: what is worked on stays
// near the processor.
const partCells = 1 << 18

// A count counts one part of a band. It has its own copy of the directions, and of
// those in the rows next to the part, one row right after the other: no water
// leaves the ground at a side, so none comes to the wrong row.
type count struct {
	way   []byte     // the bit of each cell's direction; 0 where water stays
	own   int        // where the part's first cell is in way
	step  [256]int32 // to the next cell, by way
	bit   [256]byte  // a direction's bit
	going []int32    // cells with nothing left to wait for
	cut   []int32    // cells whose water leaves the part, counted from its first
	north []inflow   // what they hand on to the rows above
}

// margin is how many cells more stand on either side of way: eight cells are
// looked at together.
const margin = 16

// The bits of the directions with a part to the north, east, south and west.
const (
	northBits = 1<<7 | 1<<0 | 1<<1
	eastBits  = 1<<1 | 1<<2 | 1<<3
	southBits = 1<<3 | 1<<4 | 1<<5
	westBits  = 1<<5 | 1<<6 | 1<<7
)

// countPart counts rows [lo, s.done), given what the parts above have handed down.
// Each cell whose inflows are all in hands on ([Zhou2019]), many in turn and not
// one after another, so that the processor need not wait for any.
func (r *Router) countPart(s *band, lo int, k *count) {
	first := lo * r.flow.Cells.W
	word := r.flow.Cells.V[first : s.done*r.flow.Cells.W]
	r.readCount(s, lo, k)
	left := k.start(word, r.flow.Cells.W)
	for _, in := range s.down[0] {
		i := in.cell - int32(first)
		if word[i] += in.sum - 1<<countBits; word[i]>>countBits == 0 {
			left = append(left, i)
		}
	}
	for len(left) > 0 {
		// Few enough at a time that their cells stay near the processor.
		few := left[:min(len(left), 2048)]
		left = left[len(few):]
		k.handOn(word, few)
	}
	r.takeOut(s, first, k)
	for y := lo; y < s.done; y++ {
		if !r.holed[y] {
			continue
		}
		cells := r.flow.Cells.Row(y)
		for x, d := range r.flow.Dir.Row(y) {
			if d == grid.NoDir {
				cells[x] = 0
			}
		}
	}
}

// takeOut lists what the cells of the part hand on to the rows next to it.
func (r *Router) takeOut(s *band, first int, k *count) {
	k.north, s.down[0] = k.north[:0], s.down[0][:0]
	for _, i := range k.cut {
		inflows := uint32(0)
		for d, off := range &r.offset {
			inflows += uint32(k.way[k.own+int(i)+off]>>((d+4)&7)) & 1
		}
		c := first + int(i)
		word := r.flow.Cells.V[c]
		come := closed - word>>countBits
		r.flow.Cells.V[c] = word&countMask | (inflows-come)<<countBits
		if come < inflows {
			continue
		}
		if n := c + r.offset[r.flow.Dir.V[c]]; n < first {
			k.north = append(k.north, inflow{int32(n), word & countMask})
		} else {
			s.down[0] = append(s.down[0], inflow{int32(n), word & countMask})
		}
	}
}

// handOn hands on what drains through the given cells, and through those that
// then have nothing left to wait for, until there are none.
func (k *count) handOn(word []uint32, going []int32) {
	way := k.way[k.own:][:len(word)]
	for len(going) > 0 {
		left := 0
		for _, c := range going {
			n := c + k.step[way[c]]
			sum := word[n] + word[c] - 1<<countBits
			word[n] = sum
			going[left] = n
			left += int((sum>>countBits - 1) >> 31)
		}
		going = going[:left]
	}
}

// readCount copies the directions of a part, without those that lead out of it.
func (r *Router) readCount(s *band, lo int, k *count) {
	g := r.flow.Dir
	rows := s.done - lo
	k.own = margin + g.W
	k.way = resize(k.way, (rows+2)*g.W+2*margin)
	clear(k.way[:k.own])
	clear(k.way[k.own+rows*g.W:])
	for d := range 8 {
		k.bit[d] = 1 << d
		k.step[1<<d] = int32(r.offset[d])
	}
	for y := max(lo-1, 0); y < min(s.done+1, g.H); y++ {
		row := k.way[k.own+(y-lo)*g.W:][:g.W]
		for x, d := range g.Row(y) {
			row[x] = k.bit[d]
		}
		row[0] &^= westBits
		row[g.W-1] &^= eastBits
	}
	r.findEnds(s, lo, k)
	k.cut = k.cut[:0]
	k.cutRow(0, g.W, northBits)
	k.cutRow((rows-1)*g.W, rows*g.W, southBits)
}

// cutRow has the water stay that leaves cells [from, to) of the part in one of the
// given directions.
func (k *count) cutRow(from, to int, out byte) {
	for i := from; i < to; i++ {
		if way := &k.way[k.own+i]; *way&out != 0 {
			*way = 0
			k.cut = append(k.cut, int32(i))
		}
	}
}

// findEnds lists the cells whose water goes no further, off the ground or in an
// inlet, and has it stay.
func (r *Router) findEnds(s *band, lo int, k *count) {
	g := r.flow.Dir
	end := func(x, y int) {
		if _, ok := receiver(g, x, y); !ok && g.At(x, y) != grid.NoDir {
			s.ends = append(s.ends, int32(y*g.W+x))
			k.way[k.own+(y-lo)*g.W+x] = 0
		}
	}
	for y := lo; y < s.done; y++ {
		row := g.Row(y)
		for x := 0; x < len(row); x++ {
			switch {
			case y == 0 || y == g.H-1 || x == 0 || x == g.W-1:
				end(x, y)
			case !r.holed[y-1] && !r.holed[y] && !r.holed[y+1]:
				x = g.W - 2 // to the last
			case row[x] < grid.Stay && g.V[y*g.W+x+r.offset[row[x]]] == grid.NoDir:
				end(x, y)
			}
		}
	}
	for _, c := range r.inlets(lo*g.W, s.done*g.W) {
		end(int(c)%g.W, int(c)/g.W)
	}
}

// start counts the neighbours that drain into each cell, and returns the cells that
// have none. A cell whose water stays waits for more than there are.
func (k *count) start(words []uint32, w int) []int32 {
	k.going = resize(k.going, len(words)+8)
	taken, found := k.startByVectors(words, w)
	return k.going[:k.startFrom(taken, found, words, w)]
}

// startFrom is start for the cells from the given one on, eight cells together. It
// lists those that have no inflow after the found ones, and returns how many are
// listed then.
func (k *count) startFrom(from, found int, words []uint32, w int) int {
	const ones, fifteens uint64 = 0x0101010101010101, 0x0f0f0f0f0f0f0f0f
	eight := func(b []byte) uint64 { return binary.LittleEndian.Uint64(b) }
	for i := from; i < len(words); i += 8 {
		c := k.own + i
		up, mid, down := k.way[c-w-1:][:10], k.way[c-1:][:10], k.way[c+w-1:][:10]
		n := eight(up[1:])>>4&ones + eight(up[2:])>>5&ones + eight(mid[2:])>>6&ones + eight(down[2:])>>7&ones +
			eight(down[1:])&ones + eight(down)>>1&ones + eight(mid)>>2&ones + eight(up)>>3&ones
		goes := eight(mid[1:])
		goes |= goes >> 4
		goes |= goes >> 2
		goes |= goes >> 1
		n |= (^goes & ones) * closed
		if left := len(words) - i; left < 8 {
			n |= fifteens << (8 * left)
			var tail [8]uint32
			found += startEight(&tail, (*[8]int32)(k.going[found:]), n, int32(i))
			copy(words[i:], tail[:])
			break
		}
		found += startEight((*[8]uint32)(words[i:]), (*[8]int32)(k.going[found:]), n, int32(i))
	}
	return found
}

// startEight makes the words of eight cells of their inflows, lists the cells that
// have none, and returns how many.
func startEight(word *[8]uint32, going *[8]int32, inflows uint64, first int32) (found int) {
	some := inflows + 0x0f0f0f0f0f0f0f0f // bit 4 of a byte is set where it has some
	none := ^some >> 4
	for x := range word {
		word[x] = uint32(inflows)<<countBits | 1
		going[found&7] = first + int32(x)
		found += int(none & 1)
		inflows >>= 8
		none >>= 8
	}
	return found
}
