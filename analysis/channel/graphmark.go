package channel

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"runnel/geo/plan"
)

// ends marks the ends of the channels, with the drains that they open on.
func (g *grapher) ends() {
	for i, f := range g.lines {
		if f.Kind != plan.Channel {
			continue
		}
		end := g.length(i)
		first, last := g.mark(i, 0), g.mark(i, end)
		if closed(f.Line()) {
			g.join(first, last)
			continue
		}
		g.end(i, first, -1)
		g.end(i, last, 1)
	}
}

// end says of the node at an end of a channel, its start for way -1, what the channel
// opens on there.
func (g *grapher) end(line, k int, way float64) {
	if o, ok := g.openEnd(line, way); ok {
		g.nodes[k].Openings = append(g.nodes[k].Openings, o)
		return
	}
	_, g.nodes[k].Open = g.roundOff(line, way)
}

// openEnd describes the drain on which an end of a channel opens, its start for way
// -1; ok is false where there is none.
func (n *Network) openEnd(line int, way float64) (o Opening, ok bool) {
	f := n.lines[line]
	at, chainage, far := f.Line()[0], 0.0, n.length(line)
	if way > 0 {
		at, chainage, far = f.Line()[len(f.Line())-1], far, 0
	}
	d, ok := n.tiedTo(f, at)
	if ok {
		o = n.opening(line, d, at)
		o.Chainage, o.OwnBed, o.FarBed = chainage, n.BedAt(f.ID, chainage), n.BedAt(f.ID, far)
	}
	return o, ok
}

// opening describes the drain on which a channel opens at a place.
func (n *Network) opening(line, drain int, at orb.Point) Opening {
	d := n.lines[drain]
	r := &n.reaches[d.reach]
	chainage, _ := Chainage(d.Line(), at)
	s, along := segmentAt(n.segs[r.first:r.end], chainage)
	o := Opening{Channel: n.lines[line].ID, At: at, Drain: d.Feature, Bed: s.bed(along), Water: s.level(along), Held: s.held}
	o.Section, _ = n.SectionAt(d.ID, chainage)
	o.Full = max(o.Bed+d.Num("depth"), o.Water)
	o.Slope = math.Abs(n.segs[r.first].bedA-n.segs[r.end-1].bedB) / n.length(drain)
	return o
}

// junctions makes the nodes of two channels one where they open into one another, or
// would if more water stood there: where one hangs above the other its water falls.
func (g *grapher) junctions() {
	for _, j := range g.joints {
		beds := max(g.BedAt(g.lines[j.a].ID, j.atA), g.BedAt(g.lines[j.b].ID, j.atB))
		if (j.joined || j.saddle <= beds+leastDepth) && !g.roundOne(j) {
			g.join(g.mark(j.a, j.atA), g.mark(j.b, j.atB))
		}
	}
}

// roundOne reports whether two channels meet round one island: the arms of its moat
// lead from one to the other then.
func (g *grapher) roundOne(j joint) bool {
	const near = outlineStep
	for _, a := range g.moatsOn(g.lines[j.a].Feature) {
		for _, b := range g.moatsOn(g.lines[j.b].Feature) {
			if a.ID == b.ID && j.atA >= a.From-near && j.atA <= a.To+near && j.atB >= b.From-near && j.atB <= b.To+near {
				return true
			}
		}
	}
	return false
}

// waysOut marks the spillways whose crest is known, each on the channel that it is
// nearest to, and where channels cross drains.
func (g *grapher) waysOut() {
	for _, spill := range g.spillways {
		if line, mark := g.spillsFrom(spill); line >= 0 {
			k := g.mark(line, mark.Chainage)
			g.nodes[k].Spillways = append(g.nodes[k].Spillways, Overflow{spill.ID, spill.Title(), spill.Point(), mark.Level, spill.Num("width")})
		}
	}
	for i, f := range g.lines {
		for d := range g.lines {
			if f.Kind == plan.Channel && g.lines[d].Kind == plan.Drain {
				g.across(i, d)
			}
		}
	}
}

// spillsFrom returns the channel that a spillway is nearest to, of those that it is
// at, with its mark there; -1 where it is at none or its crest is not known.
func (n *Network) spillsFrom(spill plan.Feature) (line int, mark Mark) {
	line, least := -1, math.Inf(1)
	for i, f := range n.lines {
		for _, m := range n.spillwayMarks(f) {
			if _, off := Chainage(f.Line(), spill.Point()); m.ID == spill.ID && off < least && !math.IsNaN(m.Level) && !math.IsInf(m.Level, 0) {
				line, mark, least = i, m, off
			}
		}
	}
	return line, mark
}

// across marks where a channel crosses a drain, but for where it ends in it.
func (g *grapher) across(line, drain int) {
	for _, chainage := range g.crossesAt(line, drain) {
		k := g.mark(line, chainage)
		g.nodes[k].Openings = append(g.nodes[k].Openings, g.openAcross(line, drain, chainage))
	}
}

// crossesAt lists the chainages at which a channel crosses a drain [m], without those
// of ends in it.
func (n *Network) crossesAt(line, drain int) []float64 {
	f, d := n.lines[line], n.lines[drain]
	r := &n.reaches[f.reach]
	near, end := max(tieReach, (f.Width()+d.Width())/2), n.length(line)
	var at []float64
	for i := r.first; i < r.end; i++ {
		s := &n.segs[i]
		for _, t := range crossings(s.a, s.b, d.Line()) {
			if chainage := s.start + t*s.length; r.ring || min(chainage, end-chainage) >= near {
				at = append(at, chainage)
			}
		}
	}
	return at
}

// openAcross describes the drain that a channel crosses at a chainage [m].
func (n *Network) openAcross(line, drain int, chainage float64) Opening {
	r := &n.reaches[n.lines[line].reach]
	s, along := segmentAt(n.segs[r.first:r.end], chainage)
	o := n.opening(line, drain, s.place(along))
	o.Across, o.Chainage, o.OwnBed, o.FarBed = true, chainage, s.bed(along), s.bed(along)
	return o
}

// A ringed is an island with a moat and the nodes where channels meet it, up the
// chainage of its outline.
type ringed struct {
	reach int
	at    []event
}

// moats marks where channels meet the outlines of islands with moats.
func (g *grapher) moats() {
	for i := range g.islands {
		r := &g.reaches[i]
		if r.form != moat {
			continue
		}
		var outline orb.LineString
		for k := r.first; k < r.end; k++ {
			outline = append(outline, g.segs[k].a)
		}
		outline = append(outline, g.segs[r.first].a)
		m := ringed{reach: i}
		for line, f := range g.lines {
			if f.Kind != plan.Channel {
				continue
			}
			for _, at := range g.meetings(line, outline) {
				k := g.mark(line, at)
				on, _ := Chainage(outline, g.nodes[k].At)
				m.at = append(m.at, event{on, k, k, noSill})
			}
		}
		slices.SortFunc(m.at, func(a, b event) int { return cmp.Compare(a.chainage, b.chainage) })
		g.rounds = append(g.rounds, m)
	}
}

// meetings lists the chainages at which a line crosses an outline, once each [m].
func (g *grapher) meetings(line int, outline orb.LineString) []float64 {
	r := &g.reaches[g.lines[line].reach]
	var at []float64
	for i := r.first; i < r.end; i++ {
		s := &g.segs[i]
		for _, t := range crossings(s.a, s.b, outline) {
			at = append(at, s.start+t*s.length)
		}
	}
	slices.Sort(at)
	return slices.CompactFunc(at, func(b, a float64) bool { return b-a < shortest })
}

// weirs marks the sills whose crest is known: a node before and one after, with a link
// between.
func (g *grapher) weirs() {
	for line, f := range g.lines {
		if f.Kind != plan.Channel {
			continue
		}
		for i, m := range g.sillMarks(f) {
			if math.IsNaN(m.Level) || math.IsInf(m.Level, 0) {
				continue
			}
			at := g.clear(line, m.Chainage)
			e := event{at, g.node(line, at), g.node(line, at), i}
			section, _ := g.SectionAt(f.ID, at)
			width := max(section.TopWidth(m.Level-g.BedAt(f.ID, at)), section.Bed)
			g.events[line] = append(g.events[line], e)
			g.links = append(g.links, GraphLink{Kind: SillLink, ID: f.ID, From: e.before, To: e.after, Sill: m.ID, Crest: m.Level, Width: width})
		}
	}
}
