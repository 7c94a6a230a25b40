// Package heap is a queue of cells that gives up the lowest first.
//
// Of cells at one height the one of smaller index leaves first, so the order
// does not hang on how the queue was filled.
package heap

import "runnel/analysis/internal/sortable"

// A Queue holds cells by height. The zero Queue is empty and ready.
//
// Height and index are packed in one word, which compares in one instruction:
// a pop then moves 8 bytes a level and nothing is boxed.
type Queue struct{ keys []uint64 }

// Len counts the cells in the queue.
func (q *Queue) Len() int { return len(q.keys) }

// Push adds a cell at height z, which must not be NaN.
func (q *Queue) Push(z float32, cell int32) {
	key := uint64(sortable.Key(z))<<32 | uint64(uint32(cell))
	q.keys = append(q.keys, key)
	keys := q.keys
	i := len(keys) - 1
	for i > 0 {
		up := (i - 1) / 4
		if keys[up] <= key {
			break
		}
		keys[i] = keys[up]
		i = up
	}
	keys[i] = key
}

// Pop takes the lowest cell out. The queue must not be empty.
func (q *Queue) Pop() (cell int32) {
	keys := q.keys
	top, last := keys[0], keys[len(keys)-1]
	keys = keys[:len(keys)-1]
	q.keys = keys
	if len(keys) == 0 {
		return int32(uint32(top))
	}
	i := 0
	for {
		child := 4*i + 1
		if child >= len(keys) {
			break
		}
		least := child
		for k := child + 1; k < min(child+4, len(keys)); k++ {
			if keys[k] < keys[least] {
				least = k
			}
		}
		if last <= keys[least] {
			break
		}
		keys[i] = keys[least]
		i = least
	}
	keys[i] = last
	return int32(uint32(top))
}
