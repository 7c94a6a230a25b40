package accuracy

import (
	"context"
	"math"
	"testing"

	"github.com/paulmach/orb"

	"runnel/analysis/synthetic"
	"runnel/geo/grid"
	"runnel/geo/survey"
)

func doubtOf(t interface{ Fatal(...any) }, s survey.Survey, g grid.Ground, q survey.Quality) grid.Grid[float32] {
	doubt, err := Doubt(context.Background(), s, g, q)
	if err != nil {
		t.Fatal(err)
	}
	return doubt
}

// At each point that is kept back the variance is, on the mean, the square of the RMSE.
func TestDoubtIsSmallAtMeasurementsAndAgreesWithThoseKeptBack(t *testing.T) {
	s := shots(400, 0.03, 1)
	g := grid.New[float32](grid.Square(200, 200, 0, 100, 0.5))
	g.V[777] = grid.NoData
	q := survey.Quality{HeldOut: 400, RMSE: 0.4, Error: 0.4, Reach: 5}
	doubt := doubtOf(t, s, g, q)
	if !grid.IsNoData(doubt.V[777]) {
		t.Error("a cell of no data has a doubt")
	}
	sum := 0.0
	for i, p := range s.Spots {
		if got := grid.Sample(doubt, p.At); got > 0.4*0.6 {
			t.Fatalf("the doubt at point %d is %g m", i, got)
		}
		// As far away as the point's nearest neighbour.
		near := math.Inf(1)
		for j, r := range s.Spots {
			if i != j {
				near = min(near, math.Hypot(p.At[0]-r.At[0], p.At[1]-r.At[1]))
			}
		}
		sum += near
	}
	mean, found, n := sum/400, 0.0, 0
	for y := range g.H {
		for x := range g.W {
			c := g.Centre(x, y)
			near := math.Inf(1)
			for _, r := range s.Spots {
				near = min(near, math.Hypot(c[0]-r.At[0], c[1]-r.At[1]))
			}
			if v := doubt.At(x, y); math.Abs(near-mean) < 0.2 && !grid.IsNoData(v) {
				found, n = found+square(float64(v)), n+1
			}
		}
	}
	if got := math.Sqrt(found / float64(n)); math.Abs(got-q.RMSE) > 0.01 {
		t.Errorf("at %g m from the nearest the doubt is %g m, want %g m", mean, got, q.RMSE)
	}
}

// Between contours the mean square agrees with the error that Estimate reckons with,
// for it is worked out alike.
func TestDoubtBetweenContoursAgreesWithTheErrorOfTheGround(t *testing.T) {
	s := survey.Survey{Sources: []survey.Source{{Form: survey.Contours}}}
	for i := range 21 {
		s.Lines = append(s.Lines, survey.Line{At: orb.LineString{{-50, float64(10 * i)}, {250, float64(10 * i)}}, Z: []float64{5 * float64(i)}})
	}
	g := grid.New[float32](grid.Square(400, 400, 0, 200, 0.5))
	q := survey.Quality{HeldOut: 100, RMSE: 0.6, Error: 0.6 / math.Sqrt(3), Reach: 10}
	doubt, sum := doubtOf(t, s, g, q), 0.0
	for _, v := range doubt.V {
		sum += square(float64(v))
	}
	if got := math.Sqrt(sum / float64(len(g.V))); math.Abs(got/q.Error-1) > 0.1 {
		t.Errorf("the mean doubt is %g m, want %g m", got, q.Error)
	}
	q.RMSE, q.Error = 60, 34 // no more than the interval, and what the lines themselves have
	s.Sources[0].Error = 0.1
	for i, v := range doubtOf(t, s, g, q).V {
		if float64(v) > math.Hypot(0.1, 5/math.Sqrt(12))+1e-5 {
			t.Fatalf("cell %d has a doubt of %g m between contours 5 m apart", i, v)
		}
	}
}

func TestDoubtNeverFallsAwayFromMeasurements(t *testing.T) {
	s := shots(30, 0.03, 2)
	g := grid.New[float32](grid.Square(100, 100, 0, 100, 1))
	doubt := doubtOf(t, s, g, survey.Quality{Error: 0.3})
	away, err := distances(context.Background(), g.Frame, measuredCells(s, g))
	if err != nil {
		t.Fatal(err)
	}
	least, most, mean := math.Inf(1), 0.0, 0.0
	for i, v := range doubt.V {
		for j := i % 97; j < len(doubt.V); j += 997 {
			if away.V[i] > away.V[j] && v < doubt.V[j] {
				t.Fatalf("%g m away the doubt is %g m, %g m away %g m", away.V[i], v, away.V[j], doubt.V[j])
			}
		}
		least, most, mean = min(least, float64(v)), max(most, float64(v)), mean+square(float64(v))/float64(len(doubt.V))
	}
	if least > 0.06 || most < 0.4 || math.Abs(math.Sqrt(mean)-0.3) > 1e-3 {
		t.Errorf("the doubt is from %g m to %g m, %g m on the mean", least, most, math.Sqrt(mean))
	}
}

func TestARasterIsDoubtedAlikeButInPatches(t *testing.T) {
	g := synthetic.Site(200, 200, 5)
	s := survey.Survey{Sources: []survey.Source{{Form: survey.Raster, Cell: 1}}}
	q := OfRaster(1, 0)
	for _, v := range doubtOf(t, s, g, q).V {
		if v != float32(q.Error) && !grid.IsNoData(v) {
			t.Fatalf("a doubt of %g m", v)
		}
	}
	b := g.Bound()
	middle := b.Center()
	size := 30 * g.DX
	s.Patches = []survey.Patch{{Outline: orb.Bound{Min: orb.Point{middle[0] - size, middle[1] - size}, Max: orb.Point{middle[0] + size, middle[1] + size}}.ToPolygon()}}
	doubt := doubtOf(t, s, g, q)
	last := float32(0)
	for x := 60; x <= 100; x++ {
		v := doubt.At(x, 100)
		if v < last || (x < 69) != (v == float32(q.Error)) && x != 69 && x != 70 {
			t.Errorf("in column %d the doubt is %g m", x, v)
		}
		last = v
	}
	if last < 2*float32(q.Error) {
		t.Errorf("in the middle of a patch the doubt is %g m", last)
	}
}

func TestAwkwardGroundsAreDoubtedWhereTheyHaveAHeight(t *testing.T) {
	for name, g := range synthetic.Awkward() {
		for _, s := range []survey.Survey{{}, shots(20, 0.1, 1), slope(4), {Sources: make([]survey.Source, 1), Patches: []survey.Patch{{Outline: g.Bound().ToPolygon()}}}} {
			doubt := doubtOf(t, s, g, survey.Quality{Error: 0.1, Reach: 2})
			thin := Thin(g, doubt, 2)
			for i, v := range doubt.V {
				if grid.IsNoData(v) != grid.IsNoData(g.V[i]) || v < 0 || math.IsInf(float64(v), 0) || (thin.V[i] == Unknown) != grid.IsNoData(v) {
					t.Fatalf("%s: cell %d of height %g has a doubt of %g m, %v", name, i, g.V[i], v, thin.V[i])
				}
			}
		}
	}
}

// On a plane with a slope, fall over the reach against its standard deviation:
// doubt·√(2·(1-1/e)).
func TestASurveyIsTooThinWhereTheFallIsWithinItsError(t *testing.T) {
	for doubt, want := range map[float32]Thinness{0.01: Enough, 0.26: Enough, 0.28: Little, 0.64: Little, 0.68: TooLittle, 5: TooLittle} {
		g, _ := plane(context.Background(), survey.Survey{}, grid.Square(60, 50, 0, 50, 0.5))
		errors := grid.New[float32](g.Frame)
		for i := range errors.V {
			errors.V[i] = doubt
		}
		// 0.1118 m/m over 4.4 m falls 0.492 m; 1.1243·doubt·1.6449 is that at 0.266 m,
		// and ·0.6745 at 0.649 m.
		for i, got := range Thin(g, errors, 4.4).V {
			if got != want {
				t.Fatalf("at a doubt of %g m cell %d is %v, want %v", doubt, i, got, want)
			}
		}
	}
}

func TestLargerCellsAreWorseAndWhatIsGivenGoesBefore(t *testing.T) {
	last := survey.Quality{}
	for _, cell := range []float64{0.1, 0.5, 1, 1.5, 2, 5, 10, 25, 30, 90, 900} {
		q := OfRaster(cell, 0)
		if q.Error < last.Error || q.Error <= 0 || q.Reach <= last.Reach {
			t.Errorf("a cell of %g m: %+v", cell, q)
		}
		last = q
		if got := OfRaster(cell, 0.33); got.Error != 0.33 || got.Reach != q.Reach {
			t.Errorf("given 0.33 m: %+v", got)
		}
	}
	if q := OfRaster(1, 0); q.Error != 0.1 {
		t.Errorf("laser surveys of 1 m: %+v", q)
	}
}

func BenchmarkDoubt(b *testing.B) {
	g := synthetic.Site(1000, 1000, 1)
	s := hilly(20_000, 0.1, 1)
	for b.Loop() {
		doubtOf(b, s, g, survey.Quality{HeldOut: 100, RMSE: 0.2, Error: 0.2})
	}
}
