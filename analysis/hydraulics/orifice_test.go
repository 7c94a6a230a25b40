package hydraulics

import (
	"math"
	"testing"
)

// A hole of 0.1 m under 0.5 m passes 0.014757 m³/s with a coefficient of 0.6: built from the formula.
func TestOrifice(t *testing.T) {
	within(t, "flow", OrificeFlow(.1, .5), .014757, 1e-5) // 9.81 for g there
	within(t, "covered pipe", PipeFlow(.1, .55, 0), OrificeFlow(.1, .5), 1e-15)
	within(t, "drowned pipe", PipeFlow(.1, .75, .25), OrificeFlow(.1, .5), 1e-15)
	within(t, "half full, against full", PipeFlow(.1, .05, 0)/PipeFlow(.1, .1, 0), .25, 1e-12)
	for _, flow := range []float64{PipeFlow(.1, 0, 0), PipeFlow(.1, .3, .3), PipeFlow(.1, .05, .05), PipeFlow(0, 1, 0), PipeFlow(math.NaN(), 1, 0)} {
		within(t, "flow of nothing", flow, 0, 0)
	}
	for _, tail := range []float64{0, .04, .07, .09} { // the two forms meet where the pipe is full
		within(t, "pipe that is just full", PipeFlow(.1, .1-1e-12, tail), PipeFlow(.1, .1, tail), 1e-9)
	}
}

func TestDrownedWeirFlowIsTheInverseOfItsHead(t *testing.T) {
	for _, tail := range []float64{-1, 0, .1, .3, .5} {
		for _, flow := range []float64{.01, .1, .5} {
			head := DrownedWeirHead(1.3, flow, tail)
			within(t, "flow", DrownedWeirFlow(1.3, head, tail), flow, 1e-12)
		}
	}
	within(t, "level water", DrownedWeirFlow(1, .4, .4), 0, 0)
}
