package geo

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// scanned are six points of a scan, each a little off.
var scanned = []Pair{
	{orb.Point{120, 340}, orb.Point{523440.12, 4811200.55}}, {orb.Point{1890, 275}, orb.Point{523616.40, 4811207.31}},
	{orb.Point{1755, 1310}, orb.Point{523603.88, 4811103.70}}, {orb.Point{240, 1405}, orb.Point{523452.02, 4811094.35}},
	{orb.Point{1010, 820}, orb.Point{523529.10, 4811152.80}}, {orb.Point{1500, 600}, orb.Point{523577.95, 4811174.60}},
}

func near(a, b, within float64) bool { return math.Abs(a-b) <= within }

// The figures are those of numpy.linalg.lstsq (NumPy 1.24.2) of the same points, about
// their middles, worked out once by hand.
func TestFitsAreThoseOfANumericalLibrary(t *testing.T) {
	for name, c := range map[string]struct {
		fit    func([]Pair) (Fit, error)
		linear [4]float64
		off    []float64
		rms    float64
		worst  int
		spare  int
	}{
		"affine": {FitAffine, [4]float64{0.09989802194632248, 0.0003933978529709385, 2.877161999399972e-05, -0.099885885494827},
			[]float64{0.2227452791244067, 0.33494838647354397, 0.2674374531299375, 0.31452959256715823, 0.11796416304686955, 0.13046788476363827}, 0.2460335172385316, 1, 3},
		"similarity": {FitSimilarity, [4]float64{0.09987375473729047, 0.00013131888649937486, 0.00013131888649937486, -0.09987375473729047},
			[]float64{0.06428205376785924, 0.4287089922525237, 0.4365702959532177, 0.231682429557283, 0.1271314176874648, 0.152029079019133}, 0.28031803134406236, 2, 4},
	} {
		f, err := c.fit(scanned)
		if err != nil {
			t.Fatal(err)
		}
		for i, at := range []int{1, 2, 4, 5} {
			if !near(f.Affine[at], c.linear[i], 1e-12) {
				t.Errorf("%s: figure %d is %.15g, want %.15g", name, at, f.Affine[at], c.linear[i])
			}
		}
		for i, want := range c.off {
			if !near(f.Off[i], want, 1e-8) {
				t.Errorf("%s: pair %d is %.12g m off, want %.12g", name, i, f.Off[i], want)
			}
		}
		if !near(f.RMS, c.rms, 1e-8) || f.Worst != c.worst || f.Spare != c.spare || f.Mirrored {
			t.Errorf("%s: %+v, want an RMS of %.12g m and pair %d the worst", name, f, c.rms, c.worst)
		}
	}
}

// A square of 100 pixels whose one corner is d off on the ground, of four pairs: the
// affine fit spreads it evenly, d/4 at each corner, as the one error that no affine
// makes is the alternating one.
func TestOneCornerThatIsOffIsSharedByAll(t *testing.T) {
	const d = 0.8
	pairs := []Pair{
		{orb.Point{0, 0}, orb.Point{0, 100}}, {orb.Point{100, 0}, orb.Point{100, 100}},
		{orb.Point{100, 100}, orb.Point{100, 0}}, {orb.Point{0, 100}, orb.Point{0, d}},
	}
	f, err := FitAffine(pairs)
	if err != nil {
		t.Fatal(err)
	}
	for i, off := range f.Off {
		if !near(off, d/4, 1e-12) {
			t.Errorf("corner %d is %g m off, want %g", i, off, d/4)
		}
	}
	if !near(f.RMS, d/4, 1e-12) || f.Spare != 1 {
		t.Errorf("the RMS is %g m with %d to spare", f.RMS, f.Spare)
	}
}

func TestTwoPairsTurnAndScale(t *testing.T) {
	// A quarter turn to the left: right is north, below is east.
	f, err := FitSimilarity([]Pair{{orb.Point{10, 20}, orb.Point{500, 900}}, {orb.Point{60, 20}, orb.Point{500, 910}}})
	if err != nil {
		t.Fatal(err)
	}
	want := Affine{500 - 0.2*20, 0, 0.2, 900 - 0.2*10, 0.2, 0}
	for i := range want {
		if !near(f.Affine[i], want[i], 1e-9) {
			t.Errorf("figure %d is %g, want %g", i, f.Affine[i], want[i])
		}
	}
	if f.Spare != 0 || f.RMS > 1e-9 || f.Mirrored || !near(f.Pixel(), 0.2, 1e-12) {
		t.Errorf("%+v", f)
	}
}

func TestAKnownPlaceIsFoundAgain(t *testing.T) {
	number := func(t *rapid.T, name string, low, high float64) float64 {
		return rapid.Float64Range(low, high).Draw(t, name)
	}
	rapid.Check(t, func(t *rapid.T) {
		scale, turn := math.Pow(10, number(t, "scale", -3, 1)), number(t, "turn", -math.Pi, math.Pi)
		alike, face := rapid.Bool().Draw(t, "alike"), rapid.SampledFrom([]float64{-1, 1}).Draw(t, "face")
		stretch, skew := 1.0, 0.0
		if !alike {
			stretch, skew = number(t, "stretch", 0.5, 2), number(t, "skew", -0.5, 0.5)
		}
		sin, cos := math.Sincos(turn)
		place := Affine{number(t, "east", -1e6, 1e6), scale * cos, scale * stretch * face * (skew*cos - sin), number(t, "north", 0, 9e6), scale * sin, scale * stretch * face * (skew*sin + cos)}
		pairs := []Pair{{Pixel: orb.Point{0, 0}}, {Pixel: orb.Point{3000, 0}}, {Pixel: orb.Point{0, 2000}}}
		for range rapid.IntRange(0, 6).Draw(t, "more") {
			pairs = append(pairs, Pair{Pixel: orb.Point{number(t, "x", 0, 3000), number(t, "y", 0, 2000)}})
		}
		for i := range pairs {
			pairs[i].Ground = place.To(pairs[i].Pixel)
		}
		f, err := FitAffine(pairs)
		if err != nil {
			t.Fatalf("%v at %+v", err, pairs)
		}
		corner := orb.Point{3000, 2000}
		got, want := f.To(corner), place.To(corner)
		if within := 1e-7 * (1 + scale); !near(got[0], want[0], within) || !near(got[1], want[1], within) || f.RMS > within {
			t.Fatalf("the far corner comes to %v, want %v; the RMS is %g m", got, want, f.RMS)
		}
		if f.Mirrored != (face > 0) || !f.Sound() {
			t.Fatalf("face %g, mirrored %v", face, f.Mirrored)
		}
		s, err := FitSimilarity(pairs)
		if alike && face < 0 && (err != nil || s.RMS > 1e-7*(1+scale) || s.Mirrored) {
			t.Fatalf("the similarity is off by %g m: %v", s.RMS, err)
		}
		if err == nil && s.RMS < f.RMS-1e-7*(1+scale) {
			t.Fatalf("the similarity is off by %g m, less than the affine, which is free to be one, by %g m", s.RMS, f.RMS)
		}
	})
}

func TestAnImageFaceDownIsTold(t *testing.T) {
	var pairs []Pair
	for _, p := range scanned {
		pairs = append(pairs, Pair{orb.Point{2000 - p.Pixel[0], p.Pixel[1]}, p.Ground})
	}
	for name, fit := range map[string]func([]Pair) (Fit, error){"affine": FitAffine, "similarity": FitSimilarity} {
		if f, err := fit(pairs); err != nil || !f.Mirrored {
			t.Errorf("%s: mirrored %v, %v", name, f.Mirrored, err)
		}
	}
}

func TestPointsThatSayTooLittleAreRefused(t *testing.T) {
	on := func(points ...float64) (pairs []Pair) {
		for i := 0; i < len(points); i += 4 {
			pairs = append(pairs, Pair{orb.Point{points[i], points[i+1]}, orb.Point{points[i+2], points[i+3]}})
		}
		return pairs
	}
	for name, c := range map[string]struct {
		fit   func([]Pair) (Fit, error)
		pairs []Pair
		want  string
	}{
		"two for an affine":      {FitAffine, scanned[:2], "pick at least 3"},
		"one for a similarity":   {FitSimilarity, scanned[:1], "pick at least 2"},
		"none":                   {FitAffine, nil, "pick at least 3"},
		"one line on the image":  {FitAffine, on(0, 0, 0, 100, 50, 50, 50, 60, 100, 100, 100, 0), "on one line of the image"},
		"one line on the ground": {FitAffine, on(0, 0, 0, 0, 100, 0, 10, 10, 0, 100, 20, 20), "on one line of the ground"},
		"nearly one line":        {FitAffine, on(0, 0, 0, 100, 1000, 0, 100, 100, 500, 3, 50, 99), "on one line of the image"},
		"two on one spot":        {FitAffine, on(0, 0, 0, 0, 0, 0, 5, 5, 90, 90, 50, 60), "on one line of the image"},
		"all on one spot":        {FitSimilarity, on(5, 5, 0, 0, 5, 5, 9, 9), "on one spot of the image"},
		"one spot on the ground": {FitSimilarity, on(5, 5, 1, 1, 9, 9, 1, 1), "on one spot of the ground"},
		"not a number":           {FitAffine, on(0, 0, 0, math.NaN(), 9, 0, 9, 0, 0, 9, 0, 9), "not a number"},
		"out of all bounds":      {FitSimilarity, on(0, 0, 0, 1e300, 9, 0, 9, -1e300), "not a number"},
	} {
		if f, err := c.fit(c.pairs); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %+v, %v, want %q", name, f, err, c.want)
		}
	}
}

func TestASquashedPlaceIsNotSound(t *testing.T) {
	for _, a := range []Affine{{}, {0, 1, 2, 0, 2, 4}, {0, 1, 0, 0, 0, math.Inf(1)}, {math.NaN(), 1, 0, 0, 0, -1}} {
		if a.Sound() {
			t.Errorf("%v counts as sound", a)
		}
	}
	if !(Affine{1, 0.001, 0, 1, 0, -0.001}).Sound() {
		t.Error("a fine place does not count as sound")
	}
}
