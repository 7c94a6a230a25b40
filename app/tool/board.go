package tool

import (
	"slices"

	"runnel/app/site"
	"runnel/geo/plan"
)

// A Manner is how a line or an outline is drawn.
type Manner uint8

// Straight sides, a smooth curve through the points, or a circle by its middle
// and radius.
const (
	Straight Manner = iota
	Curved
	Round
)

// A Board is what the tools of one map share.
type Board struct {
	// Scheme is the scheme that is shown and drawn in.
	Scheme plan.SchemeID
	// Selected is the selected feature, the first of several; 0 for none. Others
	// are those selected with it.
	Selected plan.ID
	Others   []plan.ID
	// Changed is called after a tool has changed what is selected. It may be nil.
	Changed func()
	// Grid is the spacing of the lines that points are drawn to [m], and Step
	// what a side's length is a multiple of [m]; nought for neither.
	Grid, Step float64

	manners map[plan.Kind]Manner
	// shifting joins the presses of keys that move one selection.
	shifting site.Gesture
}

// Select makes features the selected ones, the first the main one; 0 is none.
func (b *Board) Select(ids ...plan.ID) {
	var wanted []plan.ID
	for _, id := range ids {
		if id != 0 && !slices.Contains(wanted, id) {
			wanted = append(wanted, id)
		}
	}
	if slices.Equal(wanted, b.All()) {
		return
	}
	b.set(wanted)
	if b.Changed != nil {
		b.Changed()
	}
}

func (b *Board) set(ids []plan.ID) {
	b.Selected, b.Others, b.shifting = 0, nil, 0
	if len(ids) > 0 {
		b.Selected, b.Others = ids[0], ids[1:]
	}
}

// All lists what is selected, the main one first.
func (b *Board) All() []plan.ID {
	if b.Selected == 0 {
		return nil
	}
	return append([]plan.ID{b.Selected}, slices.DeleteFunc(slices.Clone(b.Others), func(id plan.ID) bool { return id == b.Selected })...)
}

// Toggle adds a feature to the selected ones, or takes it from them.
func (b *Board) Toggle(id plan.ID) {
	all := b.All()
	if i := slices.Index(all, id); i >= 0 {
		b.Select(slices.Delete(all, i, i+1)...)
		return
	}
	b.Select(append(all, id)...)
}

// Prune deselects what a plan does not hold any more.
func (b *Board) Prune(p plan.Plan) {
	b.set(slices.DeleteFunc(b.All(), func(id plan.ID) bool { return p.Index(id) < 0 }))
}

// Chosen returns the selected features that the scheme shows.
func (b *Board) Chosen(p plan.Plan) []plan.Feature {
	var chosen []plan.Feature
	for _, id := range b.All() {
		if f, ok := p.Find(id); ok && (f.Scheme == plan.AsItIs || f.Scheme == b.Scheme) {
			chosen = append(chosen, f)
		}
	}
	return chosen
}

// Manner returns how features of a kind are drawn: as was chosen, else as is
// usual for the kind.
func (b *Board) Manner(k plan.Kind) Manner {
	if m, ok := b.manners[k]; ok {
		return m
	}
	if k.Flows() {
		return Curved
	}
	return Straight
}

// SetManner chooses how features of a kind are drawn.
func (b *Board) SetManner(k plan.Kind, m Manner) {
	if b.manners == nil {
		b.manners = map[plan.Kind]Manner{}
	}
	b.manners[k] = m
}

// Manners lists the ways in which a kind can be drawn.
func Manners(k plan.Kind) []Manner {
	switch plan.SpecOf(k).Shape {
	case plan.LineShape:
		return []Manner{Straight, Curved}
	case plan.AreaShape:
		return []Manner{Straight, Curved, Round}
	}
	return nil
}
