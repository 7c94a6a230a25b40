package demo

import (
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/clip"
	"github.com/paulmach/orb/planar"

	"runnel/geo/plan"
)

// site is the ground's extent in metres from its south-west corner.
var site = orb.Bound{Max: orb.Point{columns * cell, rows * cell}}

// drawAsItIs draws what stands on the site before anything is designed.
func (d *drawing) drawAsItIs() {
	plot := curve(6, orb.Point{14.9, 69}, orb.Point{14.2, 54}, orb.Point{12.1, 38}, orb.Point{12.9, 28}, orb.Point{15.3, 19}, orb.Point{15.6, 10}, orb.Point{18.2, 1.2})
	outline := append(orb.Ring(plot), orb.Point{88.6, 1.2}, orb.Point{88.9, 68.8}, plot[0])
	d.draw(plan.Boundary, "Plot", orb.Polygon{outline}, nil)
	d.draw(plan.Roof, "North house", northPad.block(0.6, 1.0, 10, 6.6), nil)
	d.draw(plan.Roof, "South house", southPad.block(0.4, -0.4, 8.4, 6.8), nil)
	d.drawPaving()
	d.draw(plan.Drain, "Lane drain", onSite(drainLine), fields{
		"bed_width": number(2 * drainHalf), "side_left": number(1), "side_right": number(1),
		"depth": number(drainDepth), "water_depth": number(drainWater), "owner": word("public"),
	})
	d.draw(plan.Culvert, "Entrance culvert", stretch(drainLine, 31.2, 34.8), fields{"diameter": number(0.3)})
	d.draw(plan.Well, "Well", orb.Point{57.0, 26.6}, fields{"household": number(0.4), "water_depth": number(6)})
	d.draw(plan.SepticField, "North house soakaway", block(83.4, 49.6, 7.6, 3.4, -17), nil)
	d.draw(plan.ServiceLine, "Cable to North house",
		orb.LineString{{8.9, 51}, {28, 57.5}, {54, 60.5}, {70.8, 62.2}},
		fields{"carries": word("power"), "located": word("no")})
	d.drawTrees()
	d.drawRunoff()
}

func (d *drawing) drawPaving() {
	lane := clip.Polygon(site, strip(laneLine, -laneHalf, laneHalf))
	d.draw(plan.Paving, "Lane", lane, fields{"use": word("street")})
	d.draw(plan.Kerb, "Lane kerb", onSite(beside(laneLine, laneHalf)), fields{"height": number(kerbHeight)})
	d.draw(plan.Paving, "Entrance", block(10.9, 46.3, 6.2, 3.2, -10), fields{"use": word("drive")})
	d.draw(plan.Paving, "North house yard", northPad.block(-1.6, -3.6, 8, 2.4), fields{"use": word("yard")})
	d.draw(plan.Paving, "South house yard",
		orb.Polygon{{{1.4, 20.2}, {1.9, 13.2}, {6.6, 13.7}, {5.0, 22.5}, {1.4, 20.2}}}, fields{"use": word("yard")})
}

// drawRunoff draws what leads the water of roofs and lane, and what it falls on.
func (d *drawing) drawRunoff() {
	for _, p := range []struct {
		name string
		at   orb.Point
	}{
		{"North house, west downpipe", northPad.place(-4.4, -2.4)},
		{"North house, east downpipe", northPad.place(5.6, -2.4)},
		{"South house downpipe", southPad.place(4.7, 3.1)},
	} {
		d.draw(plan.Downpipe, p.name, p.at, nil)
	}
	gutter := beside(laneLine, laneHalf-0.1)
	d.draw(plan.Inlet, "Lane inlet", gutter[42], fields{"capacity": number(0.02)})
	d.draw(plan.Wall, "Garden wall", orb.LineString{{5.4, 22.7}, {7.0, 14.0}}, fields{"height": number(1.2)})
	d.draw(plan.Cover, "Terrace beds", terrace.block(0, 0, 22, 6.5), fields{"cover": word("planted bed")})
	d.draw(plan.Cover, "Entrance gravel", block(18.2, 46.4, 7, 5, -10), fields{"cover": word("gravel")})
}

func (d *drawing) drawTrees() {
	for _, t := range []struct {
		name           string
		at             orb.Point
		spread, height float64
	}{
		{"Old pear", orb.Point{28.6, 63.6}, 7, 9},
		{"Apple", orb.Point{33, 36.5}, 5, 5},
		{"Walnut", orb.Point{82.3, 29.5}, 11, 12},
		{"Willow by the hollow", orb.Point{66.4, 10.4}, 8, 8},
		{"Plum", orb.Point{27.6, 12.4}, 4, 4.5},
	} {
		d.draw(plan.Tree, t.name, t.at, fields{"spread": number(t.spread), "height": number(t.height)})
	}
}

// onSite returns the part of a line that lies within the site.
func onSite(line orb.LineString) orb.LineString {
	var within orb.LineString
	for i, p := range line {
		if i > 0 && site.Contains(p) != site.Contains(line[i-1]) {
			within = append(within, crossing(site, line[i-1], p))
		}
		if site.Contains(p) {
			within = append(within, p)
		}
	}
	return within
}

// crossing finds where the segment from a to b passes an edge, just within it.
func crossing(edge orb.Bound, a, b orb.Point) orb.Point {
	if !edge.Contains(a) {
		a, b = b, a
	}
	for range 40 {
		middle := orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}
		if edge.Contains(middle) {
			a = middle
		} else {
			b = middle
		}
	}
	return a
}

// stretch returns the part of a line between two distances from its start [m].
func stretch(line orb.LineString, from, to float64) orb.LineString {
	var part orb.LineString
	walked := 0.0
	for i, p := range line {
		if i > 0 {
			walked += planar.Distance(line[i-1], p)
		}
		if walked >= from && walked <= to {
			part = append(part, p)
		}
	}
	return part
}

// block returns a rectangle about a place, turned anticlockwise [degrees].
func block(u, v, long, deep, turn float64) orb.Polygon {
	return bench{u: u, v: v, turn: turn}.block(0, 0, long, deep)
}
