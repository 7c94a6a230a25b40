package channel

import "sort"

// A Station is a place along a line with a level.
type Station struct {
	// Chainage is the distance from the line's start, Level the height there [m].
	Chainage, Level float64
}

// A Profile is a bed's level along a line: straight between its stations, which
// go up the chainage, and constant beyond them. Where it steps two of them have one
// chainage. An empty Profile is at nought.
type Profile []Station

// At returns the level [m] at a chainage [m]; at a step the one before it.
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

// over returns the levels [m] at the two ends of a piece of the line [m] that no
// station parts: at a step that on the piece's own side.
func (p Profile) over(from, to float64) (a, b float64) {
	middle := (from + to) / 2
	i := sort.Search(len(p), func(i int) bool { return p[i].Chainage >= middle })
	if i == 0 || i == len(p) {
		level := p.At(middle)
		return level, level
	}
	before, after := p[i-1], p[i]
	slope := (after.Level - before.Level) / (after.Chainage - before.Chainage)
	return before.Level + slope*(from-before.Chainage), before.Level + slope*(to-before.Chainage)
}

// chainages lists where the profile may bend [m].
func (p Profile) chainages() []float64 {
	at := make([]float64, len(p))
	for i, s := range p {
		at[i] = s.Chainage
	}
	return at
}
