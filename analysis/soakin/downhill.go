package soakin

import (
	"context"

	"github.com/paulmach/orb"

	"runnel/analysis/flow"
	"runnel/analysis/runoff"
)

// A downhill follows water down the ground.
type downhill struct{ flow *flow.Flow }

func newDownhill(ctx context.Context, s *runoff.Surface) (*downhill, error) {
	f, err := flow.Route(ctx, s.Ground, flow.Options{Inlets: s.Inlets()})
	if err != nil {
		return nil, err
	}
	return &downhill{f}, nil
}

// path is the way of water from a place to where it ends.
func (d *downhill) path(at orb.Point) orb.LineString {
	frame := d.flow.Ground.Frame
	x, y, ok := frame.Cell(at)
	line := orb.LineString{at}
	if !ok {
		return line
	}
	for _, c := range flow.Trace(d.flow.Dir, x, y) {
		line = append(line, frame.Centre(int(c)%frame.W, int(c)/frame.W))
	}
	return line
}
