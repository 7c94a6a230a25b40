package channel

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb/planar"
	"runnel/geo/plan"
)

// A fix is a Section that stands on a channel's line.
type fix struct {
	plan.Feature
	chainage float64
	// atEnd is set at either end of the line; in a ring both are its start.
	atEnd bool
	// line is its surveyed section, if it has one.
	line []Point
}

// How near to a channel's line a Section is the channel's at least, how near to an
// end it is taken to stand at it, and how far apart two must stand [m].
const (
	sectionReach = 1.0
	sectionSnap  = 0.1
	sectionApart = 0.01
)

// placeSections finds the run on whose line each Section stands: the nearest, if it
// is dug that far out. It returns them by the run's number, in order along it.
func (b *builder) placeSections() [][]fix {
	on := make([][]fix, len(b.runs))
	all := make([]int, len(b.runs))
	for i := range all {
		all[i] = i
	}
	for _, f := range b.drawn[plan.Section] {
		here := b.nearestRun(f.Point(), all)
		if math.IsInf(here.off, 1) || here.off > max(sectionReach, b.halfWidth(&b.runs[here.run], here.chainage)) {
			b.fault(f, "%s lies on no channel; move it onto one's line", f.Title())
			continue
		}
		line, err := ParseSurveyed(f.Text("surveyed"))
		if err != nil {
			b.fault(f, "%s is left out: %w", f.Title(), err)
			continue
		}
		on[here.run] = append(on[here.run], b.runs[here.run].fix(f, here.chainage, line))
	}
	for i, fixes := range on {
		on[i] = b.checkFixes(&b.runs[i], fixes)
	}
	return on
}

// fault records what is wrong with a feature that is a point, at its place.
func (b *builder) fault(f plan.Feature, format string, args ...any) {
	b.problemAt(f, f.Point(), fmt.Errorf(format, args...))
}

// fix puts a Section at a chainage of a run [m], at its end where that is near.
func (l *laid) fix(f plan.Feature, chainage float64, line []Point) fix {
	switch length := planar.Length(l.line); {
	case chainage < sectionSnap || l.ring && chainage > length-sectionSnap:
		return fix{f, 0, true, line}
	case chainage > length-sectionSnap:
		return fix{f, length, true, line}
	}
	return fix{f, chainage, false, line}
}

// checkFixes puts the Sections of one run in order, leaves out what stands where
// another does, and says what of the others can not be.
func (b *builder) checkFixes(l *laid, fixes []fix) []fix {
	slices.SortStableFunc(fixes, func(a, b fix) int { return cmp.Compare(a.chainage, b.chainage) })
	var kept []fix
	for _, f := range fixes {
		if k := len(kept) - 1; k >= 0 && f.chainage-kept[k].chainage < sectionApart {
			b.fault(f.Feature, "%s stands at the same place of %s as %s; move one of them along the line, or delete it", f.Title(), l.feature.Title(), kept[k].Title())
			continue
		}
		if f.atEnd && f.Num("drop") > 0 {
			b.fault(f.Feature, "%s sets a drop at an end of %s, where no bed goes on; move it along the line. Its drop is left out", f.Title(), l.feature.Title())
		}
		if l.feature.Text("bed") == bedLevel && !math.IsNaN(f.Num("bed_level")) {
			b.fault(f.Feature, "%s sets a bed level, but the bed of %s is level all along; clear the one, or choose another bed for the channel. The channel's level holds", f.Title(), l.feature.Title())
		}
		kept = append(kept, f)
	}
	return kept
}

// shapes reports whether a fix says anything of the section's shape.
func (f fix) shapes() bool {
	return len(f.line) > 0 || !math.IsNaN(f.Num("bed_width")) || !math.IsNaN(f.Num("side_left")) || !math.IsNaN(f.Num("side_right"))
}

// fixed is all that is fixed along a line, in order.
type fixed struct {
	fixes []fix
	// length is the line's [m]; in a ring its ends are one place.
	length float64
	ring   bool
}

// set lists what is set of a field.
func (x fixed) set(field string) Profile {
	var set Profile
	for _, f := range x.fixes {
		if v := f.Num(field); !math.IsNaN(v) {
			set = append(set, Station{f.chainage, v})
		}
	}
	return set
}

// along returns a field all along the line: evenly through what is set, and where
// nothing is set at an end from or to what it is there.
func (x fixed) along(field string, start, end float64) Profile {
	p := x.set(field)
	if len(p) == 0 || p[0].Chainage > 0 {
		p = append(Profile{{0, start}}, p...)
	} else if x.ring {
		end = p[0].Level
	}
	if p[len(p)-1].Chainage < x.length {
		p = append(p, Station{x.length, end})
	}
	return p
}

// A placed is a section at a chainage [m].
type placed struct {
	at float64
	Section
}

// placed lists the sections that are set along a line, with the channel's own at the
// ends where none is.
func (x fixed) placed(own Section) []placed {
	width := x.along("bed_width", own.Bed, own.Bed)
	left, right := x.along("side_left", own.Left, own.Left), x.along("side_right", own.Right, own.Right)
	all := []placed{{0, own}}
	for _, f := range x.fixes {
		if !f.shapes() {
			continue
		}
		c := f.chainage
		here := placed{c, Section{width.At(c), left.At(c), right.At(c), own.Form, f.line}}
		if c == 0 {
			all[0] = here
			continue
		}
		all = append(all, here)
	}
	if all[len(all)-1].at < x.length {
		end := own
		if x.ring {
			end = all[0].Section
		}
		all = append(all, placed{x.length, end})
	}
	return all
}

// stretches parts a line at the Sections along it, between which the channel's section
// goes over evenly. None: the channel's own trapezoid holds all along.
func (x fixed) stretches(own Section) []*stretch {
	all := x.placed(own)
	if len(all) == 2 && own.Form == Trapezoid && plainly(all[0].Section, own) && plainly(all[1].Section, own) {
		return nil
	}
	var stretches []*stretch
	for i := 1; i < len(all); i++ {
		stretches = append(stretches, newStretch(all[i-1], all[i]))
	}
	return stretches
}

// plainly reports whether two trapezoids are the same.
func plainly(a, b Section) bool {
	return a.alike(&b) && a.Bed == b.Bed && a.Left == b.Left && a.Right == b.Right
}

func stretchAt(stretches []*stretch, chainage float64) *stretch {
	for i := len(stretches) - 1; i >= 0; i-- {
		if t := stretches[i]; t.start <= chainage || i == 0 {
			return t
		}
	}
	return nil
}

// sectionAt returns the section of a laid run at a chainage [m].
func (l *laid) sectionAt(chainage float64) Section {
	s, along := segmentAt(l.segs, chainage)
	return l.reach.sectionOn(s, along)
}

// sectionOn returns the section some way along a segment [m].
func (r *reach) sectionOn(s *segment, along float64) Section {
	if s.over == nil {
		return r.section
	}
	return s.over.from.Between(s.over.to, s.over.share(s.start+along))
}
