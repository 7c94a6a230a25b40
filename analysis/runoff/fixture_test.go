package runoff

import (
	"context"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"runnel/analysis/flow"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// values are the numbers of a feature by field.
type values map[string]float64

// A bench is a site that tests draw on, its cells 1 m and its south-west corner
// at nought.
type bench struct {
	plan.Site
	t testing.TB
}

// shaped returns a site of w by h cells whose heights are a function of the
// cells' middles.
func shaped(t testing.TB, w, h int, z func(east, north float64) float64) *bench {
	b := &bench{t: t}
	b.Ground = grid.New[float32](grid.Square(w, h, 0, float64(h), 1))
	for y := range h {
		for x := range w {
			p := b.Ground.Centre(x, y)
			b.Ground.Set(x, y, float32(z(p[0], p[1])))
		}
	}
	b.Setting = plan.UsualSetting()
	return b
}

func level(east, north float64) float64 { return 5 }

// draw adds a feature and returns its number.
func (b *bench) draw(kind plan.Kind, g orb.Geometry, of values) plan.ID {
	f := plan.Feature{ID: plan.ID(b.Plan.NextID()), Kind: kind, Geometry: g}
	for name, v := range of {
		f = f.With(name, plan.Value{Number: v})
	}
	b.Plan.Features = append(b.Plan.Features, f)
	return f.ID
}

// surface returns the surface, which must have no problems.
func (b *bench) surface() *Surface {
	b.t.Helper()
	s := b.any()
	for _, p := range s.Problems {
		b.t.Errorf("problem: %v", p)
	}
	return s
}

func (b *bench) any() *Surface {
	b.t.Helper()
	s, err := Of(context.Background(), &b.Site, b.Ground)
	if err != nil {
		b.t.Fatal(err)
	}
	return s
}

// complains checks that there is one problem, with a feature and a text.
func (b *bench) complains(id plan.ID, text string) *Surface {
	b.t.Helper()
	s := b.any()
	if len(s.Problems) != 1 || s.Problems[0].ID != id || !strings.Contains(s.Problems[0].Error(), text) {
		b.t.Errorf("problems %v; want one of feature %d with %q", s.Problems, id, text)
	}
	return s
}

func (b *bench) cell(x, y int) int32 { return int32(y*b.Ground.W + x) }

func line(at ...float64) orb.LineString {
	var l orb.LineString
	for i := 0; i < len(at); i += 2 {
		l = append(l, orb.Point{at[i], at[i+1]})
	}
	return l
}

func box(west, south, east, north float64) orb.Polygon {
	return orb.Polygon{{{west, south}, {east, south}, {east, north}, {west, north}, {west, south}}}
}

// route leads the water of a surface, with its inlets.
func route(t testing.TB, s *Surface) *flow.Flow {
	t.Helper()
	f, err := routed(s)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func routed(s *Surface) (*flow.Flow, error) {
	return flow.Route(context.Background(), s.Ground, flow.Options{Inlets: s.Inlets()})
}

// gathered is the water that comes to each cell, itself included [m³ for each m
// of rain]: each cell's is walked down its path, one by one.
func gathered(s *Surface, f *flow.Flow) []float64 {
	sum := make([]float64, len(s.Weight))
	for c, w := range s.Weight {
		for at := c; ; {
			sum[at] += w * s.Ground.CellArea()
			d := f.Dir.V[at]
			if d > 7 {
				break
			}
			x, y := at%s.Ground.W+grid.StepX[d], at/s.Ground.W+grid.StepY[d]
			if !s.Ground.In(x, y) || f.Dir.At(x, y) == grid.NoDir {
				break
			}
			at = y*s.Ground.W + x
		}
	}
	return sum
}

func total(s *Surface) float64 {
	sum := 0.0
	for _, w := range s.Weight {
		sum += w * s.Ground.CellArea()
	}
	return sum
}

func near(a, b, within float64) bool { return math.Abs(a-b) <= within }

// frames are small and of any shape of cell.
func anyFrame(t *rapid.T) grid.Frame {
	f := grid.Square(rapid.IntRange(1, 14).Draw(t, "w"), rapid.IntRange(1, 14).Draw(t, "h"), -3, 7, rapid.SampledFrom([]float64{1, 0.25}).Draw(t, "dx"))
	f.DY *= rapid.SampledFrom([]float64{1, 1, 2}).Draw(t, "stretch")
	return f
}

// star returns an outline that does not cross itself, about a place on a frame.
// Its points may lie off the frame, on the corners of cells and on their sides.
func star(t *rapid.T, f grid.Frame) orb.Polygon {
	quarter := func(name string, from, to int) float64 {
		return float64(rapid.IntRange(4*from, 4*to).Draw(t, name)) / 4
	}
	x, y := quarter("x", 0, f.W), quarter("y", 0, f.H)
	n := rapid.IntRange(3, 9).Draw(t, "corners")
	var ring orb.Ring
	for i := range n {
		r := quarter("r", 1, 12)
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		p := orb.Point{math.Round(4*(x+r*cos)) / 4, math.Round(4*(y+r*sin)) / 4}
		ring = append(ring, orb.Point{f.West + p[0]*f.DX, f.North - p[1]*f.DY})
	}
	return orb.Polygon{append(ring, ring[0])}
}
