package site

import (
	"fmt"

	"runnel/geo/plan"
)

// A Filled scheme is a name and what is to be drawn in it.
type Filled struct {
	Name string
	// Features are copied, with numbers of their own.
	Features []plan.Feature
	// ID is given when the edit is done.
	ID plan.SchemeID
}

// AddSchemes puts schemes with all that is drawn in them behind the others, as one
// step.
type AddSchemes struct {
	Schemes []Filled
	// What names the change for the menu, as "add 3 proposals".
	What string

	adds  []AddScheme
	drawn Add
}

// Apply implements Edit.
func (e *AddSchemes) Apply(s *plan.Site) error {
	if len(e.Schemes) == 0 {
		return errUnchanged
	}
	if e.adds == nil {
		e.adds = make([]AddScheme, len(e.Schemes))
	}
	next := s.Clone()
	for i := range e.Schemes {
		e.adds[i].Name = e.Schemes[i].Name
		if err := e.adds[i].Apply(&next); err != nil {
			e.adds = nil
			return err
		}
		e.Schemes[i].ID = e.adds[i].ID
	}
	if e.drawn.Features == nil {
		e.drawn.Features = e.features()
	}
	if len(e.drawn.Features) > 0 {
		if err := e.drawn.Apply(&next); err != nil {
			e.adds, e.drawn = nil, Add{}
			return err
		}
	}
	*s = next
	return nil
}

// features lists what is drawn in the schemes, to be numbered.
func (e *AddSchemes) features() []plan.Feature {
	var all []plan.Feature
	for _, scheme := range e.Schemes {
		for _, f := range scheme.Features {
			f.ID, f.Scheme = 0, scheme.ID
			all = append(all, f)
		}
	}
	return all
}

// Revert implements Edit.
func (e *AddSchemes) Revert(s *plan.Site) {
	if len(e.drawn.Features) > 0 {
		e.drawn.Revert(s)
	}
	for range e.adds {
		dropLastScheme(s)
	}
}

func (e *AddSchemes) String() string {
	if e.What != "" {
		return e.What
	}
	return fmt.Sprintf("add %d schemes", len(e.Schemes))
}
