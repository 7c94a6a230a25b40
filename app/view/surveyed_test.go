package view

import (
	"image"
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/geo/grid"
	"runnel/geo/plan"
	"runnel/geo/survey"
)

// measured is a survey of three contours that run north, the middle one without a
// height, a breakline, and a spot, over 100 m.
func measured() survey.Survey {
	line := func(east, z float64, use survey.Use) survey.Line {
		return survey.Line{At: orb.LineString{{east, 0}, {east, 100}}, Z: []float64{z}, Use: use}
	}
	return survey.Survey{
		Lines: []survey.Line{line(10, 5, survey.Contour), line(30, math.NaN(), survey.Contour), line(50, 9, survey.Contour), line(70, 7, survey.Break)},
		Spots: []survey.Spot{{At: orb.Point{90, 50}, Z: 9, Code: -1}},
	}
}

// overMeasured sees 100 by 100 m at two pixels a metre.
var overMeasured = Camera{West: 0, North: 100, Scale: 2}

func drawMeasured(t *testing.T, s *Surveyed) *image.RGBA {
	t.Helper()
	img, err := DrawSurveyed(t.Context(), s, overMeasured, image.Pt(200, 200), Light())
	if err != nil {
		t.Fatal(err)
	}
	return img
}

func TestMeasurementsAreColouredByHeight(t *testing.T) {
	s, p := NewSurveyed(measured()), Light()
	if s.Low != 5 || s.High != 9 {
		t.Errorf("heights from %v to %v, want 5 to 9", s.Low, s.High)
	}
	img, ramp := drawMeasured(t, s), p.surveyRamp()
	for _, c := range []struct {
		what string
		x, y int
		want Colour
	}{
		{"the lowest contour", 20, 100, ramp[0]}, {"the highest", 100, 100, ramp[surveyColours-1]},
		{"the breakline", 140, 100, p.Ink}, {"the spot", 180, 100, ramp[surveyColours-1]}, {"bare paper", 120, 100, p.Paper},
	} {
		if d := distance(img, c.x, c.y, c.want); d > 90 {
			t.Errorf("%s is %v off its colour", c.what, d)
		}
	}
	loud := 0
	for y := range 200 {
		if distance(img, 60, y, p.Accent) < 90 {
			loud++
		}
	}
	if loud < 100 || loud > 190 {
		t.Errorf("%d of 200 pixels of the contour without a height are loud; it is dashed", loud)
	}
}

func TestWhatIsLeftOutIsNoContour(t *testing.T) {
	m := measured()
	m.Lines[0].Out = true
	s := NewSurveyed(m)
	if d := distance(drawMeasured(t, s), 20, 100, Light().surveyRamp()[0]); d < 60 {
		t.Error("a line that is left out is drawn as the others")
	}
}

func TestTheGroundThatWasMadeLiesUnderTheMeasurements(t *testing.T) {
	g := grid.New[float32](grid.Square(100, 100, 0, 100, 1))
	for i := range g.V {
		g.V[i] = float32(i%100) / 10
	}
	scene, err := BareScene(t.Context(), g, Metres)
	if err != nil {
		t.Fatal(err)
	}
	s := NewSurveyed(measured())
	s.Ground = scene
	shown := drawMeasured(t, s)
	if d := distance(shown, 140, 100, Light().Ink); d > 90 {
		t.Error("the measurements are not over the ground")
	}
	s.Bare = true
	if d := distance(drawMeasured(t, s), 140, 100, Light().Ink); d < 90 {
		t.Error("the measurements are not hidden")
	}
}

func TestTheNearestLineIsFoundWithinReach(t *testing.T) {
	s := NewSurveyed(measured())
	for _, c := range []struct {
		at   orb.Point
		want int
	}{{orb.Point{12, 50}, 0}, {orb.Point{29, 3}, 1}, {orb.Point{60, 50}, -1}, {orb.Point{50, 104}, -1}} {
		if got := s.Near(c.at, 3); got != c.want {
			t.Errorf("at %v line %d is found, want %d", c.at, got, c.want)
		}
	}
}

func TestThePlanShowsThroughAndTagsStandByTheirPlaces(t *testing.T) {
	s := NewSurveyed(measured())
	bare := drawMeasured(t, s)
	s.Plan = []plan.Feature{{Kind: plan.Kerb, Geometry: orb.LineString{{15, 80}, {28, 80}}}}
	if d := distance(drawMeasured(t, s), 45, 40, Light().Paper); d < 60 {
		t.Error("a kerb of the site does not show through")
	}
	s.Plan, s.Tags = nil, []Tag{{orb.Point{60, 20}, "5.00 m"}, {orb.Point{60, 20.5}, "6.00 m"}}
	other, one := drawMeasured(t, s), 0
	for i := range other.Pix {
		if other.Pix[i] != bare.Pix[i] {
			one++
		}
	}
	s.Tags = s.Tags[:1]
	alone := drawMeasured(t, s)
	if one == 0 || string(alone.Pix) != string(other.Pix) {
		t.Errorf("%d parts of pixels differ with tags; one that lies over another is left out", one)
	}
}
