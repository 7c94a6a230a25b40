package accuracy

import (
	"math"

	"github.com/paulmach/orb"
)

// A field is the points of one file that are held against each other.
type field struct {
	cloud
	corner orb.Point
	// rough is how far each place is off a plane through its nearest, and away how
	// far it lies from the third of them [m].
	rough, away []float32
	// usual is the robust standard deviation of rough [m].
	usual float64
}

// few is how many neighbours a place is first held against, and many how many where
// that is in doubt.
const (
	few  = 8
	many = 20
)

// floor is the least spread of good points about the ground between them [m].
const floor = 0.03

// far is how many spreads a good point lies off its neighbours at most. Of heights
// that are off normally next to none lies further, but ground has its own corners:
// beyond is how many cannot be one of them.
const (
	far    = 7
	beyond = 10
)

// field sorts points by where they are.
func (k *check) field(points []int32) *field {
	f := &field{corner: k.Spots[points[0]].At}
	at := make([]place, len(points))
	for i, of := range points {
		p := k.Spots[of]
		at[i] = place{p.At[0] - f.corner[0], p.At[1] - f.corner[1], p.Z, of}
	}
	f.cloud = *newCloud(at)
	return f
}

// strays measures how far from its neighbours each point lies, in place and in
// height, and returns those that lie away from all others.
func (f *field) strays(k *check) ([]finding, error) {
	f.rough, f.away = make([]float32, len(f.at)), make([]float32, len(f.at))
	err := shared(k.ctx, len(f.at), func(low, high int) {
		h := hunt{cloud: &f.cloud}
		for i := low; i < high; i++ {
			p := f.at[i]
			hits := h.near(p.x, p.y, p.of, few)
			f.rough[i] = float32(p.z - level(p, hits))
			f.away[i] = float32(math.Sqrt(hits[2].square))
		}
	})
	if err != nil {
		return nil, err
	}
	f.usual = normal * f.middle(f.rough)
	apart, wide := f.middle(f.away), f.width()
	var found []finding
	for i, away := range f.away {
		if a := float64(away); a > 30*apart && a > wide/4 {
			found = append(found, finding{of: f.at[i].of, off: a, leave: true})
		}
	}
	return found, nil
}

// stray is the fault of a point that lies away from all others of its file.
func (k *check) stray(f finding) Fault {
	p := k.Spots[f.of]
	return Fault{Sort: Astray, At: p.At, Spots: []int{int(f.of)}, Leave: f.leave,
		Says: k.says("Row %d of %s lies %.0f m from the other points of its file; see whether its coordinates are right, or leave it out.", p, f.off)}
}

// middle returns the median of the sizes of values, of some of them where they are
// many.
func (f *field) middle(values []float32) float64 {
	step := len(values)/100_000 + 1
	some := make([]float64, 0, len(values)/step+1)
	for i := 0; i < len(values); i += step {
		some = append(some, math.Abs(float64(values[i])))
	}
	return median(some)
}

// width returns how far apart the points lie that a twentieth are beyond, along the
// longer side [m].
func (f *field) width() float64 {
	step := len(f.at)/100_000 + 1
	var x, y []float64
	for i := 0; i < len(f.at); i += step {
		x, y = append(x, f.at[i].x), append(y, f.at[i].y)
	}
	return max(between(x), between(y))
}

// between returns how far apart the values lie that a twentieth are beyond.
func between(values []float64) float64 {
	median(values)
	n := len(values)
	return values[n-1-n/20] - values[n/20]
}

// level returns the height at a place of the plane through others by least squares;
// nearer ones count for more.
func level(p place, hits []hit) float64 {
	var n, x, y, z, xx, xy, yy, xz, yz float64
	soft := hits[len(hits)/2].square + tolerance*tolerance
	for _, h := range hits {
		w, u, v, t := soft/(soft+h.square), h.x-p.x, h.y-p.y, h.z-p.z
		n, x, y, z = n+w, x+w*u, y+w*v, z+w*t
		xx, xy, yy, xz, yz = xx+w*u*u, xy+w*u*v, yy+w*v*v, xz+w*u*t, yz+w*v*t
	}
	x, y, z = x/n, y/n, z/n
	xx, xy, yy, xz, yz = xx-n*x*x, xy-n*x*y, yy-n*y*y, xz-n*x*z, yz-n*y*z
	ridge := 0.01*(xx+yy) + tolerance*tolerance
	xx, yy = xx+ridge, yy+ridge
	det := xx*yy - xy*xy
	return p.z + z - ((xz*yy-yz*xy)*x+(yz*xx-xz*xy)*y)/det
}

// blunders returns the points that lie far off the surface of their neighbours. The
// distance is measured in spreads of the neighbours about that surface, and the
// spread of all is the least that is taken for one; at the edge, where the surface
// is told less well, more is allowed.
func (f *field) blunders(k *check) ([]finding, error) {
	least := max(floor, f.usual/2)
	score := make([]float32, len(f.at))
	err := shared(k.ctx, len(f.at), func(low, high int) {
		h, s := hunt{cloud: &f.cloud}, quadric{}
		for i := low; i < high; i++ {
			if math.Abs(float64(f.rough[i])) < 4*least {
				continue
			}
			p := f.at[i]
			s.fit(p.x, p.y, h.near(p.x, p.y, p.of, many), least)
			f.rough[i] = float32(p.z - s.z)
			score[i] = float32(math.Abs(p.z-s.z) / (s.spread * math.Sqrt(1+s.lever)))
		}
	})
	if err != nil {
		return nil, err
	}
	var found []finding
	for i, v := range score {
		if v > far {
			found = append(found, finding{of: f.at[i].of, off: float64(f.rough[i]), leave: v > beyond})
		}
	}
	return found, nil
}

// blunder is the fault of a point that lies off its neighbours, above or below.
func (k *check) blunder(f finding) Fault {
	p := k.Spots[f.of]
	says := "Row %d of %s, at %.2f m, lies %.2f m above the surface of its neighbours; see whether something stands there, or leave it out."
	if f.off < 0 {
		says = "Row %d of %s, at %.2f m, lies %.2f m below the surface of its neighbours; see whether there is a pit, or leave it out."
	}
	off := math.Abs(f.off)
	return Fault{Sort: Blunder, At: p.At, Spots: []int{int(f.of)}, Off: off, Leave: f.leave, Says: k.says(says, p, p.Z, off)}
}
