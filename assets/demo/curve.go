package demo

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
)

// curve returns a smooth line through points, with a point about every step
// metres: a Catmull-Rom spline, whose tangent at each point is parallel to the
// line between its neighbours.
func curve(step float64, points ...orb.Point) orb.LineString {
	line := orb.LineString{points[0]}
	for i := 1; i < len(points); i++ {
		before, after := points[max(i-2, 0)], points[min(i+1, len(points)-1)]
		line = append(line, span(step, before, points[i-1], points[i], after)...)
	}
	return line
}

// ring returns a smooth closed outline through points.
func ring(step float64, points ...orb.Point) orb.Polygon {
	n := len(points)
	outline := orb.Ring{points[0]}
	for i := 1; i <= n; i++ {
		outline = append(outline, span(step, points[(i+n-2)%n], points[i-1], points[i%n], points[(i+1)%n])...)
	}
	outline[len(outline)-1] = outline[0]
	return orb.Polygon{outline}
}

// span returns the points of the spline after from, up to and with to.
func span(step float64, before, from, to, after orb.Point) orb.LineString {
	n := max(1, int(math.Round(planar.Distance(from, to)/step)))
	var line orb.LineString
	for i := 1; i <= n; i++ {
		t := float64(i) / float64(n)
		line = append(line, orb.Point{
			spline(before[0], from[0], to[0], after[0], t),
			spline(before[1], from[1], to[1], after[1], t),
		})
	}
	return line
}

func spline(a, b, c, d, t float64) float64 {
	return b + 0.5*t*(c-a+t*(2*a-5*b+4*c-d+t*(3*(b-c)+d-a)))
}

// nearest returns how far p lies from a line and the distance along the line
// to the nearest place [m]. Distances to the line's right are positive.
func nearest(line orb.LineString, p orb.Point) (across, along float64) {
	least, walked := math.Inf(1), 0.0
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		du, dv := b[0]-a[0], b[1]-a[1]
		length := math.Hypot(du, dv)
		t := max(0, min(1, ((p[0]-a[0])*du+(p[1]-a[1])*dv)/(length*length)))
		off := math.Hypot(p[0]-a[0]-t*du, p[1]-a[1]-t*dv)
		if off < least {
			least, along = off, walked+t*length
			across = math.Copysign(off, (p[0]-a[0])*dv-(p[1]-a[1])*du)
		}
		walked += length
	}
	return across, along
}

// beside returns the line at a distance to the right of another [m]; a negative
// distance is to the left.
func beside(line orb.LineString, right float64) orb.LineString {
	moved := make(orb.LineString, len(line))
	for i, p := range line {
		a, b := line[max(i-1, 0)], line[min(i+1, len(line)-1)]
		length := planar.Distance(a, b)
		moved[i] = orb.Point{p[0] + right*(b[1]-a[1])/length, p[1] - right*(b[0]-a[0])/length}
	}
	return moved
}

// strip returns the area between two lines beside a line, near and far metres
// to its right.
func strip(line orb.LineString, near, far float64) orb.Polygon {
	outline := orb.Ring(beside(line, near))
	back := beside(line, far)
	back.Reverse()
	outline = append(outline, back...)
	return orb.Polygon{append(outline, outline[0])}
}
