package accuracy

import (
	"math"

	"github.com/paulmach/orb"
)

// against finds points that cannot lie where they do among the contours. Between two
// lines the ground lies between their heights, and beyond the last one within an
// interval of it, give or take three quarters of an interval: a map's heights are good
// to half of one [NMAS1947].
func (k *check) against() error {
	if k.step == 0 || len(k.strung.at) < fewest {
		return nil
	}
	over := make([]float32, len(k.Spots))
	err := shared(k.ctx, len(k.Spots), func(low, high int) {
		h := hunt{cloud: k.strung}
		for i := low; i < high; i++ {
			p := k.Spots[i]
			if !p.Out && placed(p.At) && finite(p.Z) && !k.off[k.source(p)] && !k.stands(p) {
				over[i] = float32(k.beyond(p.At, p.Z, &h))
			}
		}
	})
	if err != nil {
		return err
	}
	var found []finding
	for i, v := range over {
		if v > 0 {
			found = append(found, finding{of: int32(i), off: float64(v)})
		}
	}
	k.addAll(found, func(f finding) Fault {
		p := k.Spots[f.of]
		return Fault{Sort: Against, At: p.At, Spots: []int{int(f.of)}, Off: f.off, Leave: f.leave,
			Says: k.says("Row %d of %s, at %.2f m, lies %.2f m beyond what the contours around it allow; see which is right, or leave it out.", p, p.Z, f.off)}
	}, "%d more points lie beyond what the contours around them allow; see which are right.")
	return nil
}

// beyond returns by how much a height lies beyond what the contours allow [m], 0 for
// one that does not or that is too far from them to say.
func (k *check) beyond(at orb.Point, z float64, h *hunt) float64 {
	hits := h.near(at[0], at[1], -1, 16)
	first := hits[0]
	near := math.Sqrt(first.square)
	if near > 3*k.gap {
		return 0
	}
	step, share := k.step, 1.0
	for _, other := range hits[1:] {
		if d := math.Abs(other.z - first.z); d > step/2 {
			step = max(step, d)
			share = min(1, 2*near/(near+math.Sqrt(other.square)))
			break
		}
	}
	// The places along a line are a gap apart, so that it may lie nearer than they.
	share = max(share, min(1, k.gap/(2*near+k.gap)))
	return max(0, math.Abs(z-first.z)-(0.75+share)*step)
}
