package view

import (
	"image"
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"pgregory.net/rapid"

	"runnel/analysis/channel"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// isletWay is a channel of 60 m in level ground at 10 m, its bed at 9.5 m, with an
// island in its middle and a sill at 45 m; above the sill the water stands at 9.9 m
// and below at 9.7 m.
func isletWay(t testing.TB) *channel.Network {
	t.Helper()
	ground := grid.New[float32](grid.Square(320, 160, 0, 40, 0.25))
	for i := range ground.V {
		ground.V[i] = 10
	}
	s := plan.Site{Ground: ground, Plan: plan.Plan{Schemes: []plan.Scheme{{ID: 1}}}}
	level := func(f plan.Feature, name string, v float64) plan.Feature { return f.With(name, plan.Value{Number: v}) }
	ring := orb.Ring(circle(orb.Point{40, 20}, 3))
	line := plan.Feature{ID: 1, Kind: plan.Channel, Scheme: 1, Name: "North arm", Geometry: orb.LineString{{10, 20}, {70, 20}}}
	s.Plan.Features = []plan.Feature{
		level(level(level(line, "bed_start", 9.5), "bed_end", 9.5), "water_level", 9.7),
		{ID: 2, Kind: plan.Island, Scheme: 1, Name: "Heron isle", Geometry: orb.Polygon{append(ring, ring[0])}},
		level(plan.Feature{ID: 3, Kind: plan.Sill, Scheme: 1, Name: "Stone sill", Geometry: orb.LineString{{55, 17}, {55, 23}}}, "crest", 9.9),
	}
	n, problems := channel.NewNetwork(&s, 1)
	for _, p := range problems {
		t.Fatal(p)
	}
	return n
}

func TestWhatIsSeenInASectionIsWhereItIs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := extent{to: rapid.Float64Range(0.5, 5000).Draw(t, "length"), low: rapid.Float64Range(-50, 3000).Draw(t, "low")}
		e.high = e.low + rapid.Float64Range(0, 80).Draw(t, "rise")
		plot := orb.Bound{Min: orb.Point{60, 50}, Max: orb.Point{rapid.Float64Range(160, 1800).Draw(t, "right"), 200}}
		v := fitSide(e, plot, 100)
		for _, p := range []orb.Point{{e.from, e.low}, {e.to, e.high}, {e.to / 3, (e.low + e.high) / 2}} {
			x, y := v.ToScreen(p[0], p[1])
			if !plot.Pad(1e-6).Contains(orb.Point{x, y}) {
				t.Fatalf("%v is seen at %g, %g, outside the plot", p, x, y)
			}
			if along, level := v.ToSection(x, y); math.Abs(along-p[0]) > 1e-6 || math.Abs(level-p[1]) > 1e-6 {
				t.Fatalf("%v comes back as %g, %g", p, along, level)
			}
		}
		round := false
		for _, times := range exaggerations {
			round = round || math.Abs(v.Exaggeration()-times) < 1e-9*times
		}
		if !round {
			t.Fatalf("heights are %g times larger", v.Exaggeration())
		}
	})
}

func TestStepsOfAnAxisAreRound(t *testing.T) {
	for _, of := range []struct{ least, want float64 }{{1, 1}, {1.1, 2}, {2, 2}, {2.01, 5}, {7, 10}, {0.03, 0.05}, {0.2, 0.2}, {130, 200}, {0, 1}} {
		if got := axisStep(of.least); math.Abs(got-of.want) > 1e-12 {
			t.Errorf("at least %g gives %g, want %g", of.least, got, of.want)
		}
	}
}

// The area between a level and a V of slopes 1 to 1 is the square of its depth.
func TestBetweenTwoCurvesLiesTheWater(t *testing.T) {
	k := &side{view: SideView{Plot: orb.Bound{Max: orb.Point{100, 100}}, Along: 1, Up: 1}}
	bed := curve{[]float64{0, 10, 20}, []float64{10, 0, 10}}
	rings := k.between(bed.flat(3.5), bed)
	if len(rings) != 1 || math.Abs(planar.Area(rings[0])) != 3.5*3.5 {
		t.Errorf("it is %v", rings)
	}
	bed.level[1] = math.NaN()
	if rings := k.between(bed.flat(3.5), bed); len(rings) != 0 {
		t.Errorf("over ground that is not known it is %v", rings)
	}
	two := curve{[]float64{0, 1, 2, 3, 4}, []float64{5, 0, 5, 0, 5}}
	if rings := k.between(two.flat(2), two); len(rings) != 2 {
		t.Errorf("two troughs hold %d waters", len(rings))
	}
}

// inked returns the share of the pixels in a square about a place of the section
// that are nearer to a colour than to paper.
func inked(img *image.RGBA, x, y, half float64, c, paper Colour) float64 {
	far := func(at Colour, r, g, b uint8) float64 {
		return math.Abs(float64(at.R)-float64(r)) + math.Abs(float64(at.G)-float64(g)) + math.Abs(float64(at.B)-float64(b))
	}
	hits, all := 0.0, 0.0
	for py := int(y - half); py <= int(y+half); py++ {
		for px := int(x - half); px <= int(x+half); px++ {
			at := img.RGBAAt(px, py)
			all++
			if far(c, at.R, at.G, at.B) < far(paper, at.R, at.G, at.B) {
				hits++
			}
		}
	}
	return hits / all
}

func TestALongSectionShowsWaterUpToItsLevel(t *testing.T) {
	l, err := isletWay(t).LongSection(1)
	if err != nil {
		t.Fatal(err)
	}
	for name, p := range map[string]Palette{"light": Light(), "dark": Dark()} {
		img := image.NewRGBA(image.Rect(0, 0, 560, 220))
		d := NewLongSection(l, 560, 220, p, Metres)
		d.Draw(img, p)
		for _, of := range []struct {
			chainage, level float64
			wet             bool
		}{{12, 9.8, true}, {12, 9.96, false}, {52, 9.62, true}, {52, 9.8, false}} {
			x, y := d.View.ToScreen(of.chainage, of.level)
			if got := inked(img, x, y, 1, p.Pond.Middle, p.Paper) > 0.5; got != of.wet {
				t.Errorf("%s: at %g m and %g m it is wet: %v, want %v", name, of.chainage, of.level, got, of.wet)
			}
		}
		x, y := d.View.ToScreen(30, 9.8)
		if island := img.RGBAAt(int(x), int(y)); island.B >= island.G {
			t.Errorf("%s: the island is not green but %v", name, island)
		}
	}
}

func TestACrossSectionDrawsItsWettedPerimeterBold(t *testing.T) {
	n := isletWay(t)
	p := Light()
	for _, of := range []struct {
		station float64
		arms    int
	}{{10, 1}, {30, 2}} {
		s, err := n.Section(1, of.station)
		if err != nil {
			t.Fatal(err)
		}
		c := CrossSection{CrossSection: s}
		img := image.NewRGBA(image.Rect(0, 0, 290, 220))
		c.Draw(img, p)
		k := newSide(img, SideView{}, p, Metres)
		k.view = c.fit(k)
		if arms := len(k.arms(c)); arms != of.arms {
			t.Errorf("at %g m it has %d arms, want %d", of.station, arms, of.arms)
		}
		for i, off := range s.Offset {
			x, y := k.view.ToScreen(off, s.Proposed[i])
			drop := img.RGBAAt(int(x), int(y))
			bold := drop.R == p.Drop.R && drop.G == p.Drop.G && drop.B == p.Drop.B
			if wet := s.Level - s.Proposed[i]; wet > 0.05 && !bold || wet < -0.05 && bold {
				t.Errorf("at %g m, %.2f m aside, the ground %.2f m under water is bold: %v", of.station, off, wet, bold)
			}
		}
	}
}

func TestAGripIsFoundWhereItIsDrawn(t *testing.T) {
	l, _ := isletWay(t).LongSection(1)
	p := Light()
	d := NewLongSection(l, 560, 220, p, Metres)
	grips := []Grip{{Chainage: 0, Level: 9.5}, {Chainage: d.GripPlace(l.Pools[1]), Level: 9.7, Words: d.Level(9.7)}}
	for i, g := range grips {
		x, y := d.View.ToScreen(g.Chainage, g.Level)
		if got := d.GripAt(grips, x+3, y-3, p); got != i {
			t.Errorf("at grip %d is grip %d", i, got)
		}
		if got := d.GripAt(grips, x, y-40, p); got != -1 {
			t.Errorf("40 pixels above grip %d is grip %d", i, got)
		}
	}
	if got := d.Level(3.048); got != "3.05\u00a0m" {
		t.Errorf("a level is written %q", got)
	}
	d.Units = Feet
	if got := d.Level(3.048); got != "10.00\u00a0ft" {
		t.Errorf("in feet it is written %q", got)
	}
}

func TestSectionsOfNothingAndOfNoSizeAreDrawn(t *testing.T) {
	l, _ := isletWay(t).LongSection(1)
	unknown := l
	unknown.Places = append([]channel.Place(nil), l.Places...)
	for i := range unknown.Places {
		none := math.NaN()
		unknown.Places[i] = channel.Place{Chainage: unknown.Places[i].Chainage, Ground: none, Proposed: none, Bed: none, Water: none, Left: none, Right: none, Brim: none}
	}
	for _, of := range []channel.LongSection{{}, l, unknown} {
		for _, size := range []image.Point{{0, 0}, {1, 1}, {40, 30}, {300, 120}} {
			img := image.NewRGBA(image.Rectangle{Max: size})
			d := NewLongSection(of, size.X, size.Y, Dark(), Feet)
			d.Draw(img, Dark())
			d.DrawOver(img, SectionOverlay{Station: 3, Hot: -1, Grips: []Grip{{Words: "x", Over: "y"}}}, Dark())
			CrossSection{}.Draw(img, Dark())
			CrossSection{CrossSection: channel.CrossSection{Offset: []float64{0, 1}, Ground: []float64{math.NaN(), 1}, Proposed: []float64{math.NaN(), 1}, Level: 2}}.Draw(img, Dark())
		}
	}
}

func BenchmarkLongSection(b *testing.B) {
	l, _ := isletWay(b).LongSection(1)
	img := image.NewRGBA(image.Rect(0, 0, 1200, 220))
	p := Light()
	b.Run("draw", func(b *testing.B) {
		for b.Loop() {
			NewLongSection(l, 1200, 220, p, Metres).Draw(img, p)
		}
	})
	d := NewLongSection(l, 1200, 220, p, Metres)
	b.Run("over", func(b *testing.B) {
		for b.Loop() {
			d.DrawOver(img, SectionOverlay{Station: 20, Hot: 0, Grips: []Grip{{Chainage: 10, Level: 9.7, Words: "9.70 m", Over: "full to the brim"}}}, p)
		}
	})
}
