package storm

import (
	"context"
	"fmt"
	"math"
)

// Soak is how fast the ground takes water in, and for how long. The zero Soak
// takes in nothing.
type Soak struct {
	// Rate is the loss to the ground [m/s], the same everywhere; Rates is that of
	// each cell in its place, unless it is nil.
	Rate  float64
	Rates []float64
	// Weight takes the place of the surface's, unless it is nil. A runoff
	// coefficient counts what soaks in already; here the soil's rate does, so open
	// ground has a weight of 1.
	Weight []float64
	// Hours is how long water stands and soaks, the rain included [h].
	Hours float64
}

const secondsAnHour = 3600

func (s *Soak) rate(c int) float64 {
	if s.Rates == nil {
		return s.Rate
	}
	return s.Rates[c]
}

// FillSoaking is Fill on ground that takes water in, by one simple rule (common
// practice, no source): each cell takes in the rate times the hours at most, first of
// the rain that is its own, then of what stands on it. The rest of its rain runs
// off.
//
// So water that runs over a cell without standing does not soak, which is less
// than the truth on long permeable slopes; a cell that the water only reached late
// soaks as long as one that it reached at once, which is more. The rate does not
// fall as the ground grows wet.
func (m *Model) FillSoaking(ctx context.Context, rain float64, s Soak) (*Result, error) {
	if err := m.checkSoak(rain, s); err != nil {
		return nil, fmt.Errorf("fill the hollows with rain that soaks in: %w", err)
	}
	m.start()
	b := &m.result.Balance
	longest := s.Hours * secondsAnHour
	weight := s.Weight
	if weight == nil {
		weight = m.weight
	}
	for c, to := range m.entry {
		if to < 0 {
			continue
		}
		falls := shed(weight, c) * rain * m.area
		soaks := min(falls, s.rate(c)*longest*m.area)
		m.inflow[to] += falls - soaks
		b.In += falls
		b.Soaked += soaks
	}
	soak := make([]float64, len(m.cells))
	for k, c := range m.cells {
		soak[k] = max(s.rate(int(c))*longest-shed(weight, int(c))*rain, 0)
	}
	for i, p := range m.ponds {
		for _, into := range soak[p.lo:p.hi] {
			m.takes[i] += into * m.area
		}
	}
	return m.finish(ctx, soak)
}

func (m *Model) checkSoak(rain float64, s Soak) error {
	if err := checkRain(rain); err != nil {
		return err
	}
	if !(s.Hours >= 0) || math.IsInf(s.Hours, 0) {
		return fmt.Errorf("the storm lasts %g hours; give 0 or more", s.Hours)
	}
	if err := checkWeights(s.Weight, m.frame, func(c int) bool { return m.entry[c] >= 0 }); err != nil {
		return err
	}
	if s.Rates == nil {
		if !(s.Rate >= 0) || math.IsInf(s.Rate, 0) {
			return fmt.Errorf("the ground takes in %g m/s; give 0 or more", s.Rate)
		}
		return nil
	}
	if len(s.Rates) != len(m.entry) {
		return fmt.Errorf("%d rates of soaking are given for %d cells; give one a cell", len(s.Rates), len(m.entry))
	}
	for c, to := range m.entry {
		if r := s.Rates[c]; to >= 0 && (!(r >= 0) || math.IsInf(r, 0)) {
			return fmt.Errorf("the ground takes in %g m/s at column %d, row %d; give 0 or more", r, c%m.frame.W, c/m.frame.W)
		}
	}
	return nil
}
