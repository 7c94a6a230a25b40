package certainty

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"runnel/geo/grid"
)

// between returns the correlation of the errors of two cells of an axis, and the
// variances: what the nodes that both lean on bring.
func (a axis) between(c, d int) float64 {
	sum := 0.0
	for s, v := range a.weight[c] {
		if t := a.first[c] + s - a.first[d]; t >= 0 && t < taps {
			sum += float64(v) * float64(a.weight[d][t])
		}
	}
	return sum
}

func TestErrorsCorrelateByTheSquareOfTheirDistance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := rapid.Float64Range(0.1, 5).Draw(t, "cell")
		reach := size * rapid.Float64Range(2, 300).Draw(t, "reach in cells")
		a := newAxis(400, size, reach)
		c, d := rapid.IntRange(0, 399).Draw(t, "c"), rapid.IntRange(0, 399).Draw(t, "d")
		off := float64(c-d) * size / reach
		if got, want := a.between(c, d), math.Exp(-off*off); math.Abs(got-want) > 5e-4 {
			t.Fatalf("%g reaches apart errors correlate by %g, want %g", off, got, want)
		}
		if got := a.between(c, c); math.Abs(got-1) > 1e-6 {
			t.Fatalf("the variance is %g, want 1", got)
		}
	})
}

func TestAReachUnderACellLeavesTheNoiseWhite(t *testing.T) {
	for _, reach := range []float64{0, 1e-9, 0.3, 0.999} {
		a := newAxis(20, 1, reach)
		for c := range 20 {
			for d := range 20 {
				if got := a.between(c, d); math.Abs(got-float64(min(1, max(0, 1-(c-d)*(c-d))))) > 1e-6 {
					t.Fatalf("at a reach of %g cells %d and %d correlate by %g", reach, c, d, got)
				}
			}
		}
	}
}

func TestAnErrorThatReachesBeyondTheGroundLiftsAllOfIt(t *testing.T) {
	for _, reach := range []float64{1e7, math.MaxFloat64} {
		f := grid.Square(30, 20, 0, 20, 1)
		flat, out := grid.New[float32](f), grid.New[float32](f)
		newField(f, reach).add(flat, size{all: 1}, rand.New(rand.NewPCG(1, 2)), out)
		for _, v := range out.V {
			if math.Abs(float64(v-out.V[0])) > 1e-4 || v == 0 {
				t.Fatalf("errors %g and %g", v, out.V[0])
			}
		}
	}
}

// plainly is the slow twin of add: every node of the lattice is drawn first, and
// each cell sums up the bells of all of them.
func plainly(f grid.Frame, reach, sd float64, random *rand.Rand) grid.Ground {
	n := newField(f, reach)
	node := make([]float64, n.across.nodes*n.down.nodes)
	for i := range node {
		node[i] = random.NormFloat64()
	}
	out := grid.New[float32](f)
	for y := range f.H {
		for x := range f.W {
			sum := 0.0
			for j := range taps {
				for i := range taps {
					at := (n.down.first[y]+j)*n.across.nodes + n.across.first[x] + i
					sum += float64(n.down.weight[y][j]) * float64(n.across.weight[x][i]) * node[at]
				}
			}
			out.Set(x, y, float32(sum*sd))
		}
	}
	return out
}

func TestNoiseIsTheSumOfTheBellsOfAllNodes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := grid.Frame{
			W: rapid.IntRange(1, 40).Draw(t, "w"), H: rapid.IntRange(1, 40).Draw(t, "h"),
			DX: rapid.Float64Range(0.2, 3).Draw(t, "dx"), DY: rapid.Float64Range(0.2, 3).Draw(t, "dy"),
		}
		reach, seed := rapid.Float64Range(0, 60).Draw(t, "reach"), rapid.Uint64().Draw(t, "seed")
		got := grid.New[float32](f)
		newField(f, reach).add(grid.New[float32](f), size{all: 2}, rand.New(rand.NewPCG(seed, 1)), got)
		want := plainly(f, reach, 2, rand.New(rand.NewPCG(seed, 1)))
		for i, v := range want.V {
			if math.Abs(float64(got.V[i]-v)) > 2e-5 {
				t.Fatalf("cell %d has an error of %g, want %g", i, got.V[i], v)
			}
		}
	})
}

// The measured figures of many draws, each with 25 places too far apart to know
// of each other: 4 standard errors of a mean square are 4·√2/√n.
func TestManyDrawsHaveTheErrorAndTheReachThatAreAskedFor(t *testing.T) {
	const draws, sd, reach, lag = 400, 0.05, 6.0, 5
	f := grid.Square(100, 100, 0, 100, 1)
	n, flat, out := newField(f, reach), grid.New[float32](f), grid.New[float32](f)
	var mean, square, across, down, slant float64
	for draw := range uint64(draws) {
		n.add(flat, size{all: sd}, rand.New(rand.NewPCG(11, draw)), out)
		for y := 2; y < 100; y += 20 {
			for x := 2; x < 100; x += 20 {
				v := float64(out.At(x, y))
				mean += v
				square += v * v
				across += v * float64(out.At(x+lag, y))
				down += v * float64(out.At(x, y+lag))
				slant += v * float64(out.At(x+3, y+4)) // as far
			}
		}
	}
	const places = draws * 25
	within := 4 * math.Sqrt2 / math.Sqrt(places)
	if got := mean / places / sd; math.Abs(got) > within {
		t.Errorf("the mean error is %g of its standard deviation", got)
	}
	if got := square / places / (sd * sd); math.Abs(got-1) > within {
		t.Errorf("the variance is %g of what is asked for", got)
	}
	for way, sum := range map[string]float64{"row": across, "column": down, "slant": slant} {
		if got, want := sum/places/(sd*sd), math.Exp(-lag*lag/(reach*reach)); math.Abs(got-want) > within {
			t.Errorf("along the %s errors %d m apart correlate by %g, want %g", way, lag, got, want)
		}
	}
}
