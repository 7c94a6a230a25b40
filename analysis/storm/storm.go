// Package storm works out what stands on a ground after a storm, and what left it.
//
// Water runs down the ground as surveyed until it comes to the pit of a hollow or
// off the ground. A hollow that is full spills over its pass into the next; where
// that one is full to the same pass, the two go on as one ([Barnes2021], over the
// tree of hollows of [Barnes2020]). Time does not count: each hollow has all the
// storm's water to fill with, and no water is lost on the way. So the depths are
// those once the storm has run off, and a hollow that soaks or drains away
// meanwhile stands lower.
//
// Links are inlets and culverts, of which only the volume that they can carry in
// the whole storm counts. What runs over an inlet comes to it before what stands
// there, and water that comes back to the link that it went through, because the
// outlet stands under the same water, passes it by. Where a hollow that spills runs
// over an inlet on its way to one that is not full, it depends on which water comes
// first how much goes through; the hollows are taken from the highest spill down.
//
// Rain and depths are metres, volumes m³.
package storm

import (
	"context"
	"fmt"
	"math"

	"runnel/analysis/flow"
	"runnel/analysis/hollow"
	"runnel/geo/grid"
)

// A Surface says how much of the rain runs off, and what takes water in. The zero
// Surface is a ground that sheds all of it.
type Surface struct {
	// Weight is the runoff of each cell [m for each m of rain]; nil is 1 everywhere.
	// A cell that a roof drains to has the roof's share on top of its own.
	Weight []float64
	Links  []Link
}

// A Link is a drain inlet, or a culvert that carries water under what stops it.
type Link struct {
	// From is the cell of its inlet. To is the one that it runs out on to, or -1
	// where it leaves the site.
	From, To int32
	// Capacity is the most that goes through in the storm [m³]; it may be infinite.
	Capacity float64
	// Level is the height of the inlet [m]; the ground's own where it is NaN or
	// lower. Water that runs over an inlet in the ground goes through, and so does
	// water that stands at its level, before it rises further. One that is raised
	// over the ground takes only what stands.
	Level float64
}

// raised reports an inlet that stands over the ground.
func (l Link) raised(ground grid.Ground) bool { return l.Level > float64(ground.V[l.From]) }

// A Model is a ground made ready to be rained on. It works in memory of its own,
// so one call at a time.
type Model struct {
	frame  grid.Frame
	weight []float64
	links  []Link
	plumbing
	store
	state
	result Result
}

// A Result is how a ground stands after a storm. It shares the model's memory and
// holds until the model is next called.
type Result struct {
	// Depth of standing water [m]; NaN where it is dry.
	Depth grid.Ground
	// Level of the water in each node of the tree of hollows [m], or in the one that
	// it is part of by now; NaN where it is dry.
	Level []float64
	// Left is what ran off the ground, by cell in ascending order.
	Left []Exit
	// Linked is what went through each link [m³].
	Linked  []float64
	Balance Balance
}

// An Exit is a cell from which water left the ground.
type Exit struct {
	Cell   int32
	Volume float64 // [m³]
}

// A Balance says what became of the water [m³]: what came In is what was Stored on
// the ground, what Left over its edge and through links off the site, and what the
// ground Soaked in.
type Balance struct{ In, Stored, Left, Soaked float64 }

// Prepare makes a ground ready. The flow is routed without inlets; those of the
// surface's links come here. Cells of no data shed nothing.
func Prepare(ctx context.Context, f *flow.Flow, t *hollow.Tree, s Surface) (*Model, error) {
	m := &Model{frame: f.Ground.Frame, weight: s.Weight, links: s.Links}
	if err := m.prepare(ctx, f, t); err != nil {
		return nil, fmt.Errorf("prepare the storm: %w", err)
	}
	return m, nil
}

func (m *Model) prepare(ctx context.Context, f *flow.Flow, t *hollow.Tree) error {
	if err := checkWeights(m.weight, m.frame, func(c int) bool { return !grid.IsNoData(f.Ground.V[c]) }); err != nil {
		return err
	}
	if err := checkLinks(m.links, f.Ground); err != nil {
		return err
	}
	m.store = newStore(t, m.cuts(f, t))
	if err := m.lay(ctx, f, t); err != nil {
		return err
	}
	if err := m.checkLoops(); err != nil {
		return err
	}
	m.state = newState(len(m.ponds), len(m.links), len(m.exits))
	m.unit = make([]float64, len(m.next))
	for c, s := range m.entry {
		if s >= 0 {
			m.unit[s] += shed(m.weight, c) * m.frame.CellArea()
		}
	}
	m.result = Result{
		Depth: grid.New[float32](m.frame), Level: make([]float64, len(t.Nodes)), Linked: make([]float64, len(m.links)),
	}
	for c := range m.result.Depth.V {
		m.result.Depth.V[c] = grid.NoData
	}
	return ctx.Err()
}

// shed is what runs off a cell of a weight for each metre of rain [m].
func shed(weight []float64, c int) float64 {
	if weight == nil {
		return 1
	}
	return weight[c]
}

func checkWeights(weight []float64, f grid.Frame, known func(c int) bool) error {
	if weight == nil {
		return nil
	}
	if len(weight) != f.Len() {
		return fmt.Errorf("%d weights are given for %d cells; give one a cell", len(weight), f.Len())
	}
	for c, w := range weight {
		if (!(w >= 0) || math.IsInf(w, 0)) && known(c) {
			return fmt.Errorf("the weight at column %d, row %d is %g; give 0 or more", c%f.W, c/f.W, w)
		}
	}
	return nil
}

// Fill rains on the ground, everywhere the same [m].
func (m *Model) Fill(ctx context.Context, rain float64) (*Result, error) {
	if err := checkRain(rain); err != nil {
		return nil, fmt.Errorf("fill the hollows with rain: %w", err)
	}
	m.start()
	for s, unit := range m.unit {
		m.inflow[s] = unit * rain
		m.result.Balance.In += m.inflow[s]
	}
	return m.finish(ctx, nil)
}

func checkRain(rain float64) error {
	if !(rain >= 0) || math.IsInf(rain, 0) {
		return fmt.Errorf("the rain is %g m; give 0 or more", rain)
	}
	return nil
}

// FillGrid lets what is given run off each cell [m³]. Weights do not count.
func (m *Model) FillGrid(ctx context.Context, runoff []float64) (*Result, error) {
	if len(runoff) != len(m.entry) {
		return nil, fmt.Errorf("fill the hollows with runoff: %d figures are given for %d cells; give one a cell", len(runoff), len(m.entry))
	}
	m.start()
	for c, s := range m.entry {
		if s < 0 {
			continue
		}
		v := runoff[c]
		if !(v >= 0) || math.IsInf(v, 0) {
			return nil, fmt.Errorf("fill the hollows with runoff: it is %g m³ at column %d, row %d; give 0 or more", v, c%m.frame.W, c/m.frame.W)
		}
		m.inflow[s] += v
		m.result.Balance.In += v
	}
	return m.finish(ctx, nil)
}
