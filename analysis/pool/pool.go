// Package pool takes the water of a scheme apart into pools, each of one level: what it
// touches, holds and shows at every level, what feeds it and over what it leaves.
//
// A pool is a stretch of channels that are open to one another and that no sill parts,
// moats with them; or one drain as it runs. Lengths and levels are m, areas m², volumes m³, flows
// m³/s. NaN is a level that is not known or that there is none of.
package pool

import (
	"math"
	"sort"

	"github.com/paulmach/orb"

	"runnel/analysis/soil"
	"runnel/geo"
	"runnel/geo/plan"
)

// A Pool is water that stands at one level.
type Pool struct {
	Title string
	// Lines are the channels that it is part of, in the order in which they are drawn;
	// of a drain its own number.
	Lines []plan.ID
	// Drain marks a drain as it is. Its levels are depths above its bed, for that falls along it.
	Drain bool
	// At is a place in its deepest part.
	At orb.Point
	// Stages go up from an empty pool to its brim; contact, surface and volume go straight
	// between them. There are two at least.
	Stages []Stage
	// Running is the level at which it stands while the drain that feeds it runs, NaN
	// where none does. Supply is the most that the drain brings [m³/s], +Inf where that is not known.
	Running, Supply float64
	// RunDays is how many days in a year that drain runs.
	RunDays geo.Range
	// Rest is the level down to which its water runs back out once the drain stops, NaN
	// where none does.
	Rest float64
	// Outlets are where it leaves, the lowest crest first. The last is its brim, where
	// that is known.
	Outlets []Outlet
	// Soil is what its water stands on: the mean by contact area.
	Soil soil.Soil
	// Floor is the lowest level of its bed; Table that of the water table under it in the wet season, NaN
	// where that is not known.
	Floor, Table float64
	// Pieces are rectangles that cover it in plan, for what spreads below.
	Pieces []Piece

	// bodies are the numbers of the network's bodies that it is made of, none of a drain;
	// heldFloor is the lowest bed of a drain in what a sill holds. lowAt is where its bed is nearest to
	// the water table.
	bodies    []int
	heldFloor float64
	lowAt     orb.Point
}

// A Stage is what a pool comes to at one level.
type Stage struct{ Level, Volume, Contact, Surface float64 }

// A Piece is a rectangle: its middle, the direction of its length, and half of its
// length and of its width [m].
type Piece struct {
	At          orb.Point
	Along       orb.Point
	Half, Width float64
}

// An OutletKind says over what water leaves a pool.
type OutletKind uint8

// The kinds. A Mouth is open to a drain: its water stands there no lower than the drain's.
const (
	Spillway OutletKind = iota
	Pipe
	Sill
	Brim
	Mouth
)

// An Outlet is where water leaves a pool.
type Outlet struct {
	Kind  OutletKind
	ID    plan.ID
	Title string
	At    orb.Point
	// Crest is the level from which it passes [m], Width that of the crest, Diameter that of a pipe [m].
	Crest, Width, Diameter float64
	// To is the pool that it passes to, -1 where the water leaves the scheme.
	To int
}

// Top returns the highest stage.
func (p *Pool) Top() Stage { return p.Stages[len(p.Stages)-1] }

// StageAt returns what the pool comes to at a level, no more than at its brim.
func (p *Pool) StageAt(level float64) Stage {
	return p.stage(level, func(s Stage) float64 { return s.Level })
}

// StageHolding returns what the pool comes to when it holds a volume, no more than at
// its brim.
func (p *Pool) StageHolding(volume float64) Stage {
	return p.stage(volume, func(s Stage) float64 { return s.Volume })
}

func (p *Pool) stage(v float64, of func(Stage) float64) Stage {
	if math.IsNaN(v) || v <= of(p.Stages[0]) {
		return p.Stages[0]
	}
	i := sort.Search(len(p.Stages), func(i int) bool { return of(p.Stages[i]) >= v })
	if i == len(p.Stages) {
		return p.Top()
	}
	a, b := p.Stages[i-1], p.Stages[i]
	t := (v - of(a)) / (of(b) - of(a))
	return Stage{a.Level + t*(b.Level-a.Level), a.Volume + t*(b.Volume-a.Volume), a.Contact + t*(b.Contact-a.Contact), a.Surface + t*(b.Surface-a.Surface)}
}
