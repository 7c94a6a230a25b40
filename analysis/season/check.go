package season

import (
	"fmt"
	"math"

	"runnel/analysis/pool"
)

// Check reports what a season cannot be worked out of.
func (in *Input) Check() error {
	n := len(in.Rain)
	if n == 0 {
		return fmt.Errorf("there is no day to work out; give a record of rain")
	}
	if len(in.Pools) == 0 {
		return fmt.Errorf("there is no pool to work out; draw a channel or a drain")
	}
	for _, s := range []struct {
		name    string
		figures []float64
	}{{"rain", in.Rain}, {"evaporation", in.Evaporation}, {"roots", in.Roots}} {
		if err := checkDays(s.name, s.figures, n); err != nil {
			return err
		}
	}
	if in.Wetness != nil && len(in.Wetness) != n || in.Levels != nil && len(in.Levels) != n {
		return fmt.Errorf("there are %d days of rain, but not as many of wetness or of the drain's levels; give one of each a day", n)
	}
	if in.Runoff != nil && len(in.Runoff) != len(in.Pools) {
		return fmt.Errorf("there is runoff for %d pools, but there are %d; give it for each", len(in.Runoff), len(in.Pools))
	}
	for i := range in.Pools {
		p := &in.Pools[i]
		if in.Runoff != nil {
			if err := checkDays(fmt.Sprintf("runoff to %s", p.Title), in.Runoff[i], n); err != nil {
				return err
			}
		}
		if err := checkPool(p, len(in.Pools)); err != nil {
			return err
		}
	}
	return nil
}

// checkDays reports a series that is not as long as the record, or of which a day is less
// than nothing or without end. NaN is a day that is not known; no series at all is nothing on every day.
func checkDays(name string, figures []float64, n int) error {
	if figures != nil && len(figures) != n {
		return fmt.Errorf("there are %d days of rain but %d of %s; give one of each a day", n, len(figures), name)
	}
	for d, v := range figures {
		if v < 0 || math.IsInf(v, 0) {
			return fmt.Errorf("the %s of day %d is %g; give nought or more, or leave it empty", name, d+1, v)
		}
	}
	return nil
}

func checkPool(p *pool.Pool, pools int) error {
	if len(p.Stages) < 2 {
		return fmt.Errorf("%s has no depth; give it a section and a level", p.Title)
	}
	for i, s := range p.Stages {
		if !(s.Volume >= 0 && s.Contact >= 0 && s.Surface >= 0) || math.IsNaN(s.Level) {
			return fmt.Errorf("%s cannot be measured at every level; give its section and levels anew", p.Title)
		}
		if i > 0 && (s.Level < p.Stages[i-1].Level || s.Volume < p.Stages[i-1].Volume) {
			return fmt.Errorf("%s holds less when it stands higher; give its section and levels anew", p.Title)
		}
	}
	if p.Stages[0].Volume != 0 || !(p.Top().Volume > 0) {
		return fmt.Errorf("%s holds nothing; give it a section and a level", p.Title)
	}
	for _, o := range p.Outlets {
		if math.IsNaN(o.Crest) {
			return fmt.Errorf("%s of %s has no level; give it one", o.Title, p.Title)
		}
		if o.To < -1 || o.To >= pools {
			return fmt.Errorf("%s of %s leads to no pool; draw it anew", o.Title, p.Title)
		}
	}
	return nil
}
