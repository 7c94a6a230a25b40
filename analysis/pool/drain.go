package pool

import (
	"math"

	"github.com/paulmach/orb/planar"

	"runnel/analysis/channel"
	"runnel/analysis/hydraulics"
	"runnel/geo/plan"
)

// drainStages is how many stages a drain has from empty to running, and as many in what a
// sill holds.
const drainStages = 8

// drains adds the drains of the site as pools. Their levels are depths above the bed. Where
// a sill holds water in one when it stops, the lower half of its depths stands for that: a
// share of it is the same share of the depth of what is held.
func (w *worker) drains() {
	for _, f := range w.network.Features() {
		if f.Kind != plan.Drain {
			continue
		}
		if p, ok := w.drain(f); ok {
			w.set.Pools = append(w.set.Pools, p)
		}
	}
}

// A ditch is the soil under the water of a drain.
type ditch struct {
	*worker
	strips []channel.Strip
	// depth is that at which it runs, low the lowest bed of what is held, crest how high
	// that stands at the most [m].
	depth, low, crest float64
}

// held returns the level to which a sill holds the water over a strip [m], -Inf where
// none does.
func (d *ditch) held(s *channel.Strip) float64 { return d.stretches[s.Of].Held }

// standing adds up the drain where water stands up to a level over each strip [m].
func (d *ditch) standing(level func(*channel.Strip) float64) Stage {
	var sum Stage
	for i := range d.strips {
		s := &d.strips[i]
		contact, surface, volume := below(s, level(s))
		sum.Contact, sum.Surface, sum.Volume = sum.Contact+contact, sum.Surface+surface, sum.Volume+volume
	}
	return sum
}

// resting is what stands when the drain has stopped and a share of the depth of what is
// held is left, running what does while it runs at a share of its depth.
func (d *ditch) resting(share float64) Stage {
	return d.standing(func(s *channel.Strip) float64 {
		if held := d.held(s); held >= s.Bed {
			return min(held, d.low+share*(d.crest-d.low))
		}
		return math.Inf(-1)
	})
}

func (d *ditch) running(share float64) Stage {
	return d.standing(func(s *channel.Strip) float64 {
		if share == 1 {
			return s.Water
		}
		return max(d.held(s), s.Bed+share*d.depth)
	})
}

func (w *worker) drain(f plan.Feature) (p Pool, ok bool) {
	d := ditch{worker: w, strips: w.ofDrain[f.ID], depth: min(f.Num("water_depth"), f.Num("depth")), low: math.Inf(1), crest: math.Inf(-1)}
	if len(d.strips) == 0 || !(d.depth > 0) {
		return p, false
	}
	floor := math.Inf(1)
	for i := range d.strips {
		s := &d.strips[i]
		floor = min(floor, s.Bed)
		if held := d.held(s); held >= s.Bed {
			d.low, d.crest = min(d.low, s.Bed), max(d.crest, held)
		}
	}
	p = Pool{Title: f.Title(), Lines: []plan.ID{f.ID}, Drain: true, Running: d.depth, Floor: floor, heldFloor: d.low,
		Supply: math.Inf(1), RunDays: w.network.RunDaysOf(f.ID, w.site.Setting.RunDays)}
	p.Stages, p.Rest = d.stages()
	if len(p.Stages) < 2 {
		return p, false
	}
	section, _ := w.network.SectionAt(f.ID, 0)
	if q, _, err := hydraulics.Carries(&channel.Opening{Drain: f, Section: section, Slope: w.slope(f)}); err == nil {
		p.Supply = q
	}
	feet := w.footings(d.strips, func(s *channel.Strip) float64 { return s.Water })
	p.Soil, p.Pieces = w.soilUnder(feet), pieces(feet)
	p.Table, p.lowAt = w.tableUnder(feet, floor, floor+f.Num("depth"))
	p.At, _ = feet[0].along(0.5)
	p.Outlets = []Outlet{{Kind: Mouth, ID: f.ID, Title: f.Title(), At: f.Line()[len(f.Line())-1], Crest: p.Rest, Width: max(section.Bed, section.TopWidth(d.depth)), To: -1}}
	return p, w.aboveTable(&p)
}

// stages returns the drain from empty to running, and how deep it rests.
func (d *ditch) stages() (stages []Stage, rest float64) {
	stages = []Stage{{Contact: d.resting(0).Contact}}
	held := Stage{}
	if !math.IsInf(d.crest, -1) {
		held = d.resting(1)
	}
	full := d.running(1)
	if share := held.Volume / full.Volume; share > floorShare {
		rest = d.depth / 2
		if share > 1-floorShare {
			rest = d.depth
		}
		stages = d.add(stages, 0, rest, d.resting)
	}
	if rest < d.depth {
		stages = d.add(stages, rest, d.depth-rest, d.running)
	}
	stages[0].Contact = min(stages[0].Contact, stages[len(stages)-1].Contact)
	return rising(stages), rest
}

// add adds the stages from one depth on over a rise [m].
func (d *ditch) add(stages []Stage, from, rise float64, of func(share float64) Stage) []Stage {
	for i := 1.0; i <= drainStages; i++ {
		t := of(i / drainStages)
		t.Level = min(d.depth, from+rise*(i/drainStages))
		stages = append(stages, t)
	}
	return stages
}

// slope is the mean fall of a drain's whole line [m/m].
func (w *worker) slope(f plan.Feature) float64 {
	length := planar.Length(f.Line())
	return math.Abs(w.network.BedAt(f.ID, 0)-w.network.BedAt(f.ID, length)) / length
}
