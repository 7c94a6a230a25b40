package heap

import (
	"cmp"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

type entry struct {
	z    float32
	cell int32
}

// Cells leave as a sort by height, then index, would put them, however pushes
// and pops are mixed.
func TestCellsLeaveLowestFirst(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var q Queue
		var held []entry
		heights := rapid.Float32Range(-3, 3)
		for i := range rapid.IntRange(1, 60).Draw(t, "steps") {
			if len(held) > 0 && rapid.Bool().Draw(t, "pop") {
				slices.SortFunc(held, func(a, b entry) int {
					return cmp.Or(cmp.Compare(a.z, b.z), cmp.Compare(a.cell, b.cell))
				})
				if got, want := q.Pop(), held[0].cell; got != want {
					t.Fatalf("popped cell %d, want %d of %v", got, want, held)
				}
				held = held[1:]
				continue
			}
			e := entry{rapid.OneOf(heights, rapid.Just(float32(1))).Draw(t, "z"), int32(i)}
			q.Push(e.z, e.cell)
			held = append(held, e)
		}
		if q.Len() != len(held) {
			t.Fatalf("the queue holds %d cells, want %d", q.Len(), len(held))
		}
	})
}
