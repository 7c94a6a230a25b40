package season

// unknownTrace is that of a day of which nothing can be told.
var unknownTrace = Trace{nan, nan, nan, nan, nan, nan, nan, nan, false}

// note keeps a day of a pool.
func (m *Model) note(i int, t Trace) {
	if m.result.Days != nil {
		m.result.Days[i] = append(m.result.Days[i], t)
	}
}

// traceOf fills in what a day came to. Spilled is over outlets alone.
func (m *Model) traceOf(i int, f *dayFlow, t Trace) Trace {
	const hours, millimetres = 24, 1000
	contact, _ := m.basins[i].areas(f.v, f.k)
	t.Level = m.in.Pools[i].StageHolding(f.v).Level
	t.Volume, t.Contact = f.v, contact*m.draw.contact
	t.Soaked, t.Evaporated, t.Spilled = f.soaked, f.evaporated, f.spilled
	if f.contact > 0 {
		t.Rate = f.soaked / (f.contact * m.draw.contact) / hours * millimetres
	}
	return t
}

// leaveOut keeps the days of a month that is left out.
func (m *Model) leaveOut(span *month) {
	for range span.to - span.from {
		for i := range m.states {
			m.note(i, unknownTrace)
		}
	}
}
