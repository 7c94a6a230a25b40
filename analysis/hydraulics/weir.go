package hydraulics

import "math"

// broadCrested is the flow over a metre of a broad crest under a metre of head
// [m^(1/2)/s], without losses: (2/3)^1.5 √g, about 1.705.
var broadCrested = math.Pow(2.0/3, 1.5) * math.Sqrt(Gravity)

// WeirFlow returns the flow [m³/s] over a broad crest of a width [m] under a head
// [m], velocity head and all: 1.705 b H^1.5 ([USBR2001]).
func WeirFlow(width, head float64) float64 {
	return broadCrested * width * math.Pow(max(0, head), 1.5)
}

// WeirHead returns the head [m] under which a flow [m³/s] goes over a broad crest of
// a width [m].
func WeirHead(width, flow float64) float64 {
	return math.Pow(max(0, flow)/(broadCrested*width), 2.0/3)
}

// DrownedWeirHead returns the head [m] under which a flow [m³/s] goes over a broad
// crest of a width [m] where the water below it stands so high above the crest
// [m]. While that is less than two thirds of the head it makes no difference; above
// that the water on the crest is as deep as the water below it, and
// flow = b h √(2g (H − h)).
func DrownedWeirHead(width, flow, tail float64) float64 {
	free := WeirHead(width, flow)
	if tail <= free*2/3 {
		return free
	}
	v := flow / (width * tail)
	return tail + v*v/(2*Gravity)
}

// DrownedWeirFlow returns the flow [m³/s] over a broad crest of a width [m] from water that
// stands so high above the crest [m] to water that stands tail above it: the inverse of
// DrownedWeirHead.
func DrownedWeirFlow(width, head, tail float64) float64 {
	if tail <= head*2/3 {
		return WeirFlow(width, head)
	}
	return width * tail * math.Sqrt(2*Gravity*max(0, head-tail))
}
