package hollow

import (
	"math"
	"slices"
	"sort"
)

// A Curve tells the area and the volume of the water in one hollow by its level,
// exactly: the area goes up by a cell where the level reaches one, and between two
// such heights the volume is straight.
type Curve struct {
	// Floor is the height of the pit and Brim that of the spill [m]. Lower levels
	// count as the floor, higher ones as the brim.
	Floor, Brim float64

	cell  float64   // the plan area of a cell [m²]
	rises []float64 // of the cells over the floor, in ascending order [m]
	sums  []float64 // sums[i] is the sum of the first i rises [m]
}

// Curve returns the stage-area-volume curve of a node.
func (t *Tree) Curve(node int32) *Curve {
	n := t.Nodes[node]
	c := &Curve{Floor: float64(t.ground.V[n.Pit]), Brim: n.Level, cell: t.ground.CellArea(), rises: make([]float64, 0, n.Cells)}
	for _, cell := range t.Cells(node) {
		c.rises = append(c.rises, float64(t.ground.V[cell])-c.Floor)
	}
	slices.Sort(c.rises)
	c.sums = make([]float64, len(c.rises)+1)
	for i, rise := range c.rises {
		c.sums[i+1] = c.sums[i] + rise
	}
	return c
}

// wet counts the cells that lie below a stage, a height over the floor.
func (c *Curve) wet(stage float64) int { return sort.SearchFloat64s(c.rises, stage) }

func (c *Curve) stage(level float64) float64 {
	return min(max(level, c.Floor), c.Brim) - c.Floor
}

// held is the volume over n cells of the sum of depths at a stage.
func (c *Curve) held(n int, stage float64) float64 {
	return (float64(n)*stage - c.sums[n]) * c.cell
}

// Area returns the area of the water's surface at a level [m²].
func (c *Curve) Area(level float64) float64 { return float64(c.wet(c.stage(level))) * c.cell }

// Volume returns what stands in the hollow at a level [m³].
func (c *Curve) Volume(level float64) float64 {
	stage := c.stage(level)
	return c.held(c.wet(stage), stage)
}

// Level returns the level at which a volume stands [m]: the floor where there is
// none, the brim where it is more than the hollow holds. It is NaN for NaN.
func (c *Curve) Level(volume float64) float64 {
	if math.IsNaN(volume) {
		return volume
	}
	// The cells under the surface are those whose own height holds less.
	n := sort.Search(len(c.rises), func(i int) bool { return c.held(i, c.rises[i]) >= max(volume, 0) })
	if n == 0 {
		return c.Floor
	}
	return min(c.Floor+(volume/c.cell+c.sums[n])/float64(n), c.Brim)
}
