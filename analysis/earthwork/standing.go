package earthwork

import (
	"context"
	"errors"
	"iter"
	"math"
	"slices"

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
	// Runs is set where the water runs, and keeps to what is dug.
	Runs bool
}

// Seeds returns the beds of a network as seeds, a cell apart.
func Seeds(n *channel.Network, f grid.Frame) []Seed {
	var seeds []Seed
	for _, b := range n.Beds(min(f.DX, f.DY)) {
		if b.Water > b.Level {
			seeds = append(seeds, Seed{b.At, b.Water, b.Reach, b.Runs})
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

// Stand cuts a network into ground, as Shape does, and stands its water on that. A
// sill is no soil: its wall keeps waters apart, and counts for the bed and banks that
// it stands on, as if the water beside it went up to the middle of it.
func Stand(ctx context.Context, ground grid.Ground, n *channel.Network) (grid.Ground, Wet, error) {
	bare, err := shape(ctx, ground, n)
	if err != nil {
		return grid.Ground{}, Wet{}, err
	}
	proposed := wall(bare, n)
	wet, err := flood{natural: ground, ground: bare, walled: proposed, seeds: Seeds(n, ground.Frame)}.wet(ctx)
	return proposed, wet, err
}

// wet floods the ground from the seeds: a cell is wet if it lies below the water
// and has a side in common with a wet cell, or holds a seed. Each takes the level
// of the seed from which the water reaches it first. Cells on the water's edge
// count for the share of them that is wet, as their slope has it.
func (f flood) wet(ctx context.Context) (Wet, error) {
	if err := f.ground.Check(); err != nil {
		return Wet{}, err
	}
	f.owner = make([]int32, f.ground.Len())
	if err := f.spread(ctx); err != nil {
		return Wet{}, err
	}
	f.soak()
	w := Wet{Depth: grid.New[float32](f.ground.Frame)}
	for i := range w.Depth.V {
		w.Depth.V[i] = grid.NoData
	}
	f.sum(&w)
	return w, f.edge(ctx, &w)
}

// A flood is the water on its way. A cell's owner is 0 where it is not looked
// at, i+1 where it is wet from seed i, and -(i+1) where it is a dry neighbour.
type flood struct {
	// natural is the ground as it is, ground that under the water, walled the same with the walls in it that water
	// does not pass.
	natural, ground, walled grid.Ground
	seeds                   []Seed
	owner                   []int32
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
			queue = f.reach(f.walled, y*f.ground.W+x, int32(i), queue)
		}
	}
	for next := 0; next < len(queue); next++ {
		if next%65536 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		for i := range f.beside(int(queue[next])) {
			queue = f.reach(f.walled, i, f.owner[queue[next]]-1, queue)
		}
	}
	return nil
}

// soak brings the water beside a wall to the cells under it, each from the nearest.
func (f *flood) soak() {
	if len(f.walled.V) == 0 || &f.walled.V[0] == &f.ground.V[0] {
		return
	}
	queue := slices.DeleteFunc(slices.Clone(f.touched), func(i int32) bool { return f.owner[i] <= 0 })
	for next := 0; next < len(queue); next++ {
		for i := range f.beside(int(queue[next])) {
			if f.ground.V[i] != f.walled.V[i] {
				queue = f.reach(f.ground, i, f.owner[queue[next]]-1, queue)
			}
		}
	}
}

// beside goes through the numbers of the cells that have a side in common with one.
func (f *flood) beside(cell int) iter.Seq[int] {
	x, y := cell%f.ground.W, cell/f.ground.W
	return func(yield func(int) bool) {
		for _, d := range sides {
			if f.ground.In(x+grid.StepX[d], y+grid.StepY[d]) && !yield((y+grid.StepY[d])*f.ground.W+x+grid.StepX[d]) {
				return
			}
		}
	}
}

// reach brings the water of a seed to a cell of a ground, by its number, and queues
// the cell if it gets wet.
func (f *flood) reach(on grid.Ground, i int, seed int32, queue []int32) []int32 {
	z := float64(on.V[i])
	if f.owner[i] > 0 || math.IsNaN(z) {
		return queue
	}
	s := &f.seeds[seed]
	if s.Reach > 0 && !math.IsInf(s.Reach, 1) {
		c := f.ground.Centre(i%f.ground.W, i/f.ground.W)
		if math.Hypot(c[0]-s.At[0], c[1]-s.At[1]) > s.Reach+max(f.ground.DX, f.ground.DY) {
			return queue
		}
	}
	wet := z < s.Level-film && !(s.Runs && f.natural.V[i] == f.ground.V[i])
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
		about := around(&f.ground, i%f.ground.W, i/f.ground.W)
		gx, gy := about.gradient()
		// Across the cell the ground rises by so much, about half of it on either
		// side of the middle.
		rise := math.Abs(gx)*f.ground.DX + math.Abs(gy)*f.ground.DY
		share, mean := 1.0, depth
		if math.Abs(depth) < rise/2 {
			share = 0.5 + depth/rise
			if f.owner[i] < 0 {
				share = min(share, about.shoulder(depth))
			}
			mean = share * share * rise / 2
		} else if f.owner[i] < 0 {
			share, mean = 0, 0
		}
		w.Surface += share
		if share > 0 {
			w.Contact += share * about.secant()
		}
		w.Volume += mean
		if f.owner[i] > 0 {
			if walled := depth + float64(f.ground.V[i]) - float64(f.walled.V[i]); walled > film {
				w.Depth.V[i] = float32(walled)
			}
		}
	}
	area := f.ground.CellArea()
	w.Surface *= area
	w.Contact *= area
	w.Volume *= area
}
