package site

import (
	"fmt"
	"maps"
	"reflect"
	"slices"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// Add puts new features on top of the drawing order. Those whose ID is 0 are
// given one, which stands in Features once the edit is done; numbers once given
// are not given again, not even after an undo.
type Add struct {
	Features []plan.Feature
}

// Apply implements Edit.
func (e *Add) Apply(s *plan.Site) error {
	if len(e.Features) == 0 {
		return errUnchanged
	}
	added := make([]plan.Feature, len(e.Features))
	next := s.Plan
	for i, f := range e.Features {
		if f.ID == 0 {
			f.ID = plan.ID(next.NextID())
		} else if next.Index(f.ID) >= 0 {
			return fmt.Errorf("%s: the number %d is another feature's; give it 0 to have a new one", f.Title(), f.ID)
		}
		if err := checkFeature(s, f); err != nil {
			return err
		}
		next.Last = max(next.Last, int64(f.ID))
		added[i] = own(f)
		next.Features = append(next.Features, added[i])
	}
	s.Plan, e.Features = next, added
	return nil
}

// Revert implements Edit.
func (e *Add) Revert(s *plan.Site) {
	s.Plan.Features = s.Plan.Features[:len(s.Plan.Features)-len(e.Features)]
}

func (e *Add) String() string {
	if len(e.Features) == 1 {
		return fmt.Sprintf("draw %s", e.Features[0].Title())
	}
	return fmt.Sprintf("add %s", count(len(e.Features)))
}

// Import adds features that were read from a file.
type Import struct {
	Add
	// From names the file for a person.
	From string
	// Scheme is made with it where it is not nil, and what is designed belongs to it.
	Scheme *AddScheme
}

// Apply implements Edit.
func (e *Import) Apply(s *plan.Site) error {
	if e.Scheme == nil || len(e.Features) == 0 {
		return e.Add.Apply(s)
	}
	if err := e.Scheme.Apply(s); err != nil {
		return err
	}
	for i, f := range e.Features {
		if plan.SpecOf(f.Kind).InScheme {
			e.Features[i].Scheme = e.Scheme.ID
		}
	}
	return e.Add.Apply(s)
}

// Revert implements Edit.
func (e *Import) Revert(s *plan.Site) {
	e.Add.Revert(s)
	if e.Scheme != nil {
		e.Scheme.Revert(s)
	}
}

func (e *Import) String() string {
	return fmt.Sprintf("import %s from %s", count(len(e.Features)), e.From)
}

// Remove takes features away.
type Remove struct {
	IDs []plan.ID

	removed []placed
}

// Apply implements Edit.
func (e *Remove) Apply(s *plan.Site) error {
	if len(e.IDs) == 0 {
		return errUnchanged
	}
	for _, id := range e.IDs {
		if s.Plan.Index(id) < 0 {
			return goneError(id)
		}
	}
	e.removed = takeOut(s, func(f plan.Feature) bool { return slices.Contains(e.IDs, f.ID) })
	return nil
}

// Revert implements Edit; each feature goes back to its place in the drawing order.
func (e *Remove) Revert(s *plan.Site) { putBack(s, e.removed) }

func (e *Remove) String() string {
	if len(e.removed) == 1 {
		return fmt.Sprintf("remove %s", e.removed[0].feature.Title())
	}
	return fmt.Sprintf("remove %s", count(len(e.removed)))
}

// Replace puts another feature in the place of the one with the same ID.
type Replace struct {
	After plan.Feature
	// What names the change for the menu, as "move North arm"; empty for "change" and the title.
	What string
	// Gesture joins the steps of one drag to one undo step.
	Gesture Gesture

	before plan.Feature
}

// Apply implements Edit.
func (e *Replace) Apply(s *plan.Site) error {
	i := s.Plan.Index(e.After.ID)
	if i < 0 {
		return goneError(e.After.ID)
	}
	if err := checkFeature(s, e.After); err != nil {
		return err
	}
	if reflect.DeepEqual(s.Plan.Features[i], e.After) {
		return errUnchanged
	}
	e.before, e.After = s.Plan.Features[i], own(e.After)
	s.Plan.Features[i] = e.After
	return nil
}

// Revert implements Edit.
func (e *Replace) Revert(s *plan.Site) {
	s.Plan.Features[s.Plan.Index(e.before.ID)] = e.before
}

func (e *Replace) String() string {
	if e.What != "" {
		return e.What
	}
	return fmt.Sprintf("change %s", e.After.Title())
}

func (e *Replace) merge(next Edit) bool {
	n, ok := next.(*Replace)
	if !ok || !e.of(n.Gesture) || n.After.ID != e.After.ID {
		return false
	}
	e.After = n.After
	return true
}

func (e *Replace) of(g Gesture) bool { return g != 0 && e.Gesture == g }

func (e *Replace) idle() bool { return reflect.DeepEqual(e.before, e.After) }

// placed is a feature with its place in the drawing order.
type placed struct {
	at      int
	feature plan.Feature
}

func takeOut(s *plan.Site, match func(plan.Feature) bool) []placed {
	var out []placed
	var kept []plan.Feature
	for i, f := range s.Plan.Features {
		if match(f) {
			out = append(out, placed{i, f})
		} else {
			kept = append(kept, f)
		}
	}
	s.Plan.Features = kept
	return out
}

func putBack(s *plan.Site, out []placed) {
	for _, p := range out {
		s.Plan.Features = slices.Insert(s.Plan.Features, p.at, p.feature)
	}
}

// own returns a copy of f that shares no memory which its giver could change.
func own(f plan.Feature) plan.Feature {
	f.Geometry, f.Fields, f.Knots = orb.Clone(f.Geometry), maps.Clone(f.Fields), slices.Clone(f.Knots)
	return f
}

// checkFeature reports a feature that cannot stand in s.
func checkFeature(s *plan.Site, f plan.Feature) error {
	if err := plan.Check(f); err != nil {
		return err
	}
	if !plan.SpecOf(f.Kind).InScheme {
		if f.Scheme != plan.AsItIs {
			return fmt.Errorf("%s: it is part of the site as it is; it cannot belong to a scheme", f.Title())
		}
		return nil
	}
	if !slices.ContainsFunc(s.Plan.Schemes, func(c plan.Scheme) bool { return c.ID == f.Scheme }) {
		return fmt.Errorf("%s: it belongs to no scheme; choose or add a scheme first", f.Title())
	}
	return nil
}

func goneError(id plan.ID) error {
	return fmt.Errorf("the feature numbered %d is not on the site any more; select it again", id)
}

func count(features int) string {
	if features == 1 {
		return "1 feature"
	}
	return fmt.Sprintf("%d features", features)
}
