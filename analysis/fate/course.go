package fate

import (
	"github.com/paulmach/orb"

	"runnel/analysis/internal/raster"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A course is a water that what comes to it ends in, by its line.
type course struct {
	end  End
	line orb.LineString
}

// courses are the channels of the scheme and the drains.
func (in Input) courses() (all []course) {
	for _, f := range in.Site.Plan.In(in.Scheme) {
		if kind, ok := courses[f.Kind]; ok && plan.Check(f) == nil {
			all = append(all, course{End{kind, f.ID, nowhere, 0}, f.Line()})
		}
	}
	return all
}

// addCourses makes stations of courses, and gives them the cells of their wet
// width: those along their lines, so that no water slips across, and the wet ones
// that hang together with these, each to the course whose line is the fewest steps
// off.
func (n *network) addCourses(in Input, all []course) {
	frame := in.Surface.Ground.Frame
	var wave []int32
	take := func(c, station int32) {
		if _, taken := n.swallows[c]; !taken && !grid.IsNoData(in.Surface.Ground.V[c]) {
			n.swallows[c] = station
			wave = append(wave, c)
		}
	}
	for _, water := range all {
		number := int32(len(n.all))
		before := len(wave)
		raster.Along(frame, water.line, func(c int32) { take(c, number) })
		at := nowhere
		if len(wave) > before {
			at = wave[before]
		}
		n.all = append(n.all, station{end: water.end, next: nowhere, at: at, keeps: 1})
	}
	for next := 0; next < len(wave) && in.Wet.Len() > 0; next++ {
		c := wave[next]
		for d := range grid.Dir(8) {
			x, y := int(c)%frame.W+grid.StepX[d], int(c)/frame.W+grid.StepY[d]
			if frame.In(x, y) && in.Wet.At(x, y) > 0 {
				take(int32(y*frame.W+x), n.swallows[c])
			}
		}
	}
}

var courses = map[plan.Kind]Kind{plan.Channel: Channel, plan.Drain: Drain}
