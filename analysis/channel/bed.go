package channel

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// How a channel's bed may run; any other word is between its ends.
const (
	bedLevel   = "level"
	bedAtGrade = "at a grade"
)

// UsualGrade is the fall of a bed at a grade that no one has set [%].
const UsualGrade = 0.5

// tieReach is how near to a drain's line a channel's end ties in to it, however
// narrow the two are [m].
const tieReach = 1.5

// bedProfile returns a channel's bed levels. An end with no level set takes the
// drain's bed where it ties in to one, else lies the channel's depth below the
// ground, but no higher than the drain's bed that the other end ties in to, so
// that the drain's water runs in. A ring with neither is level, that depth below
// its lowest ground.
//
// Between them the bed goes evenly through the levels that Sections set, and steps
// down at their drops. A level bed lies at its start's level, if that is not set at
// the lower of the two ends'. A bed at a grade goes through the levels set along it,
// then on at the grade; before the first, where neither the start's level is set nor
// a drain's known, back at the grade.
func (b *builder) bedProfile(f plan.Feature, on fixed) (Profile, error) {
	line := f.Line()
	if !b.touchesGround(line) {
		return nil, fmt.Errorf("lies outside the ground; move it onto the ground")
	}
	start, end := b.endBeds(f)
	l := course{length: on.length, drops: dropsOf(line, on.fixes)}
	switch set := on.set("bed_level"); {
	case f.Text("bed") == bedLevel:
		start = ifSet(f.Num("bed_start"), min(ifSet(start, end), ifSet(end, start)))
		end = start
		l.knots = Profile{{0, start}}
	case f.Text("bed") == bedAtGrade:
		l.fall = ifSet(f.Num("grade"), UsualGrade) / 100
		_, tied := b.tie(f, line[0])
		if len(set) > 0 && (set[0].Chainage == 0 || !tied && math.IsNaN(f.Num("bed_start"))) {
			start, end = set[0].Level, set[0].Level
			l.knots = set
			break
		}
		end = start
		l.knots = append(Profile{{0, start}}, set...)
	default:
		l.knots = on.along("bed_level", start, end)
		start, end = l.knots[0].Level, l.knots[len(l.knots)-1].Level
	}
	switch {
	case math.IsNaN(start):
		return nil, fmt.Errorf("starts outside the ground; move its start onto the ground, or set the bed level there")
	case math.IsNaN(end):
		return nil, fmt.Errorf("ends outside the ground; move its end onto the ground, or set the bed level there")
	}
	return l.profile(), nil
}

// endBeds returns the bed's levels at a channel's start and end.
func (b *builder) endBeds(f plan.Feature) (start, end float64) {
	line := f.Line()
	start, end = f.Num("bed_start"), f.Num("bed_end")
	if closed(line) && math.IsNaN(start+end) {
		low := math.Inf(1)
		for _, p := range line {
			if z := grid.Sample(b.ground, p); z < low {
				low = z
			}
		}
		low = ifFinite(low, math.NaN()) // no point of it lies on the ground
		start, end = ifSet(start, ifSet(end, low-f.Num("depth"))), ifSet(end, ifSet(start, low-f.Num("depth")))
	}
	first, last := line[0], line[len(line)-1]
	return ifSet(start, b.endBed(f, first, last)), ifSet(end, b.endBed(f, last, first))
}

// endBed returns the bed's level at the end p of a channel whose other end is far.
func (b *builder) endBed(f plan.Feature, p, far orb.Point) float64 {
	if tie, ok := b.tie(f, p); ok {
		return tie.bed
	}
	bed := grid.Sample(b.ground, p) - f.Num("depth")
	if tie, ok := b.tie(f, far); ok && tie.bed < bed {
		return tie.bed
	}
	return bed
}

func (b *builder) touchesGround(line orb.LineString) bool {
	for _, s := range lay(line, every(line, outlineStep)) {
		if !math.IsNaN(grid.Sample(b.ground, s.a)) || !math.IsNaN(grid.Sample(b.ground, s.b)) {
			return true
		}
	}
	return false
}

func ifSet(v, otherwise float64) float64 {
	if math.IsNaN(v) {
		return otherwise
	}
	return v
}

// bendClear is how far past a point of its line a drop there is set [m], so that
// each place about a bend is clearly on one side of it.
const bendClear = 0.002

// dropsOf lists by how much the bed of a line steps down, and where.
func dropsOf(line orb.LineString, fixes []fix) Profile {
	var drops Profile
	bends := every(line, planar.Length(line))
	for _, f := range fixes {
		at := f.chainage
		if !(f.Num("drop") > 0) || f.atEnd {
			continue
		}
		if i, _ := slices.BinarySearch(bends, at-bendClear); i < len(bends) && bends[i] <= at+bendClear {
			at = bends[i] + bendClear
		}
		drops = append(drops, Station{at, f.Num("drop")})
	}
	return drops
}

// A course is a bed along a line [m]: it goes through the knots, and but for the
// drops evenly between them; beyond them it falls by so many metres in a metre.
type course struct {
	length, fall float64
	knots, drops Profile
}

// dropped returns how far the drops before a chainage take the bed down [m].
func (c *course) dropped(chainage float64) float64 {
	sum := 0.0
	for _, d := range c.drops {
		if d.Chainage < chainage {
			sum += d.Level
		}
	}
	return sum
}

// even returns the level at a chainage as if there were no drops [m].
func (c *course) even(chainage float64) float64 {
	var raised Profile
	for _, k := range c.knots {
		raised = append(raised, Station{k.Chainage, k.Level + c.dropped(k.Chainage)})
	}
	first, last := raised[0].Chainage, raised[len(raised)-1].Chainage
	return raised.At(chainage) + c.fall*(max(0, first-chainage)-max(0, chainage-last))
}

func (c *course) profile() Profile {
	at := []float64{0, c.length}
	for _, k := range c.knots {
		at = append(at, k.Chainage)
	}
	for _, d := range c.drops {
		at = append(at, d.Chainage)
	}
	slices.Sort(at)
	var p Profile
	for _, chainage := range slices.Compact(at) {
		level := c.even(chainage) - c.dropped(chainage)
		p = append(p, Station{chainage, level})
		for _, d := range c.drops {
			if d.Chainage == chainage {
				level -= d.Level
				p = append(p, Station{chainage, level})
			}
		}
	}
	return p
}
