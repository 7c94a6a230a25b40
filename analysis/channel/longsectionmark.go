package channel

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"runnel/geo/plan"
)

// islandsOn lists the stretches of a line inside the islands that are laid out.
func (n *Network) islandsOn(line orb.LineString) []Span {
	var spans []Span
	for _, f := range n.islands {
		ring := f.Area()[0]
		for _, s := range lay(line, nil) {
			cuts := append(crossings(s.a, s.b, orb.LineString(ring)), 0, 1)
			slices.Sort(cuts)
			for i := 1; i < len(cuts); i++ {
				middle := s.place((cuts[i-1] + cuts[i]) / 2 * s.length)
				if (cuts[i]-cuts[i-1])*s.length < shortest || !planar.RingContains(ring, middle) {
					continue
				}
				spans = join(spans, Span{f.ID, f.Title(), s.start + cuts[i-1]*s.length, s.start + cuts[i]*s.length})
			}
		}
	}
	slices.SortFunc(spans, func(a, b Span) int { return cmp.Compare(a.From, b.From) })
	return spans
}

// join adds a span to a list, or to the last of it where they meet.
func join(spans []Span, s Span) []Span {
	if k := len(spans) - 1; k >= 0 && spans[k].ID == s.ID && s.From-spans[k].To < shortest {
		spans[k].To = s.To
		return spans
	}
	return append(spans, s)
}

func (n *Network) sillMarks(f feature) []Mark {
	var marks []Mark
	for _, sill := range n.sills {
		if sill.Across != f.ID {
			continue
		}
		for _, s := range lay(f.Line(), nil) {
			for _, t := range crossings(s.a, s.b, sill.Line) {
				m := Mark{plan.Sill, sill.ID, sill.Title, s.start + t*s.length, sill.Crest}
				// One through a point of the line crosses both its segments.
				if k := len(marks) - 1; k < 0 || marks[k].ID != m.ID || m.Chainage-marks[k].Chainage > shortest {
					marks = append(marks, m)
				}
			}
		}
	}
	return marks
}

// spillwayMarks lists the spillways that are a channel's; a drain has none.
func (n *Network) spillwayMarks(f feature) []Mark {
	var marks []Mark
	r := &n.reaches[f.reach]
	for _, spill := range n.spillways {
		if f.Kind != plan.Channel {
			break
		}
		chainage, off := Chainage(f.Line(), spill.Point())
		s, along := segmentAt(n.segs[r.first:r.end], chainage)
		half := max(n.bankTop(r, s, along, 1).off, n.bankTop(r, s, along, -1).off)
		if off <= half+spillReach {
			crest := spill.Num("crest")
			if math.IsNaN(crest) {
				crest, _ = usualSpill(s, along)
			}
			marks = append(marks, Mark{plan.Spillway, spill.ID, spill.Title(), chainage, crest})
		}
	}
	return marks
}

// tieMarks lists where the ends of a channel tie in to drains, or where channels
// tie in to a drain.
func (n *Network) tieMarks(f feature) []Mark {
	var marks []Mark
	for _, run := range n.lines {
		line := run.Line()
		if run.Kind != plan.Channel || f.Kind == plan.Channel && f.ID != run.ID {
			continue
		}
		for k, end := range []orb.Point{line[0], line[len(line)-1]} {
			i, ok := n.tiedTo(run, end)
			switch {
			case !ok:
			case f.ID == run.ID:
				marks = append(marks, n.tieMark(n.lines[i], n.lines[i], end, float64(k)*planar.Length(line)))
			case f.ID == n.lines[i].ID:
				chainage, _ := Chainage(f.Line(), end)
				marks = append(marks, n.tieMark(run, f, end, chainage))
			}
		}
	}
	return marks
}

// tieMark marks what opens at a place, with a drain's bed there.
func (n *Network) tieMark(what, drain feature, at orb.Point, chainage float64) Mark {
	on, _ := Chainage(drain.Line(), at)
	r := &n.reaches[drain.reach]
	s, along := segmentAt(n.segs[r.first:r.end], on)
	return Mark{what.Kind, what.ID, what.Title(), chainage, s.bed(along)}
}

// tiedTo returns the number of the drain that an end of a channel ties in to: see
// builder.tie.
func (n *Network) tiedTo(f feature, end orb.Point) (line int, ok bool) {
	reach, least := tieReach, math.Inf(1)
	for i, d := range n.lines {
		if d.Kind != plan.Drain {
			continue
		}
		reach = max(reach, (f.Width()+d.Width())/2)
		if _, off := Chainage(d.Line(), end); off < least {
			line, least = i, off
		}
	}
	return line, least <= reach
}

// segmentAt returns the segment at a chainage and how far along it that is [m]; at
// a point of the line the later one.
func segmentAt(segs []segment, chainage float64) (s *segment, along float64) {
	s = &segs[0]
	for i := range segs {
		if segs[i].start <= chainage {
			s = &segs[i]
		}
	}
	return s, max(0, min(s.length, chainage-s.start))
}
