package runoff

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"runnel/analysis/channel"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A Surface is what rain meets on a site, and where it is put on the ground.
type Surface struct {
	// Ground has kerbs, walls and buildings raised and drains burnt to their bed.
	Ground grid.Ground
	// Weight is the runoff that comes up in each cell [m for each m of rain]; that
	// of a roof comes up where its water is put on the ground.
	Weight []float64
	// Links carry water from a cell, in drawing order.
	Links []Link
	// Sources are the roofs and the paving, in drawing order.
	Sources []Source
	// Problems lists what could not be taken as it is drawn; the rest holds.
	Problems []channel.Problem

	// stands is what stood on each cell when the runoff was weighed, and unweighed
	// lists what could not be weighed.
	stands    []mark
	unweighed []channel.Problem
}

// A Link takes water in at one cell and lets it out at another. A culvert along
// which a drain's bed lies open in the ground, from mouth to mouth, is none: the
// water finds its way over the ground.
type Link struct {
	// Feature is the culvert or drain inlet.
	Feature plan.ID
	// From is the cell of the inlet; To that of the outlet, -1 where the water
	// leaves the site.
	From, To int32
	// Level is the height that water must reach at From to run in [m].
	Level float64
	// Capacity is the most that it carries [m³/s], +Inf where that is not known.
	Capacity float64
}

// A Source is a roof or a piece of paving.
type Source struct {
	Feature plan.ID
	// Cells are those that it covers and nothing lies over.
	Cells []int32
	// Area is its area in plan [m²]: a roof's is that of its outline, so far as it
	// lies on the ground; paving's that of its cells.
	Area float64
	// Coefficient is the share of the rain that runs off.
	Coefficient float64
	// Outlet lists the cells where a roof's water is put on the ground, and Share
	// how much of it, 1 together. Both are empty for paving: each of its cells
	// runs off where it lies.
	Outlet []int32
	Share  []float64
}

// Inlets lists the cells that swallow water, for flow.Options.
func (s *Surface) Inlets() []int32 {
	var cells []int32
	for _, l := range s.Links {
		cells = append(cells, l.From)
	}
	slices.Sort(cells)
	return slices.Compact(cells)
}

// Starts calls yield with each cell where the source's water comes up and the
// share of the water that does, 1 together.
func (s Source) Starts(yield func(cell int32, share float64)) {
	for i, c := range s.Outlet {
		yield(c, s.Share[i])
	}
	if len(s.Outlet) > 0 {
		return
	}
	for _, c := range s.Cells {
		yield(c, 1/float64(len(s.Cells)))
	}
}

// A mark says what stands on a cell.
type mark uint8

const (
	opened  mark = 1 << iota // a drain's bed or a culvert's mouth: it stays open
	bedded                   // a drain's bed
	raised                   // a kerb or a wall
	roofed                   // a building
	covered                  // the weight is set
	unknown                  // no data
)

// closed are the marks of cells on which no downpipe is put.
const closed = raised | roofed | unknown

// A builder makes a surface. Its parts build on each other in the order of Of.
type builder struct {
	Surface
	site  *plan.Site
	marks []mark
	drawn [plan.Tree + 1][]plan.Feature
	// roofs are the buildings' own cells, by their place among the roofs drawn.
	roofs [][]int32
}

// Of returns the surface of a site whose ground is as it is or as a scheme
// proposes. The drains' beds are read from the site's own ground. What cannot be
// taken as it is drawn is left out and listed.
func Of(ctx context.Context, s *plan.Site, ground grid.Ground) (*Surface, error) {
	return (*Surface)(nil).Next(ctx, s, ground)
}

// Next is Of for a site that differs from the one that a surface was made of in its
// schemes and in how high the ground is at most, as while a channel is dragged. What
// runs off is taken over from the surface where the same stands on every cell; the
// answer is the same as Of's.
func (before *Surface) Next(ctx context.Context, s *plan.Site, ground grid.Ground) (*Surface, error) {
	if err := ground.Check(); err != nil {
		return nil, err
	}
	if len(ground.V) != ground.Len() {
		return nil, fmt.Errorf("the ground has %d heights for %d cells; read it again", len(ground.V), ground.Len())
	}
	usual, err := CoverNamed(cmp.Or(s.Setting.Cover, plan.UsualSetting().Cover))
	if err != nil {
		return nil, err
	}
	b := &builder{site: s, marks: make([]mark, ground.Len())}
	b.Ground = ground.Clone()
	for i, z := range ground.V {
		if grid.IsNoData(z) {
			b.marks[i] = unknown
		}
	}
	b.sort()
	steps := []func(){
		b.burnDrains, b.layCulverts, b.raiseBarriers, b.raiseRoofs, b.dropIdle, b.layInlets,
		func() { b.runOff(before, usual) }, b.inOrder,
	}
	for _, step := range steps {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		step()
	}
	if err := b.breakLoops(ctx); err != nil {
		return nil, err
	}
	return &b.Surface, nil
}

// runOff works out what runs off and where it comes up, which what stands on the
// cells decides, and not how high they are.
func (b *builder) runOff(before *Surface, usual Cover) {
	if before != nil && slices.Equal(b.marks, before.stands) {
		b.Weight, b.Sources, b.stands, b.unweighed = before.Weight, before.Sources, before.stands, before.unweighed
		b.Problems = append(b.Problems, b.unweighed...)
		return
	}
	weighed := len(b.Problems)
	b.stands, b.Weight = slices.Clone(b.marks), make([]float64, len(b.marks))
	b.drainRoofs()
	b.pave()
	b.weigh(usual)
	b.unweighed = slices.Clone(b.Problems[weighed:])
	place := b.places()
	slices.SortStableFunc(b.Sources, func(l, m Source) int { return cmp.Compare(place[l.Feature], place[m.Feature]) })
}

// sort puts the features of the site as it is by kind, and lists the unsound.
func (b *builder) sort() {
	for _, f := range b.site.Plan.Features {
		switch f.Kind {
		case plan.Roof, plan.Downpipe, plan.Paving, plan.Cover, plan.Drain, plan.Inlet, plan.Kerb, plan.Wall, plan.Culvert:
			if err := plan.Check(f); err != nil {
				b.Problems = append(b.Problems, channel.Problem{ID: f.ID, Err: err})
				continue
			}
			b.drawn[f.Kind] = append(b.drawn[f.Kind], f)
		}
	}
}

// inOrder puts links in drawing order.
func (b *builder) inOrder() {
	place := b.places()
	slices.SortStableFunc(b.Links, func(l, m Link) int { return cmp.Compare(place[l.Feature], place[m.Feature]) })
}

// places are those of the features in drawing order.
func (b *builder) places() map[plan.ID]int {
	place := make(map[plan.ID]int, len(b.site.Plan.Features))
	for i, f := range b.site.Plan.Features {
		place[f.ID] = i
	}
	return place
}

// problem notes what is wrong with a feature, by a format whose first place is the
// feature's title.
func (b *builder) problem(f plan.Feature, format string, args ...any) {
	b.Problems = append(b.Problems, channel.Problem{ID: f.ID, Err: fmt.Errorf(format, append([]any{f.Title()}, args...)...)})
}

// is reports whether a cell bears any of some marks.
func (b *builder) is(c int32, any mark) bool { return b.marks[c]&any != 0 }
