package soil

import (
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/channel"
	"runnel/geo/plan"
)

// A Map knows the soil of every place of a site: that of the soil zone drawn last that
// covers it, else that of the site. It may be asked from many goroutines.
type Map struct {
	site  ground
	zones []zone // the one drawn last first
}

// ground is a soil from the ground down. Its figures of conductivity count before its layers.
type ground struct {
	Soil
	layers []Layer
	// fixed is set where Ksat is typed or tested: it holds at every depth.
	fixed bool
	finding
}

type zone struct {
	plan.Feature
	ground
	area  orb.Polygon
	bound orb.Bound
	// asked is set where tests are to say what its soil is like; drawdown where it has
	// one of a whole channel.
	asked, drawdown bool
}

// NewMap lays out the soil of a site. A soil test sets the figures of the zone that it
// stands in where that is as tested, and of the site where it stands in none. What cannot be
// read or counts for nothing is listed, and where a conductivity comes to nought the soil's
// is withheld.
func NewMap(s *plan.Site) (*Map, []channel.Problem) {
	m := &Map{}
	problems := &[]channel.Problem{}
	wrong := func(f plan.Feature, at orb.Point, err error) {
		*problems = append(*problems, channel.Problem{ID: f.ID, At: at, Err: err})
	}
	texture, err := TextureNamed(s.Setting.Soil)
	m.site.Soil = texture.soil()
	if err != nil {
		m.site.Ksat = unknown
		wrong(plan.Feature{}, orb.Point{}, err)
	}
	table := s.Setting.Groundwater
	for _, f := range s.Plan.Of(plan.SoilZone, plan.AsItIs) {
		if err := plan.Check(f); err != nil {
			wrong(f, orb.Point{}, err)
			continue
		}
		z := zone{Feature: f, area: f.Area(), bound: f.Area().Bound(), ground: m.site}
		if err := z.read(); err != nil {
			wrong(f, z.bound.Center(), err)
		}
		m.zones = append([]zone{z}, m.zones...)
	}
	m.test(s, wrong)
	m.site.group(table)
	for i := range m.zones {
		m.zones[i].group(table)
	}
	return m, *problems
}

// At returns the soil at a place from a depth below the ground [m] down. It allocates
// nothing.
func (m *Map) At(p orb.Point, depth float64) Soil {
	if z := m.zoneAt(p); z != nil {
		return z.from(depth)
	}
	return m.site.from(depth)
}

// Of returns the soil of a soil zone from the ground down, whatever lies over it; that of
// the site where there is no such zone.
func (m *Map) Of(id plan.ID) Soil {
	for i := range m.zones {
		if m.zones[i].ID == id {
			return m.zones[i].from(0)
		}
	}
	return m.site.from(0)
}

// zoneAt is the zone that covers a place, nil where none does.
func (m *Map) zoneAt(p orb.Point) *zone {
	for i := range m.zones {
		if z := &m.zones[i]; z.bound.Contains(p) && planar.PolygonContains(z.area, p) {
			return z
		}
	}
	return nil
}

// from is the soil from a depth [m] down.
func (g *ground) from(depth float64) Soil {
	soil := g.Soil
	if len(g.layers) == 0 {
		return soil
	}
	if !(depth > 0) {
		depth = 0
	}
	layer := layerAt(g.layers, depth)
	soil.Suction, soil.Deficit = layer.Suction, layer.Deficit()
	if !g.fixed {
		soil.Name, soil.Ksat, soil.Source = layer.Name, down(g.layers, depth), layer.Source
	}
	return soil
}

// group finds the group of the profile above a water table [m].
func (g *ground) group(table float64) {
	p := Profile{Shallow: g.Ksat.Likely, Deep: g.Ksat.Likely, Table: table}
	if len(g.layers) > 0 && !g.fixed {
		p.Shallow, p.Deep = least(g.layers, 0.5), least(g.layers, 1)
	}
	g.Group = p.Group()
}

// soil is the soil that a texture stands for.
func (t Texture) soil() Soil {
	return Soil{Name: t.Name, Ksat: t.Ksat, Suction: t.Suction, Deficit: t.Deficit(), Group: t.Group, Source: t.Source}
}

// withhold takes a conductivity away that cannot be what it is said to be.
func (g *ground) withhold() {
	g.Ksat, g.fixed = unknown, true
}
