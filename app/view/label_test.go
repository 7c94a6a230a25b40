package view

import (
	"image"
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"runnel/geo/plan"
)

func TestNoLabelIsClippedAtTheEdgeOfThePicture(t *testing.T) {
	s := everythingScene(t)
	rapid.Check(t, func(t *rapid.T) {
		at := orb.Point{rapid.Float64Range(0, 100).Draw(t, "east"), rapid.Float64Range(0, 80).Draw(t, "north")}
		scale := rapid.Float64Range(2, 60).Draw(t, "scale")
		k := testCanvas(400, 300, Camera{West: at[0] - 200/scale, North: at[1] + 150/scale, Scale: scale})
		for _, l := range k.arrange(newPlate(s)).labels {
			i := -1
			bound := k.inked(l.line, 0.8*l.look.size, func(glyph) pose { i++; return l.poses[i] })
			if !bound.In(k.dst.Rect) {
				t.Fatalf("a label covers %v, the picture is %v", bound, k.dst.Rect)
			}
		}
	})
}

// What is arranged about a view is arranged so that nothing lies across its edge.
func TestNoLabelIsClippedAtTheEdgeOfTheView(t *testing.T) {
	s := everythingScene(t)
	across := 0
	rapid.Check(t, func(t *rapid.T) {
		at := orb.Point{rapid.Float64Range(0, 100).Draw(t, "east"), rapid.Float64Range(0, 80).Draw(t, "north")}
		scale := rapid.Float64Range(2, 60).Draw(t, "scale")
		k := testCanvas(400, 300, Camera{West: at[0] - 200/scale, North: at[1] + 150/scale, Scale: scale})
		k.view = orb.Bound{Min: orb.Point{50, 40}, Max: orb.Point{350, 260}}
		view := image.Rect(50, 40, 350, 260)
		for _, l := range k.arrange(newPlate(s)).labels {
			i := -1
			bound := k.inked(l.line, 0.8*l.look.size, func(glyph) pose { i++; return l.poses[i] })
			if bound.Overlaps(view) && !bound.In(view.Inset(-2)) && bound.Overlaps(view.Inset(6)) {
				t.Fatalf("a label covers %v, the view is %v", bound, view)
			}
			across++
		}
	})
	if across == 0 {
		t.Error("no label was arranged")
	}
}

func TestAThinSpaceIsWrittenAsOneThatTheTypefaceHas(t *testing.T) {
	letters, look := newTypesetter(), lettering{size: 12}
	thin, plain := letters.set("5\u2009043", look), letters.set("5\u00a0043", look)
	box := letters.set("5\u2008043", look) // which it lacks too
	if thin.width != plain.width || len(thin.glyphs[1].outline) > 0 {
		t.Errorf("it is %g px wide with %d strokes, want %g and none", thin.width, len(thin.glyphs[1].outline), plain.width)
	}
	if len(box.glyphs[1].outline) == 0 {
		t.Error("a letter that is lacking shows no box, so that this test shows nothing")
	}
}

func TestLevelLabelsDoNotStandOnEachOther(t *testing.T) {
	s := everythingScene(t)
	k := testCanvas(900, 700, Fit(s.Bound(), 900, 700))
	labels := k.arrange(newPlate(s)).labels
	if len(labels) < 20 {
		t.Fatalf("only %d labels find room", len(labels))
	}
	middle := func(l label) orb.Point {
		p := l.poses[len(l.poses)/2]
		return p.place(0, -0.3*l.look.size)
	}
	for i, a := range labels {
		for _, b := range labels[:i] {
			if d := apart(middle(a), middle(b)); d < 0.9*a.look.size {
				t.Errorf("the middles of two labels are %.1f px apart", d)
			}
		}
	}
}

func TestLettersAlongALineReadFromLeftToRight(t *testing.T) {
	look := lettering{size: 12}
	k := testCanvas(10, 10, Camera{Scale: 1})
	word := k.letters.set("84.25", look)
	arc := make([]orb.Point, 60)
	for i := range arc {
		sin, cos := math.Sincos(math.Pi * float64(i) / 59)
		arc[i] = orb.Point{200 + 150*cos, 200 - 150*sin}
	}
	for range 2 {
		poses, ok := newTrack(arc).bend(word, newTrack(arc).length()/2, 0)
		if !ok {
			t.Fatal("a gentle arc holds no word")
		}
		for i := 1; i < len(poses); i++ {
			if poses[i].at[0] <= poses[i-1].at[0] || poses[i].cos <= 0 {
				t.Fatalf("letter %d stands at %v after %v", i, poses[i].at, poses[i-1].at)
			}
		}
		slices.Reverse(arc)
	}
}

func TestAWordIsNotBentRoundASharpCornerNorPastTheEnd(t *testing.T) {
	k := testCanvas(10, 10, Camera{Scale: 1})
	word := k.letters.set("a long word", lettering{size: 12})
	hairpin := newTrack([]orb.Point{{0, 0}, {100, 0}, {0, 8}})
	if _, ok := hairpin.bend(word, 100, 0); ok {
		t.Error("a word is bent round a hairpin")
	}
	if _, ok := newTrack([]orb.Point{{0, 0}, {20, 0}}).bend(word, 10, 0); ok {
		t.Error("a word is set on a line shorter than it")
	}
}

func TestANameGoesInsideItsAreaWhereItFits(t *testing.T) {
	k := testCanvas(400, 300, Camera{North: 300, Scale: 1})
	f := plan.Feature{Kind: plan.Planting, Name: "Currants", Geometry: orb.Polygon{{{50, 50}, {350, 50}, {350, 250}, {50, 250}, {50, 50}}}}
	labels := k.nameInside(f)
	if len(labels) != 1 {
		t.Fatalf("%d labels", len(labels))
	}
	if p := labels[0].poses[4].at; math.Abs(p[0]-200) > 15 || math.Abs(p[1]-150) > 15 {
		t.Errorf("the middle letter stands at %v, want the middle of the area", p)
	}
	f.Geometry = orb.Polygon{{{50, 50}, {70, 50}, {70, 60}, {50, 60}, {50, 50}}}
	if labels := k.nameInside(f); labels != nil {
		t.Error("a name stands inside an area too small for it")
	}
}

func TestANameBreaksNearItsMiddle(t *testing.T) {
	for name, want := range map[string][]string{
		"Seat by the island": {"Seat by", "the island"}, "Well": nil, "North house": {"North", "house"},
	} {
		ways := breaks(name)
		if want == nil && len(ways) != 1 || want != nil && !slices.Equal(ways[1], want) {
			t.Errorf("%q breaks as %q", name, ways)
		}
	}
}

func TestWhereSomethingStandsNothingElseIsFree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := newOccupancy(200, 150)
		a := square(rapid.Float64Range(20, 180).Draw(t, "x"), rapid.Float64Range(20, 130).Draw(t, "y"), rapid.Float64Range(1, 15).Draw(t, "half"))
		if !o.free(a) {
			t.Fatal("an empty picture has no room")
		}
		o.take(a)
		p := along(a.Min, a.Max, rapid.Float64Range(0, 1).Draw(t, "share"))
		if o.free(square(p[0], p[1], 2)) {
			t.Fatalf("%v is free within %v", p, a)
		}
	})
}

func TestLevelsHaveTheDecimalsOfTheirInterval(t *testing.T) {
	for _, of := range []struct {
		level, interval float64
		want            string
	}{{84, 0.2, "84.0"}, {84.25, 0.05, "84.25"}, {120, 5, "120"}, {-3, 1, "-3"}, {0.5, 0.1, "0.5"}} {
		if got := levelText(of.level, of.interval); got != of.want {
			t.Errorf("%g at an interval of %g is %q, want %q", of.level, of.interval, got, of.want)
		}
	}
}

func TestDepthsAreWrittenAsTablesHaveThem(t *testing.T) {
	for _, of := range []struct {
		depth float64
		units Units
		want  string
	}{{0.065, Metres, "0.07 m deep"}, {0.11, Metres, "0.11 m deep"}, {1.256, Metres, "1.26 m deep"}, {0.3048, Feet, "1.00 ft deep"}} {
		if got := newCanvas(image.NewRGBA(image.Rect(0, 0, 1, 1)), Camera{Scale: 1}, Light()).depthText(of.depth, of.units); got != of.want {
			t.Errorf("%g m is %q, want %q", of.depth, got, of.want)
		}
	}
}

// A channel runs straight through an island in its middle.
func TestTheNameOfALineDoesNotLieAcrossAnIsland(t *testing.T) {
	island := plan.Feature{ID: 1, Kind: plan.Island, Geometry: orb.Polygon{{{190, 100}, {410, 100}, {410, 200}, {190, 200}, {190, 100}}}}
	line := plan.Feature{ID: 2, Kind: plan.Channel, Name: "Winding channel", Geometry: orb.LineString{{10, 150}, {590, 150}}}
	for _, islands := range []int{0, 1} {
		k := testCanvas(600, 300, Camera{North: 300, Scale: 1})
		labels, _ := k.nameAll(append([]plan.Feature{line}, []plan.Feature{island}[:islands]...))
		if len(labels) != 1 {
			t.Fatalf("with %d islands there are %d names", islands, len(labels))
		}
		across := false
		for _, p := range labels[0].poses {
			across = across || p.at[0] > 185 && p.at[0] < 415 && p.at[1] > 95 && p.at[1] < 205
		}
		if across != (islands == 0) {
			t.Errorf("with %d islands the name begins at %v", islands, labels[0].poses[0].at)
		}
	}
}

func TestTextKeepsToItsMeasure(t *testing.T) {
	k := testCanvas(300, 60, Camera{Scale: 1})
	k.clearTo(k.look.Paper)
	look := lettering{size: 20, colour: k.look.Ink}
	width := k.letters.measure("Winding channel", look)
	k.write("Winding channel", look, upright(20, 40))
	first, last := 300, 0
	for y := range 60 {
		for x := range 300 {
			if distance(k.dst, x, y, k.look.Paper) > 60 {
				first, last = min(first, x), max(last, x)
				if y < 40-20 || y > 40+8 {
					t.Fatalf("ink at row %d", y)
				}
			}
		}
	}
	if first < 19 || float64(last) > 20+width+1 || float64(last-first) < 0.9*width {
		t.Errorf("ink from %d to %d, the text is %.1f wide from 20", first, last, width)
	}
}
