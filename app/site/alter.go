package site

import (
	"fmt"
	"reflect"

	"runnel/geo/plan"
)

// Alter puts other features in the place of those with the same IDs: one step,
// done to all or to none.
type Alter struct {
	After []plan.Feature
	// What names the change for the menu, as "rotate 3 things".
	What string
	// Gesture joins the steps of one drag to one undo step.
	Gesture Gesture

	before []plan.Feature
}

// Apply implements Edit.
func (e *Alter) Apply(s *plan.Site) error {
	before := make([]plan.Feature, len(e.After))
	same := true
	for i, f := range e.After {
		at := s.Plan.Index(f.ID)
		if at < 0 {
			return goneError(f.ID)
		}
		if err := checkFeature(s, f); err != nil {
			return err
		}
		before[i] = s.Plan.Features[at]
		same = same && reflect.DeepEqual(before[i], f)
	}
	if same {
		return errUnchanged
	}
	after := make([]plan.Feature, len(e.After))
	for i, f := range e.After {
		after[i] = own(f)
		s.Plan.Features[s.Plan.Index(f.ID)] = after[i]
	}
	e.before, e.After = before, after
	return nil
}

// Revert implements Edit.
func (e *Alter) Revert(s *plan.Site) {
	for _, f := range e.before {
		s.Plan.Features[s.Plan.Index(f.ID)] = f
	}
}

func (e *Alter) String() string {
	switch {
	case e.What != "":
		return e.What
	case len(e.After) == 1:
		return fmt.Sprintf("change %s", e.After[0].Title())
	}
	return fmt.Sprintf("change %s", count(len(e.After)))
}

func (e *Alter) merge(next Edit) bool {
	n, ok := next.(*Alter)
	if !ok || !e.of(n.Gesture) || len(n.After) != len(e.After) {
		return false
	}
	for i, f := range n.After {
		if e.After[i].ID != f.ID {
			return false
		}
	}
	e.After = n.After
	return true
}

func (e *Alter) idle() bool { return reflect.DeepEqual(e.before, e.After) }

func (e *Alter) of(g Gesture) bool { return g != 0 && e.Gesture == g }

// Duplicate adds copies of features, with numbers of their own.
type Duplicate struct {
	Add
	// Of names what was copied for a person.
	Of string
}

func (e *Duplicate) String() string { return fmt.Sprintf("duplicate %s", e.Of) }
