package ui

import (
	"context"
	"math"

	"runnel/analysis/flow"
	"runnel/analysis/hollow"
	"runnel/analysis/runoff"
	"runnel/analysis/soil"
	"runnel/analysis/storm"
	"runnel/app/view"
)

// A downpour is what a stormer is asked: how a drainage stands after so much rain.
type downpour struct {
	of    *view.Drainage
	ponds *view.Ponding
	// rain that falls [m], and for how long [h].
	rain, hours float64
	// soil is the texture that takes water in meanwhile; empty for none.
	soil string
}

// stormed is the answer: what became of the rain.
type stormed struct {
	downpour
	// fell is the rain on the ground, runs what of it runs off [m³].
	fell, runs float64
	// stored stands in the hollows, worth in those that are shown, soaked went into the ground, left ran off over
	// the edge, swallowed went into drain inlets, carried through culverts [m³].
	stored, worth, soaked, left, swallowed, carried float64
	// hasInlets and hasCulverts say whether there are any.
	hasInlets, hasCulverts bool
	water                  *view.Storm
}

// A stormer rains on one drainage after another. What a drainage needs is made
// ready once for all the storms on it. It is used by one goroutine at a time.
type stormer struct {
	ponds *view.Ponding
	hours float64
	model *storm.Model
	// tree is that of the model.
	tree *hollow.Tree
	area float64 // of the ground that is known [m²]
	// soil is the texture that soak is of.
	soil string
	soak storm.Soak
}

// fill works out what becomes of a downpour.
func (s *stormer) fill(ctx context.Context, d downpour) (stormed, error) {
	if s.ponds != d.ponds || s.hours != d.hours {
		if err := s.prepare(ctx, d); err != nil {
			return stormed{}, err
		}
	}
	result, err := s.rain(ctx, d)
	if err != nil {
		return stormed{}, err
	}
	pools := s.pools(d, result)
	b := result.Balance
	out := stormed{downpour: d, fell: s.area * d.rain, runs: b.In, stored: b.Stored, soaked: b.Soaked, left: b.Left,
		water: view.NewStorm(d.rain, result.Depth, d.of.Ground, pools)}
	for _, c := range pools {
		if depth := float64(result.Depth.V[c]); depth > 0 {
			out.worth += depth * d.of.Ground.CellArea()
		}
	}
	for i, l := range d.of.Surface.Links {
		if l.To < 0 {
			out.hasInlets = true
			out.swallowed += result.Linked[i]
		} else {
			out.hasCulverts = true
			out.carried += result.Linked[i]
		}
	}
	out.left -= out.swallowed
	return out, ctx.Err()
}

func (s *stormer) rain(ctx context.Context, d downpour) (*storm.Result, error) {
	if d.soil == "" {
		return s.model.Fill(ctx, d.rain)
	}
	if s.soil != d.soil {
		texture, err := soil.TextureNamed(d.soil)
		if err != nil {
			return nil, err
		}
		s.soil, s.soak = d.soil, soakOf(d.of.Surface, texture.Ksat.Likely/1000/secondsAnHour)
	}
	s.soak.Hours = d.hours
	return s.model.FillSoaking(ctx, d.rain, s.soak)
}

// pools lists the cells of the water that is worth showing: what stands as deep as
// a hollow that is shown, in such a hollow. The rest stands in the survey's noise.
func (s *stormer) pools(d downpour, result *storm.Result) []int32 {
	var cells []int32
	var look func(node int32)
	look = func(node int32) {
		n := s.tree.Nodes[node]
		level := result.Level[node]
		switch deep := level - float64(d.of.Surface.Ground.V[n.Pit]); {
		case deep >= d.ponds.Least.Depth:
			cells = append(cells, s.tree.Cells(node)...)
		case math.IsNaN(level):
			for _, child := range n.Child {
				if child != hollow.None {
					look(child)
				}
			}
		}
	}
	for _, node := range s.tree.Worth(d.ponds.Least) {
		look(node)
	}
	return cells
}

const secondsAnHour = 3600

// soakOf returns what comes up on a surface and how fast open ground takes it in,
// at the soil's rate [m/s].
func soakOf(surface *runoff.Surface, rate float64) storm.Soak {
	weight, open := surface.BeforeSoaking()
	rates := make([]float64, len(open))
	for c, takes := range open {
		if takes {
			rates[c] = rate
		}
	}
	return storm.Soak{Rates: rates, Weight: weight}
}

// prepare makes a drainage ready. A storm fills hollows up to the inlets in them
// and beyond, so it is routed without any.
func (s *stormer) prepare(ctx context.Context, d downpour) error {
	surface := d.of.Surface
	way, tree := d.of.Flow, d.ponds.Tree
	var links []storm.Link
	if len(surface.Links) > 0 {
		var err error
		if way, err = flow.Route(ctx, surface.Ground, flow.Options{}); err != nil {
			return err
		}
		if tree, err = hollow.NewTree(ctx, way); err != nil {
			return err
		}
		for _, l := range surface.Links {
			links = append(links, storm.Link{From: l.From, To: l.To, Level: l.Level, Capacity: l.Capacity * d.hours * secondsAnHour})
		}
	}
	model, err := storm.Prepare(ctx, way, tree, storm.Surface{Weight: surface.Weight, Links: links})
	if err != nil {
		return err
	}
	known := 0
	for _, z := range surface.Ground.V {
		if z == z {
			known++
		}
	}
	*s = stormer{ponds: d.ponds, hours: d.hours, model: model, tree: tree, area: float64(known) * surface.Ground.CellArea()}
	return nil
}
