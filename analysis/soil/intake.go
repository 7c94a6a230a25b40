package soil

import "math"

// An Intake is soil under water that soaks in from above behind a sharp wetting front
// ([GreenAmpt1911]): the rate is K (1 + Pull/F), where F is all that has soaked in since
// the wetting began.
type Intake struct {
	// Rate is the conductivity K [mm/h].
	Rate float64
	// Pull is what suction and the water above draw in: their head times the deficit [mm].
	Pull float64
}

// Cumulative returns what has soaked in [mm] when water has stood on the soil for some
// hours more, where so much had before. It is exact to 1e-11 of itself, allocates nothing
// and takes some tens of nanoseconds.
//
// In shares x of the pull, with u(x) = x − ln(1+x), it solves u(x) = u(before) + K t/Pull.
func (i Intake) Cumulative(before, hours float64) float64 {
	if !(i.Rate*hours > 0) {
		return before
	}
	if !(i.Pull > 1e-9) {
		return before + i.Rate*hours
	}
	u := i.Rate * hours / i.Pull
	if before > 0 {
		x := before / i.Pull
		u += x - math.Log1p(x)
	}
	return max(before, i.Pull*share(u))
}

// share solves x − ln(1+x) = u for u > 0: a guess after [Barry1993], which is within 0.6 %,
// and from there one step of Householder's method of the third order, which leaves
// 1e-11 of x. The logarithms are most of the time: Newton's method takes three of them.
func share(u float64) float64 {
	const m = 0.3361 // of the guess
	root := math.Sqrt(max(0, u) / 2)
	if root < 1e-7 {
		return 2*root + 4*root*root/3 // all that is left of the series
	}
	x := u + 2*root/(1+m*root)
	p := 1 / (1 + x)
	f := x - math.Log1p(x) - u
	d1, d2, d3 := x*p, p*p, -2*p*p*p // the derivatives of f
	return x - f*(6*d1*d1-3*f*d2)/(6*d1*d1*d1-6*f*d1*d2+f*f*d3)
}

// RateAt returns how fast water soaks in [mm/h] when so much has [mm]; it is without end
// before any has.
func (i Intake) RateAt(taken float64) float64 {
	if i.Pull == 0 {
		return i.Rate
	}
	return i.Rate * (1 + i.Pull/taken)
}

// Ponding returns after how many hours of steady rain [mm/h] water begins to stand, and
// what has soaked in by then [mm] ([MeinLarson1973]); both are +Inf where the soil takes
// all of it for ever.
func (i Intake) Ponding(rain float64) (hours, taken float64) {
	if !(rain > i.Rate) {
		return math.Inf(1), math.Inf(1)
	}
	taken = i.Rate * i.Pull / (rain - i.Rate)
	return taken / rain, taken
}

// Rained returns what has soaked in [mm] after some hours of steady rain [mm/h]: all of it
// until water stands, then what soaks in under it.
func (i Intake) Rained(rain, hours float64) float64 {
	ponds, taken := i.Ponding(rain)
	if !(hours > ponds) {
		return max(0, rain*hours)
	}
	return i.Cumulative(taken, hours-ponds)
}
