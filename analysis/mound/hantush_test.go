package mound

import (
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"runnel/geo/plan"
)

// published is S by α down and β across. It was worked out with Simpson's rule on 4000
// intervals to five digits, apart from this program; Hantush's own table was not seen.
const published = `
0    .02    .04    .06    .10    .20    .30    .40    .50    .60    .80    1.0    1.4    2.0
.02  .00407 .00729 .01003 .01459 .02292 .02870 .03290 .03600 .03830 .04125 .04283 .04403 .04432
.04  -      .01344 .01878 .02779 .04436 .05588 .06426 .07045 .07504 .08094 .08409 .08650 .08708
.06  -      -      .02653 .03977 .06439 .08160 .09413 .10339 .11027 .11911 .12384 .12744 .12831
.10  -      -      -      .06074 .10069 .12898 .14967 .16499 .17639 .19106 .19890 .20488 .20633
.20  -      -      -      -      .17337 .22677 .26650 .29620 .31839 .34710 .36251 .37429 .37716
.30  -      -      -      -      -      .30087 .35700 .39943 .43138 .47298 .49544 .51267 .51689
.40  -      -      -      -      -      -      .42664 .47988 .52027 .57327 .60207 .62429 .62974
.50  -      -      -      -      -      -      -      .54197 .58942 .65216 .68650 .71314 .71972
.60  -      -      -      -      -      -      -      -      .64262 .71344 .75247 .78293 .79049
.80  -      -      -      -      -      -      -      -      -      .79594 .84196 .87827 .88738
1.0  -      -      -      -      -      -      -      -      -      -      .89232 .93239 .94254
1.4  -      -      -      -      -      -      -      -      -      -      -      .97588 .98702
2.0  -      -      -      -      -      -      -      -      -      -      -      -      .99847`

func TestSAgainstATableOfIt(t *testing.T) {
	number := func(text string) float64 {
		v, err := strconv.ParseFloat(text, 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	lines := strings.Split(strings.TrimSpace(published), "\n")
	head, held, worst := strings.Fields(lines[0]), 0, 0.0
	for _, line := range lines[1:] {
		row := strings.Fields(line)
		for k := 1; k < len(row); k++ {
			if row[k] == "-" {
				continue
			}
			alpha, beta, want := number(row[0]), number(head[k]), number(row[k])
			for _, got := range []float64{S(alpha, beta), S(beta, alpha)} {
				worst = max(worst, math.Abs(got-want))
				if math.Abs(got-want) > 2e-4 {
					t.Errorf("S(%g, %g) = %.6f, want %.5f", alpha, beta, got, want)
				}
			}
			held++
		}
	}
	if held != 91 {
		t.Errorf("%d figures of the table were held, want 91", held)
	}
	t.Logf("%d figures, off by %.1e at the most", held, worst)
}

// With one side endless, S = 1 − 4 i²erfc(α): the water spreads one way only. The figures are
// of that closed form; a strip's rise is in [Hantush1967] (from memory).
func TestSOfAStripInClosedForm(t *testing.T) {
	closed := func(a float64) float64 {
		return 1 - ((1+2*a*a)*math.Erfc(a) - 2*a*math.Exp(-a*a)/math.Sqrt(math.Pi))
	}
	for a, want := range map[float64]float64{0.1: .206427, 0.5: .720141, 1: .943210} {
		if got := closed(a); math.Abs(got-want) > 1e-6 {
			t.Errorf("the closed form at %g is %.7f, want %.6f", a, got, want)
		}
		for _, beta := range []float64{100, math.Inf(1)} {
			if got := S(a, beta); math.Abs(got-want) > 1e-6 {
				t.Errorf("S(%g, %g) = %.7f, want %.6f", a, beta, got, want)
			}
		}
	}
	for a := 1e-4; a < 8; a *= 1.37 {
		if got, want := S(a, math.Inf(1)), closed(a); math.Abs(got-want) > 1e-9 {
			t.Errorf("S(%g, ∞) = %.12f, want %.12f", a, got, want)
		}
	}
}

func TestSAtItsEnds(t *testing.T) {
	inf := math.Inf(1)
	for _, c := range []struct{ alpha, beta, want float64 }{
		{0, 1, 0}, {1, 0, 0}, {0, inf, 0}, {20, 30, 1}, {inf, inf, 1}, {-inf, inf, -1}, {-20, -30, 1},
	} {
		if got := S(c.alpha, c.beta); got != c.want {
			t.Errorf("S(%g, %g) = %g, want %g", c.alpha, c.beta, got, c.want)
		}
	}
	if !math.IsNaN(S(math.NaN(), 1)) || !math.IsNaN(S(0, math.NaN())) {
		t.Error("what is not known has a value")
	}
	for _, p := range [][2]float64{{.3, .7}, {.01, 4}} {
		if a, b := p[0], p[1]; S(-a, b) != -S(a, b) || S(a, -b) != -S(a, b) || S(-a, -b) != S(a, b) {
			t.Errorf("S is not odd at %g, %g", a, b)
		}
	}
}

// simpson is S by Simpson's rule on τ = u², where its integrand is 2u·erf(α/u)·erf(β/u).
func simpson(alpha, beta float64) float64 {
	const n = 200_000
	f := func(u float64) float64 { return 2 * u * math.Erf(alpha/u) * math.Erf(beta/u) }
	sum := f(1)
	for i := 1; i < n; i++ {
		sum += f(float64(i)/n) * float64(2+2*(i%2))
	}
	return sum / (3 * n)
}

func TestSAgainstManySmallSteps(t *testing.T) {
	r, worst := rand.New(rand.NewPCG(5, 1)), 0.0
	for range 40 {
		alpha, beta := math.Exp(r.Float64()*9-7), math.Exp(r.Float64()*9-7)
		got, want := S(alpha, beta), simpson(alpha, beta)
		worst = max(worst, math.Abs(got-want))
		if math.Abs(got-want) > 1e-9 {
			t.Errorf("S(%g, %g) = %.12f, want %.12f", alpha, beta, got, want)
		}
	}
	t.Logf("off by %.1e at the most", worst)
}

func TestWhatIsNotKnownOrTooHighIsNotTold(t *testing.T) {
	known := plan.Aquifer{Conductivity: 5, Yield: 0.2, Thickness: 6}
	if err := Check(known, 2.9); err != nil {
		t.Errorf("a rise of 2.9 m in 6 m of water is refused: %v", err)
	}
	thin, tight, dry := known, known, known
	thin.Thickness, tight.Conductivity, dry.Yield = 0, 0, math.NaN()
	for _, c := range []struct {
		a    plan.Aquifer
		rise float64
		want string
	}{
		{known, 3.1, "rise by 3.1 m, more than half of the 6.0 m"},
		{thin, 0, "the aquifer's thickness is not known"},
		{tight, 0, "the aquifer's conductivity is not known"},
		{dry, 0, "the aquifer's specific yield is not known"},
	} {
		if err := Check(c.a, c.rise); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%+v rising by %g: %v, want %q", c.a, c.rise, err, c.want)
		}
	}
}

func BenchmarkS(b *testing.B) {
	for _, p := range [][2]float64{{.02, .5}, {.3, .4}, {2, 2}} {
		b.Run(strconv.FormatFloat(p[0], 'g', -1, 64), func(b *testing.B) {
			for b.Loop() {
				S(p[0], p[1])
			}
		})
	}
}
