package earthwork

import (
	"context"
	"errors"
	"math"

	"github.com/paulmach/orb"
	"runnel/analysis/channel"
	"runnel/geo/grid"
)

// A Seed is a place from which the ground is flooded.
type Seed struct {
	At orb.Point
	// Level is how high the water stands [m].
	Level float64
	// Reach is how far from the place its water goes [m]; nought or +Inf is as
	// far as the ground lets it.
	Reach float64
}

// Seeds returns the beds of a network as seeds, a cell apart.
func Seeds(n *channel.Network, f grid.Frame) []Seed {
	var seeds []Seed
	for _, b := range n.Beds(min(f.DX, f.DY)) {
		if b.Water > b.Level {
			seeds = append(seeds, Seed{b.At, b.Water, b.Reach})
		}
	}
	return seeds
}

// Wet is water that stands on a ground.
type Wet struct {
	// Depth of the water [m], NaN where it is dry.
	Depth grid.Ground
	// Contact is the soil under water [m²], Surface the water's surface [m²],
	// Volume its volume [m³], WetBank the length of its edge [m].
	Contact, Surface, Volume, WetBank float64
}

// Standing floods a ground from seeds: a cell is wet if it lies below the water
// and has a side in common with a wet cell, or holds a seed. Each takes the level
// of the seed from which the water reaches it first. Cells on the water's edge
// count for the share of them that is wet, as their slope has it.
func Standing(ctx context.Context, proposed grid.Ground, seeds []Seed) (Wet, error) {
	if err := proposed.Check(); err != nil {
		return Wet{}, err
	}
	f := flood{ground: proposed, seeds: seeds, owner: make([]int32, proposed.Len())}
	if err := f.spread(ctx); err != nil {
		return Wet{}, err
	}
	w := Wet{Depth: grid.New[float32](proposed.Frame)}
	for i := range w.Depth.V {
		w.Depth.V[i] = grid.NoData
	}
	f.sum(&w)
	return w, f.edge(ctx, &w)
}

// A flood is the water on its way. A cell's owner is 0 where it is not looked
// at, i+1 where it is wet from seed i, and -(i+1) where it is a dry neighbour.
type flood struct {
	ground grid.Ground
	seeds  []Seed
	owner  []int32
	// touched lists the cells with an owner; a cell that was dry and gets wet
	// stands in it once.
	touched []int32
}

// sides are the four directions by which water passes from cell to cell.
var sides = [4]grid.Dir{0, 2, 4, 6}

// film is the depth below which a cell is not taken to be wet [m]; it lies above
// what heights of 32 bits can lose.
const film = 0.0005

// manySeeds is too many for a cell to say which is its own.
const manySeeds = math.MaxInt32 - 1

func (f *flood) spread(ctx context.Context) error {
	if len(f.seeds) > manySeeds {
		return errors.New("the water starts from more places than can be counted; choose a larger cell")
	}
	var queue []int32
	for i, s := range f.seeds {
		if x, y, ok := f.ground.Cell(s.At); ok {
			queue = f.reach(x, y, int32(i), queue)
		}
	}
	for next := 0; next < len(queue); next++ {
		if next%65536 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		cell := int(queue[next])
		x, y := cell%f.ground.W, cell/f.ground.W
		for _, d := range sides {
			if f.ground.In(x+grid.StepX[d], y+grid.StepY[d]) {
				queue = f.reach(x+grid.StepX[d], y+grid.StepY[d], f.owner[cell]-1, queue)
			}
		}
	}
	return nil
}

// reach brings the water of a seed to a cell, and queues the cell if it gets wet.
func (f *flood) reach(x, y int, seed int32, queue []int32) []int32 {
	i := y*f.ground.W + x
	z := float64(f.ground.V[i])
	if f.owner[i] > 0 || math.IsNaN(z) {
		return queue
	}
	s := &f.seeds[seed]
	if s.Reach > 0 && !math.IsInf(s.Reach, 1) {
		c := f.ground.Centre(x, y)
		if math.Hypot(c[0]-s.At[0], c[1]-s.At[1]) > s.Reach+max(f.ground.DX, f.ground.DY) {
			return queue
		}
	}
	wet := z < s.Level-film
	if f.owner[i] == 0 {
		f.touched = append(f.touched, int32(i))
	}
	if wet {
		f.owner[i] = seed + 1
		return append(queue, int32(i))
	}
	if f.owner[i] == 0 {
		f.owner[i] = -(seed + 1)
	}
	return queue
}

// depth returns how far a touched cell lies below its water [m].
func (f *flood) depth(i int) float64 {
	return f.seeds[max(f.owner[i], -f.owner[i])-1].Level - float64(f.ground.V[i])
}

// sum adds up the touched cells.
func (f *flood) sum(w *Wet) {
	for _, cell := range f.touched {
		i := int(cell)
		depth := f.depth(i)
		gx, gy := gradient(f.ground, i%f.ground.W, i/f.ground.W)
		// Across the cell the ground rises by so much, about half of it on either
		// side of the middle.
		rise := math.Abs(gx)*f.ground.DX + math.Abs(gy)*f.ground.DY
		share, mean := 1.0, depth
		if math.Abs(depth) < rise/2 {
			share = 0.5 + depth/rise
			mean = share * share * rise / 2
		} else if f.owner[i] < 0 {
			share, mean = 0, 0
		}
		w.Surface += share
		w.Contact += share * math.Sqrt(1+gx*gx+gy*gy)
		w.Volume += mean
		if f.owner[i] > 0 {
			w.Depth.V[i] = float32(depth)
		}
	}
	area := f.ground.CellArea()
	w.Surface *= area
	w.Contact *= area
	w.Volume *= area
}

// gradient returns the slope at a cell to the east and to the south [m/m], by
// central differences, from one side beside cells of no data.
func gradient(g grid.Ground, x, y int) (gx, gy float64) {
	return difference(g, x, y, 2, g.DX), difference(g, x, y, 4, g.DY)
}

func difference(g grid.Ground, x, y int, ahead grid.Dir, step float64) float64 {
	here := float64(g.At(x, y))
	forward, f := neighbour(g, x, y, ahead)
	back, b := neighbour(g, x, y, ahead.Back())
	switch {
	case f && b:
		return (forward - back) / (2 * step)
	case f:
		return (forward - here) / step
	case b:
		return (here - back) / step
	}
	return 0
}

func neighbour(g grid.Ground, x, y int, d grid.Dir) (z float64, ok bool) {
	x, y = x+grid.StepX[d], y+grid.StepY[d]
	if !g.In(x, y) || grid.IsNoData(g.At(x, y)) {
		return 0, false
	}
	return float64(g.At(x, y)), true
}
