package compare

import (
	"context"
	"math"

	"runnel/analysis/channel"
	"runnel/geo/plan"
)

// A StagePoint is what the water of a scheme's channels touches and holds when it
// stands at one level in all of them, or at the brim of those that are lower.
type StagePoint struct {
	// Level of the water [m], Contact the soil under it [m²], Volume its volume [m³].
	Level, Contact, Volume float64
}

// Stage measures a scheme's channels at some levels, from the lowest bed to the
// highest brim. It is empty where the scheme has no channel; drains, whose water is
// not the scheme's to set, are left out.
func Stage(ctx context.Context, s *plan.Site, scheme plan.SchemeID, levels int) ([]StagePoint, error) {
	network, _ := channel.NewNetwork(s, scheme)
	const aboveAll = 1e5 // [m], above every brim
	full, _ := network.WithLevel(aboveAll)
	lines, err := full.Measure(ctx, channel.Step{})
	if err != nil {
		return nil, err
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, l := range lines {
		if m := l.Measure; l.Kind == plan.Channel && m.Depth > 0 && m.Level < aboveAll {
			low, high = min(low, m.Level-m.Depth), max(high, m.Level)
		}
	}
	if !(low < high) || levels < 2 {
		return nil, nil
	}
	points := make([]StagePoint, levels)
	for i := range points {
		level := low + (high-low)*float64(i)/float64(levels-1)
		at, _ := network.WithLevel(level)
		if lines, err = at.Measure(ctx, channel.Step{}); err != nil {
			return nil, err
		}
		points[i] = StagePoint{Level: level}
		for _, l := range lines {
			if l.Kind == plan.Channel {
				points[i].Contact += l.Measure.Contact
				points[i].Volume += l.Measure.Volume
			}
		}
	}
	return points, nil
}
