package mound

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// A fit finds sums of exponentials by least squares. Their time constants are fixed, and
// evenly spaced in the logarithm, so that one decomposition serves every answer.
type fit struct {
	lags, days, weights []float64
	reach               float64
	rows                *mat.QR
	right, sum          *mat.VecDense
}

const (
	// exponentials is how many there are: the fewest that keep within 2 % of the peak on
	// random fields in aquifers from silt to gravel.
	exponentials = 9
	// quickest is the shortest time constant [days], slowest the longest in reaches.
	quickest, slowest = 0.5, 3
	// late is the power of time that weighs the lags: the tail of an answer is low, but what
	// soaks in for months adds it up.
	late = 0.3
	// ridge keeps exponentials that hardly differ from growing against each other.
	ridge = 0.01
)

func newFit(lags []float64, reach float64) *fit {
	f := &fit{lags: lags, reach: reach, rows: new(mat.QR)}
	ratio := slowest * reach / quickest
	for k := range exponentials {
		f.days = append(f.days, quickest*math.Pow(ratio, float64(k)/(exponentials-1)))
	}
	n := len(lags)
	a := mat.NewDense(n+exponentials, exponentials, nil)
	for i, t := range lags {
		f.weights = append(f.weights, math.Pow(1+t, late))
		for k, d := range f.days {
			a.Set(i, k, f.weights[i]*math.Exp(-t/d))
		}
	}
	for k := range exponentials {
		a.Set(n+k, k, ridge)
	}
	f.rows.Factorize(a)
	f.right, f.sum = mat.NewVecDense(n+exponentials, nil), mat.NewVecDense(exponentials, nil)
	return f
}

// of returns the coefficients of the sum that lies nearest to an answer by lag.
func (f *fit) of(answer []float64) []float64 {
	for i, v := range answer {
		f.right.SetVec(i, v*f.weights[i])
	}
	if err := f.rows.SolveVecTo(f.sum, false, f.right); err != nil {
		panic("mound: " + err.Error())
	}
	rise := make([]float64, exponentials)
	copy(rise, f.sum.RawVector().Data)
	return rise
}

// peak is the greatest of an answer within the reach.
func (f *fit) peak(answer []float64) (peak float64) {
	for i, v := range answer {
		if f.lags[i] <= f.reach {
			peak = max(peak, v)
		}
	}
	return peak
}

// off is how far a sum is off an answer at the most, within the reach.
func (f *fit) off(rise, answer []float64) (off float64) {
	for i, v := range answer {
		if t := f.lags[i]; t <= f.reach {
			off = max(off, math.Abs(sumAt(f.days, rise, t)-v))
		}
	}
	return off
}

// sumAt is a sum of exponentials at a time.
func sumAt(days, rise []float64, t float64) (sum float64) {
	for k, d := range days {
		sum += rise[k] * math.Exp(-t/d)
	}
	return sum
}
