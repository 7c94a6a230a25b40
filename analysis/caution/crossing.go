package caution

import (
	"fmt"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/geo/plan"
)

// crossings checks whether a channel's line crosses itself. Its bed has two levels
// there, of which the lower is dug.
func (c *checker) crossings() {
	var found findings
	for _, f := range c.laid(plan.Channel) {
		for _, x := range selfCrossings(f.Line()) {
			measured := fmt.Sprintf("%s meets itself %.1f m and %.1f m along it", f.Title(), x.first, x.second)
			found = append(found, finding{f.Title(), []plan.ID{f.ID}, measured, x.at})
		}
	}
	c.report("channel crosses itself", found, Caution{
		Text:     "The line of %s crosses itself. Its water takes the shorter way and the loop may stand still: move a bend off it, or draw an island to divide the water round.",
		Measured: "%s.",
		Guidance: "Let water pass each place once, so that it moves all along the channel (common practice, no source).",
	})
}

// A crossing is where a line crosses itself, and how far along it that is the first
// and the second time [m].
type crossing struct {
	at            orb.Point
	first, second float64
}

// selfCrossings lists where the sides of a line cross each other, but for sides that
// follow on each other.
func selfCrossings(line orb.LineString) []crossing {
	var found []crossing
	last := len(line) - 1
	along := make([]float64, len(line))
	for i := 1; i <= last; i++ {
		along[i] = along[i-1] + planar.Distance(line[i-1], line[i])
	}
	for j := 3; j <= last; j++ {
		b := [2]orb.Point{line[j-1], line[j]}
		for i := 1; i < j-1; i++ {
			if i == 1 && j == last && line[0] == line[last] {
				continue // where a ring closes
			}
			a := [2]orb.Point{line[i-1], line[i]}
			if at, ok := plan.Crossing(a, b); ok {
				x := crossing{at, along[i-1] + planar.Distance(a[0], at), along[j-1] + planar.Distance(b[0], at)}
				// A crossing at a point of the line is met by two of its sides.
				if n := len(found); n == 0 || planar.Distance(found[n-1].at, at) > alongStep {
					found = append(found, x)
				}
			}
		}
	}
	return found
}
