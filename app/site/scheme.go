package site

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"runnel/geo/plan"
)

// AddScheme puts an empty scheme behind the others.
type AddScheme struct {
	Name string
	// ID is given when the edit is done.
	ID plan.SchemeID
}

// Apply implements Edit.
func (e *AddScheme) Apply(s *plan.Site) error {
	name, err := schemeName(s, e.Name, plan.AsItIs)
	if err != nil {
		return err
	}
	e.Name = name
	if e.ID == 0 {
		e.ID = plan.SchemeID(s.Plan.NextID())
	}
	s.Plan.Schemes = append(s.Plan.Schemes, plan.Scheme{ID: e.ID, Name: e.Name})
	return nil
}

// Revert implements Edit.
func (e *AddScheme) Revert(s *plan.Site) { dropLastScheme(s) }

func (e *AddScheme) String() string { return fmt.Sprintf("add scheme %s", e.Name) }

// CopyScheme puts a copy of a scheme behind the others, its features with
// numbers of their own. A copy of the site as it is has no features.
type CopyScheme struct {
	Of   plan.SchemeID
	Name string
	// ID is given when the edit is done.
	ID plan.SchemeID

	features []plan.Feature
}

// Apply implements Edit.
func (e *CopyScheme) Apply(s *plan.Site) error {
	if e.Of != plan.AsItIs && schemeIndex(s, e.Of) < 0 {
		return errNoScheme
	}
	name, err := schemeName(s, e.Name, plan.AsItIs)
	if err != nil {
		return err
	}
	e.Name = name
	if e.ID == 0 {
		e.number(s)
	}
	s.Plan.Schemes = append(s.Plan.Schemes, plan.Scheme{ID: e.ID, Name: e.Name})
	s.Plan.Features = append(s.Plan.Features, e.features...)
	return nil
}

func (e *CopyScheme) number(s *plan.Site) {
	e.ID = plan.SchemeID(s.Plan.NextID())
	if e.Of == plan.AsItIs {
		return
	}
	for _, f := range s.Plan.Features {
		if f.Scheme == e.Of {
			f.ID, f.Scheme = plan.ID(s.Plan.NextID()), e.ID
			e.features = append(e.features, f)
		}
	}
}

// Revert implements Edit.
func (e *CopyScheme) Revert(s *plan.Site) {
	dropLastScheme(s)
	s.Plan.Features = s.Plan.Features[:len(s.Plan.Features)-len(e.features)]
}

func (e *CopyScheme) String() string { return fmt.Sprintf("copy to scheme %s", e.Name) }

// RenameScheme gives a scheme another name.
type RenameScheme struct {
	ID   plan.SchemeID
	Name string

	before string
}

// Apply implements Edit.
func (e *RenameScheme) Apply(s *plan.Site) error {
	i := schemeIndex(s, e.ID)
	if i < 0 {
		return errNoScheme
	}
	name, err := schemeName(s, e.Name, e.ID)
	if err != nil {
		return err
	}
	e.before, e.Name = s.Plan.Schemes[i].Name, name
	if e.Name == e.before {
		return errUnchanged
	}
	s.Plan.Schemes[i].Name = e.Name
	return nil
}

// Revert implements Edit.
func (e *RenameScheme) Revert(s *plan.Site) {
	s.Plan.Schemes[schemeIndex(s, e.ID)].Name = e.before
}

func (e *RenameScheme) String() string {
	return fmt.Sprintf("rename scheme %s to %s", e.before, e.Name)
}

// RemoveScheme takes a scheme away with all that is drawn in it.
type RemoveScheme struct {
	ID plan.SchemeID

	at      int
	scheme  plan.Scheme
	removed []placed
}

// Apply implements Edit.
func (e *RemoveScheme) Apply(s *plan.Site) error {
	if e.at = schemeIndex(s, e.ID); e.at < 0 {
		return errNoScheme
	}
	e.scheme = s.Plan.Schemes[e.at]
	s.Plan.Schemes = slices.Delete(s.Plan.Schemes, e.at, e.at+1)
	e.removed = takeOut(s, func(f plan.Feature) bool { return f.Scheme == e.ID })
	return nil
}

// Revert implements Edit; the scheme comes back with its features, in their places.
func (e *RemoveScheme) Revert(s *plan.Site) {
	s.Plan.Schemes = slices.Insert(s.Plan.Schemes, e.at, e.scheme)
	putBack(s, e.removed)
}

func (e *RemoveScheme) String() string { return fmt.Sprintf("remove scheme %s", e.scheme.Name) }

// NextSchemeName proposes a name that no scheme of s has, of a format such as
// "Scheme %s": Scheme A, Scheme B, and after Scheme Z, Scheme 27.
func NextSchemeName(s *plan.Site, format string) string {
	for n := 1; ; n++ {
		mark := strconv.Itoa(n)
		if n <= 26 {
			mark = string(rune('A' + n - 1))
		}
		name := fmt.Sprintf(format, mark)
		if _, err := schemeName(s, name, plan.AsItIs); err == nil {
			return name
		}
	}
}

var errNoScheme = fmt.Errorf("that scheme is not on the site any more; choose another")

// schemeName returns a name trimmed, or why the scheme numbered self cannot have it.
func schemeName(s *plan.Site, name string, self plan.SchemeID) (string, error) {
	name = strings.TrimSpace(name)
	if name == "" {
		return "", fmt.Errorf("the scheme has no name; give it one")
	}
	if strings.EqualFold(name, s.Plan.SchemeName(plan.AsItIs)) {
		return "", fmt.Errorf("the name %q is kept for the site with nothing designed; give another", name)
	}
	for _, other := range s.Plan.Schemes {
		if other.ID != self && strings.EqualFold(other.Name, name) {
			return "", fmt.Errorf("there is a scheme %q already; give another name", other.Name)
		}
	}
	return name, nil
}

func schemeIndex(s *plan.Site, id plan.SchemeID) int {
	return slices.IndexFunc(s.Plan.Schemes, func(c plan.Scheme) bool { return c.ID == id })
}

func dropLastScheme(s *plan.Site) {
	s.Plan.Schemes = s.Plan.Schemes[:len(s.Plan.Schemes)-1]
}
