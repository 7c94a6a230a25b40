package site

import (
	"fmt"
	"slices"
	"strings"

	"runnel/geo/plan"
)

// AddUnderlay lays an image under the map, over those that lie there. Its number
// is given once the edit is done.
type AddUnderlay struct {
	Underlay plan.Underlay
}

// Apply implements Edit.
func (e *AddUnderlay) Apply(s *plan.Site) error {
	if len(s.Underlays) >= plan.MostUnderlays {
		return fmt.Errorf("there are %d images under the map already; remove one first", len(s.Underlays))
	}
	if err := e.Underlay.Check(); err != nil {
		return err
	}
	if e.Underlay.ID == 0 {
		e.Underlay.ID = plan.UnderlayID(s.Plan.NextID())
	}
	s.Plan.Last = max(s.Plan.Last, int64(e.Underlay.ID))
	s.Underlays = append(s.Underlays, e.Underlay)
	return nil
}

// Revert implements Edit.
func (e *AddUnderlay) Revert(s *plan.Site) { s.Underlays = s.Underlays[:len(s.Underlays)-1] }

func (e *AddUnderlay) String() string { return fmt.Sprintf("lay %s under the map", e.Underlay.Title()) }

// ChangeUnderlay gives an image under the map another name or opacity, or shows or
// hides it. Its pixels and their place stay.
type ChangeUnderlay struct {
	After plan.Underlay
	// Gesture joins the steps of one drag to one undo step.
	Gesture Gesture

	before plan.Underlay
}

// Apply implements Edit.
func (e *ChangeUnderlay) Apply(s *plan.Site) error {
	i := s.UnderlayIndex(e.After.ID)
	if i < 0 {
		return errNoUnderlay
	}
	e.before = s.Underlays[i]
	e.After.Picture, e.After.Frame = e.before.Picture, e.before.Frame
	if e.After.Name = strings.TrimSpace(e.After.Name); e.After.Name == "" {
		return fmt.Errorf("the image has no name; give it one")
	}
	if err := e.After.Check(); err != nil {
		return err
	}
	if e.before == e.After {
		return errUnchanged
	}
	s.Underlays[i] = e.After
	return nil
}

// Revert implements Edit.
func (e *ChangeUnderlay) Revert(s *plan.Site) { s.Underlays[s.UnderlayIndex(e.before.ID)] = e.before }

func (e *ChangeUnderlay) String() string {
	switch before, after := e.before, e.After; {
	case before.Name != after.Name:
		return fmt.Sprintf("rename %s to %s", before.Title(), after.Title())
	case before.Hidden && !after.Hidden:
		return fmt.Sprintf("show %s under the map", after.Title())
	case after.Hidden && !before.Hidden:
		return fmt.Sprintf("hide %s", after.Title())
	}
	return fmt.Sprintf("change the opacity of %s", e.After.Title())
}

func (e *ChangeUnderlay) merge(next Edit) bool {
	n, ok := next.(*ChangeUnderlay)
	if !ok || !e.of(n.Gesture) || n.After.ID != e.After.ID {
		return false
	}
	e.After = n.After
	return true
}

func (e *ChangeUnderlay) of(g Gesture) bool { return g != 0 && e.Gesture == g }

func (e *ChangeUnderlay) idle() bool { return e.before == e.After }

// RemoveUnderlay takes an image from under the map.
type RemoveUnderlay struct {
	ID plan.UnderlayID

	at      int
	removed plan.Underlay
}

// Apply implements Edit.
func (e *RemoveUnderlay) Apply(s *plan.Site) error {
	if e.at = s.UnderlayIndex(e.ID); e.at < 0 {
		return errNoUnderlay
	}
	e.removed = s.Underlays[e.at]
	s.Underlays = slices.Delete(s.Underlays, e.at, e.at+1)
	return nil
}

// Revert implements Edit.
func (e *RemoveUnderlay) Revert(s *plan.Site) {
	s.Underlays = slices.Insert(s.Underlays, e.at, e.removed)
}

func (e *RemoveUnderlay) String() string {
	return fmt.Sprintf("remove %s from under the map", e.removed.Title())
}

var errNoUnderlay = fmt.Errorf("the image is not under the map any more; choose another")
