package season

import "math"

const badMound = "season: the mound is not of as many pools or times as it says"

// startMound lays out the memory of what has soaked in.
func (m *Model) startMound() {
	g := m.draw.mound
	if g == nil {
		return
	}
	pools, times := len(m.basins), len(g.Days)
	if len(g.Rise) != pools || len(g.Room) != pools {
		panic(badMound)
	}
	m.mound = resized(m.mound, pools*times)
	m.fade = resized(m.fade, times)
	m.rise = resized(m.rise, pools*pools*times)
	clear(m.mound)
	for k, days := range g.Days {
		m.fade[k] = math.Exp(-1 / days)
	}
	at := 0
	for i := range g.Rise {
		for j := range g.Rise[i] {
			at += copy(m.rise[at:], g.Rise[i][j])
		}
	}
	if at != len(m.rise) {
		panic(badMound)
	}
}

// resized returns a slice of a length, in the memory of an old one where it fits.
func resized(old []float64, n int) []float64 {
	if cap(old) < n {
		return make([]float64, n)
	}
	return old[:n]
}

// sink lets a day go by in the mound.
func (m *Model) sink() {
	if m.draw.mound == nil {
		return
	}
	times := len(m.fade)
	for at := 0; at < len(m.mound); at += times {
		for k, fade := range m.fade {
			m.mound[at+k] *= fade
		}
	}
}

// headroom is what may soak from a pool today until the table comes up to its floor [m³];
// without end where the table is not known.
func (m *Model) headroom(i int) float64 {
	g := m.draw.mound
	if g == nil || math.IsNaN(g.Room[i]) {
		return math.Inf(1)
	}
	n, times := len(m.mound), len(m.fade)
	rise := m.rise[i*n : (i+1)*n]
	room := g.Room[i]
	for k, v := range m.mound {
		room -= rise[k] * v
	}
	var own float64
	for _, v := range rise[i*times : (i+1)*times] {
		own += v
	}
	if !(own > 0) {
		return math.Inf(1)
	}
	return max(0, room) / own
}

// heap puts what soaked from a pool today to the mound.
func (m *Model) heap(i int, soaked float64) {
	if m.draw.mound == nil {
		return
	}
	times := len(m.fade)
	for k := range m.fade {
		m.mound[i*times+k] += soaked
	}
}
