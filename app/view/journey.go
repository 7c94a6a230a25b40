package view

import (
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/flow"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A Journey is the way of a drop of water over the ground and through what
// carries it.
type Journey struct {
	// Legs are its ways over the ground in turn; from one to the next it is in a
	// culvert.
	Legs []orb.LineString
	// Roof is the roof that the drop falls on and leaves by its downpipe, 0 for none.
	Roof plan.ID
	// Through are the culverts that it runs through; Inlet is the drain inlet that
	// takes it in at last, 0 for none.
	Through []plan.ID
	Inlet   plan.ID
	// Length of the whole way on plan, culverts included [m].
	Length float64
	// Drop is how far it ends below where it falls [m]; less than 0 where a hollow
	// must fill before it gets away.
	Drop float64
	// End says where it ends; flow.StayEnd is in an inlet, or in a culvert that
	// leads back to where the drop has been.
	End flow.End
}

// Journey returns the way of a drop that falls at a point of the ground.
func (d *Drainage) Journey(ground grid.Ground, at orb.Point) (Journey, error) {
	var j Journey
	start := at
	if roof, outlet, ok := d.roofOver(at); ok {
		j.Roof, start = roof, outlet
	}
	if err := j.run(ground, d.Flow.Dir, start); err != nil {
		return Journey{}, err
	}
	for passed := map[int]bool{}; j.End == flow.StayEnd; {
		x, y, _ := ground.Cell(j.end())
		i := d.Surface.LinkAt(int32(y*ground.W + x))
		if i < 0 || passed[i] {
			break
		}
		passed[i] = true
		link := d.Surface.Links[i]
		if link.To < 0 {
			j.Inlet = link.Feature
			break
		}
		if j.run(ground, d.Flow.Dir, ground.Centre(int(link.To)%ground.W, int(link.To)/ground.W)) != nil {
			break // the outlet lies where the ground is not known
		}
		j.Through = append(j.Through, link.Feature)
	}
	j.Drop += grid.Sample(ground, at)
	return j, nil
}

// run adds the way over the ground from a place on. Until the whole is known Drop
// holds the height of its end, negative.
func (j *Journey) run(ground grid.Ground, dir grid.Grid[grid.Dir], from orb.Point) error {
	leg, err := flow.Drop(ground, dir, from)
	if err != nil {
		return err
	}
	if len(j.Legs) > 0 {
		j.Length += planar.Distance(j.end(), from)
	}
	j.Legs, j.Length, j.End = append(j.Legs, leg.Line), j.Length+leg.Length, leg.End
	j.Drop = leg.Drop - grid.Sample(ground, from)
	return nil
}

func (j *Journey) end() orb.Point {
	last := j.Legs[len(j.Legs)-1]
	return last[len(last)-1]
}

// roofOver returns the roof over a point, and the place where most of its water is
// put on the ground.
func (d *Drainage) roofOver(at orb.Point) (roof plan.ID, outlet orb.Point, ok bool) {
	f := d.Flow.Dir.Frame
	x, y, in := f.Cell(at)
	if !in {
		return 0, orb.Point{}, false
	}
	for _, s := range d.Surface.Sources {
		if len(s.Outlet) == 0 || !slices.Contains(s.Cells, int32(y*f.W+x)) {
			continue
		}
		most := 0
		for i, share := range s.Share {
			if share > s.Share[most] {
				most = i
			}
		}
		c := int(s.Outlet[most])
		return s.Feature, f.Centre(c%f.W, c/f.W), true
	}
	return 0, orb.Point{}, false
}
