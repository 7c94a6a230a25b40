package demo

import "math"

// natural returns the height [m] of the ground before anyone dug in it, at a
// place given in metres east and north of the site's south-west corner: a fall
// of 1 in 32 from the north-east, bent by broad rises and two swales, and on
// it the centimetres of unevenness that any old grass has.
func natural(u, v float64) float64 {
	bentU := u + 5*noise(u/24, v/24, 1)
	bentV := v + 5*noise(u/24, v/24, 2)
	z := plane(u, v)
	z += 0.190 * noise(bentU/29, bentV/29, 3)
	z += 0.060 * noise(bentU/12, bentV/12, 4)
	z += 0.018 * noise(bentU/5.1, bentV/5.1, 5)
	z += 0.006 * noise(u/2.1, v/2.1, 6)
	for _, s := range swales {
		z -= s.depth(bentU, v)
	}
	return z
}

// plane is the even slope that underlies the site.
func plane(u, v float64) float64 { return 84 + 0.030*(v-35) + 0.010*(u-45) }

// A swale is a shallow valley that meanders about a line from north to south.
type swale struct {
	// east is where the line crosses the site's middle, lean how far it moves
	// east for each metre north [m/m].
	east, lean float64
	// swing and length are the meander's half-width and wavelength [m].
	swing, length float64
	// deep and wide are the depth at the site's south edge and the half-width [m].
	deep, wide float64
}

var swales = []swale{
	{east: 45, lean: 0.30, swing: 4.0, length: 47, deep: 0.22, wide: 6.5},
	{east: 80, lean: 0.12, swing: 2.5, length: 38, deep: 0.14, wide: 5.0},
}

// depth returns how far the swale lies below the ground beside it [m]. It
// gathers downhill, from nothing at the top of the site.
func (s swale) depth(u, v float64) float64 {
	line := s.east + s.lean*(v-35) + s.swing*math.Sin(2*math.Pi*v/s.length)
	across := (u - line) / s.wide
	return s.deep * fade((72-v)/72) * math.Exp(-across*across)
}

// noise returns a smooth value from -1 to 1 that varies over a unit of u and v.
// Each layer is another such surface.
func noise(u, v float64, layer uint64) float64 {
	u0, v0 := math.Floor(u), math.Floor(v)
	tu, tv := fade(u-u0), fade(v-v0)
	i, j := int64(u0), int64(v0)
	south := mix(lattice(i, j, layer), lattice(i+1, j, layer), tu)
	north := mix(lattice(i, j+1, layer), lattice(i+1, j+1, layer), tu)
	return mix(south, north, tv)
}

// lattice returns a value from -1 to 1 that depends on its arguments alone and
// has no pattern: the finishing steps of SplitMix64 (Steele, Lea and Flood,
// 2014, from memory) on the place's number.
func lattice(i, j int64, layer uint64) float64 {
	x := uint64(i)*0x9e3779b97f4a7c15 + uint64(j)*0xc2b2ae3d27d4eb4f + layer*0x165667b19e3779f9
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	x ^= x >> 31
	return float64(x>>11)/(1<<52) - 1
}

// fade goes from 0 to 1 with no slope and no bend at either end.
func fade(t float64) float64 {
	t = max(0, min(1, t))
	return t * t * t * (t*(6*t-15) + 10)
}

func mix(a, b, t float64) float64 { return a + (b-a)*t }
