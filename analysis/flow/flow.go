package flow

import (
	"runnel/geo/grid"
	"runnel/geo/scratch"
)

// Outside stands for all that is beyond the ground, in place of a basin.
const Outside int32 = -1

// A Flow is the answer to where the water of a ground goes.
type Flow struct {
	// Ground is the surface as it was given, Filled as it is once every hollow
	// has filled to its spill.
	Ground, Filled grid.Ground
	// Fall leads each cell down the ground to the lowest cell of its basin,
	// which has grid.Stay, or off the ground.
	Fall grid.Grid[grid.Dir]
	// Dir leads on: a basin that is full is left along its lowest pass, so every
	// cell drains off the ground or into an inlet, which has grid.Stay.
	Dir grid.Grid[grid.Dir]
	// Cells counts the cells that drain through each along Dir, itself included;
	// 0 at no data.
	Cells grid.Grid[uint32]
	// Space is where all of this is kept, nil for memory.
	Space *scratch.Space
	// Basins are the places where Fall ends on the ground, and how each is left.
	Basins Basins
}

// Basins are the parts of a ground that fall to one lowest cell each.
type Basins struct {
	// Pit is the lowest cell of each basin, in ascending order of the index.
	Pit []int32
	// Way is how each basin is left once it is full. Together they are the
	// minimum spanning tree of the passes between basins, rooted outside.
	Way []Way
}

// A Way is the pass by which the water of a full basin leaves.
type Way struct {
	// Parent is the basin beyond the pass, or Outside.
	Parent int32
	// From is the last cell on this side of the pass and To the first beyond, a
	// neighbour of From; To is -1 where the water leaves the ground at From. Where
	// Parent is Outside and To is a cell, that cell is an inlet or drains away.
	From, To int32
	// Pass is the height of the pass [m]. Level is the height to which the basin
	// fills before its water gets off the ground: the highest pass on the way.
	Pass, Level float32
}

// Options tune Route. The zero value has no inlets.
type Options struct {
	// Inlets are the cells that swallow all the water that reaches them.
	Inlets []int32
	// Space is where everything that has an entry a cell or a basin is kept. A nil
	// Space is memory, for grounds of up to grid.MaxCells; others take
	// grid.MostCells. The Flow is gone once its Space is closed.
	Space *scratch.Space
	// Workers is how many strips are worked on at a time; 0 is one a processor. The
	// answer does not depend on it.
	Workers int
	// Progress, when set, is told the share of the work done, 0 to 1.
	Progress func(share float64)
	// Stage, when set, is told the name of each stage of the work when it is done,
	// and how long it took [s].
	Stage func(name string, seconds float64)
}
