package accuracy

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"runnel/geo/survey"
)

// slope is a survey of n wavy contours, 1 m and 10 m apart.
func slope(n int) survey.Survey {
	s := survey.Survey{Sources: []survey.Source{{Name: "slope.geojson", Form: survey.Contours}}}
	for i := range n {
		var line orb.LineString
		for x := 0.0; x <= 100; x += 2 {
			line = append(line, orb.Point{x, float64(10*i) + 3*math.Sin(x/15) - 3*math.Sin(50./15)})
		}
		s.Lines = append(s.Lines, survey.Line{At: line, Z: []float64{100 + float64(i)}, Number: i + 1})
	}
	return s
}

// hilly is a survey of n points of a rolling ground, each off by noise [m].
func hilly(n int, noise float64, seed uint64) survey.Survey {
	random := rand.New(rand.NewPCG(seed, 1))
	s := survey.Survey{Sources: []survey.Source{{Name: "shots.csv", Form: survey.Points}}}
	for i := range n {
		x, y := 300*random.Float64(), 300*random.Float64()
		s.Spots = append(s.Spots, survey.Spot{At: orb.Point{1000 + x, 5000 + y}, Z: roll(x, y) + noise*random.NormFloat64(), Row: int32(i + 2), Code: -1})
	}
	return s
}

func roll(x, y float64) float64 { return 120 + 4*math.Sin(x/40)*math.Cos(y/50) + x/20 }

func faultsOf(t interface{ Fatal(...any) }, s survey.Survey) []Fault {
	faults, err := Faults(context.Background(), s)
	if err != nil {
		t.Fatal(err)
	}
	return faults
}

func sorts(faults []Fault) map[Sort]int {
	count := map[Sort]int{}
	for _, f := range faults {
		count[f.Sort]++
	}
	return count
}

// only reports the one fault of a survey.
func only(t *testing.T, s survey.Survey) Fault {
	t.Helper()
	faults := faultsOf(t, s)
	if len(faults) != 1 {
		t.Fatalf("%d faults: %v", len(faults), faults)
	}
	return faults[0]
}

func TestGoodMeasurementsHaveNoFault(t *testing.T) {
	if faults := faultsOf(t, slope(12)); len(faults) > 0 {
		t.Errorf("contours: %v", faults)
	}
	for seed := range uint64(20) {
		if faults := faultsOf(t, hilly(2000, 0.05, seed)); len(faults) > 1 {
			t.Errorf("points of seed %d: %v", seed, faults)
		}
	}
	if faults := faultsOf(t, survey.Survey{}); len(faults) > 0 {
		t.Errorf("no measurements: %v", faults)
	}
}

func TestABlunderAmongPointsIsFoundAlone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := hilly(800, 0.03, rapid.Uint64Range(0, 50).Draw(t, "seed"))
		i := rapid.IntRange(0, len(s.Spots)-1).Draw(t, "point")
		off := rapid.SampledFrom([]float64{3, -3, 10, -100, 100}).Draw(t, "off")
		s.Spots[i].Z += off
		found := slices.DeleteFunc(faultsOf(t, s), func(f Fault) bool { return !slices.Equal(f.Spots, []int{i}) })
		if len(found) != 1 || found[0].Sort != Blunder || math.Abs(found[0].Off-math.Abs(off)) > 1.5 || found[0].At != s.Spots[i].At {
			// At a corner of the ground the neighbours tell little of it.
			b := s.Bound().Pad(-15)
			if b.Contains(s.Spots[i].At) || math.Abs(off) > 50 {
				t.Fatalf("a point off by %g m: %v", off, found)
			}
		}
	})
}

// What one row has wrong, with what its sentence must say.
func TestFaultsOfPoints(t *testing.T) {
	for word, c := range map[string]struct {
		sort  Sort
		spoil func(p *survey.Spot)
	}{
		"Row 52 of shots.csv has no height":       {NoHeight, func(p *survey.Spot) { p.Z = math.NaN() }},
		"has no height or no place":               {NoHeight, func(p *survey.Spot) { p.At[0] = math.Inf(1) }},
		"Row 52 of shots.csv has a height of 0 m": {NoHeight, func(p *survey.Spot) { p.Z = 0 }},
		"has a height of -9999 m":                 {NoHeight, func(p *survey.Spot) { p.Z = -9999 }},
		"m from the other points":                 {Astray, func(p *survey.Spot) { p.At[0], p.At[1] = p.At[1], p.At[0] }},
		"m above the surface of its neighbours":   {Blunder, func(p *survey.Spot) { p.Z += 5 }},
		"m below the surface of its neighbours":   {Blunder, func(p *survey.Spot) { p.Z -= 5 }},
	} {
		s := hilly(2000, 0.001, 7)
		s.Spots[50].At = orb.Point{1150, 5150}
		s.Spots[50].Z = roll(150, 150)
		c.spoil(&s.Spots[50])
		f := only(t, s)
		if f.Sort != c.sort || !strings.Contains(f.Says, word) || !f.Leave || !slices.Equal(f.Spots, []int{50}) {
			t.Errorf("%+v; want %q", f, word)
		}
	}
}

func TestAPointMeasuredTwiceIsHarmlessOrTwoHeightsForAPlace(t *testing.T) {
	s := hilly(500, 0.01, 3)
	again := s.Spots[40]
	again.At[0] += 0.006
	again.Row, again.Z = 900, again.Z+0.02
	s.Spots = append(s.Spots, again)
	if f := only(t, s); f.Sort != Repeated || f.Leave || !slices.Equal(f.Spots, []int{500}) {
		t.Errorf("%+v", f)
	}
	s.Spots[500].Z += 2
	if f := only(t, s); f.Sort != Duplicate || !f.Leave || math.Abs(f.Off-2.02) > 1e-9 || !strings.Contains(f.Says, "row 42 of shots.csv") {
		t.Errorf("%+v", f)
	}
	s.Spots[500].At[0] += 0.02 // no longer the same place, but a blunder
	if f := only(t, s); f.Sort != Blunder {
		t.Errorf("%+v", f)
	}
}

func TestAThirdOfTheRowsWithoutAHeightIsFoundAsThat(t *testing.T) {
	s := hilly(900, 0.02, 1)
	for i := range 300 {
		s.Spots[3*i].Z = 0
	}
	faults := faultsOf(t, s)
	if n := len(faults[listed].Spots); sorts(faults)[NoHeight] != listed+1 || n != 200 {
		t.Errorf("%v, and %d more", sorts(faults), n)
	}
	coast := hilly(900, 0.02, 1)
	for i := range coast.Spots {
		coast.Spots[i].Z = math.Round(coast.Spots[i].Z - 125)
	}
	if got := sorts(faultsOf(t, coast)); got[NoHeight] > 0 {
		t.Errorf("on a coast %v", got)
	}
}

func TestOnlyWhatIsAgreedToIsLeftOut(t *testing.T) {
	s := hilly(500, 0.01, 3)
	s.Spots[40].Z += 20
	s.Spots[140].Z += 20
	before := s
	before.Spots = slices.Clone(s.Spots)
	faults := faultsOf(t, s)
	if len(faults) != 2 || !reflect.DeepEqual(s, before) {
		t.Fatal("faults were not found, or the survey was changed", faults)
	}
	left := LeftOut(s, faults[:1])
	for i, p := range left.Spots {
		if p.Out != (i == faults[0].Spots[0]) {
			t.Errorf("point %d is out: %v", i, p.Out)
		}
	}
	if !reflect.DeepEqual(s, before) {
		t.Error("the survey itself was changed")
	}
	if again := faultsOf(t, left); len(again) != 1 || !reflect.DeepEqual(again[0].Spots, faults[1].Spots) {
		t.Errorf("then %v", again)
	}
	all := LeftOut(slope(3), []Fault{{Sources: []int{0}}, {Lines: []int{1}}})
	for _, l := range all.Lines {
		if !l.Out {
			t.Errorf("line %d of a file that is left out stays", l.Number)
		}
	}
}

func TestManyFaultsAreToldAsOneWithTheirNumber(t *testing.T) {
	s := hilly(5000, 0.01, 4)
	for i := range 250 {
		s.Spots[i*20].Z = math.NaN()
	}
	faults := faultsOf(t, s)
	if len(faults) != listed+1 || len(faults[listed].Spots) != 150 || !strings.HasPrefix(faults[listed].Says, "150 more points have no height") {
		t.Fatalf("%d faults, the last %v", len(faults), faults[len(faults)-1])
	}
	if left := faultsOf(t, LeftOut(s, faults)); len(left) > 1 {
		t.Errorf("left out, %d faults stay: %v", len(left), left)
	}
}

func TestTheSearchForFaultsStopsWhenItIsCancelled(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, err := Faults(ctx, hilly(100, 0.1, 1)); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
}

func FuzzFaults(f *testing.F) {
	f.Add(uint64(1))
	f.Fuzz(func(t *testing.T, seed uint64) {
		random := rand.New(rand.NewPCG(seed, 1))
		wild := []float64{0, 1, -1, 0.001, 1e9, -1e300, math.MaxFloat64, math.NaN(), math.Inf(1)}
		value := func() float64 {
			if random.IntN(2) == 0 {
				return float64(random.IntN(20))
			}
			return wild[random.IntN(len(wild))]
		}
		s := survey.Survey{Sources: make([]survey.Source, random.IntN(3))}
		for range random.IntN(12) {
			l := survey.Line{Source: random.IntN(4) - 1, Use: survey.Use(random.IntN(4))}
			for range random.IntN(5) {
				l.At, l.Z = append(l.At, orb.Point{value(), value()}), append(l.Z, value())
			}
			if len(l.Z) > 1 && random.IntN(2) == 0 {
				l.Z = l.Z[:1]
			}
			s.Lines = append(s.Lines, l)
		}
		for range random.IntN(60) {
			s.Spots = append(s.Spots, survey.Spot{At: orb.Point{value(), value()}, Z: value(), Source: int16(random.IntN(4) - 1)})
		}
		for _, fault := range faultsOf(t, s) {
			if fault.Says == "" || strings.Contains(fault.Says, "%!") {
				t.Fatalf("%+v", fault)
			}
		}
	})
}

func BenchmarkFaults(b *testing.B) {
	s := hilly(1_000_000, 0.05, 1)
	for i := range s.Spots {
		s.Spots[i].At = orb.Point{4 * s.Spots[i].At[0], 4 * s.Spots[i].At[1]}
	}
	for b.Loop() {
		if _, err := Faults(context.Background(), s); err != nil {
			b.Fatal(err)
		}
	}
}
