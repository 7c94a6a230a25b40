package storm

// A state is how full everything is.
type state struct {
	// next leads on from each station that takes no more; to itself from others.
	// It is shortened as it is followed.
	next   []int32
	inflow []float64 // what runs to each station from the ground [m³]
	takes  []float64 // what each pond takes before it is full, soaking included [m³]
	held   []float64 // what each has taken [m³]
	stands []float64 // the level in each [m]; NaN where it is dry
	wet    []int32   // how many of each one's own cells are painted
	left   []float64 // by exit [m³]
	spare  []float64 // what each link still takes [m³]
	busy   []bool    // the links that the water in hand has gone through
	gone   int       // how many those are
}

func newState(ponds, links, exits int) state {
	stations := ponds + 2*links + exits
	return state{
		next: make([]int32, stations), inflow: make([]float64, stations), takes: make([]float64, ponds),
		held: make([]float64, ponds), stands: make([]float64, ponds), wet: make([]int32, ponds),
		left: make([]float64, exits), spare: make([]float64, links), busy: make([]bool, links),
	}
}

// start empties everything.
func (m *Model) start() {
	for s := range m.next {
		m.next[s] = int32(s)
	}
	clear(m.inflow)
	copy(m.takes, m.room)
	clear(m.held)
	clear(m.left)
	clear(m.result.Linked)
	m.result.Balance = Balance{}
	for k, l := range m.links {
		m.spare[k] = l.Capacity
	}
}

// pourAll pours what has run together. What runs over the inlets of links comes
// first, as it does in a storm; so what stands gets what they have to spare.
//
// Then the ponds, in their order: what spills into one for good comes from those
// before it, so it can wait there to be poured with what else comes.
func (m *Model) pourAll() {
	for s := m.runs; s < int32(len(m.inflow)); s++ {
		m.pour(s, m.inflow[s])
	}
	for s := range m.runs {
		m.pour(s, m.inflow[s])
	}
}

// full reports whether a station takes no more.
func (m *Model) full(s int32) bool { return m.next[s] != s }

// find returns the station that water at s comes to: the first that takes some.
//
// It is safe to remember the way: where a hollow spilled over its pass while the
// one beyond was not full, that one, once full, leads on to the two as one.
func (m *Model) find(s int32) int32 {
	for m.next[s] != s {
		m.next[s] = m.next[m.next[s]]
		s = m.next[s]
	}
	return s
}

// pour lets a volume go on from station s until all of it stands or has left.
//
// Each step fills a pond or a link for good, or ends; so pouring all of a storm
// takes as many steps as there are stations, and some.
func (m *Model) pour(s int32, volume float64) {
	for volume > 0 {
		switch s = m.find(s); {
		case s >= m.outs:
			m.left[s-m.outs] += volume
			return
		case s >= m.runs:
			volume -= m.drain(s, volume)
		default:
			spare := m.takes[s] - m.held[s]
			if volume < spare {
				m.held[s] += volume
				return
			}
			m.held[s] = m.takes[s]
			volume -= spare
			m.next[s] = m.spillsTo(s)
			if to := m.next[s]; m.ponds[s].within < 0 && m.gone == 0 && to < m.runs {
				m.inflow[to] += volume
				return
			}
		}
	}
}

// spillsTo returns where water goes from a pond that has just filled.
func (m *Model) spillsTo(s int32) int32 {
	p := &m.ponds[s]
	if p.beside >= 0 && !m.full(p.beside) {
		return p.over
	}
	return p.up
}

// drain lets a link take what it can of a volume that has come to its run or gate,
// and returns how much that is. Water that comes back to a link it went through
// shows that the link's outlet stands under the same water: then it takes no more.
func (m *Model) drain(s int32, volume float64) (taken float64) {
	k := (s - m.runs) % int32(len(m.links))
	if !m.busy[k] {
		taken = min(volume, m.spare[k])
		m.spare[k] -= taken
		m.result.Linked[k] += taken
	}
	if m.busy[k] || m.spare[k] == 0 {
		m.close(k)
	}
	if taken > 0 && m.outfall[k] != nowhere {
		m.busy[k] = true
		m.gone++
		m.pour(m.outfall[k], taken)
		m.gone--
		m.busy[k] = false
	}
	return taken
}

// close makes water pass by link k.
func (m *Model) close(k int32) {
	m.next[m.runs+k] = m.below[k]
	if m.above[k] != nowhere {
		m.next[m.gates+k] = m.above[k]
	}
}
