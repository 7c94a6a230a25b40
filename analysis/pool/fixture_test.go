package pool

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/channel"
	"runnel/analysis/soil"
	"runnel/geo"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

const east, north = 500_000.0, 4_000_000.0

// loam is one soil everywhere.
type loam struct{}

func (loam) At(orb.Point, float64) soil.Soil {
	return soil.Soil{Name: "loam", Ksat: geo.Range{Low: 3, Likely: 10, High: 13}, Suction: 89, Deficit: 0.3, Group: soil.GroupB, Source: "test"}
}

// siteOf returns a site of 30 by 20 m whose ground is at a height for each place.
func siteOf(cell float64, height func(x, y float64) float64) *plan.Site {
	g := grid.New[float32](grid.Square(int(math.Round(30/cell)), int(math.Round(20/cell)), east, north+20, cell))
	for y := range g.H {
		for x := range g.W {
			c := g.Centre(x, y)
			g.Set(x, y, float32(height(c[0]-east, c[1]-north)))
		}
	}
	s := &plan.Site{Ground: g, Setting: plan.UsualSetting()}
	s.Plan.Schemes = []plan.Scheme{{ID: 1, Name: "Test"}}
	return s
}

func flat(float64, float64) float64 { return 10 }

type fields map[string]float64

func add(s *plan.Site, k plan.Kind, g orb.Geometry, fs fields) plan.ID {
	f := plan.Feature{ID: plan.ID(len(s.Plan.Features) + 1), Kind: k, Geometry: g}
	if plan.SpecOf(k).InScheme {
		f.Scheme = 1
	}
	for name, v := range fs {
		f = f.With(name, plan.Value{Number: v})
	}
	s.Plan.Features = append(s.Plan.Features, f)
	return f.ID
}

func line(xy ...float64) orb.LineString {
	var l orb.LineString
	for i := 0; i < len(xy); i += 2 {
		l = append(l, orb.Point{east + xy[i], north + xy[i+1]})
	}
	return l
}

func circle(x, y, radius float64) orb.Ring {
	var r orb.Ring
	for i := range 40 {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 40)
		r = append(r, orb.Point{east + x + radius*cos, north + y + radius*sin})
	}
	return append(r, r[0])
}

func set(t testing.TB, s *plan.Site) (*channel.Network, Set) {
	t.Helper()
	n, _ := channel.NewNetwork(s, 1)
	got, err := Of(t.Context(), s, n, loam{})
	if err != nil {
		t.Fatal(err)
	}
	return n, got
}

// A draught is a network that is being drawn at random.
type draught struct {
	*rand.Rand
	site    *plan.Site
	ground  func(x, y float64) float64
	winding orb.LineString
}

func (d *draught) from(low, high float64) float64 { return low + (high-low)*d.Float64() }

// drawn draws a network at random: of eleven kinds in turn.
func drawn(number uint64) *plan.Site {
	d := &draught{Rand: rand.New(rand.NewPCG(number, 271))}
	fall, uneven := d.from(0, 0.01)*float64(number%2), d.from(0, 0.03)
	d.ground = func(x, y float64) float64 { return 10 + fall*(15-x) + uneven*math.Sin(x/3)*math.Cos(y/4) }
	d.site = siteOf(0.1, d.ground)
	length, swing, phase := d.from(2, 3), d.from(0.3, 1.6), d.from(0, 6)
	for x := 4.0; x <= 26; x += 0.4 {
		d.winding = append(d.winding, line(x, 10+swing*math.Sin(x/length+phase))...)
	}
	d.draw(number % 11)
	return d.site
}

// dig draws a channel; every third is rounded.
func (d *draught) dig(l orb.LineString, more fields) {
	bed := 9.6 - d.from(0.15, 0.3)
	fs := fields{"bed_width": d.from(0.5, 1.2), "side_left": d.from(0.5, 3), "side_right": d.from(0.5, 3), "bed_start": bed, "bed_end": bed - d.from(0, 0.15), "water_level": 9.6}
	for k, v := range more {
		fs[k] = v
	}
	add(d.site, plan.Channel, l, fs)
	if f := &d.site.Plan.Features[len(d.site.Plan.Features)-1]; d.IntN(3) == 0 {
		*f = f.With("shape", plan.Value{Text: "rounded"})
	}
}

func (d *draught) sill(x, crest float64) {
	add(d.site, plan.Sill, line(x, 5, x, 15), fields{"crest": crest})
}

func (d *draught) draw(kind uint64) {
	s, w := d.site, d.winding
	switch kind {
	case 0:
		d.dig(w, nil)
	case 1:
		d.dig(line(4, d.from(8, 12), 12, d.from(8, 12), 19, d.from(8, 12), 26, d.from(8, 12)), nil)
	case 2:
		d.dig(w, nil)
		on := w[len(w)/2]
		add(s, plan.Island, orb.Polygon{circle(on[0]-east, on[1]-north, d.from(1.2, 2))}, fields{"arm_width": d.from(0.5, 1), "side": d.from(1, 2.5)})
	case 3:
		d.dig(orb.LineString(circle(15, 10, d.from(5, 6))), fields{"bed_start": 9.4, "bed_end": 9.4})
	case 4:
		d.dig(w, fields{"bed_start": 9.5, "bed_end": 9.2, "water_level": 9.45})
		d.sill(d.from(12, 18), 9.65)
	case 5:
		d.dig(w, fields{"bed_start": 9.6, "bed_end": 9.1, "water_level": 9.3})
		d.sill(d.from(9, 12), 9.75)
		d.sill(d.from(18, 21), 9.55)
	case 6:
		d.dig(w, nil)
		d.dig(orb.LineString{line(w[len(w)/3][0]-east, 18)[0], w[len(w)/3]}, nil)
	case 7:
		d.dig(w, fields{"bank_top": 10.15, "bank_width": 0.5})
	case 8:
		d.dig(w, nil)
		add(s, plan.Section, w[len(w)/4], fields{"bed_width": 1.6, "side_left": 2})
		add(s, plan.Section, w[len(w)/2], fields{"drop": 0.08})
	case 9:
		d.dig(w, fields{"water_level": 9.55})
		add(s, plan.Spillway, w[len(w)-3], fields{"crest": 9.65, "width": 1})
		add(s, plan.Spillway, w[3], fields{"crest": 9.7, "width": 1, "pipe": 0.15})
	case 10:
		fed(s, d.ground, d.from(0.5, 1))
		d.dig(append(line(6.1, 10), w[len(w)/3:]...), fields{"bed_start": 9.4, "bed_end": 9.3})
		f := &s.Plan.Features[len(s.Plan.Features)-1]
		*f = f.Without("water_level")
	}
}

// fed lays a drain in a ditch along x = 6.1 m that runs 0.2 m deep on a bed at 9.4 m.
func fed(s *plan.Site, ground func(x, y float64) float64, bed float64) {
	for y := range s.Ground.H {
		for x := range s.Ground.W {
			c := s.Ground.Centre(x, y)
			e, n := c[0]-east, c[1]-north
			s.Ground.Set(x, y, float32(min(ground(e, n), 9.4-0.002*n+0.02+max(0, math.Abs(e-6.1)-bed/2))))
		}
	}
	add(s, plan.Drain, line(6.1, -2, 6.1, 22), fields{"bed_width": bed, "side_left": 1, "side_right": 1, "depth": 0.5, "water_depth": 0.2})
}
