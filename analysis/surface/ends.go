package surface

import (
	"cmp"
	"math"
	"slices"
)

// A fence says which links east and south of each cell may not be walked.
type fence struct{ east, south []bool }

func newFence(cells int) fence { return fence{make([]bool, cells), make([]bool, cells)} }

func (f fence) set(at int, down bool) { f.side(down)[at] = true }

func (f fence) has(at int, down bool) bool { return f.side(down)[at] }

func (f fence) side(down bool) []bool {
	if down {
		return f.south
	}
	return f.east
}

// fenced returns the fence of the contours, drawn on where they end inside the grid: a
// contour that ends at the survey's edge, or at a gap, still parts the ground beyond,
// and without that all regions round it would be one.
func (p *problem) fenced(links []crossed) fence {
	drawn, whole := newFence(p.w*p.h), newFence(p.w*p.h)
	for _, l := range links {
		drawn.set(int(l.at), l.down)
		whole.set(int(l.at), l.down)
	}
	for _, c := range p.contours {
		n := len(c.at)
		if n < 2 || shuts(c.at[0], c.at[n-1]) {
			continue
		}
		p.goOn(c.at, drawn, whole)
		back := slices.Clone(c.at)
		slices.Reverse(back)
		p.goOn(back, drawn, whole)
	}
	return whole
}

const (
	// aim is how far back from its end a contour's direction is taken, and own how far
	// ahead a link that is crossed may still be its own crossing [cells].
	aim, own = 3, 1.5
)

// goOn draws a contour on from its last point, straight ahead to the border of the grid
// or the first contour in the way.
func (p *problem) goOn(at []spot, drawn, whole fence) {
	end := at[len(at)-1]
	from := end
	for i := len(at) - 2; i >= 0 && distance(from, end) < aim; i-- {
		from = at[i]
	}
	long := distance(from, end)
	if long == 0 || !p.reaches(end) {
		return
	}
	far := float64(p.w+p.h) / long
	to := spot{end[0] + far*(end[0]-from[0]), end[1] + far*(end[1]-from[1])}
	type step struct {
		at    int
		down  bool
		ahead float64
	}
	var way []step
	crossings(end, to, p.w, p.h, func(cell int, down bool, t float64) {
		link := spot{float64(cell%p.w) + t, float64(cell / p.w)}
		if down {
			link = spot{float64(cell % p.w), float64(cell/p.w) + t}
		}
		way = append(way, step{cell, down, distance(end, link)})
	})
	slices.SortFunc(way, func(a, b step) int { return cmp.Compare(a.ahead, b.ahead) })
	for _, s := range way {
		if s.ahead > own && drawn.has(s.at, s.down) {
			return
		}
		whole.set(s.at, s.down)
	}
}

func distance(a, b spot) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }

// shuts reports whether a line that begins and ends so is closed: files may round its
// two ends apart.
func shuts(a, b spot) bool { return distance(a, b) < 0.01 }
