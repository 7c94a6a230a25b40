package channel

import "fmt"

// risesFromWayIn says where the bed of a channel rises away from where its water comes
// in: the one drain that it opens on, or its start where a flow is set and it opens on
// none. A channel that takes water from another is left out: which way it runs is not
// for its own ends to say.
func (n *Network) risesFromWayIn(f *feature) {
	if n.reaches[f.reach].ring || len(n.joinedWith(*f)) > 1 {
		return
	}
	line, end := f.Line(), n.end(f)
	_, atStart := n.tiedTo(*f, line[0])
	_, atEnd := n.tiedTo(*f, line[len(line)-1])
	set := f.Num("flow") > 0
	from, to, at := 0.0, end, line[0]
	switch {
	case set && (atStart || atEnd), !set && atStart == atEnd:
		return
	case atEnd:
		from, to, at = end, 0, line[len(line)-1]
	}
	rise := n.BedAt(f.ID, to) - n.BedAt(f.ID, from)
	switch {
	case !(rise > adverseRise):
	case set:
		n.wrong(f.Feature, at, fmt.Errorf("the bed of %s rises by %.2f m from its start, so the flow that is set for it is taken to come in at its end, %.1f m along it; if it comes in at the start lower the bed at the end, else draw the channel from its higher end", f.Title(), rise, end))
	default:
		n.wrong(f.Feature, at, fmt.Errorf("the bed of %s rises by %.2f m from its way in, where it opens on its drain, %.1f m along it, to %.1f m: water does not run up it, and a dead pool stands there when the water falls; lower the bed at %.1f m", f.Title(), rise, from, to, to))
	}
}

// end returns the length of a line that is laid out [m].
func (n *Network) end(f *feature) float64 {
	segs := n.segsOf(f)
	last := &segs[len(segs)-1]
	return last.start + last.length
}
