package pool

import (
	"cmp"
	"math"
	"slices"

	"runnel/analysis/channel"
	"runnel/geo"
	"runnel/geo/plan"
)

// A draft is a pool that is being made of bodies of water, by their numbers.
type draft struct {
	bodies []int
	floor  float64
	// brim is the body whose brim is lowest.
	brim int
	top  float64
	// fed is set where water comes in while a drain runs or a flow is let in, supply how much [m³/s]; days is
	// on how many of a year, running how high it stands then [m].
	fed     bool
	supply  float64
	days    geo.Range
	running float64
	rest    float64
}

// draughts makes a draft of every body, and one of those that are one water.
func (w *worker) draughts() {
	of := make([]int, len(w.bodies))
	floors := make([]float64, len(w.bodies))
	for i := range of {
		of[i], floors[i] = i, floorOf(w.parts[i])
	}
	for i := range w.passes {
		p := &w.passes[i]
		up, down := &w.bodies[p.From], &w.bodies[p.To]
		if p.Sill == 0 && (down.Level > up.Level || down.Level == up.Level && floors[p.To] > floors[p.From]) {
			p.From, p.To = p.To, p.From
		}
	}
	for w.drown(of) {
	}
	number := map[int]int{}
	for i := range w.bodies {
		k, ok := number[of[i]]
		if !ok {
			k = len(w.drafts)
			number[of[i]] = k
			w.drafts = append(w.drafts, draft{floor: math.NaN(), top: math.Inf(1), running: math.NaN(), rest: math.NaN()})
		}
		d := &w.drafts[k]
		d.bodies = append(d.bodies, i)
		if !(d.floor <= floors[i]) {
			d.floor = floors[i]
		}
		if top := topOf(&w.bodies[i]); top < d.top {
			d.top, d.brim = top, i
		}
	}
}

// drown makes one of the first two waters that are found to be one; it reports whether
// there are any.
func (w *worker) drown(of []int) bool {
	for i := range w.passes {
		p := &w.passes[i]
		up, down := of[p.From], of[p.To]
		if up == down || !(w.lowestWay(of, down, up) > p.Crest) {
			continue
		}
		upper, lower := w.titled([]int{p.From}), w.titled([]int{p.To})
		if p.Sill != 0 {
			w.note("%s and %s are taken as one water: below the crest of %s, at %.2f m, nothing else leaves %s, so that it rises until it stands over the sill.", upper, lower, p.Title, p.Crest, lower)
		} else {
			w.note("%s and %s are taken as one water: their cuts open into one another above %.2f m, and below that nothing else leaves %s.", upper, lower, p.Crest, lower)
		}
		for k := range of {
			if of[k] == max(up, down) {
				of[k] = min(up, down)
			}
		}
		return true
	}
	return false
}

// lowestWay returns the lowest level from which water leaves those of one kind but to
// those of another [m].
func (w *worker) lowestWay(of []int, from, but int) float64 {
	low := math.Inf(1)
	for i := range w.bodies {
		if of[i] != from {
			continue
		}
		b := &w.bodies[i]
		low = min(low, b.Brim.Level)
		for _, s := range b.Spillways {
			low = min(low, s.Crest)
		}
		for k := range b.Openings {
			low = min(low, b.Openings[k].Rest())
		}
	}
	for i := range w.passes {
		if p := &w.passes[i]; of[p.From] == from && of[p.To] != but && of[p.To] != from {
			low = min(low, p.Crest)
		}
	}
	return low
}

// draftOf returns the number of the draft that a body is in.
func (w *worker) draftOf(body int) int {
	return slices.IndexFunc(w.drafts, func(d draft) bool { return slices.Contains(d.bodies, body) })
}

func (w *worker) strips(d *draft) []channel.Strip {
	if len(d.bodies) == 1 {
		return w.parts[d.bodies[0]]
	}
	var all []channel.Strip
	for _, k := range d.bodies {
		all = append(all, w.parts[k]...)
	}
	return all
}

// lines lists the channels of bodies in the order in which they are drawn.
func (w *worker) lines(bodies []int) []plan.ID {
	var ids []plan.ID
	for _, k := range bodies {
		for _, p := range w.bodies[k].Parts {
			if !slices.Contains(ids, p.ID) {
				ids = append(ids, p.ID)
			}
		}
	}
	slices.SortStableFunc(ids, func(a, b plan.ID) int { return cmp.Compare(w.drawn(a), w.drawn(b)) })
	return ids
}

func (w *worker) drawn(id plan.ID) int {
	return slices.IndexFunc(w.site.Plan.Features, func(f plan.Feature) bool { return f.ID == id })
}

// runningOf returns the level at which a pool stands while it is fed [m]: that in use, or
// where it has several or runs the one at which it touches as much soil.
func (w *worker) runningOf(d *draft, stages []Stage, use float64) float64 {
	level := w.bodies[d.bodies[0]].Level
	for _, k := range d.bodies {
		b := &w.bodies[k]
		if b.Level != level || slices.ContainsFunc(b.Parts, func(p channel.Part) bool { return w.network.Runs(p.ID) }) {
			return levelTouching(stages, use)
		}
	}
	return min(level, d.top)
}

// pool makes a pool of a draft; ok is false where it is withheld.
func (w *worker) pool(d *draft) (p Pool, ok bool) {
	strips := w.strips(d)
	lines, title := w.lines(d.bodies), w.titled(d.bodies)
	place := w.lowestPlace(strips, d.floor)
	outlets := w.outlets(d)
	keep := []float64{d.floor, d.top}
	for _, o := range outlets {
		keep = append(keep, o.Crest)
	}
	for _, k := range d.bodies {
		keep = append(keep, w.bodies[k].Level)
	}
	stages := curve(strips, d.floor, d.top, keep)
	if len(stages) < 2 {
		w.withhold(lines[0], place, "%s holds no water, so nothing is told of its storm and season: its lowest bank lies no higher than its bed; raise the bank, or lower the bed", title)
		return p, false
	}
	p = Pool{Title: title, Lines: lines, At: place, Stages: stages, Floor: d.floor, Running: math.NaN(), Rest: math.NaN(), RunDays: d.days, Outlets: outlets, bodies: d.bodies}
	use := 0.0
	for _, k := range d.bodies {
		use += w.use[k]
	}
	if use == 0 {
		w.withhold(lines[0], place, "%s stands dry at the level of its water in use, so nothing is told of its storm and season; set its water level, or lower the bed", title)
		return p, false
	}
	if d.fed {
		p.Running, p.Supply = w.runningOf(d, stages, use), d.supply
	}
	p.Rest = w.restOf(d, &p)
	p.stands(w, strips)
	if !w.aboveTable(&p) {
		return p, false
	}
	return p, true
}
