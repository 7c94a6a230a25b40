package flow

import (
	"math"
	"math/bits"

	"runnel/geo/grid"
)

// A key is a height over seaLevel in whole steps of 2⁻⁴⁴ m, times eight to leave
// room for a direction; none is less than 0. noHeight is that of a cell without a
// height, on the ground or off it.
const (
	keyScale = 1 << 44
	seaLevel = int64(1) << 61
	noHeight = int64(1) << 62
)

// keys are those of three rows of the ground, each with one cell off the ground
// before it and some after, up to a whole number of parts, and a bit for each cell of the middle row that has no lower
// neighbour.
type keys struct {
	up, mid, down []int64
	stuck         []uint64
}

// fallByKeys is fall for square cells and heights that are exact as keys: those
// up to 16 km that are not within half a micrometre of 0. It reports false where
// the strip has others.
func (r *Router) fallByKeys(s *strip, k *keys) bool {
	g := r.flow.Ground
	if g.DX != g.DY {
		return false
	}
	size := r.words*64 + 2
	k.up, k.mid, k.down = resize(k.up, size), resize(k.mid, size), resize(k.down, size)
	_, ok := r.readKeys(s.lo-1, k.up)
	holed, ok2 := r.readKeys(s.lo, k.mid)
	if !ok || !ok2 {
		return false
	}
	for y := s.lo; y < s.hi; y++ {
		r.holed[y] = holed
		if holed, ok = r.readKeys(y+1, k.down); !ok {
			s.pit, s.level = s.pit[:0], s.level[:0]
			return false
		}
		k.descend(r.flow.Fall.Row(y), r.perMetre[0], r.perMetre[1])
		k.compare(r.plane[y*r.words : (y+1)*r.words])
		if r.holed[y] {
			r.markMissing(y)
		}
		r.settle(s, y, k.stuck)
		k.up, k.mid, k.down = k.mid, k.down, k.up
	}
	return true
}

// readKeys writes the keys of row y. It reports whether the row has cells of no
// data, and whether all else is exact.
func (r *Router) readKeys(y int, key []int64) (holed, exact bool) {
	g := r.flow.Ground
	if y < 0 || y >= g.H {
		for x := range key {
			key[x] = noHeight
		}
		return false, true
	}
	key[0] = noHeight
	for x := g.W + 1; x < len(key); x++ {
		key[x] = noHeight
	}
	row := g.Row(y)
	key = key[1:][:len(row)]
	for x, z := range row {
		key[x] = int64(z*keyScale)<<3 + seaLevel
		// A height has 24 binary digits, so these are exact.
		const low, high = 0x35000000, 0x46800000 // 2⁻²¹ m and 2¹⁴ m as IEEE 754
		if math.Float32bits(z)&math.MaxInt32-low < high-low || z == 0 {
			continue
		}
		if !grid.IsNoData(z) {
			return holed, false
		}
		holed = true
		key[x] = noHeight
	}
	return holed, true
}

// descend writes the direction of each cell of the middle row and notes those that
// have no lower neighbour, given how steep a fall of 1 m is over a side and over a
// corner. A column's two neighbours above and below are compared
// once for the three cells that see them. A key with a direction in its last digit
// is the lower the smaller the direction: of equally steep ways the first is taken.
func (k *keys) descend(dir []grid.Dir, perSide, perCorner float64) {
	k.stuck = resize(k.stuck, (len(dir)+63)/64)
	for i := range k.stuck {
		// The cell in column x of the part has its own key at x+1.
		up, mid, down := (*part)(k.up[i*64:]), (*part)(k.mid[i*64:]), (*part)(k.down[i*64:])
		var found [64]grid.Dir
		falls := uint64(0)
		for x := range found {
			own := mid[x+1]
			side := min(up[x+1], mid[x+2]+2, down[x+1]+4, mid[x]+6)
			corner := min(up[x+2]+1, down[x+2]+3, down[x]+5, up[x]+7)
			falls = falls>>1 | uint64(min(side, corner)-own)&(1<<63)
			// As a whole number the difference has its sign. Less 1 where the corner
			// comes first it is below 0 for two that are equally steep, too. The outer
			// conversions keep the products from being fused into it.
			steeper := float64(float64(own-side&^7)*perSide) - float64(float64(own-corner&^7)*perCorner)
			if int64(math.Float64bits(steeper))+(corner&7-side&7)>>63 < 0 {
				side = corner
			}
			found[x] = grid.Dir(side & 7)
		}
		n := copy(dir[i*64:], found[:])
		k.stuck[i] = ^falls & (^uint64(0) >> (64 - n))
	}
}

// A part is the keys of 64 cells, with one more on either side.
type part [66]int64

// compare notes which neighbours of the middle row's cells are strictly lower.
func (k *keys) compare(plane []lower) {
	for i := range plane {
		mid, down := (*part)(k.mid[i*64:]), (*part)(k.down[i*64:])
		var l lower
		for x := 64; x > 0; x-- {
			// A borrow is carried into the word: two instructions a bit.
			own := uint64(mid[x])
			var less uint64
			_, less = bits.Sub64(uint64(mid[x+1]), own, 0)
			l.e, _ = bits.Add64(l.e, l.e, less)
			_, less = bits.Sub64(uint64(down[x+1]), own, 0)
			l.se, _ = bits.Add64(l.se, l.se, less)
			_, less = bits.Sub64(uint64(down[x]), own, 0)
			l.s, _ = bits.Add64(l.s, l.s, less)
			_, less = bits.Sub64(uint64(down[x-1]), own, 0)
			l.sw, _ = bits.Add64(l.sw, l.sw, less)
		}
		plane[i] = l
	}
}
