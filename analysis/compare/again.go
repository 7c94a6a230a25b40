package compare

import (
	"runnel/analysis/caution"
	"runnel/geo/plan"
)

// Again accounts for a scheme whose ground and drawing are as they were when Measure made
// this account with the zero Options, with the setting as it is now: what is dug and what is
// wet rest on neither the soil nor the limits, and stay.
func (a Account) Again(s *plan.Site) Account {
	a.Name = s.Plan.SchemeName(a.Scheme)
	a.Cautions = a.check(s, caution.Limits{})
	return a
}
