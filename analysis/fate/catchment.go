package fate

import (
	"context"
	"fmt"

	"github.com/paulmach/orb"

	"runnel/analysis/internal/raster"
	"runnel/analysis/runoff"
	"runnel/analysis/soil"
	"runnel/geo"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A Course is water that stands at one level, or a piece of it, by a line along its
// middle.
type Course struct {
	Feature plan.ID
	Line    orb.LineString
}

// A Catchment is the ground whose water ends in a course.
type Catchment struct {
	Ground []Ground
	// Water is the area of open ground that lies under the course's own water [m²]. It
	// is in none of Ground: rain falls straight on it.
	Water float64
	// Street is the area of the streets in Ground [m²].
	Street float64
	// Length is that of the longest way of water into the course, from hollow to hollow
	// as if they were full, and Fall how far it falls [m]. Ways on which hollows keep
	// more than half of the water are left out: they do not make the peak (common
	// practice, no source).
	Length, Fall float64
}

// A Ground is a piece of a catchment that sheds alike.
type Ground struct {
	// Cover is one of the covers of open ground, or RoofCover or PavingCover.
	Cover string
	// Group is that of the soil; the zero one under roofs and paving.
	Group soil.Group
	// Hard marks roofs and paving, and Source is which; it is 0 for open ground.
	Hard   bool
	Source plan.ID
	// Area is the area whose water comes to the course [m²]: of ground that drains by
	// hollows, the share that they let pass in the design storm. In a lesser storm less
	// comes. A roof's is its share by its downpipes.
	Area float64
	// Coefficient is the share of the rain that runs off.
	Coefficient geo.Range
}

// The covers of sources.
const (
	RoofCover   = "roof"
	PavingCover = "paving"
)

// A Watershed is where all water of a ground leads, so that catchments can be told for one
// map of soils after another.
type Watershed struct {
	*network
	on    runoff.Covering
	leads []lead // by station
	// water is what of each course's cells lies under its own water [m²], wet how deep that is [m].
	water []float64
	wet   grid.Ground
}

// NewWatershed follows the water of a ground to some courses. Water ends in the courses
// that are given and in no other channel or drain.
func NewWatershed(ctx context.Context, in Input, courses []Course) (*Watershed, error) {
	if err := in.check(); err != nil {
		return nil, err
	}
	n, err := newNetwork(ctx, in, linesOf(courses))
	if err != nil {
		return nil, fmt.Errorf("follow the water to the channels: %w", err)
	}
	on, err := n.surface.Covering(in.Site)
	if err != nil {
		return nil, err
	}
	w := &Watershed{network: n, on: on, leads: n.leads(), water: make([]float64, n.links-n.courses), wet: in.Wet}
	w.takeWater()
	return w, nil
}

// Catchments returns the catchment of each course of a site with the same ground and drawn
// things but for its soils; group says which soil lies at a place, and is asked once for each zone.
func (w *Watershed) Catchments(s *plan.Site, group func(orb.Point) soil.Group) []Catchment {
	g := gatherer{Watershed: w, site: s, group: group, all: make([]Catchment, len(w.water))}
	for i, area := range w.water {
		g.all[i].Water = area
	}
	g.takeOpen()
	for _, source := range w.surface.Sources {
		g.takeSource(source)
	}
	g.takeWays()
	return g.all
}

func linesOf(courses []Course) (lines []course) {
	for _, c := range courses {
		lines = append(lines, course{End{Channel, c.Feature, nowhere, 0}, c.Line})
	}
	return lines
}

// A lead is the course that the water of a station comes to in the end, -1 for
// none, and the share that does.
type lead struct {
	course int32
	share  float64
}

// leads follows each station to its end. Each leads on to one other at most, so
// there is one way; those behind it are known once it has been gone.
func (n *network) leads() []lead {
	const unknown = int32(-2)
	leads := make([]lead, len(n.all))
	for i := range leads {
		leads[i].course = unknown
	}
	var way []int32
	for i := range int32(len(n.all)) {
		at := i
		for way = way[:0]; at >= 0 && leads[at].course == unknown; at = n.all[at].next {
			way = append(way, at)
			leads[at].course = nowhere
			if at >= n.courses && at < n.links {
				leads[at] = lead{at - n.courses, 1}
			}
		}
		for k := len(way) - 1; k >= 0; k-- {
			at := way[k]
			if next := n.all[at].next; next >= 0 && leads[next].course >= 0 {
				leads[at] = lead{leads[next].course, leads[next].share * (1 - n.all[at].keeps)}
			}
		}
	}
	return leads
}

// A gatherer gathers the catchments of a watershed.
type gatherer struct {
	*Watershed
	site  *plan.Site
	group func(orb.Point) soil.Group
	all   []Catchment
}

// of returns where the water of a cell leads.
func (w *Watershed) of(c int32) lead {
	if s := w.entry[c]; s >= 0 {
		return w.leads[s]
	}
	return lead{course: nowhere}
}

// takeWater takes the cells of the courses' own water out of the open ground.
func (w *Watershed) takeWater() {
	cell := w.surface.Ground.CellArea()
	for c, s := range w.swallows {
		if s >= w.courses && s < w.links && w.on.Of[c] != 0 {
			w.on.Of[c] = 0
			w.water[s-w.courses] += cell
		}
	}
}

// takeOpen gives the courses the open ground, by cover and soil.
func (g *gatherer) takeOpen() {
	groups, zone := g.zones()
	covers, cell := len(g.on.Covers), g.surface.Ground.CellArea()
	areas := make([][]float64, len(g.all)) // by group and cover
	for c, cover := range g.on.Of {
		l := g.of(int32(c))
		if cover == 0 || l.course < 0 || l.share <= 0 {
			continue
		}
		if areas[l.course] == nil {
			areas[l.course] = make([]float64, (int(soil.GroupD)+1)*covers)
		}
		areas[l.course][int(groups[zone[c]])*covers+int(cover)-1] += cell * l.share
	}
	for course, of := range areas {
		for i, area := range of {
			if area > 0 {
				cover := g.on.Covers[i%covers]
				g.all[course].Ground = append(g.all[course].Ground, Ground{
					Cover: cover.Name, Group: soil.Group(i / covers), Area: area, Coefficient: cover.Coefficient,
				})
			}
		}
	}
}

// zones tells the soil zones apart, laid over one another as they are drawn, and
// asks for the group of each once.
func (g *gatherer) zones() (groups []soil.Group, zone []uint16) {
	zone = make([]uint16, len(g.entry))
	count := 1
	for _, f := range g.site.Plan.Features {
		if f.Kind != plan.SoilZone || plan.Check(f) != nil {
			continue
		}
		over := make(map[uint16]uint16) // of what lies under the new one
		for _, c := range raster.Within(g.surface.Ground.Frame, f.Area()) {
			number, ok := over[zone[c]]
			if !ok {
				number = uint16(count)
				over[zone[c]] = number
				count++
			}
			zone[c] = number
		}
	}
	groups, asked := make([]soil.Group, count), make([]bool, count)
	for c, z := range zone {
		if !asked[z] {
			groups[z], asked[z] = g.group(g.centre(int32(c))), true
		}
	}
	return groups, zone
}

// takeSource gives the courses what comes to them of a roof or of paving.
func (g *gatherer) takeSource(s runoff.Source) {
	areas := make(map[int32]float64)
	s.Starts(func(c int32, share float64) {
		if l := g.of(c); l.course >= 0 {
			areas[l.course] += s.Area * share * l.share
		}
	})
	drawn, _ := g.site.Plan.Find(s.Feature)
	ground := Ground{Cover: PavingCover, Hard: true, Source: s.Feature, Coefficient: geo.Range{Low: s.Coefficient, Likely: s.Coefficient, High: s.Coefficient}}
	if len(s.Outlet) > 0 {
		ground.Cover = RoofCover
	}
	for course, area := range areas { // each course has it once, so their order is all one
		if area <= 0 {
			continue
		}
		ground.Area = area
		g.all[course].Ground = append(g.all[course].Ground, ground)
		if drawn.Kind == plan.Paving && drawn.Text("use") == "street" {
			g.all[course].Street += area
		}
	}
}
