package propose

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"runnel/analysis/caution"
	"runnel/analysis/channel"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A Question is what a course is sought for. Nought in a field that has a usual
// value stands for it.
type Question struct {
	// Scheme is the one whose drawn things count and whose other channels stay, with
	// the site as it is. Instead is the channel of it that the proposals take the
	// place of, with all that stands on it; 0 for none.
	Scheme  plan.SchemeID
	Instead plan.ID
	// From is the inlet, To the outlet.
	From, To orb.Point
	// Volume is how much is dug [m³]: the area of cut added up along the line. It has
	// no usual value.
	Volume float64
	// Grade is how much the bed falls from From to To [%]; nought is a level bed. A bed
	// that ends at a drain ends at the drain's.
	Grade float64
	// Bed is the bed's level at the inlet [m]; usually a drain's bed there, else Depth
	// below the ground. Depth is usually 0.4 m.
	Bed, Depth float64
	// Left and Right are the side slopes [H:V]; nought in both stands for 3.
	Left, Right float64
	// Rounded sections have a bed in a parabola.
	Form channel.Form
	// Narrowest and Widest are the least and the greatest width of the bed [m];
	// usually 0.3 and 1.2. A wide bed makes a short line.
	Narrowest, Widest float64
	Setbacks          Setbacks
	// Clear are areas to keep clear of besides.
	Clear []orb.Polygon
	// Strip is the least width of ground between the banks of neighbouring bends, of
	// other channels and of drains [m], usually 0.5.
	Strip float64
	// Radius is the least of a bend on the line [m], usually 1.5. A bend is never
	// tighter than from the line to the top of the wider bank.
	Radius float64
	// Deepest is the greatest depth of cut on the line [m], usually 1.2.
	Deepest float64
	// Count is how many proposals are wanted, usually 3.
	Count int
	// Seed starts the search; the same one finds the same lines.
	Seed uint64
	// Effort is how long to search, 1 as long as usual.
	Effort float64
}

// Setbacks are the least distances from the tops of the banks [m]. Nought in every
// field stands for UsualSetbacks; nought in one alone asks only that nothing is dug
// there. Tree is from the crown's edge, Paving from paving, walls and kerbs.
type Setbacks struct {
	Building, Well, Septic, Boundary, Tree, Service, Paving float64
}

// UsualSetbacks are those that the cautions rest on, to the water's edge; half a
// metre from paving is common practice, no source.
func UsualSetbacks() Setbacks {
	l := caution.UsualLimits()
	return Setbacks{Building: l.Building, Well: l.Well, Septic: l.Septic, Boundary: l.Boundary, Service: l.Service, Paving: 0.5}
}

// tightest is the usual least radius of a bend [m]: common practice for digging with
// a small machine, no source.
const tightest = 1.5

func orElse(v, usual float64) float64 {
	if v == 0 || math.IsNaN(v) {
		return usual
	}
	return v
}

// orUsual fills in what is not set, all but the levels and the radius.
func (q Question) orUsual() Question {
	if q.Left == 0 && q.Right == 0 {
		q.Left, q.Right = 3, 3
	}
	q.Narrowest = orElse(q.Narrowest, 0.3)
	q.Widest = max(orElse(q.Widest, 1.2), q.Narrowest)
	if q.Setbacks == (Setbacks{}) {
		q.Setbacks = UsualSetbacks()
	}
	q.Depth, q.Strip, q.Deepest, q.Effort = orElse(q.Depth, 0.4), orElse(q.Strip, 0.5), orElse(q.Deepest, 1.2), orElse(q.Effort, 1)
	if q.Count == 0 {
		q.Count = 3
	}
	return q
}

// section is the section with a bed so wide [m].
func (q *Question) section(bed float64) channel.Section {
	return channel.Section{Bed: bed, Left: q.Left, Right: q.Right, Form: q.Form}
}

// The most that can be asked for.
const (
	mostProposals = 12
	mostEffort    = 20
	mostVolume    = 100_000 // [m³]
	farthestEnds  = 2_000   // [m]
	mostSide      = 20      // [H:V]
)

// check reports a question that cannot be asked.
func (q *Question) check(s *plan.Site) error {
	if err := s.Ground.Check(); err != nil {
		return err
	}
	for _, c := range q.ranges() {
		if !(c.value >= c.low && c.value <= c.high) {
			return fmt.Errorf("%s is %g; give a number from %g to %g%s", c.what, c.value, c.low, c.high, c.unit)
		}
	}
	if q.Volume == 0 {
		return fmt.Errorf("the volume of digging is not set; say how many m³ may be dug")
	}
	if q.Widest > 0 && q.Widest < q.Narrowest {
		return fmt.Errorf("the greatest bed width is %g m, less than the least of %g m; give a greater one", q.Widest, q.Narrowest)
	}
	for i, p := range []orb.Point{q.From, q.To} {
		if math.IsNaN(grid.Sample(s.Ground, p)) {
			return fmt.Errorf("the %s lies where the ground is not known; move it onto the ground", [...]string{"inlet", "outlet"}[i])
		}
	}
	if away := planar.Distance(q.From, q.To); away < 1 || away > farthestEnds {
		return fmt.Errorf("the inlet and the outlet lie %.1f m apart; have them between 1 and %d m apart", away, farthestEnds)
	}
	for _, area := range q.Clear {
		if err := plan.CheckShape(area, plan.Boundary); err != nil {
			return fmt.Errorf("an area to keep clear of: %w", err)
		}
	}
	return nil
}

type numberRange struct {
	what             string
	value, low, high float64
	unit             string
}

func (q *Question) ranges() []numberRange {
	b := q.Setbacks
	all := []numberRange{
		{"the volume of digging", q.Volume, 0, mostVolume, " m³"},
		{"the fall of the bed", q.Grade, 0, 20, " %"},
		{"the depth below ground", orElse(q.Depth, 0), 0, 10, " m"},
		{"the left side slope", q.Left, 0, mostSide, ""}, {"the right side slope", q.Right, 0, mostSide, ""},
		{"the least bed width", q.Narrowest, 0, 50, " m"}, {"the greatest bed width", q.Widest, 0, 50, " m"},
		{"the strip between bends", q.Strip, 0, 100, " m"}, {"the least radius of a bend", q.Radius, 0, 1000, " m"},
		{"the greatest depth of cut", q.Deepest, 0, 10, " m"},
		{"the number of proposals", float64(q.Count), 0, mostProposals, ""}, {"the effort", q.Effort, 0, mostEffort, ""},
	}
	for _, v := range []float64{b.Building, b.Well, b.Septic, b.Boundary, b.Tree, b.Service, b.Paving} {
		all = append(all, numberRange{"a setback", v, 0, 1000, " m"})
	}
	return all
}
