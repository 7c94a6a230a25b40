// Package demo makes the site that Runnel is shown and tried on: a community
// plot of 90 by 70 m that slopes from its north-east corner, beside a lane and
// the lane's drain. The place, its ground and everything on it are invented; its
// coordinates lie in the open ocean. Every run makes the same site.
package demo

import (
	"math"

	"runnel/geo/crs"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// The site's south-west corner [m, in its reference system], its cells [m] and
// how many there are.
const (
	west, south = 523_400, 4_811_100
	cell        = 0.25
	columns     = 360
	rows        = 280
)

var system = crs.CRS{Code: 32626, Name: "WGS 84 / UTM zone 26N", Metre: 1}

// Site returns the demo site: its ground, what stands on it, and two schemes.
func Site() plan.Site {
	var d drawing
	d.drawAsItIs()
	d.drawWinding()
	d.drawTrench()
	return plan.Site{
		Name:    "Plot by the lane",
		CRS:     system,
		Ground:  ground(),
		Setting: setting(),
		Plan:    d.plan,
		Survey:  record(),
		Weather: weatherRecord(),
	}
}

// setting is the usual one, with what else a designer would have found out: all of it
// is invented, and the costs are in a currency that no one has.
func setting() plan.Setting {
	s := plan.UsualSetting()
	s.Groundwater = 2.4
	s.Aquifer = plan.Aquifer{Conductivity: 4, Yield: 0.15, Thickness: 6}
	s.Costs = plan.Costs{Currency: "credits", Cut: 18, Fill: 9, Haul: 26, Sill: 140, Spillway: 220, Crossing: 350}
	return s
}

// ground returns the surface of the site as it is.
func ground() grid.Ground { return groundIn(cell) }

// groundIn returns it in cells of some size [m]. A cell holds the mean of four places
// in it, as a survey of many points would leave it.
func groundIn(size float64) grid.Ground {
	share := cell / size
	g := grid.New[float32](grid.Square(int(columns*share), int(rows*share), west, south+rows*cell, size))
	for y := range g.H {
		row := g.Row(y)
		for x := range row {
			p := g.Centre(x, y)
			u, v := p[0]-west, p[1]-south
			q := size / 4
			row[x] = float32((height(u-q, v-q) + height(u+q, v-q) + height(u-q, v+q) + height(u+q, v+q)) / 4)
		}
	}
	return g
}

// millimetre rounds a length or a level [m] to the millimetre.
func millimetre(v float64) float64 { return math.Round(v*1000) / 1000 }
