package view

import (
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"runnel/geo/grid"
	"runnel/geo/plan"
)

// An arm is the water that passes an island: its banks lie within a distance of
// the island's outline [m].
type arm struct {
	rings []orb.Ring
	out   float64
}

// highlightChannel lines a channel and the arms in which it passes its islands,
// outside their banks, so that the water in them is seen as it is.
func (k *canvas) highlightChannel(s *Scene, f plan.Feature, pens []Pen) {
	line := k.line(f.Line())
	banks := max(k.widthIn(bankWidth(f)), 2*k.px)
	var arms []arm
	for _, island := range s.features() {
		if island.Kind == plan.Island && parted(island, []plan.Feature{f}) {
			bank := s.islandBank(island, f.Line())
			arms = append(arms, arm{rings: k.rings(island.Area()), out: 2*bank + bedWidth(island)})
		}
	}
	for _, pen := range pens {
		k.stroke(line, Pen{Width: banks + 2*pen.Width}, add)
		k.aroundArms(arms, 2*pen.Width, add)
		k.stroke(line, Pen{Width: banks}, cut)
		k.aroundArms(arms, 0, cut)
		for _, a := range arms { // the island's own edge, on dry ground
			for _, ring := range a.rings {
				k.stroke(closed(ring), Pen{Width: pen.Width}, add)
			}
		}
		k.ink(pen.Colour)
	}
}

// widthIn returns a width [m] as it is seen [px].
func (k *canvas) widthIn(metres float64) float64 { return max(0, min(metres, widest)) * k.camera.Scale }

// aroundArms merges all within the outer banks of arms, grown by some pixels.
func (k *canvas) aroundArms(arms []arm, grow float64, m merge) {
	for _, a := range arms {
		k.area(a.rings, m)
		for _, ring := range a.rings {
			pen := Pen{Width: max(0.1, 2*k.widthIn(a.out)+grow)}
			k.stroke(closed(ring), pen, m)
			if m == cut { // where pieces of a wide stroke meet, one cut leaves a trace
				k.stroke(closed(ring), pen, m)
			}
		}
	}
}

// islandBank returns how far beyond an island's outline the bed of its arms
// begins [m], from how far the ground at the outline lies above the lowest
// along the channel close by: nought where neither is known.
func (s *Scene) islandBank(island plan.Feature, channel orb.LineString) float64 {
	const close, step = 3, 0.25 // of the outline; along the channel [m]
	var crest, n float64
	outline := island.Area()[0]
	for _, p := range outline {
		if z := grid.Sample(s.Ground, p); !math.IsNaN(z) {
			crest, n = crest+z, n+1
		}
	}
	bed, room := math.Inf(1), outline.Bound().Pad(close)
	for i := 1; i < len(channel); i++ {
		if !room.Intersects(spans(channel[i-1], channel[i])) {
			continue
		}
		parts := min(math.Ceil(planar.Distance(channel[i-1], channel[i])/step), 1<<12)
		for j := range int(parts) + 1 {
			p := along(channel[i-1], channel[i], float64(j)/max(parts, 1))
			if z := grid.Sample(s.Ground, p); z < bed && room.Contains(p) {
				bed = z
			}
		}
	}
	if n == 0 || math.IsInf(bed, 1) {
		return 0
	}
	return max(0, crest/n-bed) * island.Num("side")
}
