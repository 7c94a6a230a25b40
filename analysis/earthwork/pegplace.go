package earthwork

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"runnel/analysis/channel"
	"runnel/geo/plan"
)

// A place is where a peg is to stand along a line.
type place struct {
	chainage float64
	what     []Reason
	// drop is how far the bed steps down there [m].
	drop float64
}

// together is how near along a line two pegs are one [m].
const together = 0.1

// placesOf lists where a channel's pegs stand.
func (m *marker) placesOf(f plan.Feature) ([]place, error) {
	line := f.Line()
	length := planar.Length(line)
	if err := m.room(length); err != nil {
		return nil, err
	}
	long, err := m.LongSection(f.ID)
	if err != nil {
		return nil, err
	}
	places := append(evenly(m.options.Spacing, length), bends(line, m.options.Bend)...)
	places = append(places, place{chainage: 0, what: []Reason{{Why: PegStart}}})
	if line[0] != line[len(line)-1] {
		places = append(places, place{chainage: length, what: []Reason{{Why: PegEnd}}})
	}
	for _, mark := range long.Marks {
		if why, ok := whyOf[mark.Kind]; ok {
			places = append(places, place{chainage: mark.Chainage, what: []Reason{{why, mark.Title}}})
		}
	}
	places = append(places, m.pointsOn(f)...)
	places = append(places, m.junctionsOn(f)...)
	moats := m.MoatsOn(f.ID)
	for _, span := range moats {
		places = append(places,
			place{chainage: span.From, what: []Reason{{PegMoatBegins, span.Title}}},
			place{chainage: span.To, what: []Reason{{PegMoatEnds, span.Title}}})
	}
	inMoat := func(p place) bool {
		return slices.ContainsFunc(moats, func(s channel.Span) bool { return p.chainage > s.From && p.chainage < s.To })
	}
	return merge(slices.DeleteFunc(places, inMoat)), nil
}

// whyOf says what a mark on a channel's long section is to its pegs.
var whyOf = map[plan.Kind]Why{
	plan.Sill: PegSill, plan.Spillway: PegSpillway, plan.Drain: PegTie,
}

// pointReach is how far from a channel's line a point that is drawn on it may lie,
// where the channel itself is narrower [m].
const pointReach = 1.0

// pointsOn lists the sections and crossings whose nearest channel is f.
func (m *marker) pointsOn(f plan.Feature) []place {
	var places []place
	for _, point := range m.site.Plan.In(f.Scheme) {
		if point.Kind != plan.Section && point.Kind != plan.Crossing || plan.Check(point) != nil || m.nearestChannel(point.Point()) != f.ID {
			continue
		}
		chainage, off := channel.Chainage(f.Line(), point.Point())
		left, right, err := m.Banks(f.ID, chainage)
		if err != nil || !(off <= max(pointReach, math.Abs(left.Off), math.Abs(right.Off))) {
			continue
		}
		at := place{chainage: chainage, what: []Reason{{PegCrossing, point.Title()}}}
		if point.Kind == plan.Section {
			at.what[0].Why = PegSection
			if drop := point.Num("drop"); drop > 0 {
				at.what[0].Why, at.drop = PegDrop, drop
			}
		}
		places = append(places, at)
	}
	return places
}

// junctionsOn lists where a channel and another are one water.
func (m *marker) junctionsOn(f plan.Feature) []place {
	titles := map[plan.ID]string{}
	for _, other := range m.Features() {
		titles[other.ID] = other.Title()
	}
	var places []place
	for _, j := range m.Junctions() {
		switch f.ID {
		case j.ID:
			places = append(places, place{chainage: j.Chainage, what: []Reason{{PegJunction, titles[j.Into]}}})
		case j.Into:
			places = append(places, place{chainage: j.IntoChainage, what: []Reason{{PegJunction, titles[j.ID]}}})
		}
	}
	return places
}

func (m *marker) nearestChannel(p orb.Point) plan.ID {
	best, least := plan.ID(0), math.Inf(1)
	for _, f := range m.Features() {
		if f.Kind != plan.Channel {
			continue
		}
		if _, off := channel.Chainage(f.Line(), p); off < least {
			best, least = f.ID, off
		}
	}
	return best
}

// evenly lists the whole multiples of a spacing inside a length [m].
func evenly(spacing, length float64) []place {
	var places []place
	for i := 1.0; i*spacing < length; i++ {
		places = append(places, place{chainage: i * spacing, what: []Reason{{Why: PegStation}}})
	}
	return places
}

// order is that in which the reasons have a say in where a peg stands.
var order = []Why{
	PegStart, PegEnd, PegDrop, PegSill, PegJunction, PegTie, PegMoatBegins, PegMoatEnds, PegSection, PegSpillway, PegCrossing,
	PegCorner, PegStation, PegBendEnds, PegBendBegins, PegBendMiddle,
	PegCrest, PegLeftOpen, PegRightOpen, PegLeftUnknown, PegRightUnknown,
}

func (p *place) rank() int { return slices.Index(order, p.what[0].Why) }

// merge sorts places along the line and makes one of those that are together.
func merge(places []place) []place {
	slices.SortStableFunc(places, func(a, b place) int { return cmp.Compare(a.chainage, b.chainage) })
	var merged []place
	for _, p := range places {
		k := len(merged) - 1
		if k < 0 || p.chainage-merged[k].chainage >= together {
			merged = append(merged, p)
			continue
		}
		last := &merged[k]
		if p.rank() < last.rank() {
			p, *last = *last, p
		}
		last.drop = max(last.drop, p.drop)
		for _, r := range p.what {
			if !slices.Contains(last.what, r) {
				last.what = append(last.what, r)
			}
		}
	}
	return merged
}
