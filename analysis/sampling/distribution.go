// Package sampling works out how far a result may be off from how far what it rests on may
// be: it draws the inputs many times over from their distributions, and ranks them by how
// much of the result's spread each causes.
//
// Draw number i is made from the seed and i alone, so the answer is the same however many
// processors work on it and in whatever order. Inputs are drawn independently.
package sampling

import (
	"fmt"
	"math"

	"runnel/geo"
)

// A Distribution says how a figure that is not known for sure is spread.
type Distribution interface {
	// Quantile returns the value that a share of draws lies below; the share is above 0
	// and below 1.
	Quantile(share float64) float64
	// Check reports figures that make no distribution.
	Check() error
}

// Triangular has its ends at low and high and its mode at likely.
type Triangular geo.Range

// Quantile is that of a triangle.
func (d Triangular) Quantile(share float64) float64 {
	width, rise := d.High-d.Low, d.Likely-d.Low
	if !(width > 0) {
		return d.Likely
	}
	if share < rise/width {
		return d.Low + math.Sqrt(share*width*rise)
	}
	return d.High - math.Sqrt((1-share)*width*(d.High-d.Likely))
}

// Check reports a range out of order.
func (d Triangular) Check() error { return geo.Range(d).Check() }

// LogTriangular is Triangular in the logarithm, for what is known to a factor.
type LogTriangular geo.Range

// Quantile is that of a triangle in the logarithm.
func (d LogTriangular) Quantile(share float64) float64 {
	return math.Exp(Triangular{math.Log(d.Low), math.Log(d.Likely), math.Log(d.High)}.Quantile(share))
}

// Check reports a range out of order, or not above nought.
func (d LogTriangular) Check() error {
	if err := geo.Range(d).Check(); err != nil {
		return err
	}
	if !(d.Low > 0) {
		return fmt.Errorf("the range %g, %g, %g begins at nought or below; give figures above it", d.Low, d.Likely, d.High)
	}
	return nil
}

// Normal has a mean and a standard deviation.
type Normal struct{ Mean, Deviation float64 }

// Quantile is the inverse of the normal distribution.
func (d Normal) Quantile(share float64) float64 { return d.Mean + d.Deviation*normal(share) }

// Check reports a deviation below nought.
func (d Normal) Check() error {
	if !(d.Deviation >= 0) || math.IsNaN(d.Mean) {
		return fmt.Errorf("the mean %g with a deviation of %g makes no distribution; give a deviation of nought or more",
			d.Mean, d.Deviation)
	}
	return nil
}

// Lognormal has a median, and a factor by which 90 % of draws are off at the most: they
// lie between the median over the factor and the median times it.
type Lognormal struct{ Median, Factor float64 }

// Quantile is the inverse of the lognormal distribution.
func (d Lognormal) Quantile(share float64) float64 {
	return d.Median * math.Pow(d.Factor, normal(share)/normal95)
}

// Check reports a median that is not above nought or a factor below 1.
func (d Lognormal) Check() error {
	if !(d.Median > 0 && d.Factor >= 1) {
		return fmt.Errorf("the median %g with a factor of %g makes no distribution; give a median above nought and a factor of 1 or more",
			d.Median, d.Factor)
	}
	return nil
}

// Choice is one of so many things without an order, 0 to Choice − 1, each as likely as
// the others.
type Choice int

// Quantile is the number of a thing.
func (d Choice) Quantile(share float64) float64 { return math.Floor(share * float64(d)) }

// Check reports a choice of nothing.
func (d Choice) Check() error {
	if d < 1 {
		return fmt.Errorf("there are %d things to choose from; give one at least", int(d))
	}
	return nil
}

// normal is the inverse of the standard normal distribution.
func normal(share float64) float64 { return math.Sqrt2 * math.Erfinv(2*share-1) }

var normal95 = normal(0.95)
