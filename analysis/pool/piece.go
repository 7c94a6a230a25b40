package pool

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
)

// A piece is no longer than longestPiece [m], and its line turns by no more than
// widestTurn in it.
const (
	longestPiece = 10.0
	widestTurn   = math.Pi / 4
)

// pieces covers footings with rectangles, each turned along its part of the line and as
// wide as the surface of the water in it asks.
func pieces(feet []footing) []Piece {
	var all []Piece
	from := 0
	for i := 1; i <= len(feet); i++ {
		if i < len(feet) && goesOn(feet[from:i+1]) {
			continue
		}
		if p, ok := pieceOf(feet[from:i]); ok {
			all = append(all, p...)
		}
		from = i
	}
	return all
}

// goesOn reports whether a piece goes on to the last of some footings.
func goesOn(feet []footing) bool {
	first, before, last := &feet[0], &feet[len(feet)-2], &feet[len(feet)-1]
	if first.ID != last.ID || first.Island != last.Island || planar.Distance(before.To, last.From) > 1 {
		return false
	}
	long := 0.0
	for i := range feet {
		long += planar.Distance(feet[i].From, feet[i].To)
	}
	turn := math.Remainder(first.bearing()-last.bearing(), 2*math.Pi)
	return long <= longestPiece && math.Abs(turn) <= widestTurn
}

// bearing returns the direction of a footing from the east [rad].
func (f *footing) bearing() float64 { return math.Atan2(f.To[1]-f.From[1], f.To[0]-f.From[0]) }

// pieceOf makes a rectangle of footings that go on one from another, or of one that is
// long several.
func pieceOf(feet []footing) ([]Piece, bool) {
	long, area := 0.0, 0.0
	for i := range feet {
		long, area = long+planar.Distance(feet[i].From, feet[i].To), area+feet[i].surface
	}
	from, to := feet[0].From, feet[len(feet)-1].To
	chord := planar.Distance(from, to)
	if chord == 0 || !(area > 0) {
		return nil, false
	}
	along := orb.Point{(to[0] - from[0]) / chord, (to[1] - from[1]) / chord}
	count := math.Ceil(long / longestPiece)
	var all []Piece
	for k := 0.0; k < count; k++ {
		t := (k + 0.5) / count
		middle := orb.Point{from[0] + t*(to[0]-from[0]), from[1] + t*(to[1]-from[1])}
		all = append(all, Piece{At: middle, Along: along, Half: long / count / 2, Width: area / long / 2})
	}
	return all, true
}
