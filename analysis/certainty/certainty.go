package certainty

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"sync"
	"sync/atomic"

	"runnel/analysis/flow"
	"runnel/geo/grid"
)

// A Survey says how far a surveyed ground may be off, and what is asked of it.
type Survey struct {
	// Error is the standard deviation of the heights [m]; at 0 the ground is sure.
	Error float64
	// Errors, when set, are the standard deviations cell by cell [m], on the ground's
	// frame; where one is NaN, Error holds.
	Errors *grid.Grid[float32]
	// Reach is the correlation length of the error [m]: how far apart two places
	// may lie and still be off much the same. Below a cell each is off by itself.
	Reach float64
	// Draws is how many grounds are tried, MostDraws at most. A share is off by
	// 1/(2·√Draws) or less: by 5 % of the whole in 100 draws.
	Draws int
	// Seed chooses the draws: the same seed gives the same shares.
	Seed uint64
	// Least is the area that must drain through a cell for it to carry flow [m²].
	Least float64
	// Inlets are the cells that swallow all the water that reaches them.
	Inlets []int32
	// Carry, when set, adds to a draw's counts what does not run over the ground, as
	// runoff.Surface.Carry does for culverts. It is called from several goroutines.
	Carry func(*flow.Flow)
}

// MostDraws is the most grounds that a survey may be tried with.
const MostDraws = math.MaxUint16

// Of returns for each cell of a ground the share of the draws, 0 to 1, in which
// it carries flow; NaN at no data. progress, when set, is told the share of the
// work that is done, from one goroutine at a time.
func Of(ctx context.Context, ground grid.Ground, s Survey, progress func(share float64)) (grid.Grid[float32], error) {
	if err := s.check(ground); err != nil {
		return grid.Grid[float32]{}, fmt.Errorf("see how sure the water paths are: %w", err)
	}
	if s.Error == 0 && s.Errors == nil { // every draw would be the same
		s.Draws = 1
	}
	counts, err := trial{Survey: s, ground: ground, progress: progress}.run(ctx)
	if err != nil {
		return grid.Grid[float32]{}, err
	}
	share := grid.New[float32](ground.Frame)
	for i, n := range counts {
		share.V[i] = float32(n) / float32(s.Draws)
		if grid.IsNoData(ground.V[i]) {
			share.V[i] = grid.NoData
		}
	}
	return share, nil
}

func (s Survey) check(ground grid.Ground) error {
	finite := func(v float64) bool { return !math.IsNaN(v - v) }
	switch {
	case !finite(s.Error) || s.Error < 0:
		return fmt.Errorf("the survey's error is %g m; give its standard deviation, 0 or more", s.Error)
	case !finite(s.Reach) || s.Reach < 0:
		return fmt.Errorf("the reach of the survey's error is %g m; give 0 or more", s.Reach)
	case s.Draws < 1 || s.Draws > MostDraws:
		return fmt.Errorf("%d draws are asked for; give 1 to %d, 100 being usual", s.Draws, MostDraws)
	case !finite(s.Least) || s.Least <= 0:
		return fmt.Errorf("flow is to begin at %g m²; give an area of more than 0", s.Least)
	case ground.Check() == nil && len(ground.V) != ground.Len():
		return fmt.Errorf("the grid of %d by %d cells holds %d heights; it needs one a cell", ground.W, ground.H, len(ground.V))
	case s.Errors != nil:
		if err := checkErrors(*s.Errors, ground); err != nil {
			return err
		}
	}
	return ground.Check()
}

func checkErrors(errors grid.Grid[float32], ground grid.Ground) error {
	if errors.Frame != ground.Frame || len(errors.V) != len(ground.V) {
		return fmt.Errorf("the survey's errors are %d by %d cells and the ground is %d by %d; give one for each of its cells",
			errors.W, errors.H, ground.W, ground.H)
	}
	for i, v := range errors.V {
		if v < 0 || math.IsInf(float64(v), 0) {
			return fmt.Errorf("the survey's error at column %d, row %d is %g m; give its standard deviation, 0 or more", i%ground.W, i/ground.W, v)
		}
	}
	return nil
}

// A trial is one run over a survey's draws.
type trial struct {
	Survey
	ground   grid.Ground
	progress func(float64)
}

// mostCells is how many cells are in hand at once, over all workers: some 2 GB.
const mostCells = 1 << 26

// run shares the draws among workers and counts in how many each cell carries
// flow. A draw depends on the seed and its own number alone, and counts add up
// in any order, so any number of workers gives the same.
func (t trial) run(ctx context.Context) ([]uint16, error) {
	processors := runtime.GOMAXPROCS(0)
	workers := make([]*worker, min(processors, t.Draws, max(1, mostCells/t.ground.Len())))
	errs := make([]error, len(workers))
	var next draws
	var all sync.WaitGroup
	for i := range workers {
		all.Go(func() {
			workers[i] = t.worker(processors / len(workers))
			errs[i] = workers[i].work(ctx, &next)
		})
	}
	all.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	counts := workers[0].count
	for _, other := range workers[1:] {
		for i, n := range other.count {
			counts[i] += n
		}
	}
	return counts, nil
}

// draws hands out the draws and keeps account of them.
type draws struct {
	next    atomic.Int64
	telling sync.Mutex
	done    int
}

// A worker makes one draw after another in memory of its own.
type worker struct {
	trial
	noise  *field
	drawn  grid.Ground
	router flow.Router
	// processors is how many the router may use.
	processors int
	count      []uint16
}

func (t trial) worker(processors int) *worker {
	return &worker{
		trial: t, noise: newField(t.ground.Frame, t.Reach), drawn: grid.New[float32](t.ground.Frame),
		processors: processors, count: make([]uint16, t.ground.Len()),
	}
}

// work makes draws until there are no more.
func (w *worker) work(ctx context.Context, all *draws) error {
	for draw := all.next.Add(1) - 1; draw < int64(w.Draws); draw = all.next.Add(1) - 1 {
		if err := w.draw(ctx, uint64(draw)); err != nil {
			return err
		}
		all.telling.Lock()
		all.done++
		if w.progress != nil {
			w.progress(float64(all.done) / float64(w.Draws))
		}
		all.telling.Unlock()
	}
	return nil
}

// size returns the size of the error.
func (s Survey) size() size {
	if s.Errors == nil {
		return size{all: s.Error}
	}
	return size{all: s.Error, each: s.Errors.V}
}

// draw routes one ground and counts the cells that carry flow.
func (w *worker) draw(ctx context.Context, number uint64) error {
	w.noise.add(w.ground, w.size(), rand.New(rand.NewPCG(w.Seed, number)), w.drawn)
	found, err := w.router.Route(ctx, w.drawn, flow.Options{Inlets: w.Inlets, Workers: w.processors})
	if err != nil {
		return err
	}
	if w.Carry != nil {
		w.Carry(found)
	}
	least := w.Least / w.ground.CellArea()
	for i, cells := range found.Cells.V {
		if float64(cells) >= least {
			w.count[i]++
		}
	}
	return nil
}
