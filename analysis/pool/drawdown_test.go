package pool

import (
	"math"
	"strings"
	"testing"

	"runnel/geo/plan"
)

// prism is a basin with walls that stand upright: its surface and its contact area are the same
// at all levels, so that its level falls at rate × contact / surface, in a line.
func prism() []Stage {
	var stages []Stage
	for i := range 5 {
		y := 0.1 * float64(i)
		stages = append(stages, Stage{10 + y, 20 * y, 30, 20})
	}
	return stages
}

// Closed form: level = start − K t × contact/surface.
func TestADrawdownBetweenWallsIsAStraightLine(t *testing.T) {
	const k = 12.0 // [mm/h]
	var readings []Reading
	for _, hours := range []float64{0, 3, 7, 12} {
		readings = append(readings, Reading{hours, 10.35 - k/1000*hours*30/20})
	}
	fit, err := Drawdown(prism(), readings)
	if err != nil || apart(fit.Ksat.Likely, k) > 1e-9 || math.Abs(fit.Start-10.35) > 1e-9 || fit.Misfit > 1e-9 {
		t.Fatalf("%+v %v", fit, err)
	}
	if !(fit.Ksat.Low < k && fit.Ksat.High > k && fit.Ksat.High < 1.1*k) {
		t.Errorf("the spread is %+v", fit.Ksat)
	}
	p := Pool{Stages: prism()}
	if got, want := p.EmptyHours(10.35, k), 0.35*20/30/k*1000; apart(got, want) > 1e-9 {
		t.Errorf("empty in %.3f h, want %.3f", got, want)
	}
	if p.EmptyHours(10.35, 0) != math.Inf(1) || p.EmptyHours(9, k) != 0 || p.EmptyHours(math.NaN(), k) != 0 {
		t.Error("no rate, or no water")
	}
}

// trapezoid is a channel of a bed 0.6 m wide and banks of 1:2 by the metre, between walls, with stages so
// near to one another that what is between them hardly counts.
func trapezoid() []Stage {
	var stages []Stage
	for i := range 41 {
		y := 0.01 * float64(i)
		stages = append(stages, Stage{y, 0.6*y + 2*y*y, 0.6 + 2*y*math.Sqrt(5), 0.6 + 4*y})
	}
	return stages
}

// fell follows dy/dt = −K P/B down a trapezoid by small steps of Runge and Kutta.
func fell(y, k, hours float64) float64 {
	rate := func(y float64) float64 { return -k / 1000 * (0.6 + 2*y*math.Sqrt(5)) / (0.6 + 4*y) }
	const steps = 2000
	h := hours / steps
	for range steps {
		a := rate(y)
		b := rate(y + h*a/2)
		c := rate(y + h*b/2)
		y += h * (a + 2*b + 2*c + rate(y+h*c)) / 6
	}
	return y
}

func TestADrawdownOfATrapezoid(t *testing.T) {
	const k = 25.0
	var exact, rough []Reading
	for i, hours := range []float64{0, 2, 4, 6, 8} {
		level := fell(0.35, k, hours)
		exact, rough = append(exact, Reading{hours, level}), append(rough, Reading{hours, level + 0.004*float64(i%2*2-1)})
	}
	fit, err := Drawdown(trapezoid(), exact)
	if err != nil || apart(fit.Ksat.Likely, k) > 1e-6 {
		t.Fatalf("%+v %v", fit, err)
	}
	wide, err := Drawdown(trapezoid(), rough)
	if err != nil || !(wide.Ksat.High/wide.Ksat.Low > fit.Ksat.High/fit.Ksat.Low && wide.Ksat.Low < k && wide.Ksat.High > k && wide.Misfit > 0.003) {
		t.Errorf("%+v %v", wide, err)
	}
	p := Pool{Stages: trapezoid()}
	hours := p.EmptyHours(0.35, k)
	if y := fell(0.35, k, hours); math.Abs(y) > 1e-4 {
		t.Errorf("after %.3f h it stands %.5f m deep", hours, y)
	}
	two, err := Drawdown(trapezoid(), exact[:2])
	if err != nil || apart(two.Ksat.Likely, k) > 1e-6 || !math.IsNaN(two.Misfit) || !(two.Ksat.Low < two.Ksat.Likely) {
		t.Errorf("%+v %v", two, err)
	}
}

func TestReadingsThatAreRefused(t *testing.T) {
	for text, says := range map[string]string{
		"0 0.30":            "two readings",
		"0 0.2; 5 0.2":      "does not fall",
		"0 0.2; 5 0.3":      "does not fall",
		"5 0.3; 5 0.2":      "do not go up",
		"0 30; 5 20":        "outside the channel's water",
		"0 0.3; five 0.2":   "cannot be read",
		"0 0.3 1; 5 0.2 1":  "cannot be read",
		"":                  "two readings",
		"0 NaN; 5 0.2":      "outside the channel's water",
		"NaN 0.3; 5 0.2":    "do not go up",
		"0 0.3; Inf 0.2":    "do not go up",
		"-1 0.3; 0 0.2":     "do not go up",
		"0 0,3; 5 0,1; 4 0": "do not go up",
	} {
		readings, err := ParseReadings(text)
		if err == nil {
			_, err = Drawdown(trapezoid(), readings)
		}
		if err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v, want %q", text, err, says)
		}
	}
}

func TestADrawdownOnAChannelSetsItsSoil(t *testing.T) {
	s := drawn(0)
	_, plain := set(t, s)
	p := &plain.Pools[0]
	const k = 40.0
	from := p.Floor + 0.9*(p.Top().Level-p.Floor)
	var text []string
	for _, hours := range []string{"0", "1.5", "3"} {
		readings, _ := ParseReadings(hours + " 0")
		text = append(text, hours+" "+levelText(levelFallen(p.Stages, fallen(p.Stages, from)+k/1000*readings[0].Hours)))
	}
	add(s, plan.SoilTest, s.Plan.Features[0].Line()[20], nil)
	f := &s.Plan.Features[len(s.Plan.Features)-1]
	*f = f.With("by", plan.Value{Text: byDrawdown}).With("readings", plan.Value{Text: strings.Join(text, "; ")})
	_, got := set(t, s)
	if soil := got.Pools[0].Soil; apart(soil.Ksat.Likely, k) > 0.01 || soil.Suction != 89 || len(got.Problems) > 0 {
		t.Errorf("%+v %v", soil, got.Problems)
	}
	*f = f.With("readings", plan.Value{Text: "0 9.5"})
	_, got = set(t, s)
	if len(got.Withheld) != 0 || len(got.Problems) != 1 || got.Problems[0].ID != f.ID || got.Pools[0].Soil.Ksat != plain.Pools[0].Soil.Ksat {
		t.Errorf("%v", got.Problems)
	}
}
