package earthwork

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"runnel/analysis/channel"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A Watertable is where a channel's bed lies lowest against the water table.
type Watertable struct {
	ID    plan.ID
	Title string
	// Chainage is how far along the channel that is [m], and At where.
	Chainage float64
	At       orb.Point
	// Bed and Table are the levels of the bed and of the water table there [m].
	Bed, Table float64
	// Well is the title of the well that tells, empty where the site's setting does.
	Well string
	// Cut is the length of the channel along which the bed lies below the table [m].
	Cut float64
}

// Above is how far the bed lies above the water table [m].
func (w *Watertable) Above() float64 { return w.Bed - w.Table }

// wellReach is how far off a channel's bed a well's water still tells of the water
// table there [m] (common practice, no source), and tableApart how far apart a bed is
// held against it [m].
const (
	wellReach  = 30.0
	tableApart = 0.5
)

// Watertables holds the bed of every channel against the water table, as far as it is
// known: from the site's setting, below the higher of the two banks' own ground, and
// from wells nearby whose depth to water is known. The higher of them counts. A
// channel where neither is known is left out.
func Watertables(s *plan.Site, n *channel.Network) []Watertable {
	wells := levels(s)
	if s.Setting.Groundwater <= 0 && len(wells) == 0 {
		return nil
	}
	var all []Watertable
	for _, f := range n.Features() {
		if f.Kind != plan.Channel {
			continue
		}
		w := Watertable{ID: f.ID, Title: f.Title(), Bed: math.Inf(1), Table: math.Inf(-1)}
		length := planar.Length(f.Line())
		count := math.Ceil(length / tableApart)
		for i := 0.0; i <= count; i++ {
			here := w.at(s, n, length*i/count)
			here.tell(wells)
			if math.IsInf(here.Table, -1) || math.IsNaN(here.Bed) {
				continue
			}
			here.Cut = w.Cut
			if here.Above() < 0 {
				here.Cut = min(length, w.Cut+length/(count+1))
			}
			w.Cut = here.Cut
			if here.Above() < w.Above() {
				w = here
			}
		}
		if !math.IsInf(w.Bed, 1) {
			all = append(all, w)
		}
	}
	return all
}

// at is the bed and the table that the site's setting tells of at a chainage [m].
func (w Watertable) at(s *plan.Site, n *channel.Network, chainage float64) Watertable {
	w.Chainage, w.At, w.Table, w.Well = chainage, n.PlaceAt(w.ID, chainage), math.Inf(-1), ""
	w.Bed = n.BedAt(w.ID, chainage)
	if section, err := n.SectionAt(w.ID, chainage); err == nil {
		low := 0.0
		for _, p := range section.Line {
			low = min(low, p.Height)
		}
		w.Bed += low
	}
	if s.Setting.Groundwater <= 0 {
		return w
	}
	left, right, err := n.Banks(w.ID, chainage)
	if err != nil {
		return w
	}
	for _, bank := range []channel.Bank{left, right} {
		if ground := grid.Sample(s.Ground, bank.At); !math.IsNaN(ground) {
			w.Table = max(w.Table, ground-s.Setting.Groundwater)
		}
	}
	return w
}

// tell takes in the wells near a place of a bed.
func (w *Watertable) tell(wells []well) {
	for _, by := range wells {
		if planar.Distance(by.at, w.At) <= wellReach && by.level > w.Table {
			w.Table, w.Well = by.level, by.title
		}
	}
}

// A well is one whose water's level is known [m].
type well struct {
	at    orb.Point
	title string
	level float64
}

// levels lists the wells that tell of the water table.
func levels(s *plan.Site) []well {
	var wells []well
	for _, f := range s.Plan.Of(plan.Well, plan.AsItIs) {
		if f.Geometry == nil {
			continue
		}
		if z := grid.Sample(s.Ground, f.Point()) - f.Num("water_depth"); !math.IsNaN(z) {
			wells = append(wells, well{f.Point(), f.Title(), z})
		}
	}
	return wells
}

// Tables returns what tells of the level of the water table under a place of the ground
// [m]: NaN where it is not known.
func Tables(s *plan.Site) func(at orb.Point, ground float64) float64 {
	wells := levels(s)
	return func(at orb.Point, ground float64) float64 {
		w := Watertable{At: at, Table: math.Inf(-1)}
		if s.Setting.Groundwater > 0 && !math.IsNaN(ground) {
			w.Table = ground - s.Setting.Groundwater
		}
		w.tell(wells)
		if math.IsInf(w.Table, -1) {
			return math.NaN()
		}
		return w.Table
	}
}
