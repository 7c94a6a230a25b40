package view

import (
	"context"
	"math"
	"strings"
	"testing"

	"runnel/analysis/accuracy"
	"runnel/geo/grid"
	"runnel/geo/plan"
	"runnel/geo/survey"
)

// off is a plane whose survey is off by an error [m] alike everywhere.
func off(err float64) *plan.Site {
	s := ramped(0.05)
	s.Setting.SurveyError = err
	return s
}

// The scale goes by how many times as large a doubt is: from 1 cm to 1 m it runs over
// five steps of colour.
func TestDoubtsRunFromTheFirstColourToTheLast(t *testing.T) {
	for step, err := range []float64{0.01, 0.0251, 0.0631, 0.1585, 0.3981, 1} {
		s := sceneShowing(t, Maker{Show: Doubts}, off(err))
		s.Doubt.grade(0.01, 1)
		s.Doubt.thin = []grid.Grid[uint8]{grid.New[uint8](s.Ground.Frame)} // the hatch has its own test
		img := mustDraw(t, s, Camera{North: 60, Scale: 4}, 320, 240)
		for _, at := range [][2]int{{20, 20}, {160, 120}, {300, 220}} {
			if want := Light().Doubts[step]; distance(img, at[0], at[1], want) > 4 {
				t.Errorf("an error of %g m at %v is %v, want %v", err, at, img.RGBAAt(at[0], at[1]), want)
			}
		}
	}
}

// The scale runs between the steps of 1, 2, 5, 10 … that a fiftieth of the ground is beyond
// at most, and over ten times at least.
func TestTheScaleOfDoubtsFitsTheSite(t *testing.T) {
	for _, c := range []struct {
		some, most, worst float64 // of a tenth of the ground, of nearly all, of a hundredth [m]
		low, high         float64
	}{
		{0.02, 0.02, 0.03, 0.01, 0.1}, {0.13, 0.13, 0.13, 0.02, 0.2}, {0.2, 0.2, 0.2, 0.02, 0.2}, {0.3, 1.48, 40, 0.2, 2},
		{0.03, 1.48, 40, 0.02, 2}, {3.1, 3.1, 3.1, 0.5, 5}, {0, 30, 30, 0.01, 50}, {0, 0, 0, 0.01, 0.1},
	} {
		doubt := grid.New[float32](grid.Square(100, 100, 0, 0, 1))
		for i := range doubt.V {
			switch doubt.V[i] = float32(c.most); {
			case i < 100:
				doubt.V[i] = float32(c.worst)
			case i < 1100:
				doubt.V[i] = float32(c.some)
			}
			if i%7 == 3 {
				doubt.V[i] = grid.NoData
			}
		}
		if low, high := doubtScale(doubt); math.Abs(low-c.low) > 1e-9 || math.Abs(high-c.high) > 1e-9 {
			t.Errorf("doubts of %g and %g m, a few of %g m, have a scale from %g to %g m, want %g to %g m", c.some, c.most, c.worst, low, high, c.low, c.high)
		}
	}
}

// Two layers that may be on at once are told apart by their hues.
func TestDoubtsAndHowSurePathsAreHaveHuesOfTheirOwn(t *testing.T) {
	for look, p := range looks() {
		green := func(c Colour) bool { return c.G > c.B } // olive is, and purple is not
		if last := p.Doubts[len(p.Doubts)-1]; !green(last) || green(p.Sure[0]) || green(p.Sure[1]) {
			t.Errorf("%s: the doubts end in %v, paths are %v", look, last, p.Sure)
		}
	}
}

func TestThinGroundIsHatchedAndOtherGroundIsNot(t *testing.T) {
	s := sceneShowing(t, Maker{Show: Doubts}, off(0.01))
	thin := grid.New[uint8](s.Ground.Frame)
	for y := range thin.H {
		for x := range thin.W / 2 {
			thin.V[y*thin.W+x] = 1
		}
	}
	s.Doubt.thin = halves(thin, surest)
	img := mustDraw(t, s, Camera{North: 60, Scale: 4}, 320, 240)
	strokes := func(from, to int) (n int) {
		for y := 20; y < 220; y++ {
			for x := from; x < to; x++ {
				if distance(img, x, y, Light().Doubts[0]) > 20 {
					n++
				}
			}
		}
		return n
	}
	if west, east := strokes(20, 140), strokes(180, 300); west < 1500 || east != 0 {
		t.Errorf("%d pixels are hatched where the survey is thin, %d where it is not", west, east)
	}
}

func TestADoubtIsKeptWhileWhatItRestsOnStays(t *testing.T) {
	site := off(0.1)
	first := sceneShowing(t, Maker{Show: Doubts}, site)
	if first.Lacks(Doubts) || !sceneShowing(t, Maker{Show: Shade}, site).Lacks(Doubts) {
		t.Fatal("a doubt is made when it is not shown, or not made when it is")
	}
	if again := sceneShowing(t, Maker{Show: Shade, Before: first}, site); again.Doubt != first.Doubt {
		t.Error("the same survey is judged anew")
	}
	for name, change := range map[string]func(*plan.Site){
		"error":  func(s *plan.Site) { s.Setting.SurveyError = 0.2 },
		"ground": func(s *plan.Site) { s.Ground = s.Ground.Clone() },
		"survey": func(s *plan.Site) { s.Survey = survey.Survey{Sources: []survey.Source{{Name: "a.tif"}}} },
	} {
		other := *site
		change(&other)
		if got := sceneShowing(t, Maker{Show: Shade, Before: first}, &other); got.Doubt != nil {
			t.Errorf("another %s has the doubt of the one before", name)
		}
	}
}

func TestTheLegendTellsDoubtsInTheUnitsThatAreSet(t *testing.T) {
	s := sceneShowing(t, Maker{Show: Doubts}, off(0.9))
	s.Doubt.grade(0.01, 1)
	for units, want := range map[Units]string{Metres: "0.01 0.03 0.1 0.3 1 m", Feet: "0.033 0.10 0.33 1.0 3.3 ft"} {
		s.Units = units
		var found string
		for _, e := range s.Legend(Camera{Scale: 1}) {
			if e.Words == "How far off heights may be" {
				found = strings.Join(e.Figures, " ")
			}
		}
		if found != want {
			t.Errorf("the figures are %q, want %q", found, want)
		}
	}
}

func TestGroundThatIsNotKnownHasNoDoubt(t *testing.T) {
	site := off(0.1)
	for i := range site.Ground.V {
		site.Ground.V[i] = grid.NoData
	}
	d, err := newDoubt(context.Background(), site)
	if err != nil {
		t.Fatal(err)
	}
	for i, v := range d.Doubt.V {
		if v == v || d.Thin.V[i] == accuracy.TooLittle {
			t.Fatalf("cell %d has a doubt of %g m", i, v)
		}
	}
}
