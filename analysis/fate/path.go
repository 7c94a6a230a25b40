package fate

import (
	"github.com/paulmach/orb"

	"runnel/analysis/flow"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// path returns the way of water from cell c to the station where it ends, through
// the middles of cells, and the culverts it passes through. It is down the ground
// as it lies, but that it leaves hollows on the way as if they were full. One that
// ends over the edge does where it would first run along it.
func (n *network) path(c, end int32) (line orb.LineString, through []plan.ID) {
	line = orb.LineString{n.centre(c)}
	for len(line) <= len(n.entry) {
		at := n.entry[c]
		dir := n.flow.Fall
		if at != end && at >= n.hollows {
			dir = n.flow.Dir
		}
		next, ok := flow.Next(dir, c)
		culvert := !ok && at >= n.links && at < n.hollows && at != end
		switch {
		case culvert:
			l := n.surface.Links[at-n.links]
			through, next = append(through, l.Feature), l.To
		case !ok:
			return n.offGround(line, c, dir.V[c]), through
		case n.all[end].end.Kind == Edge && n.atEdge(c) && n.atEdge(next):
			return n.offGround(line, c, n.outward(c)), through
		}
		c = next
		line = append(line, n.centre(c))
	}
	return line, through
}

// atEdge reports whether a cell lies at the edge of the ground.
func (n *network) atEdge(c int32) bool { return n.outward(c) != grid.Stay }

// outward returns the way off the ground from one of its outermost cells, and
// grid.Stay from any other.
func (n *network) outward(c int32) grid.Dir {
	f := n.flow.Dir.Frame
	switch x, y := int(c)%f.W, int(c)/f.W; {
	case y == 0:
		return 0
	case x == f.W-1:
		return 2
	case y == f.H-1:
		return 4
	case x == 0:
		return 6
	}
	return grid.Stay
}

// offGround takes a path on from the last cell to the edge, where it leaves.
func (n *network) offGround(line orb.LineString, c int32, d grid.Dir) orb.LineString {
	if d <= 7 {
		f, p := n.flow.Dir.Frame, n.centre(c)
		line = append(line, orb.Point{p[0] + float64(grid.StepX[d])*f.DX/2, p[1] - float64(grid.StepY[d])*f.DY/2})
	}
	return line
}
