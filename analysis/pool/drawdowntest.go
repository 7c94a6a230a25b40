package pool

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/geo"
	"runnel/geo/plan"
)

// byDrawdown is the word of a soil test that is read off a whole channel, testReach how
// far outside the water's edge at the brim one is still the channel's [m].
const (
	byDrawdown = "channel drawdown"
	testReach  = 1.0
)

// tests has the drawdowns that were read off pools set what soaks in there, in place of the
// soil that the map tells of: of several the likely one is their geometric mean.
func (w *worker) tests() {
	found := map[int][]geo.Range{}
	for _, f := range w.site.Plan.Of(plan.SoilTest, plan.AsItIs) {
		if f.Text("by") != byDrawdown || f.Geometry == nil {
			continue
		}
		i := w.poolUnder(f.Point())
		if i < 0 {
			continue
		}
		readings, err := ParseReadings(f.Text("readings"))
		var fit Fit
		if err == nil {
			fit, err = Drawdown(w.set.Pools[i].Stages, readings)
		}
		if err != nil {
			w.problem(f.ID, f.Point(), "%s is left out: %w", f.Title(), err)
			continue
		}
		found[i] = append(found[i], fit.Ksat)
	}
	for i, all := range found {
		s := &w.set.Pools[i].Soil
		s.Name, s.Source = "tested by drawdown", "the drawdown that was observed in the channel itself"
		sum := 0.0
		s.Ksat = geo.Range{Low: math.Inf(1), High: math.Inf(-1)}
		for _, k := range all {
			s.Ksat.Low, s.Ksat.High, sum = min(s.Ksat.Low, k.Low), max(s.Ksat.High, k.High), sum+math.Log(k.Likely)
		}
		s.Ksat.Likely = math.Exp(sum / float64(len(all)))
	}
}

// poolUnder returns the pool of channels whose water at its brim comes near to a place,
// -1 where none does.
func (w *worker) poolUnder(place orb.Point) int {
	best, least := -1, math.Inf(1)
	for i := range w.set.Pools {
		p := &w.set.Pools[i]
		if p.Drain {
			continue
		}
		for k := range w.stretches {
			t := &w.stretches[k]
			if !slices.Contains(p.bodies, t.Body) {
				continue
			}
			half := 0.0
			if section, err := w.network.SectionAt(t.ID, t.Start); err == nil {
				half = section.TopWidth(max(0, p.Top().Level-t.BedA)) / 2
			}
			if off := plan.Distance(orb.LineString{t.From, t.To}, place); off <= half+testReach && off < least {
				best, least = i, off
			}
		}
	}
	return best
}
