package channel

import (
	"context"
	"math"
	"testing"

	"github.com/paulmach/orb"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// The tests' sites lie where the coordinates of a UTM zone are as large as they
// get, so that lost digits would show.
const east, north = 500_000.0, 4_000_000.0

// site returns a site of w by h metres whose ground is level at 10 m.
func site(w, h, cell float64) *plan.Site {
	return siteOf(w, h, cell, func(orb.Point) float64 { return 10 })
}

// siteOf returns a site whose ground is at a height for each place, given in
// metres from the south-west corner.
func siteOf(w, h, cell float64, height func(orb.Point) float64) *plan.Site {
	g := grid.New[float32](grid.Square(int(math.Round(w/cell)), int(math.Round(h/cell)), east, north+h, cell))
	for y := range g.H {
		for x := range g.W {
			c := g.Centre(x, y)
			g.Set(x, y, float32(height(orb.Point{c[0] - east, c[1] - north})))
		}
	}
	return &plan.Site{Ground: g, Plan: plan.Plan{Schemes: []plan.Scheme{{ID: 1, Name: "Test"}}}}
}

// slopes are those of the banks [H:V] that a test does not say.
var slopes = map[plan.Kind]map[string]float64{
	plan.Channel: {"side_left": 2, "side_right": 2},
	plan.Island:  {"side": 1.5},
}

// add draws a feature in scheme 1, with fields given as name, value, name, value.
func add(s *plan.Site, kind plan.Kind, g orb.Geometry, fields ...any) plan.ID {
	f := plan.Feature{ID: plan.ID(len(s.Plan.Features) + 1), Kind: kind, Geometry: g}
	if plan.SpecOf(kind).InScheme {
		f.Scheme = 1
	}
	for name, v := range slopes[kind] {
		f = f.With(name, plan.Value{Number: v})
	}
	for i := 0; i < len(fields); i += 2 {
		f = f.With(fields[i].(string), plan.Value{Number: fields[i+1].(float64)})
	}
	s.Plan.Features = append(s.Plan.Features, f)
	return f.ID
}

// at returns a place on the site, line and circle such shapes; all take metres
// from the site's south-west corner.
func at(x, y float64) orb.Point { return orb.Point{east + x, north + y} }

func line(xy ...float64) orb.LineString {
	var l orb.LineString
	for i := 0; i < len(xy); i += 2 {
		l = append(l, at(xy[i], xy[i+1]))
	}
	return l
}

func circle(x, y, radius float64, points int) orb.Ring {
	var r orb.Ring
	for i := range points {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(points))
		r = append(r, at(x+radius*cos, y+radius*sin))
	}
	return append(r, r[0])
}

// winding returns a sine wave from x = 5 m to x = 80 m about y = 35 m.
func winding(swing float64) orb.LineString {
	var l orb.LineString
	for x := 0.0; x <= 75; x += 0.5 {
		l = append(l, at(5+x, 35+swing*math.Sin(x/8)))
	}
	return l
}

// measured lays out scheme 1 and returns what its lines measure, without problems.
func measured(t testing.TB, s *plan.Site, step Step) (*Network, []Line) {
	t.Helper()
	n, problems := NewNetwork(s, 1)
	for _, p := range problems {
		t.Fatal(p)
	}
	lines, err := n.Measure(context.Background(), step)
	if err != nil {
		t.Fatal(err)
	}
	return n, lines
}

// near fails the test where got is not want to a relative tolerance.
func near(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Abs(want)) {
		t.Errorf("%s is %v, want %v (off by %.2g)", what, got, want, got/want-1)
	}
}
