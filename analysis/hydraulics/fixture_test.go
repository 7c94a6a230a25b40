package hydraulics

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/channel"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// The tests' sites lie where the coordinates of a UTM zone are as large as they get,
// so that lost digits would show.
const east, north = 500_000.0, 4_000_000.0

// site returns a site of w by h metres whose ground is level at 10 m.
func site(w, h float64) *plan.Site {
	return siteOf(w, h, func(orb.Point) float64 { return 10 })
}

// siteOf returns a site in cells of half a metre whose ground is at a height for each
// place, given in metres from the south-west corner.
func siteOf(w, h float64, height func(orb.Point) float64) *plan.Site {
	const cell = 0.5
	g := grid.New[float32](grid.Square(int(w/cell), int(h/cell), east, north+h, cell))
	for y := range g.H {
		for x := range g.W {
			c := g.Centre(x, y)
			g.Set(x, y, float32(height(orb.Point{c[0] - east, c[1] - north})))
		}
	}
	return &plan.Site{Ground: g, Setting: plan.UsualSetting(), Plan: plan.Plan{Schemes: []plan.Scheme{{ID: 1, Name: "Test"}}}}
}

// add draws a feature in scheme 1, with fields given as name, value, name, value.
func add(s *plan.Site, kind plan.Kind, g orb.Geometry, fields ...any) plan.ID {
	f := plan.Feature{ID: plan.ID(len(s.Plan.Features) + 1), Kind: kind, Geometry: g}
	if plan.SpecOf(kind).InScheme {
		f.Scheme = 1
	}
	for i := 0; i < len(fields); i += 2 {
		switch v := fields[i+1].(type) {
		case float64:
			f = f.With(fields[i].(string), plan.Value{Number: v})
		case string:
			f = f.With(fields[i].(string), plan.Value{Text: v})
		}
	}
	s.Plan.Features = append(s.Plan.Features, f)
	return f.ID
}

func at(x, y float64) orb.Point { return orb.Point{east + x, north + y} }

func line(xy ...float64) orb.LineString {
	var l orb.LineString
	for i := 0; i < len(xy); i += 2 {
		l = append(l, at(xy[i], xy[i+1]))
	}
	return l
}

// oval returns an outline about a place, symmetric to the line along x through it.
func oval(x, y, long, wide float64) orb.Polygon {
	var r orb.Ring
	const points = 24
	for i := range points {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.5) / points)
		r = append(r, at(x+long/2*cos, y+wide/2*sin))
	}
	return orb.Polygon{append(r, r[0])}
}

// flowing works out the flow through scheme 1.
func flowing(t testing.TB, s *plan.Site) Result {
	t.Helper()
	n, _ := channel.NewNetwork(s, 1)
	r, err := Flow(t.Context(), s, n, Options{})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// given is flowing without anything withheld.
func given(t testing.TB, s *plan.Site) Result {
	t.Helper()
	r := flowing(t, s)
	for _, w := range r.Withheld {
		t.Fatal(w)
	}
	return r
}

// within fails the test where got is further than off from want.
func within(t testing.TB, what string, got, want, off float64) {
	t.Helper()
	if !(math.Abs(got-want) <= off) {
		t.Errorf("%s is %v, want %v within %g", what, got, want, off)
	}
}

func found(r Result, what What) *Finding {
	for i := range r.Findings {
		if r.Findings[i].What == what {
			return &r.Findings[i]
		}
	}
	return nil
}
