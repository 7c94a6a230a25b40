package hollow

import (
	"cmp"
	"slices"
)

// A Threshold is the least that a hollow must have to be worth showing. The zero
// Threshold leaves out only what has no depth.
type Threshold struct {
	Depth  float64 // [m]
	Area   float64 // [m²]
	Volume float64 // [m³]
}

// Worth returns the hollows that reach a threshold and lie in no other that does,
// the one of biggest volume first. A pit that the survey's error makes in the
// floor of a pond is part of the pond, and one on a slope falls short.
//
// A hollow is nowhere deeper, wider or more than the one it lies in; so those that
// lie in no other are all there is to look at.
func (t *Tree) Worth(least Threshold) []int32 {
	var worth []int32
	for at, i := range t.Roots {
		if at%farPoll == 0 {
			t.space.Release()
		}
		if t.Nodes[i].reaches(least) {
			worth = append(worth, i)
		}
	}
	slices.SortFunc(worth, func(a, b int32) int {
		return cmp.Or(cmp.Compare(t.Nodes[b].Volume, t.Nodes[a].Volume), cmp.Compare(a, b))
	})
	return worth
}

// reaches reports whether a hollow holds water and has the least of all measures.
func (n *Node) reaches(least Threshold) bool {
	return n.Cells > 0 && n.Depth >= least.Depth && n.Area >= least.Area && n.Volume >= least.Volume
}
