package view

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// covered is the area that a stencil covers [px²].
func covered(s *stencil) float64 {
	var sum float64
	for _, c := range s.cover {
		sum += float64(c) / 255
	}
	return sum
}

// within reports whether got is want but for a share.
func withinShare(got, want, share float64) bool { return math.Abs(got-want) <= share*want }

func TestALineCoversItsWidthTimesItsLength(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		angle := rapid.Float64Range(0, 2*math.Pi).Draw(t, "angle")
		length := rapid.Float64Range(60, 180).Draw(t, "length")
		width := rapid.SampledFrom([]float64{0.5, 0.8, 1, 1.5, 2.2, 4, 9, 13.9, 14, 25, 40}).Draw(t, "width")
		sin, cos := math.Sincos(angle)
		a := orb.Point{150 - cos*length/2 + rapid.Float64Range(0, 1).Draw(t, "dx"), 150 - sin*length/2}
		s := newStencil(300, 300)
		s.stroke([]orb.Point{a, {a[0] + cos*length, a[1] + sin*length}}, Pen{Width: width}, add)
		if got, want := covered(s), width*length; !withinShare(got, want, 0.02) {
			t.Fatalf("a line of %g by %g px at %.3f rad covers %.2f px², want %.2f", length, width, angle, got, want)
		}
	})
}

func TestALineOfManyPiecesCoversAsMuchAsOneOfOne(t *testing.T) {
	for _, width := range []float64{1, 3, 20, 60} {
		whole, pieces := newStencil(500, 200), newStencil(500, 200)
		a, b := orb.Point{40, 60}, orb.Point{450, 130}
		var line []orb.Point
		for i := range 41 {
			line = append(line, along(a, b, float64(i)/40))
		}
		whole.stroke([]orb.Point{a, b}, Pen{Width: width}, add)
		pieces.stroke(line, Pen{Width: width}, add)
		if got, want := covered(pieces), covered(whole); !withinShare(got, want, 0.005) {
			t.Errorf("width %g: 40 pieces cover %.2f px², one covers %.2f", width, got, want)
		}
		for i, c := range whole.cover {
			if c == 255 && pieces.cover[i] < 250 {
				t.Fatalf("width %g: a seam shows at column %d, row %d: %d of 255", width, i%500, i/500, pieces.cover[i])
			}
		}
	}
}

func TestACornerIsRoundOnItsOutside(t *testing.T) {
	for _, width := range []float64{10, 40} {
		s := newStencil(200, 200)
		s.stroke([]orb.Point{{20, 100}, {100, 100}, {100, 20}}, Pen{Width: width}, add)
		// Two arms, the square they share counted once, and a quarter disc.
		half := width / 2
		want := 2*80*width - half*half + math.Pi*half*half/4
		if got := covered(s); !withinShare(got, want, 0.01) {
			t.Errorf("width %g: the corner covers %.1f px², want %.1f", width, got, want)
		}
	}
}

func TestADashedLineCoversTheShareOfItsStrokes(t *testing.T) {
	s := newStencil(500, 40)
	s.stroke([]orb.Point{{10, 20}, {490, 20}}, Pen{Width: 3, Dash: []float64{6, 4}}, add)
	if got, want := covered(s), 480*3*0.6; !withinShare(got, want, 0.02) {
		t.Errorf("covers %.1f px², want %.1f", got, want)
	}
	if s.cover[20*500+13] != 255 || s.cover[20*500+18] != 0 {
		t.Error("the line does not start with a stroke of 6 px and a gap of 4")
	}
}

func TestDashesKeepTheirPlaceWhenTheStartIsOutOfSight(t *testing.T) {
	pen := Pen{Width: 2, Dash: []float64{7, 5, 2, 5}}
	shown, hidden := newStencil(400, 30), newStencil(200, 30)
	shown.stroke([]orb.Point{{1.5, 15}, {399, 15}}, pen, add)
	hidden.stroke([]orb.Point{{1.5 - 200, 15}, {199, 15}}, pen, add)
	for x := range 190 {
		if a, b := shown.cover[15*400+200+x], hidden.cover[15*200+x]; a != b {
			t.Fatalf("column %d: %d with the start in sight, %d without", x, a, b)
		}
	}
}

func TestShapesFarOutsideCostNothingAndCoverNothing(t *testing.T) {
	s := newStencil(50, 50)
	far := 1e9
	s.stroke([]orb.Point{{-far, -far}, {-far, far}}, Pen{Width: 30}, add)
	s.stroke([]orb.Point{{far, -far}, {far, far}}, Pen{Width: 1, Dash: []float64{1e-3, 1e-3}}, add)
	s.area([]orb.Ring{{{far, 0}, {far, 10}, {2 * far, 0}}}, add)
	s.stroke([]orb.Point{{math.NaN(), 3}, {20, 20}, {math.Inf(1), 0}}, Pen{Width: 2}, add)
	s.area([]orb.Ring{{{math.NaN(), 0}, {0, 10}, {10, 0}}}, add)
	if got := covered(s); got != 0 {
		t.Errorf("%g px² are covered", got)
	}
}

func TestAShapeLargerThanThePictureCoversAllOfIt(t *testing.T) {
	for name, draw := range map[string]func(*stencil){
		"an area": func(s *stencil) { s.area([]orb.Ring{{{-1e7, -1e7}, {1e7, -1e7}, {1e7, 1e7}, {-1e7, 1e7}}}, add) },
		"a band":  func(s *stencil) { s.stroke([]orb.Point{{-1e6, 20}, {1e6, 30}}, Pen{Width: 1e5}, add) },
		"two pairs": func(s *stencil) {
			s.union([]orb.Ring{{{-9, -9}, {99, -9}, {99, 30}, {-9, 30}}, {{-9, 29}, {99, 29}, {99, 99}, {-9, 99}}}, add)
		},
	} {
		s := newStencil(64, 48)
		draw(s)
		if got, want := covered(s), 64.0*48; !withinShare(got, want, 0.002) {
			t.Errorf("%s covers %.1f of %.0f px²", name, got, want)
		}
	}
}

func TestAHoleIsNotCoveredWhicheverWayItRuns(t *testing.T) {
	outer := orb.Ring{{10, 10}, {90, 10}, {90, 90}, {10, 90}, {10, 10}}
	hole := orb.Ring{{30, 30}, {70, 30}, {70, 70}, {30, 70}, {30, 30}}
	for _, turned := range []bool{false, true} {
		h := hole.Clone()
		if turned {
			h.Reverse()
		}
		s := newStencil(100, 100)
		s.area([]orb.Ring{outer, h}, add)
		if got, want := covered(s), 80.0*80-40*40; !withinShare(got, want, 0.002) {
			t.Errorf("turned %v: covers %.1f px², want %.0f", turned, got, want)
		}
		if s.cover[50*100+50] != 0 {
			t.Error("the middle of the hole is covered")
		}
	}
}

func TestCutTakesAwayWhatWasAdded(t *testing.T) {
	s := newStencil(100, 100)
	s.area([]orb.Ring{{{10, 10}, {90, 10}, {90, 90}, {10, 90}}}, add)
	s.area([]orb.Ring{{{10, 10}, {50, 10}, {50, 90}, {10, 90}}}, cut)
	if got, want := covered(s), 40.0*80; !withinShare(got, want, 0.005) {
		t.Errorf("covers %.1f px², want %.0f", got, want)
	}
	other := newStencil(100, 100)
	other.area([]orb.Ring{{{0, 50}, {100, 50}, {100, 100}, {0, 100}}}, add)
	s.take(other)
	if got, want := covered(s), 40.0*40; !withinShare(got, want, 0.005) {
		t.Errorf("after the second cut covers %.1f px², want %.0f", got, want)
	}
}

func TestClearLeavesNothingBehind(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := newStencil(80, 60)
		for range rapid.IntRange(1, 5).Draw(t, "shapes") {
			p := func() orb.Point {
				return orb.Point{rapid.Float64Range(-50, 130).Draw(t, "x"), rapid.Float64Range(-50, 110).Draw(t, "y")}
			}
			s.stroke([]orb.Point{p(), p(), p()}, Pen{Width: rapid.Float64Range(0.1, 30).Draw(t, "width")}, add)
			s.area([]orb.Ring{{p(), p(), p()}}, add)
		}
		s.clear()
		if covered(s) != 0 || s.top < s.bottom {
			t.Fatal("something is still covered")
		}
	})
}

func TestABlendIsTheSumOfItsShares(t *testing.T) {
	for a := range 256 {
		pix := []uint8{200, 100, 0, 255}
		blend(pix, Colour{R: 0, G: 100, B: 255, A: 255}, uint32(a))
		want := []float64{200 * (1 - float64(a)/255), 100, float64(a), 255}
		for i, w := range want {
			if math.Abs(float64(pix[i])-w) > 1.01 {
				t.Fatalf("cover %d: channel %d is %d, want %.1f", a, i, pix[i], w)
			}
		}
	}
}
