package compare

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/analysis/channel"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// agreement is how far the two ways to the contact area may differ before that is
// said, as a share of the area along the sections.
const agreement = 0.05

// checkAgreement adds a problem where the two ways to the contact area differ.
func (a *Account) checkAgreement(ground grid.Ground, laid []plan.Feature) {
	if a.Contact == 0 || math.Abs(a.ContactOnGround-a.Contact) <= agreement*a.Contact {
		return
	}
	a.Problems = append(a.Problems, channel.Problem{ID: a.Channels[0].ID, At: somewhere(a.Channels), Err: fmt.Errorf("the figures disagree: %.1f m² of soil are under water along the sections, and %.1f m² on the ground; %s", a.Contact, a.ContactOnGround, a.disagreement(ground, laid))})
}

// disagreement says why the two ways may differ. Cells have one height each: they do
// not see a wall, whose soil only the sections count, nor a bed of few cells.
func (a *Account) disagreement(ground grid.Ground, laid []plan.Feature) string {
	cell := max(ground.DX, ground.DY)
	if wall, ok := a.wall(cell); ok && a.ContactOnGround < a.Contact {
		return fmt.Sprintf("the banks of %s are walls, or so steep that they rise %.2f m within a cell of %.2f m, which the cells do not see; go by the sections", wall.Title, wall.Measure.Depth, cell)
	}
	narrowest := math.Inf(1)
	for _, f := range laid {
		if shown := ditch(ground, f); f.Kind == plan.Drain && shown < f.Num("depth")/2 {
			return fmt.Sprintf("%s is %.2f m deep as it is drawn, but the ground shows a ditch of %.2f m there in the mean; move it onto its ditch, or bring in ground that has it", f.Title(), f.Num("depth"), max(0, shown))
		}
		if f.Kind == plan.Island {
			narrowest = min(narrowest, f.Num("arm_width"))
		} else {
			narrowest = min(narrowest, f.Num("bed_width"))
		}
	}
	if cell > narrowest/4 {
		return fmt.Sprintf("cells of %.2f m are likely too coarse for a bed of %.2f m; bring in a finer ground, or go by the sections", cell, narrowest)
	}
	return "perhaps a drain is drawn wider than its ditch, or water stands beside what is dug; look where the water is shown"
}

// ditch returns how far the ground along a drain's line lies below that at the tops of
// its banks, in the mean [m].
func ditch(ground grid.Ground, f plan.Feature) float64 {
	if f.Kind != plan.Drain {
		return 0
	}
	const apart = 1.0 // [m]
	line, off := f.Line(), f.Width()/2+max(ground.DX, ground.DY)
	sum, count := 0.0, 0.0
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		length := planar.Distance(a, b)
		for along := apart / 2; along < length; along += apart {
			ux, uy := (b[0]-a[0])/length, (b[1]-a[1])/length
			p := orb.Point{a[0] + along*ux, a[1] + along*uy}
			left, right := grid.Sample(ground, orb.Point{p[0] - off*uy, p[1] + off*ux}), grid.Sample(ground, orb.Point{p[0] + off*uy, p[1] - off*ux})
			if deep := min(left, right) - grid.Sample(ground, p); !math.IsNaN(deep) {
				sum, count = sum+deep, count+1
			}
		}
	}
	return sum / max(1, count)
}

// wall returns the first channel with a bank that rises out of its water within half a
// cell [m].
func (a *Account) wall(cell float64) (channel.Line, bool) {
	for _, l := range a.Channels {
		if l.Kind != plan.Channel || l.Measure.Depth == 0 {
			continue
		}
		for _, chainage := range []float64{0, l.Measure.Length} {
			x := sectionAt(a.Network, l.ID, chainage)
			if len(x.Line) == 0 && min(x.Left, x.Right)*l.Measure.Depth <= cell/2 {
				return l, true
			}
		}
	}
	return channel.Line{}, false
}

// somewhere returns a place on the water's edge of the first line that has any.
func somewhere(lines []channel.Line) orb.Point {
	for _, l := range lines {
		if len(l.Shore) > 0 {
			return l.Shore[len(l.Shore)/2]
		}
	}
	return orb.Point{}
}
