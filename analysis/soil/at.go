package soil

import "runnel/geo"

// A Soil is the soil at one place, from some depth down.
type Soil struct {
	// Name is its texture, that in which the wetting starts.
	Name string
	// Ksat is the saturated conductivity downward [mm/h]; of layers the harmonic mean.
	// It is NaN where it is withheld.
	Ksat geo.Range
	// Suction is the head at the wetting front [mm] and Deficit the share of its volume
	// that water can still fill ([Rawls1983]).
	Suction, Deficit float64
	// Group is that of the whole profile from the ground down.
	Group Group
	// Source names what the conductivity is from, for a person.
	Source string
}

// Intake is how the soil takes in water that stands on it, at a conductivity [mm/h] out
// of its range or one that is clogged, and under a depth of water [mm].
func (s Soil) Intake(ksat, ponded float64) Intake {
	return Intake{Rate: ksat, Pull: (s.Suction + ponded) * s.Deficit}
}
