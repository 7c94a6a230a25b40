package tool

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/app/site"
	"runnel/geo/plan"
)

// named names features for an undo step.
func named(features []plan.Feature) string {
	if len(features) == 1 {
		return features[0].Title()
	}
	return fmt.Sprintf("%d things", len(features))
}

// alter changes what is selected, as one step.
func alter(d *site.Document, b *Board, format string, change func(plan.Feature) plan.Feature) error {
	chosen := b.Chosen(d.Site().Plan)
	if len(chosen) == 0 {
		return nil
	}
	return d.Do(&site.Alter{After: each(chosen, change), What: fmt.Sprintf(format, named(chosen))})
}

// Shift moves what is selected by so many metres to the east and to the north. Moves
// of one selection with nothing done between them are one step.
func Shift(d *site.Document, b *Board, by orb.Point) error {
	chosen := b.Chosen(d.Site().Plan)
	if len(chosen) == 0 {
		return nil
	}
	if b.shifting == 0 {
		b.shifting = d.Gesture()
	}
	moved := each(chosen, func(f plan.Feature) plan.Feature { return shifted(f, by[0], by[1]) })
	return d.Do(&site.Alter{After: moved, What: fmt.Sprintf("move %s", named(chosen)), Gesture: b.shifting})
}

// Rotate turns what is selected clockwise about its middle, in degrees.
func Rotate(d *site.Document, b *Board, degrees float64) error {
	chosen := b.Chosen(d.Site().Plan)
	if len(chosen) == 0 {
		return nil
	}
	about := boundOf(chosen).Center()
	return alter(d, b, "rotate %s", func(f plan.Feature) plan.Feature { return turned(f, about, degrees) })
}

// Mirror mirrors what is selected about the line through its middle that leads
// along a bearing: 0 changes east and west, 90 north and south.
func Mirror(d *site.Document, b *Board, bearing float64) error {
	chosen := b.Chosen(d.Site().Plan)
	if len(chosen) == 0 {
		return nil
	}
	middle := boundOf(chosen).Center()
	axis := orb.Point{middle[0], middle[1] + 1}
	if bearing != 0 {
		sin, cos := math.Sincos(bearing * math.Pi / 180)
		axis = orb.Point{middle[0] + sin, middle[1] + cos}
	}
	return MirrorAbout(d, b, [2]orb.Point{middle, axis})
}

// MirrorAbout mirrors what is selected about the line through two places.
func MirrorAbout(d *site.Document, b *Board, axis [2]orb.Point) error {
	if planar.Distance(axis[0], axis[1]) == 0 {
		return fmt.Errorf("the line to mirror about has no length; give two places apart")
	}
	return alter(d, b, "mirror %s", func(f plan.Feature) plan.Feature { return mirrored(f, axis[0], axis[1]) })
}

// Copy adds a copy of what is selected, so many metres to the east and to the
// north, and selects it. Copies stay in their scheme and have no name of their own.
func Copy(d *site.Document, b *Board, by orb.Point) error {
	chosen := b.Chosen(d.Site().Plan)
	if len(chosen) == 0 {
		return nil
	}
	copies := each(chosen, func(f plan.Feature) plan.Feature {
		f = shifted(f, by[0], by[1])
		f.ID, f.Name = 0, ""
		return f
	})
	edit := &site.Duplicate{Add: site.Add{Features: copies}, Of: named(chosen)}
	if err := d.Do(edit); err != nil {
		return err
	}
	var ids []plan.ID
	for _, f := range edit.Features {
		ids = append(ids, f.ID)
	}
	b.Select(ids...)
	return nil
}

// Smooth draws what is selected as smooth curves through its points; Straighten
// draws straight sides between them.
func Smooth(d *site.Document, b *Board) error { return alter(d, b, "curve %s", plan.Feature.Smooth) }

// Straighten is the other way of Smooth.
func Straighten(d *site.Document, b *Board) error {
	return alter(d, b, "straighten %s", plan.Feature.Straight)
}

// Remove takes away what is selected.
func Remove(d *site.Document, b *Board) error {
	var ids []plan.ID
	for _, f := range b.Chosen(d.Site().Plan) {
		ids = append(ids, f.ID)
	}
	if err := d.Do(&site.Remove{IDs: ids}); err != nil {
		return err
	}
	b.Select()
	return nil
}

// Shared says how many of the selected things are the site's own while a scheme is
// shown: what is done to them is done in every scheme. Empty where none are.
func Shared(d *site.Document, b *Board) string {
	chosen := b.Chosen(d.Site().Plan)
	count := 0
	for _, f := range chosen {
		if f.Scheme == plan.AsItIs {
			count++
		}
	}
	switch {
	case b.Scheme == plan.AsItIs || count == 0:
		return ""
	case len(chosen) == 1:
		return "It belongs to the site as it is; it changes in every scheme"
	case count == 1:
		return "1 of these belongs to the site as it is; it changes in every scheme"
	}
	return fmt.Sprintf("%d of these belong to the site as it is; they change in every scheme", count)
}

// own lists what belongs to a scheme alone; of the site as it is, all of it.
func own(p plan.Plan, scheme plan.SchemeID) []plan.Feature {
	return slices.DeleteFunc(slices.Clone(p.In(scheme)), func(f plan.Feature) bool { return f.Scheme != scheme })
}

// SelectAll selects everything that the scheme shows and that is its own.
func SelectAll(d *site.Document, b *Board) {
	b.Select(within(own(d.Site().Plan, b.Scheme), orb.Bound{Min: orb.Point{math.Inf(-1), math.Inf(-1)}, Max: orb.Point{math.Inf(1), math.Inf(1)}})...)
}

// within lists the features that lie wholly in a box.
func within(features []plan.Feature, box orb.Bound) []plan.ID {
	var ids []plan.ID
	for _, f := range features {
		if b := f.Geometry.Bound(); box.Contains(b.Min) && box.Contains(b.Max) {
			ids = append(ids, f.ID)
		}
	}
	return slices.Clip(ids)
}
