package survey

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
)

// across is a contour that runs north at an east.
func across(east, z float64) Line {
	return Line{At: orb.LineString{{east, -10}, {east, 10}}, Z: []float64{z}}
}

// ring is a closed contour about a place on the x axis.
func ring(east, radius float64) Line {
	var at orb.LineString
	for i := range 33 {
		turn := 2 * math.Pi * float64(i%32) / 32
		at = append(at, orb.Point{east + radius*math.Cos(turn), radius * math.Sin(turn)})
	}
	return Line{At: at, Z: []float64{math.NaN()}}
}

func levelsOf(levels []Level) map[int]float64 {
	of := map[int]float64{}
	for _, l := range levels {
		of[l.Line] = l.Z
	}
	return of
}

var eastward = orb.LineString{{-100, 0.3}, {100, 0.3}}

func TestCrossingsComeInTheOrderOfTheStroke(t *testing.T) {
	nan := math.NaN()
	s := Survey{Lines: []Line{across(30, nan), across(10, nan), across(20, nan), {At: orb.LineString{{15, -10}, {15, 10}}, Use: Break}, across(25, nan)}}
	s.Lines[4].Out = true
	var got []int
	for _, c := range s.Crossings(orb.LineString{{0, 0}, {16, 3}, {40, 0}}) {
		got = append(got, c.Line)
	}
	if len(got) != 3 || got[0] != 1 || got[1] != 2 || got[2] != 0 {
		t.Errorf("crossed %v, want 1 2 0: no breakline, and nothing that is left out", got)
	}
}

func TestACornerOnALineIsCrossedOnce(t *testing.T) {
	s := Survey{Lines: []Line{across(10, 5)}}
	for name, c := range map[string]struct {
		stroke orb.LineString
		want   int
	}{
		"a corner of the stroke on the line":   {orb.LineString{{0, 0}, {10, 0}, {20, 0}}, 1},
		"a corner of both":                     {orb.LineString{{0, -10}, {10, -10}, {20, -10}}, 0},
		"a stroke that comes to it and turns":  {orb.LineString{{20, 0}, {11, 1}, {20, 2}}, 0},
		"a stroke that crosses, and back":      {orb.LineString{{0, 0}, {20, 0}, {20, 1}, {0, 1}}, 2},
		"a stroke without length":              {orb.LineString{{10, 0}, {10, 0}}, 0},
		"a stroke that is one point":           {orb.LineString{{10, 0}}, 0},
		"a stroke along the line to one side":  {orb.LineString{{10.001, -5}, {10.001, 5}}, 0},
		"a stroke that ends short of the line": {orb.LineString{{0, 0}, {9.99, 0}}, 0},
	} {
		got := len(s.Crossings(c.stroke))
		if name == "a corner of both" { // at the end of a line either answer is right, but not two
			if got > 1 {
				t.Errorf("%s: crossed %d times", name, got)
			}
			continue
		}
		if got != c.want {
			t.Errorf("%s: crossed %d times, want %d", name, got, c.want)
		}
	}
}

func TestHeightsAreCountedFromTheFirstLine(t *testing.T) {
	nan := math.NaN()
	s := Survey{Lines: []Line{across(0, nan), across(10, nan), across(20, nan)}}
	up, err := s.CountAlong(eastward, Count{First: 100, Step: 0.5})
	if err != nil {
		t.Fatal(err)
	}
	if of := levelsOf(up); of[0] != 100 || of[1] != 100.5 || of[2] != 101 {
		t.Errorf("counted up %v", of)
	}
	down, _ := s.CountAlong(eastward, Count{First: 100, Step: -2})
	if of := levelsOf(down); of[2] != 96 {
		t.Errorf("counted down %v", of)
	}
}

func TestAHeightThatIsKnownBeginsTheCountAndOthersCheckIt(t *testing.T) {
	nan := math.NaN()
	s := Survey{Lines: []Line{across(0, nan), across(10, 101), across(20, nan), across(30, 102.5)}}
	got, err := s.CountAlong(eastward, Count{First: nan, Step: 1})
	if err != nil {
		t.Fatal(err)
	}
	if of := levelsOf(got); of[0] != 100 || of[2] != 102 {
		t.Errorf("counted %v, want 100 before the known line and 102 after it", of)
	}
	if got[1].Against() || !got[3].Against() || got[0].Against() {
		t.Errorf("told against: %v %v %v; only the last is known otherwise", got[0].Against(), got[1].Against(), got[3].Against())
	}
}

func TestTwoKnownIndexContoursTellTheStep(t *testing.T) {
	nan := math.NaN()
	s := Survey{Lines: []Line{across(0, 105), across(10, nan), across(20, nan), across(30, nan), across(40, nan), across(50, 100)}}
	got, err := s.CountAlong(eastward, Count{First: nan})
	if err != nil {
		t.Fatal(err)
	}
	for i, l := range got {
		if want := 105 - float64(i); l.Z != want {
			t.Errorf("line %d is %v, want %v", i, l.Z, want)
		}
	}
}

// Over a hill of three closed contours the stroke meets each twice.
func TestAStrokeOverATopComesDownAgain(t *testing.T) {
	nan := math.NaN()
	s := Survey{Lines: []Line{across(-90, nan), ring(0, 60), ring(0, 40), ring(0, 20), across(90, nan)}}
	s.Lines[0].At = orb.LineString{{-90, -90}, {-90, 90}}
	s.Lines[4].At = orb.LineString{{90, -90}, {90, 90}}
	got, err := s.CountAlong(eastward, Count{First: 10, Step: 1})
	if err != nil {
		t.Fatal(err)
	}
	of := levelsOf(got)
	for line, want := range []float64{10, 11, 12, 13, 10} {
		if of[line] != want {
			t.Errorf("line %d is %v, want %v", line, of[line], want)
		}
	}
}

// A stroke through the nose of a contour leaves it again at once.
func TestAStrokeThroughANoseGoesBackToWhereItCameFrom(t *testing.T) {
	nan := math.NaN()
	nose := Line{At: orb.LineString{{10, -10}, {20, 10}, {30, -10}}, Z: []float64{nan}}
	s := Survey{Lines: []Line{across(0, nan), nose, across(40, nan)}}
	got, _ := s.CountAlong(orb.LineString{{-5, 0}, {50, 0}}, Count{First: 50, Step: 5})
	if of := levelsOf(got); of[1] != 55 || of[2] != 50 {
		t.Errorf("counted %v, want 55 at the nose and 50 beyond it", of)
	}
}

// Where the first line is crossed in and out before any other, the step is still that
// to the second.
func TestAKnobAtTheStartTurnsNothingRound(t *testing.T) {
	nan := math.NaN()
	s := Survey{Lines: []Line{ring(0, 5), across(20, nan), across(30, nan)}}
	got, _ := s.CountAlong(orb.LineString{{-10, 0.3}, {50, 0.3}}, Count{First: 70, Step: -5})
	if of := levelsOf(got); of[0] != 70 || of[1] != 65 || of[2] != 60 {
		t.Errorf("counted %v, want 70, 65, 60", of)
	}
}

func TestACountThatHasNothingToGoByIsRefused(t *testing.T) {
	nan := math.NaN()
	s := Survey{Lines: []Line{across(0, nan), across(10, nan)}}
	for want, c := range map[string]struct {
		stroke orb.LineString
		count  Count
	}{
		"crosses no contour": {orb.LineString{{50, 0}, {60, 0}}, Count{First: 1, Step: 1}},
		"type that of":       {eastward, Count{First: nan, Step: 1}},
		"give the interval":  {eastward, Count{First: 1}},
	} {
		if _, err := s.CountAlong(c.stroke, c.count); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("it says %v, want %q", err, want)
		}
	}
}

func TestPiecesOfAContourThatWasCutAreOne(t *testing.T) {
	nan := math.NaN()
	piece := func(z float64, at ...orb.Point) Line { return Line{At: at, Z: []float64{z}} }
	s := Survey{Lines: []Line{
		piece(nan, orb.Point{0, 0}, orb.Point{10, 0}),
		piece(nan, orb.Point{20, 0}, orb.Point{10, 0.001}), // drawn the other way
		piece(nan, orb.Point{20, 0}, orb.Point{30, 0}),
		piece(5, orb.Point{30, 0}, orb.Point{40, 0}), // known already
		piece(nan, orb.Point{0, 0}, orb.Point{0, 10}),
		piece(nan, orb.Point{0, 0}, orb.Point{-10, 0}), // three meet there
		piece(nan, orb.Point{10, 0.5}, orb.Point{10, 9}),
	}}
	got := s.Continued(0)
	if len(got) != 3 || got[0] != 0 || got[1] != 1 || got[2] != 2 {
		t.Errorf("pieces %v, want 0 1 2", got)
	}
}
