package pool

import (
	"math"
	"slices"

	"runnel/analysis/channel"
	"runnel/analysis/hydraulics"
	"runnel/geo"
	"runnel/geo/plan"
)

// litres is how many litres a cubic metre holds.
const litres = 1000

// A tap is where water is let into a body while a drain runs: by an opening on a drain,
// or at the end of a channel for which a flow is set.
type tap struct {
	body  int
	drain *channel.Opening
	// set is the flow that is set for its channel [m³/s], NaN where none is.
	set float64
}

// feed finds which drafts are fed, and by how much. What comes into one water goes on to
// those that it stands over.
func (w *worker) feed() {
	taps := w.taps()
	for i, flow := range w.shared(taps) {
		k := w.draftOf(taps[i].body)
		if d := &w.drafts[k]; flow > 0 {
			d.fed, d.supply = true, d.supply+flow
		}
	}
	for changed := true; changed; {
		changed = false
		for i := range w.passes {
			p := &w.passes[i]
			for _, way := range [][2]int{{p.From, p.To}, {p.To, p.From}} {
				from, to := &w.drafts[w.draftOf(way[0])], &w.drafts[w.draftOf(way[1])]
				if from.fed && !to.fed && w.bodies[way[0]].Level >= p.Crest-sameLevel {
					to.fed, to.supply, changed = true, from.supply, true
				}
			}
		}
	}
	for i := range w.drafts {
		d := &w.drafts[i]
		for k, id := range w.lines(d.bodies) {
			days := w.network.RunDaysOf(id, w.site.Setting.RunDays)
			if k == 0 {
				d.days = days
			}
			d.days = geo.Range{Low: max(d.days.Low, days.Low), Likely: max(d.days.Likely, days.Likely), High: max(d.days.High, days.High)}
		}
	}
}

// taps lists where water comes into the bodies that hang together, of all.
func (w *worker) taps() []tap {
	var taps []tap
	for _, system := range w.systems() {
		var openings []channel.Opening
		var at []int
		for _, k := range system {
			for _, o := range w.bodies[k].Openings {
				openings, at = append(openings, o), append(at, k)
			}
		}
		lines := w.lines(system)
		in := hydraulics.WaysIn(openings, func() bool {
			return slices.ContainsFunc(lines, func(id plan.ID) bool { return w.flow(id) >= 0 })
		})
		fed := map[plan.ID]bool{}
		for i := range openings {
			if in[i] {
				taps = append(taps, tap{at[i], &openings[i], w.flow(openings[i].Channel)})
				fed[openings[i].Channel] = true
			}
		}
		for _, id := range lines {
			if w.flow(id) > 0 && !fed[id] {
				taps = append(taps, tap{w.upperEnd(system, id), nil, w.flow(id)})
			}
		}
	}
	return taps
}

// flow returns the flow that is set for a channel [m³/s], NaN where none is.
func (w *worker) flow(id plan.ID) float64 { return w.features[id].Num("flow") / litres }

// systems lists the bodies that pass into one another together.
func (w *worker) systems() [][]int {
	of := make([]int, len(w.bodies))
	for i := range of {
		of[i] = i
	}
	for _, p := range w.passes {
		for i, a, b := 0, of[p.From], of[p.To]; i < len(of); i++ {
			if of[i] == max(a, b) {
				of[i] = min(a, b)
			}
		}
	}
	var all [][]int
	for first := range of {
		var system []int
		for i := range of {
			if of[i] == first {
				system = append(system, i)
			}
		}
		if len(system) > 0 {
			all = append(all, system)
		}
	}
	return all
}

// upperEnd returns the body at the end of a channel whose bed is higher, at its start
// where both are alike.
func (w *worker) upperEnd(system []int, id plan.ID) int {
	first, last := -1, -1
	var from, to float64
	for _, k := range system {
		for _, p := range w.bodies[k].Parts {
			if p.ID != id {
				continue
			}
			if first < 0 || p.From < from {
				first, from = k, p.From
			}
			if last < 0 || p.To > to {
				last, to = k, p.To
			}
		}
	}
	if w.network.BedAt(id, to) > w.network.BedAt(id, from) {
		return last
	}
	return first
}

// shared returns what comes in by each tap [m³/s]: the flow that is set, else what its drain
// carries less what is set for other channels, shared alike; +Inf where that is not known.
func (w *worker) shared(taps []tap) []float64 {
	set, alike := map[plan.ID]float64{}, map[plan.ID]float64{}
	for _, t := range taps {
		switch {
		case t.drain == nil:
		case t.set >= 0:
			set[t.drain.Drain.ID] += t.set
		default:
			alike[t.drain.Drain.ID]++
		}
	}
	flows := make([]float64, len(taps))
	for i, t := range taps {
		if t.set >= 0 {
			flows[i] = t.set
			continue
		}
		q, _, err := hydraulics.Carries(t.drain)
		if err != nil {
			flows[i] = math.Inf(1)
			continue
		}
		id := t.drain.Drain.ID
		flows[i] = max(0, q-set[id]) / alike[id]
	}
	return flows
}

// restOf returns the level down to which a draft's water runs back [m]: where an opening
// lets it out, or as much as sills on the way there hold back; NaN where nothing does.
func (w *worker) restOf(d *draft, p *Pool) float64 {
	held, open := 0.0, false
	for _, k := range d.bodies {
		rest := w.restAt(d, k)
		open = open || !math.IsNaN(rest)
		held += at(w.parts[k], ifNaN(min(rest, d.top), d.top)).Volume
		if len(d.bodies) == 1 && open {
			return max(d.floor, min(rest, d.top))
		}
	}
	if !open {
		return math.NaN()
	}
	return p.StageHolding(held).Level
}

// restAt returns the level down to which the water of one body of a draft runs back [m].
func (w *worker) restAt(d *draft, body int) float64 {
	// The least of the highest crests on the way to each, found as paths are.
	level := map[int]float64{body: math.Inf(-1)}
	for changed := true; changed; {
		changed = false
		for _, p := range w.passes {
			for _, way := range [][2]int{{p.From, p.To}, {p.To, p.From}} {
				a, ok := level[way[0]]
				b, known := level[way[1]]
				if over := max(a, p.Crest); ok && slices.Contains(d.bodies, way[1]) && (!known || over < b) {
					level[way[1]], changed = over, true
				}
			}
		}
	}
	rest := math.NaN()
	for k, over := range level {
		for i := range w.bodies[k].Openings {
			if out := max(over, w.bodies[k].Openings[i].Rest()); !(out >= rest) {
				rest = out
			}
		}
	}
	return rest
}

func ifNaN(v, otherwise float64) float64 {
	if math.IsNaN(v) {
		return otherwise
	}
	return v
}
