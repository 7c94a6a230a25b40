package flow

import (
	"context"
	"encoding/binary"
	"slices"

	"runnel/geo/grid"
)

// The words that cells are counted in hold in the upper four bits how many
// neighbours have still to hand on what drains through them, and in the others
// the count so far.
const (
	countBits = 28
	countMask = 1<<countBits - 1
	// closed holds a cell back for good: no cell has so many inflows.
	closed = 15 << countBits
)

// An inflow is what a band hands on to a cell of the next.
type inflow struct {
	cell int32
	sum  uint32
	from uint32 // how many cells it comes from
}

// bandRows is how many rows are counted at a time. What crosses from band to band
// is walked through memory that is far from the processor, so bands are tall.
const bandRows = 256

// A band is a strip's like for counting: rows [lo, hi), what is handed on to the
// bands above and below, in turns, and the cells whose water goes no further.
type band struct {
	lo, hi   int
	up, down [2][]inflow
	ends     []int32
}

// count counts the cells that drain through each: first in each strip by itself,
// as far as the water of other strips is not waited for; then what has crossed is
// carried on, from strip to strip, until no more crosses.
func (r *Router) count(ctx context.Context) error {
	carryOn := r.carryOn
	if r.wide {
		carryOn = r.carryOnWide
	}
	err := r.eachBand(ctx, func(s *band, d *desk) { r.countBand(s, &d.count) })
	for now := 0; err == nil && r.crossing(now); now = 1 - now {
		err = r.eachBand(ctx, func(s *band, _ *desk) {
			next := 1 - now
			s.up[next], s.down[next] = s.up[next][:0], s.down[next][:0]
			if i := s.lo / r.bands[0].hi; i > 0 {
				carryOn(s, r.bands[i-1].down[now], next)
			}
			if i := s.hi / r.bands[0].hi; s.hi < r.flow.Dir.H {
				carryOn(s, r.bands[i].up[now], next)
			}
		})
	}
	if err != nil || r.wide {
		return err
	}
	return r.eachBand(ctx, func(s *band, _ *desk) {
		for _, c := range s.ends {
			r.flow.Cells.V[c] &= countMask
		}
	})
}

// eachBand is each for bands.
func (r *Router) eachBand(ctx context.Context, f func(s *band, d *desk)) error {
	return each(ctx, r.bands, r.desks, func(s *band, d *desk) {
		f(s, d)
		r.space.Release()
	})
}

// crossing reports whether any strip hands on to the next in this round.
func (r *Router) crossing(now int) bool {
	return slices.ContainsFunc(r.bands, func(s band) bool { return len(s.up[now])+len(s.down[now]) > 0 })
}

// carryOn adds what comes from the next band, and follows the water down for as
// long as nothing else is waited for.
func (r *Router) carryOn(s *band, in []inflow, next int) {
	cells, dir := r.flow.Cells.V, r.flow.Dir.V
	from, to := s.lo*r.flow.Dir.W, s.hi*r.flow.Dir.W
	for _, in := range in {
		c := int(in.cell)
		cells[c] += in.sum - in.from<<countBits
		for cells[c]>>countBits == 0 {
			n := c + r.offset[dir[c]]
			switch {
			case n < from:
				s.up[next] = append(s.up[next], inflow{int32(n), cells[c], 1})
			case n >= to:
				s.down[next] = append(s.down[next], inflow{int32(n), cells[c], 1})
			default:
				cells[n] += cells[c] - 1<<countBits
				c = n
				continue
			}
			break
		}
	}
}

// A count counts one band. It has its own copy of the directions, with some
// cells more on every side, which are closed and take what leaves the band.
type count struct {
	stride int
	way    []byte     // the bit of each cell's direction; 0 where water stays
	step   [256]int32 // to the next cell, by way
	bit    [256]byte  // a direction's bit
	inflow []byte     // of one row
	word   []uint32
	going  []int32 // cells with nothing left to wait for
}

// margin is how many cells more than a band has stand on either side: eight
// cells are looked at together.
const margin = 8

// countBand counts what drains through each cell of a band from the band.
// Each cell whose inflows are all in hands on ([Zhou2019]), many in turn and not
// one after another, so that the processor need not wait for any.
func (r *Router) countBand(s *band, k *count) {
	r.readCount(s, k)
	for left := k.going; len(left) > 0; {
		// Few enough at a time that their cells stay near the processor.
		few := left[:min(len(left), 2048)]
		left = left[len(few):]
		k.handOn(few)
	}
	cells, w := r.flow.Cells.V, r.flow.Cells.W
	for y := s.lo; y < s.hi; y++ {
		if words := k.word[(y-s.lo+1)*k.stride+margin:][:w]; r.wide {
			r.widen(y*w, words)
		} else {
			copy(cells[y*w:], words)
		}
		if r.holed[y] {
			for x, d := range r.flow.Dir.Row(y) {
				if d == grid.NoDir {
					cells[y*w+x] = 0
				}
			}
		}
	}
	s.up[0] = r.takeOut(k.word[margin:][:w], s.lo-1, s.up[0][:0])
	s.down[0] = r.takeOut(k.word[(s.hi-s.lo+1)*k.stride+margin:][:w], s.hi, s.down[0][:0])
}

// takeOut lists what came to the row y next to a band.
func (r *Router) takeOut(row []uint32, y int, out []inflow) []inflow {
	for x, word := range row {
		if word != closed {
			out = append(out, inflow{int32(y*r.flow.Cells.W + x), word & countMask, closed>>countBits - word>>countBits})
		}
	}
	return out
}

// handOn hands on what drains through the given cells, and through those that
// then have nothing left to wait for, until there are none.
func (k *count) handOn(going []int32) {
	word, way := k.word, k.way
	for len(going) > 0 {
		left := 0
		for _, c := range going {
			n := c + k.step[way[c]]
			sum := word[n] + word[c]&countMask - 1<<countBits
			word[n] = sum
			going[left] = n
			left += int((sum>>countBits - 1) >> 31)
		}
		going = going[:left]
	}
}

// readCount copies the directions of a band, counts the inflows of each cell, and
// lists the cells that have none.
func (r *Router) readCount(s *band, k *count) {
	g := r.flow.Dir
	k.stride = (g.W+7)&^7 + 2*margin
	size := (s.hi - s.lo + 2) * k.stride
	k.way, k.word = resize(k.way, size), resize(k.word, size)
	k.going, k.inflow = resize(k.going, (s.hi-s.lo)*g.W+1), resize(k.inflow, k.stride)
	for d := range 8 {
		k.bit[d] = 1 << d
		k.step[1<<d] = int32(grid.StepY[d]*k.stride + grid.StepX[d])
	}
	clear(k.way[:k.stride])
	clear(k.way[size-k.stride:])
	for y := max(s.lo-1, 0); y < min(s.hi+1, g.H); y++ {
		row := k.way[(y-s.lo+1)*k.stride:][:k.stride]
		clear(row[:margin])
		clear(row[margin+g.W:])
		inside := row[margin:][:g.W]
		for x, d := range g.Row(y) {
			inside[x] = k.bit[d]
		}
	}
	r.findEnds(s, k)
	for i := range k.stride {
		k.word[i], k.word[size-1-i] = closed, closed
	}
	found := 0
	for at := k.stride; at < size-k.stride; at += k.stride {
		found = k.startRow(at, g.W, found)
	}
	k.going = k.going[:found]
}

// findEnds lists the cells whose water goes no further, off the ground or in an
// inlet, and closes them.
func (r *Router) findEnds(s *band, k *count) {
	g := r.flow.Dir
	s.ends = s.ends[:0]
	end := func(x, y int) {
		if _, ok := receiver(g, x, y); !ok && g.At(x, y) != grid.NoDir {
			s.ends = append(s.ends, int32(y*g.W+x))
			k.way[(y-s.lo+1)*k.stride+margin+x] = 0
		}
	}
	for y := s.lo; y < s.hi; y++ {
		if y == 0 || y == g.H-1 || r.holed[max(y-1, 0)] || r.holed[y] || r.holed[min(y+1, g.H-1)] {
			for x := range g.W {
				end(x, y)
			}
			continue
		}
		end(0, y)
		end(g.W-1, y)
	}
	for _, c := range r.inlets(s.lo*g.W, s.hi*g.W) {
		end(int(c)%g.W, int(c)/g.W)
	}
}

// startRow counts the inflows of the row that starts at at.
func (k *count) startRow(at, w, found int) int {
	k.countInflows(at)
	word, way, going := k.word[at:][:k.stride], k.way[at:][:k.stride], k.going
	for x, inflows := range k.inflow[:k.stride] {
		n, own := uint32(inflows), uint32(way[x])
		stays := (own - 1) >> 31
		word[x] = n<<countBits + 1 | -stays&closed
		going[found] = int32(at + x)
		found += int((n - 1) & -own >> 31)
	}
	for x := range margin {
		word[x] = closed
	}
	for x := margin + w; x < k.stride; x++ {
		word[x] = closed
	}
	return found
}

// countInflows counts the neighbours that drain into each cell of the row that
// starts at at, eight cells together.
func (k *count) countInflows(at int) {
	const ones = 0x0101010101010101
	eight := func(from int) uint64 { return binary.LittleEndian.Uint64(k.way[from:]) }
	clear(k.inflow[:margin])
	for x := margin; x < k.stride-margin; x += 8 {
		c := at + x
		up, down := c-k.stride, c+k.stride
		n := eight(up)>>4&ones + eight(up+1)>>5&ones + eight(c+1)>>6&ones + eight(down+1)>>7&ones +
			eight(down)&ones + eight(down-1)>>1&ones + eight(c-1)>>2&ones + eight(up-1)>>3&ones
		binary.LittleEndian.PutUint64(k.inflow[x:], n)
	}
	clear(k.inflow[k.stride-margin:])
}
