package pool

import (
	"fmt"
	"math"

	"runnel/analysis/channel"
)

// NeverFill says of which pools nothing can be told because no water comes to them: no drain
// that runs on any day feeds them and no flow is let in, no ground sheds water to them, of
// which there is so much for each [m²], and no other pool to which water comes passes it on to
// them. A drain that runs on no day is as it was set, and is not among them.
func (s *Set) NeverFill(catchment []float64) []channel.Problem {
	comes := make([]bool, len(s.Pools))
	for i := range s.Pools {
		comes[i] = s.Pools[i].Drain || s.Pools[i].fed() || catchment[i] > 0
	}
	for changed := true; changed; {
		changed = false
		for i := range s.Pools {
			for _, o := range s.Pools[i].Outlets {
				if comes[i] && o.To >= 0 && !comes[o.To] {
					comes[o.To], changed = true, true
				}
			}
		}
	}
	var all []channel.Problem
	for i := range s.Pools {
		if p := &s.Pools[i]; !comes[i] {
			all = append(all, channel.Problem{ID: p.Lines[0], At: p.At, Err: p.dry()})
		}
	}
	return all
}

// fed reports whether a drain or a flow brings a pool water on some day of a year.
func (p *Pool) fed() bool { return !math.IsNaN(p.Running) && !(p.RunDays.High <= 0) }

// dry says why a pool to which no water comes never fills.
func (p *Pool) dry() error {
	if !math.IsNaN(p.Running) {
		return fmt.Errorf("%s never fills: what feeds it is set to run on no day of the year, and no ground sheds water to it, so its season is not told; set the days on which the drain runs, or move it to where water runs", p.Title)
	}
	return fmt.Errorf("%s never fills: no drain and no flow feeds it, and no ground sheds water to it, so its season is not told; lead it to a drain, set the flow that is let in, or move it to where water runs", p.Title)
}
