package runoff

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/internal/raster"
	"runnel/geo/plan"
)

// layCulverts makes links of the culverts. Their mouths stay open.
func (b *builder) layCulverts() {
	for _, f := range b.drawn[plan.Culvert] {
		l, ok := b.culvert(f)
		if !ok {
			continue
		}
		b.Links = append(b.Links, l)
		b.marks[l.From] |= opened
		b.marks[l.To] |= opened
	}
}

// culvert returns the link that a culvert is, from the higher end of its bed to
// the lower; drawn with no fall, the way it is drawn. An end with no level has
// its bed at the ground.
func (b *builder) culvert(f plan.Feature) (l Link, ok bool) {
	line, diameter := f.Line(), f.Num("diameter")
	start, first := b.mouth(line[0], diameter/2)
	end, last := b.mouth(line[len(line)-1], diameter/2)
	switch {
	case !first || !last:
		b.problem(f, "%s has a mouth off the ground; move it onto the ground")
		return l, false
	case start == end:
		b.problem(f, "%s has both mouths in one cell of the ground; draw it longer, or leave it out")
		return l, false
	}
	in, out := ifSet(f.Num("bed_start"), height(b.Ground, start)), ifSet(f.Num("bed_end"), height(b.Ground, end))
	l = Link{Feature: f.ID, From: start, To: end}
	if in < out {
		in, out, l.From, l.To = out, in, end, start
	}
	upper, lower := height(b.Ground, l.From), height(b.Ground, l.To)
	if lower > upper+b.slack() {
		b.problem(f, "%s has its outlet on ground at %.2f m, above its inlet's at %.2f m, though its bed falls from %.2f to %.2f m; mend its bed levels. It is left out", lower, upper, in, out)
		return l, false
	}
	l.Level = max(in, upper)
	l.Capacity = f.Num("capacity")
	if math.IsNaN(l.Capacity) {
		l.Capacity = Capacity(diameter, (in-out)/max(planar.Length(line), diameter))
	}
	return l, true
}

// dropIdle takes out the culverts that carry nothing, and those along which the
// ground lies open, as a survey or a burnt drain leaves it.
func (b *builder) dropIdle() {
	line := make(map[plan.ID]orb.LineString)
	for _, f := range b.drawn[plan.Culvert] {
		line[f.ID] = f.Line()
	}
	b.Links = slices.DeleteFunc(b.Links, func(l Link) bool {
		open, top := true, height(b.Ground, l.From)+b.slack()
		raster.Along(b.Ground.Frame, line[l.Feature], func(c int32) {
			open = open && (b.is(c, bedded) && height(b.Ground, c) <= top || c == l.From || c == l.To)
		})
		return open || l.Capacity == 0
	})
}

// slack is how much higher ground may be by the survey's error alone [m]: twice
// its standard deviation.
func (b *builder) slack() float64 { return 2 * b.site.Setting.SurveyError }

func ifSet(v, otherwise float64) float64 {
	if math.IsNaN(v) {
		return otherwise
	}
	return v
}

// The figures of a pipe's capacity.
const (
	gravity = 9.80665 // [m/s²]
	// rough is Manning's n of a concrete pipe ([Chow1959], from memory).
	rough = 0.013
	// contraction is the coefficient of an orifice with a sharp edge (0.6, from
	// memory of any handbook of hydraulics).
	contraction = 0.6
	// leastGrade is what a level pipe is taken to run at, by the water that stands
	// over its mouth [m/m] (common practice, no source).
	leastGrade = 0.001
)

// Capacity returns what a culvert of some diameter [m] and grade [m/m] carries
// [m³/s]: what it carries full by Manning's formula, A R^(2/3) S^(1/2) / n
// ([Chow1959]), or what its mouth takes as an orifice, A C √(2 g h), with water up
// to its crown, whichever is less.
func Capacity(diameter, grade float64) float64 {
	area := math.Pi / 4 * diameter * diameter
	full := area * math.Pow(diameter/4, 2.0/3) * math.Sqrt(max(grade, leastGrade)) / rough
	return min(full, area*contraction*math.Sqrt(2*gravity*diameter/2))
}

// grate is how far from its middle a drain inlet takes water [m] (common
// practice, no source).
const grate = 0.3

// layInlets makes links of the drain inlets that can take water. One that stands
// in a kerb takes in what runs along it.
func (b *builder) layInlets() {
	for _, f := range b.drawn[plan.Inlet] {
		from, ok := b.mouth(f.Point(), grate)
		if !ok {
			b.problem(f, "%s lies off the ground; move it onto the ground")
			continue
		}
		l := Link{Feature: f.ID, From: from, To: -1, Level: height(b.Ground, from), Capacity: ifSet(f.Num("capacity"), math.Inf(1))}
		if l.Capacity > 0 {
			b.Links = append(b.Links, l)
		}
	}
}
