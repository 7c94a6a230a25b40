package compare

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/channel"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A straight is a channel led straight from its start to its end, with the section
// and the bed that it has there and with its own water.
type straight struct {
	// feature is the channel as it is drawn, length that of its line [m].
	feature  plan.Feature
	length   float64
	from, to orb.Point
	first    channel.Section
	last     channel.Section
	// level is that of its water [m].
	level float64
	// sills are those across it, with the level at which they hold its water.
	sills []channel.Sill
	// spills are the spillways of a channel whose water runs.
	spills []channel.Mark
}

// A system is channels that are one water, led straight.
type system struct {
	site      *plan.Site
	account   *Account
	straights []straight
}

// straightOf leads one channel straight; why says why it cannot be.
func straightOf(n *channel.Network, f plan.Feature, level float64) (s straight, why string) {
	line := f.Line()
	s = straight{feature: f, length: planar.Length(line), from: line[0], to: line[len(line)-1], level: level}
	switch across := planar.Distance(s.from, s.to); {
	case across == 0 && len(line) > 3:
		return s, fmt.Sprintf("%s is a ring, and a ring has no straight", f.Title())
	case across < f.Width():
		return s, fmt.Sprintf("the ends of %s are %.2f m apart, less than the %.2f m that it is wide, so that nothing straight leads between them", f.Title(), across, f.Width())
	}
	s.first, s.last = sectionAt(n, f.ID, 0), sectionAt(n, f.ID, s.length)
	s.feature = s.feature.With("bed", plan.Value{Text: "between its ends"}).
		With("bed_start", plan.Value{Number: n.BedAt(f.ID, 0)}).
		With("bed_end", plan.Value{Number: n.BedAt(f.ID, s.length)})
	for _, sill := range n.Sills() {
		if sill.Across == f.ID {
			s.sills = append(s.sills, sill)
		}
	}
	if along, err := n.LongSection(f.ID); err == nil && n.Runs(f.ID) {
		s.spills = slices.DeleteFunc(along.Marks, func(m channel.Mark) bool { return m.Kind != plan.Spillway })
	}
	return s, ""
}

// sectionAt returns the section of a channel that is laid out.
func sectionAt(n *channel.Network, id plan.ID, chainage float64) channel.Section {
	x, err := n.SectionAt(id, chainage)
	if err != nil {
		panic(err)
	}
	return x
}

// join leads the channels that open into another one to the place on its straight
// that has the same share of the way. Those may open into others in turn.
func (y *system) join(joints []channel.Junction) {
	find := func(id plan.ID) *straight {
		i := slices.IndexFunc(y.straights, func(s straight) bool { return s.feature.ID == id })
		if i < 0 {
			return nil
		}
		return &y.straights[i]
	}
	for range y.straights {
		for _, j := range joints {
			one, other := find(j.ID), find(j.Into)
			if one != nil && other != nil && !one.begin(other, j.Chainage, j.IntoChainage) {
				other.begin(one, j.IntoChainage, j.Chainage)
			}
		}
	}
}

// begin moves the end of a straight that lies at a chainage of the channel as drawn to
// where that opens into another one; it reports whether an end lies there.
func (s *straight) begin(into *straight, chainage, at float64) bool {
	switch {
	case chainage < endReach:
		s.from = into.place(at)
	case chainage > s.length-endReach:
		s.to = into.place(at)
	default:
		return false
	}
	return true
}

// endReach is how near to its end a channel opens into another one that it ends in [m].
const endReach = 1e-3

// place returns the place on the straight that lies at the share of its length at
// which a chainage [m] lies along the channel as it is drawn.
func (s *straight) place(chainage float64) orb.Point {
	share := chainage / s.length
	return orb.Point{s.from[0] + share*(s.to[0]-s.from[0]), s.from[1] + share*(s.to[1]-s.from[1])}
}

// drawn returns the site with the channels led straight and their beds wider by some
// metres. Islands and sections are left out, and so are spillways but where the water
// runs; sills and those stand at the same share of the way.
func (y *system) drawn(by float64) *plan.Site {
	v := redrawn(y.site, y.account.Scheme, func(f plan.Feature) []plan.Feature {
		if f.Kind == plan.Sill && !y.across(f.ID) {
			return []plan.Feature{f} // it holds a drain
		}
		if f.Kind == plan.Spillway {
			return y.spillway(f)
		}
		return nil
	})
	for i := range y.straights {
		y.straights[i].draw(&v.Plan, by)
	}
	return v
}

// spillway moves a spillway to the straight of the channel whose water runs out over it;
// none where no water does.
func (y *system) spillway(f plan.Feature) []plan.Feature {
	for i := range y.straights {
		s := &y.straights[i]
		for _, m := range s.spills {
			if m.ID == f.ID {
				return []plan.Feature{f.At(s.place(m.Chainage)).With("crest", plan.Value{Number: m.Level})}
			}
		}
	}
	return nil
}

func (y *system) across(sill plan.ID) bool {
	for _, s := range y.straights {
		for _, x := range s.sills {
			if x.ID == sill {
				return true
			}
		}
	}
	return false
}

// draw adds the straight to a plan.
func (s *straight) draw(p *plan.Plan, by float64) {
	first, last := widened(s.first, by), widened(s.last, by)
	f := s.feature.At(orb.LineString{s.from, s.to})
	for name, v := range map[string]float64{
		"bed_width": first.Bed, "side_left": first.Left, "side_right": first.Right, "water_level": s.level,
	} {
		if !math.IsNaN(v) {
			f = f.With(name, plan.Value{Number: v})
		}
	}
	p.Features = append(p.Features, f)
	if len(first.Line) > 0 {
		p.Features = append(p.Features, s.station(p, s.from, first))
	}
	if last.Bed != first.Bed || last.Left != first.Left || last.Right != first.Right || len(last.Line) > 0 {
		p.Features = append(p.Features, s.station(p, s.to, last))
	}
	for _, sill := range s.sills {
		p.Features = append(p.Features, s.sill(p, sill))
	}
}

// station is a section at an end of the straight.
func (s *straight) station(p *plan.Plan, at orb.Point, x channel.Section) plan.Feature {
	f := plan.Feature{ID: plan.ID(p.NextID()), Kind: plan.Section, Scheme: s.feature.Scheme, Geometry: at}
	f = f.With("bed_width", plan.Value{Number: x.Bed})
	f = f.With("side_left", plan.Value{Number: x.Left}).With("side_right", plan.Value{Number: x.Right})
	if len(x.Line) > 0 {
		f = f.With("surveyed", plan.Value{Text: surveyed(x)})
	}
	return f
}

// surveyed writes a surveyed section as its field holds it.
func surveyed(x channel.Section) string {
	var points []string
	for _, p := range x.Line {
		points = append(points, fmt.Sprintf("%.4f %.4f", p.Off, p.Height))
	}
	return strings.Join(points, "; ")
}

// sill lays a sill square across the straight, at its share of the way.
func (s *straight) sill(p *plan.Plan, sill channel.Sill) plan.Feature {
	middle, _ := planar.CentroidArea(sill.Line)
	chainage, _ := channel.Chainage(s.feature.Line(), middle)
	at, half := s.place(chainage), planar.Length(sill.Line)/2
	across := planar.Distance(s.from, s.to)
	ux, uy := (s.to[0]-s.from[0])/across, (s.to[1]-s.from[1])/across
	line := orb.LineString{{at[0] - half*uy, at[1] + half*ux}, {at[0] + half*uy, at[1] - half*ux}}
	f := plan.Feature{ID: plan.ID(p.NextID()), Kind: plan.Sill, Scheme: s.feature.Scheme, Geometry: line}
	return f.With("crest", plan.Value{Number: sill.Crest})
}

// offGround reports whether the straight leaves the ground that is known.
func (s *straight) offGround(g grid.Ground) bool {
	const step = 0.5 // [m]
	across := planar.Distance(s.from, s.to)
	for i, count := 0.0, math.Ceil(across/step); i <= count; i++ {
		if math.IsNaN(grid.Sample(g, s.place(s.length*i/count))) {
			return true
		}
	}
	return false
}
