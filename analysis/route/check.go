package route

import (
	"fmt"
	"math"
)

// check reports what a storm cannot be led through pools with.
func (in *Input) check() error {
	n := len(in.Pools)
	if n == 0 {
		return fmt.Errorf("there is no pool to lead a storm through; draw a channel or a drain")
	}
	if !(in.Step > 0) || !(in.Longest > 0) || math.IsInf(in.Step, 0) || math.IsInf(in.Longest, 0) {
		return fmt.Errorf("a step of %g s over %g h cannot be followed; give times above nought", in.Step, in.Longest)
	}
	if !(in.Clogged >= 0 && in.Clogged <= 1) {
		return fmt.Errorf("clogging leaves a share of %g of the rate; give 0 to 1", in.Clogged)
	}
	if len(in.Conductivity) != n || len(in.Start) != n || in.Inflow != nil && len(in.Inflow) != n {
		return fmt.Errorf("there are %d pools, but not as many inflows, levels at first or conductivities; give one of each", n)
	}
	for _, figures := range append(in.Inflow[:len(in.Inflow):len(in.Inflow)], in.Rain) {
		for k, v := range figures {
			if !(v >= 0) || math.IsInf(v, 0) {
				return fmt.Errorf("the storm is %g at step %d; give nought or more", v, k)
			}
		}
	}
	for i := range in.Pools {
		p := &in.Pools[i]
		if len(p.Stages) < 2 || !(p.Top().Volume > 0) || !(p.Top().Surface > 0) {
			return fmt.Errorf("%s holds nothing; give it a section and a level", p.Title)
		}
		if in.Conductivity[i] < 0 {
			return fmt.Errorf("the conductivity under %s is %g mm/h; give nought or more", p.Title, in.Conductivity[i])
		}
		for _, o := range p.Outlets {
			if math.IsNaN(o.Crest) || o.To < -1 || o.To >= n {
				return fmt.Errorf("%s of %s has no level or leads to no pool; draw it anew", o.Title, p.Title)
			}
		}
	}
	return nil
}
