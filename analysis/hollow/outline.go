package hollow

import (
	"github.com/paulmach/orb"

	"runnel/geo/grid"
)

// Outline follows the edges of the cells of a node. Outer rings run
// counter-clockwise and holes clockwise; parts that only meet at a corner are
// polygons of their own.
func (t *Tree) Outline(node int32) orb.MultiPolygon {
	return outline(t.ground.Frame, t.Cells(node))
}

// A heading is the way along a cell's side, the cell on the left: 0 north (along
// its east side), 1 east, 2 south, 3 west.
type heading uint8

// A tracer follows the edges of cells in a window of the grid that has one cell
// to spare on each side.
type tracer struct {
	frame   grid.Frame
	x, y    int // the grid's column and row of the window's first cell
	w       int // columns of the window
	part    []int32
	passed  []uint8  // a bit for each heading along a cell's sides that was followed
	along   [4]int32 // the change of index one cell on in each heading
	corners []int32  // of the ring in hand
}

// Parts are numbered from 1; other cells of the window are outside, or not yet in
// a part.
const (
	outside = 0
	waiting = -1
)

// outline returns the outline of cells, a polygon for each part that is joined by
// sides.
func outline(f grid.Frame, cells []int32) orb.MultiPolygon {
	t := newTracer(f, cells)
	var polygons orb.MultiPolygon
	for c, p := range t.part {
		if p == waiting {
			part := t.gather(int32(c), int32(len(polygons)+1))
			polygons = append(polygons, t.polygon(part))
		}
	}
	return polygons
}

func newTracer(f grid.Frame, cells []int32) *tracer {
	west, north, east, south := f.W, f.H, 0, 0
	for _, c := range cells {
		x, y := int(c)%f.W, int(c)/f.W
		west, east = min(west, x), max(east, x)
		north, south = min(north, y), max(south, y)
	}
	if len(cells) == 0 {
		return &tracer{}
	}
	t := &tracer{frame: f, x: west - 1, y: north - 1, w: east - west + 3}
	t.along = [4]int32{int32(-t.w), 1, int32(t.w), -1}
	t.part = make([]int32, t.w*(south-north+3))
	t.passed = make([]uint8, len(t.part))
	for _, c := range cells {
		t.part[(int(c)/f.W-t.y)*t.w+int(c)%f.W-t.x] = waiting
	}
	return t
}

// gather returns the cells that are joined to c by sides, and numbers them.
func (t *tracer) gather(c, number int32) []int32 {
	part := []int32{c}
	t.part[c] = number
	for i := 0; i < len(part); i++ {
		for _, step := range t.along {
			if n := part[i] + step; t.part[n] == waiting {
				t.part[n] = number
				part = append(part, n)
			}
		}
	}
	return part
}

// polygon returns the outline of one part: its outer ring, then its holes.
//
// As its cells are joined by sides, one ring alone runs counter-clockwise.
func (t *tracer) polygon(cells []int32) orb.Polygon {
	polygon := make(orb.Polygon, 1)
	for _, c := range cells {
		for h := range heading(4) {
			if t.part[c+t.along[(h+1)&3]] == t.part[c] || t.passed[c]>>h&1 == 1 {
				continue
			}
			ring := t.follow(c, h)
			if ring.Orientation() == orb.CCW {
				polygon[0] = ring
				continue
			}
			polygon = append(polygon, ring)
		}
	}
	return polygon
}

// follow walks once round the edge that begins along cell c in heading h, and
// returns the ring of its corners.
//
// Where two cells of a part touch only at a corner it crosses from one to the
// other. So no ring passes a corner twice: the two are joined by sides somewhere
// else, and the ground on either side of the corner belongs to different rings.
func (t *tracer) follow(c int32, h heading) orb.Ring {
	own := t.part[c]
	t.corners = t.corners[:0]
	for t.passed[c]>>h&1 == 0 {
		t.passed[c] |= 1 << h
		corner := t.corner(c, h)
		left := c + t.along[h]
		right := left + t.along[(h+1)&3]
		switch {
		case t.part[right] == own:
			c, h = right, (h+1)&3
		case t.part[left] == own:
			c = left
			continue // straight on: no corner
		default:
			h = (h + 3) & 3
		}
		t.corners = append(t.corners, corner)
	}
	return t.place(t.corners)
}

// corner returns the number of the corner where heading h along cell c ends.
// Corners are numbered as the window's cells are, in rows one longer.
func (t *tracer) corner(c int32, h heading) int32 {
	w := int32(t.w)
	x, y := c%w, c/w
	if h == 0 || h == 1 {
		x++
	}
	if h == 1 || h == 2 {
		y++
	}
	return y*(w+1) + x
}

// place returns the closed ring through the given corners.
func (t *tracer) place(corners []int32) orb.Ring {
	f, across := t.frame, t.w+1
	ring := make(orb.Ring, 0, len(corners)+1)
	for _, corner := range corners {
		x, y := t.x+int(corner)%across, t.y+int(corner)/across
		ring = append(ring, orb.Point{f.West + float64(x)*f.DX, f.North - float64(y)*f.DY})
	}
	return append(ring, ring[0])
}
