package propose

import (
	"fmt"
	"slices"

	"runnel/geo/plan"
)

// kindsOf lists the kinds of things, each once, those that are marked as NoKind.
func kindsOf(things []thing) []plan.Kind {
	var kinds []plan.Kind
	for _, t := range things {
		if t.kind != plan.ServiceLine && !slices.Contains(kinds, t.kind) {
			kinds = append(kinds, t.kind)
		}
	}
	return kinds
}

func without(things []thing, kind plan.Kind) []thing {
	return slices.DeleteFunc(slices.Clone(things), func(t thing) bool { return t.kind == kind })
}

// limitOf is the setback from things of a kind [m].
func (w *world) limitOf(kind plan.Kind) float64 {
	for _, t := range w.things {
		if t.kind == kind {
			return t.limit
		}
	}
	return 0
}

// what says that things of a kind stand in the way.
func what(kind plan.Kind, limit float64) string {
	switch kind {
	case plan.NoKind:
		return "an area that is marked to be kept clear stands in the way"
	case plan.Boundary:
		return fmt.Sprintf("the line has to stay %.1f m inside the boundary", limit)
	case plan.Tree:
		return fmt.Sprintf("a tree stands in the way, with %.1f m kept from its crown", limit)
	}
	return fmt.Sprintf("a %s stands in the way, with %.1f m kept from it", words(kind), limit)
}

// words names a kind within a sentence.
func words(kind plan.Kind) string {
	switch kind {
	case plan.Roof:
		return "building"
	case plan.SepticField:
		return "septic field"
	case plan.ServiceLine:
		return "service line"
	case plan.Drain:
		return "drain"
	case plan.Channel:
		return "channel of the scheme"
	case plan.Paving, plan.Wall, plan.Kerb, plan.Well:
		return plan.SpecOf(kind).Name
	}
	return "thing that is drawn"
}

func remedy(kind plan.Kind) string {
	if kind == plan.NoKind {
		return "make the area smaller, or move the inlet or the outlet"
	}
	return "make that setback smaller if local codes allow it, make the sides steeper, or move the inlet or the outlet"
}

// reason says which limit no course keeps, from the one that is least at fault.
func (w *world) reason(found []trial) error {
	least := &found[0]
	for i := range found {
		if found[i].fault() < least.fault() {
			least = &found[i]
		}
	}
	worst := limit(0)
	for i := range limits {
		if weights[i]*least.faults[i] > weights[worst]*least.faults[worst] {
			worst = i
		}
	}
	if needs := w.leastVolume(); needs > w.q.Volume*(1+overdug) {
		return fmt.Errorf("no line fits: the shortest that keeps clear takes %.1f m³ of digging with the narrowest bed of %.2f m, and %.1f m³ are given; give more volume, steeper sides or a narrower bed", needs, w.q.Narrowest, w.q.Volume)
	}
	return fmt.Errorf("no line that keeps every limit was found: %s", w.fault(worst))
}

// fault says what stands in the way where a limit is not kept.
func (w *world) fault(l limit) string {
	switch l {
	case tight:
		return fmt.Sprintf("its bends cannot all have a radius of %.1f m; allow a lesser radius, or move an end", w.radius)
	case near:
		return "the setbacks leave too little room; make one smaller if local codes allow it, make the sides steeper, or move an end"
	case crowded:
		return fmt.Sprintf("its bends cannot leave a strip of %.1f m between them; allow a narrower strip or a lesser radius", w.q.Strip)
	case low:
		return w.lowWords()
	case deep:
		return fmt.Sprintf("the ground rises so far that the cut would be deeper than %.1f m; allow a deeper cut, or move the outlet to lower ground", w.q.Deepest)
	case costly:
		return fmt.Sprintf("%.1f m³ of digging are too little even with the narrowest bed of %.2f m; give more volume, or a narrower bed", w.q.Volume, w.q.Narrowest)
	case astray:
		return "it would leave the ground that is known; move an end, or bring in more ground"
	}
	return "a service line parts the inlet from the outlet and can only be crossed along it; move an end, or make its setback smaller"
}

func (w *world) lowWords() string {
	if w.ends.water != w.ends.water {
		return "some ground on the way is no higher than the bed, and the water would run out; lower the bed, or move an end off low ground"
	}
	return fmt.Sprintf("some ground on the way is too low to hold the water at %.2f m, and it would run out; move the outlet to higher ground, or let the channel start lower on the drain", w.ends.water)
}

// leastVolume is what the narrowest course along the way itself takes [m³].
func (w *world) leastVolume() float64 {
	narrow := *w
	narrow.q.Widest = w.q.Narrowest
	m := tester{world: &narrow}
	s := w.spine()
	t := m.try(s.straightish(4 * w.turn()))
	return t.volume
}
