package soakin

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/caution"
	"runnel/geo/plan"
)

// risks gathers what the cautions look at: the storm on wet ground over a slow bed.
func (a *Account) risks(s *plan.Site) caution.Soak {
	var k caution.Soak
	for i, p := range a.Storm.Slow.Pools {
		of := a.Setup.Pools.Pools[i]
		if of.Drain {
			continue
		}
		k.Pools = append(k.Pools, caution.StormPool{
			Title: p.Title, Lines: p.Lines, At: of.At, Depth: p.Depth, Freeboard: p.Freeboard,
			Empty: p.Empty, Usual: a.Storm.Likely.Pools[i].Empty, Looked: Longest,
		})
		if street := a.Setup.Catchments[i].Street; street > 0 {
			k.Streets = append(k.Streets, a.byWells(s, i, street)...)
		}
	}
	for _, o := range a.Storm.Overflows {
		if !math.IsInf(o.Away, 1) {
			k.Overflows = append(k.Overflows, caution.Overflow{Title: o.Title, Lines: a.Setup.Pools.Pools[o.Pool].Lines, At: o.Outlet.At, Building: o.Building, Away: o.Away})
		}
	}
	for _, r := range a.Rises {
		if k1, ok := r.caution(); ok {
			k.Mounds = append(k.Mounds, k1)
		}
	}
	return k
}

// byWells says how far each well is from a pool that takes a street's water.
func (a *Account) byWells(s *plan.Site, i int, street float64) []caution.StreetWater {
	var list []caution.StreetWater
	p := a.Setup.Pools.Pools[i]
	for _, well := range s.Plan.Of(plan.Well, a.Scheme) {
		w := caution.StreetWater{Title: p.Title, Lines: p.Lines, At: p.At, Area: street, Well: well, Away: math.Inf(1)}
		for _, at := range a.shore(p.Lines) {
			w.Away = min(w.Away, plan.Distance(well.Geometry, at))
		}
		list = append(list, w)
	}
	return list
}

// shore lists places on the water's edge of some lines.
func (a *Account) shore(lines []plan.ID) []orb.Point {
	var all []orb.Point
	for _, l := range a.Setup.Measured.Channels {
		for _, id := range lines {
			if l.ID == id {
				all = append(all, l.Shore...)
			}
		}
	}
	return all
}
