package pool

import "runnel/analysis/hydraulics"

// Flow returns what passes an outlet [m³/s] from water that stands at a level [m] to water
// that stands at tail, -Inf where it falls free. An outlet passes nothing back. One whose width or
// diameter is not known passes nothing.
func (o Outlet) Flow(level, tail float64) float64 {
	head, below := level-o.Crest, tail-o.Crest
	if !(head > 0) {
		return 0
	}
	if o.Kind == Pipe {
		return hydraulics.PipeFlow(o.Diameter, head, max(0, below))
	}
	if !(o.Width > 0) {
		return 0
	}
	return hydraulics.DrownedWeirFlow(o.Width, head, max(0, below))
}
