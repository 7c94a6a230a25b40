package hydrograph

import (
	"math"

	"runnel/analysis/fate"
)

// The dimensionless unit hydrograph of [NEH630], table 16-1 (from memory): times as
// shares of the time to the peak, and flows as shares of the peak.
var (
	unitTimes = []float64{
		0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1, 1.1, 1.2, 1.3, 1.4, 1.5, 1.6, 1.7, 1.8, 1.9,
		2, 2.2, 2.4, 2.6, 2.8, 3, 3.2, 3.4, 3.6, 3.8, 4, 4.5, 5,
	}
	unitFlows = []float64{
		0, 0.030, 0.100, 0.190, 0.310, 0.470, 0.660, 0.820, 0.930, 0.990, 1, 0.990, 0.930, 0.860, 0.780, 0.680,
		0.560, 0.460, 0.390, 0.330, 0.280, 0.207, 0.147, 0.107, 0.077, 0.055, 0.040, 0.029, 0.021, 0.015, 0.011,
		0.005, 0,
	}
	// unitVolumes are what has run by each time, straight between the flows, as shares
	// of the peak flow × the time to it.
	unitVolumes = func() []float64 {
		sum := make([]float64, len(unitTimes))
		for i := 1; i < len(sum); i++ {
			sum[i] = sum[i-1] + (unitFlows[i]+unitFlows[i-1])/2*(unitTimes[i]-unitTimes[i-1])
		}
		return sum
	}()
)

// run returns the share of the unit's water that has run by a time, as a share of the
// time to its peak.
func run(t float64) float64 {
	last := len(unitTimes) - 1
	if !(t > 0) {
		return 0
	}
	if t >= unitTimes[last] {
		return 1
	}
	i := 1
	for unitTimes[i] < t {
		i++
	}
	into, wide := t-unitTimes[i-1], unitTimes[i]-unitTimes[i-1]
	flow := unitFlows[i-1] + (unitFlows[i]-unitFlows[i-1])*into/wide/2 // its mean up to t
	return (unitVolumes[i-1] + flow*into) / unitVolumes[last]
}

// The figures of the unit hydrograph ([NEH630] chapters 15 and 16, from memory).
const (
	// lag is the time from the middle of a burst of rain to the peak, as a share of
	// the time of concentration.
	lag = 0.6
	// longestBurst is the longest burst that it is made for, as a share of the same.
	longestBurst = 0.133
)

// Unit returns the unit hydrograph of a burst of rain of some length [h] where water
// takes tc [h]: the share of its water that runs in each length of the burst, 1
// together.
func Unit(tc, burst float64) []float64 {
	peak := burst/2 + lag*tc
	shares := make([]float64, int(math.Ceil(unitTimes[len(unitTimes)-1]*peak/burst)))
	before := 0.0
	for i := range shares {
		after := run(float64(i+1) * burst / peak)
		shares[i], before = after-before, after
	}
	return shares
}

// Of returns what runs off ground in a storm, as Mix.Flow does.
func Of(ground []fate.Ground, tc float64, storm Storm, step float64) []float64 {
	return MixOf(ground).Flow(tc, storm, step)
}

// Flow returns what runs off in a storm where water takes tc [h], the mean of each step [s];
// [m³/s]. It ends once all has run by: Σ flow × step is all the water.
func (m Mix) Flow(tc float64, storm Storm, step float64) []float64 {
	if !(storm.Hours > 0 && step > 0 && m.Open+m.Hard > 0) {
		return nil
	}
	tc = max(tc, shortest)
	parts := math.Ceil(step / (longestBurst * tc * secondsAnHour))
	burst := step / parts
	unit := Unit(tc, burst/secondsAnHour)
	off := m.RunoffOver(storm.Fallen(burst))
	flow := make([]float64, int(math.Ceil(float64(len(off)+len(unit)-1)/parts)))
	before := 0.0
	for i, after := range off {
		if after > before {
			for k, share := range unit {
				flow[(i+k)/int(parts)] += (after - before) * share / step
			}
		}
		before = after
	}
	return flow
}
