package flow

import "golang.org/x/sys/cpu"

// places holds, for eight cells of which some are marked by the bits of a byte,
// where those are, one after another; after them anything.
var places = func() (places [256][8]uint8) {
	for marked := range places {
		n := 0
		for x := range uint8(8) {
			if marked>>x&1 != 0 {
				places[marked][n] = x
				n++
			}
		}
	}
	return places
}()

// starts are where startWords reads and where it lists: the ways of three rows of w
// cells, one right after the other, from above on, the neighbour to the northwest
// of the first cell; and the cells that have no inflow from going on, where there
// is room for eight more than there are words.
type starts struct {
	above  *byte
	w      int
	going  *int32
	places *[256][8]uint8
}

// startWords does the work of start, 32 cells at a time, with the instructions of
// AVX2: there are a whole number of times 32 words, but not none. It returns how
// many cells it has listed.
//
//go:noescape
func startWords(words []uint32, s *starts) (found int)

// startByVectors is start for as many of the first cells as can be taken on
// processors that have AVX2. It returns how many it took, and how many of them it
// found to have no inflow.
func (k *count) startByVectors(words []uint32, w int) (taken, found int) {
	taken = len(words) &^ 31
	if taken == 0 || !cpu.X86.HasAVX2 || !cpu.X86.HasPOPCNT {
		return 0, 0
	}
	s := starts{above: &k.way[k.own-w-1], w: w, going: &k.going[0], places: &places}
	return taken, startWords(words[:taken], &s)
}
