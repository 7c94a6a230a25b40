package plan

import (
	"fmt"
	"slices"
	"strings"
)

// A Scheme is one design alternative.
type Scheme struct {
	ID   SchemeID
	Name string
}

// A Plan is all that is drawn on a site. The zero Plan is empty.
type Plan struct {
	// Features are in drawing order.
	Features []Feature
	// Schemes are in the order of their tabs; AsItIs is not listed.
	Schemes []Scheme
	// Last is the highest number given to a feature or a scheme.
	Last int64
}

// Clone returns a copy whose lists may be changed without touching p.
func (p Plan) Clone() Plan {
	p.Features = slices.Clone(p.Features)
	p.Schemes = slices.Clone(p.Schemes)
	return p
}

// NextID returns a number never given before and marks it as given.
func (p *Plan) NextID() int64 {
	p.Last++
	return p.Last
}

// Index returns the place of a feature in the list, or -1.
func (p Plan) Index(id ID) int {
	return slices.IndexFunc(p.Features, func(f Feature) bool { return f.ID == id })
}

// Find returns the feature with an id.
func (p Plan) Find(id ID) (Feature, bool) {
	if i := p.Index(id); i >= 0 {
		return p.Features[i], true
	}
	return Feature{}, false
}

// In lists the features that stand in a scheme: its own, and the site as it is.
func (p Plan) In(scheme SchemeID) []Feature {
	var in []Feature
	for _, f := range p.Features {
		if f.Scheme == scheme || f.Scheme == AsItIs {
			in = append(in, f)
		}
	}
	return in
}

// Of lists the features of one kind that stand in a scheme.
func (p Plan) Of(kind Kind, scheme SchemeID) []Feature {
	return slices.DeleteFunc(p.In(scheme), func(f Feature) bool { return f.Kind != kind })
}

// SchemeNamed finds a scheme by name, whatever its case.
func (p Plan) SchemeNamed(name string) (Scheme, error) {
	var names []string
	for _, s := range p.Schemes {
		if strings.EqualFold(s.Name, strings.TrimSpace(name)) {
			return s, nil
		}
		names = append(names, s.Name)
	}
	if len(names) == 0 {
		return Scheme{}, fmt.Errorf("the site has no scheme %q; it has none yet", name)
	}
	return Scheme{}, fmt.Errorf("the site has no scheme %q; it has: %s", name, strings.Join(names, ", "))
}

// SchemeName returns the name of a scheme for a person.
func (p Plan) SchemeName(id SchemeID) string {
	for _, s := range p.Schemes {
		if s.ID == id {
			return s.Name
		}
	}
	return "As it is"
}
