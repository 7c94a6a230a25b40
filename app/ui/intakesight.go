package ui

import (
	"github.com/paulmach/orb"

	"runnel/app/view"
)

// approach brings a place into the middle, near enough to see what is there.
func (m *surveyMap) approach(at orb.Point) {
	if m.width == 0 || !m.fitted {
		return
	}
	const close = 4 // times nearer than the whole
	m.look(at, max(m.camera.Scale, close*m.whole()))
}

// whole is the scale at which all that was measured is seen.
func (m *surveyMap) whole() float64 {
	return view.Fit(m.shows.Survey.Bound(), m.width, m.height).Scale
}

// look brings a place into the middle at a scale.
func (m *surveyMap) look(at orb.Point, scale float64) {
	m.camera = view.Camera{West: at[0] - float64(m.width)/2/scale, North: at[1] + float64(m.height)/2/scale, Scale: scale}
	m.ask()
}

// A line must be so large on the map to be told from others, and is brought to no more
// than so much, so that those around it are seen [of the map's smaller side]. For a
// line that is a sliver the map comes no closer than so many times the whole.
const (
	leastSeen = 0.04
	usualSeen = 0.1
	closest   = 6
)

// reveal moves the map so that a line is seen among those around it; a line that is
// seen so moves nothing.
func (m *surveyMap) reveal(b orb.Bound) {
	if m.width == 0 || !m.fitted {
		return
	}
	side, size := float64(min(m.width, m.height)), max(b.Max[0]-b.Min[0], b.Max[1]-b.Min[1])
	scale, inSight := m.camera.Scale, m.camera.Bound(m.width, m.height).Intersects(b)
	switch {
	case inSight && size*scale >= leastSeen*side && size*scale <= 2*side:
		return
	case size*scale > 2*side: // so close that it cannot be told what it is
		scale = max(m.whole(), side/size)
	case size*scale < leastSeen*side && size > 0:
		scale = max(scale, min(usualSeen*side/size, closest*m.whole()))
	}
	if inSight && scale == m.camera.Scale {
		return
	}
	m.look(b.Center(), scale)
}
