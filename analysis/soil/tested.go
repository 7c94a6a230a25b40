package soil

import (
	"errors"
	"fmt"
	"math"

	"runnel/geo"
	"runnel/geo/plan"
)

// Tested is what a test in the field found.
type Tested struct {
	// Found is the conductivity of the place that was tested [mm/h], Ksat what is likely of
	// the soil around it: see Spread.
	Found float64
	Ksat  geo.Range
}

const perMetre = 1000 // [mm]

// errStill is of a test that found nothing.
var errStill = errors.New("the water does not go down in the readings, so that no conductivity can be found; read on for longer, and leave out what was read first")

// FallingHead works out a hole of a radius [m] from how the water in it falls: the inverse
// auger-hole method of Porchet, by which water leaves through wall and floor under a
// gradient of one ([ILRI16], cited from memory). K = (r/2) ln((h₁+r/2)/(h₂+r/2)) / t.
func FallingHead(radius float64, readings []Reading) (Tested, error) {
	return byLogarithm(radius/2, radius/2, readings)
}

// A Ring is one that is driven into the ground: its radius and how deep it is driven, and the
// suction at the wetting front of the soil [m].
type Ring struct{ Radius, Depth, Suction float64 }

// SingleRing works out a ring from which water spreads sideways below: the steady flow of
// [ReynoldsElrick1990], K (1 + (h + 1/α*)/G) with G = 0.316π d + 0.184π a, which they found by
// calculation for rings driven in by 3 cm and more. Taken from one moment to the
// next while the water falls it comes to K = G ln((h₁+1/α*+G)/(h₂+1/α*+G)) / t. Their 1/α* is
// taken to be the suction at the wetting front, of which it is the like: 12 per m,
// which they advise for most soils, is 83 mm, that of loam 89 mm.
func SingleRing(r Ring, readings []Reading) (Tested, error) {
	spread := math.Pi * (0.316*r.Depth + 0.184*r.Radius)
	return byLogarithm(spread, spread+r.Suction, readings)
}

// DoubleRing works out the inner of two rings: with the outer kept full its water goes
// straight down, and late in the test as fast as the conductivity ([ASTMD3385]). Early in
// a test it is faster.
func DoubleRing(readings []Reading) (Tested, error) {
	down, hours := 0.0, 0.0
	for _, f := range falls(readings) {
		down, hours = down+f.from-f.to, hours+f.hours
	}
	return found(down, hours)
}

// byLogarithm is K = G Σ ln((h₁+c)/(h₂+c)) / Σ t.
func byLogarithm(g, c float64, readings []Reading) (Tested, error) {
	down, hours := 0.0, 0.0
	for _, f := range falls(readings) {
		down, hours = down+g*math.Log((f.from+c)/(f.to+c)), hours+f.hours
	}
	return found(down, hours)
}

func found(down, hours float64) (Tested, error) {
	if !(down > 0 && hours > 0) {
		return Tested{Found: math.NaN(), Ksat: unknown}, errStill
	}
	k := perMetre * down / hours
	return Tested{k, Spread([]float64{k})}, nil
}

// ErrDrawdown is of a test that is read off a whole channel: analysis/pool fits it.
var ErrDrawdown = errors.New("a drawdown is worked out together with the channel that the test stands on, not by itself")

// TestOf works out a soil test as it is drawn, in a soil whose suction it takes. The
// error is a sentence that does not name the test.
func TestOf(f plan.Feature, in Soil) (Tested, error) {
	by := f.Text("by")
	if by == "channel drawdown" {
		return Tested{math.NaN(), unknown}, ErrDrawdown
	}
	readings, err := ParseReadings(f.Text("readings"))
	if err != nil {
		return Tested{math.NaN(), unknown}, err
	}
	radius, depth := f.Num("radius"), f.Num("depth")
	switch {
	case by == "double ring":
		return DoubleRing(readings)
	case math.IsNaN(radius):
		return Tested{math.NaN(), unknown}, fmt.Errorf("it has no radius, on which its conductivity rests; give that of the hole or the ring")
	case by == "falling-head hole":
		return FallingHead(radius, readings)
	case math.IsNaN(depth):
		return Tested{math.NaN(), unknown}, fmt.Errorf("it has no depth; give how deep the ring is driven into the ground")
	}
	return SingleRing(Ring{radius, depth, in.Suction / perMetre}, readings)
}

// unknown is a conductivity that is withheld.
var unknown = geo.Range{Low: math.NaN(), Likely: math.NaN(), High: math.NaN()}
