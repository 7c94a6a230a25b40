package channel

import "sort"

// A Station is a place along a line with a level.
type Station struct {
	// Chainage is the distance from the line's start, Level the height there [m].
	Chainage, Level float64
}

// A Profile is a bed's level along a line: straight between its stations, which
// go up the chainage, and constant beyond them. An empty Profile is at nought.
type Profile []Station

// At returns the level [m] at a chainage [m].
func (p Profile) At(chainage float64) float64 {
	if len(p) == 0 {
		return 0
	}
	i := sort.Search(len(p), func(i int) bool { return p[i].Chainage >= chainage })
	if i == 0 {
		return p[0].Level
	}
	if i == len(p) {
		return p[i-1].Level
	}
	a, b := p[i-1], p[i]
	return a.Level + (b.Level-a.Level)*(chainage-a.Chainage)/(b.Chainage-a.Chainage)
}

// chainages lists where the profile may bend [m].
func (p Profile) chainages() []float64 {
	at := make([]float64, len(p))
	for i, s := range p {
		at[i] = s.Chainage
	}
	return at
}
