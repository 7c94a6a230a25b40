package soil

import "math"

// A Group is a hydrologic soil group ([NEH630]): A takes in most, D least.
type Group uint8

// The groups.
const (
	GroupA Group = iota
	GroupB
	GroupC
	GroupD
)

func (g Group) String() string { return [...]string{"A", "B", "C", "D"}[g] }

// A Profile is what a hydrologic soil group rests on.
type Profile struct {
	// Shallow and Deep are the conductivity of the least transmissive layer down to half
	// a metre and down to a metre [mm/h].
	Shallow, Deep float64
	// Barrier is how deep what no water passes lies, Table how deep the water table in
	// the wet season does [m]; nought is not known and taken as deep.
	Barrier, Table float64
}

// GroupOf is the group of a soil of one conductivity [mm/h] above a barrier at some depth
// [m]. A conductivity that is not known is D, which soaks least.
func GroupOf(ksat, barrier float64) Group {
	return Profile{Shallow: ksat, Deep: ksat, Barrier: barrier}.Group()
}

// Group finds the group by table 7-1 of [NEH630], chapter 7 of 2009 (cited from memory).
// Where the water table comes within 0.6 m the table gives two letters, the second for
// ground that is not drained; this is the second, D.
func (p Profile) Group() Group {
	barrier, table := deepUnlessKnown(p.Barrier), deepUnlessKnown(p.Table)
	switch {
	case barrier < 0.5 || table < 0.6:
		return GroupD
	case barrier <= 1 || table <= 1:
		return among(p.Shallow, [3]float64{40, 10, 1})
	}
	return among(p.Deep, [3]float64{10, 4, 0.4})
}

func deepUnlessKnown(depth float64) float64 {
	if depth > 0 {
		return depth
	}
	return math.Inf(1)
}

// among finds the group of a conductivity [mm/h] by the limits of A, B and C [µm/s].
func among(ksat float64, limits [3]float64) Group {
	const perMicrometre = 3.6 // [mm/h] in 1 µm/s
	for i, limit := range limits {
		if ksat > limit*perMicrometre {
			return Group(i)
		}
	}
	return GroupD
}
