package demo

import (
	"math"

	"github.com/paulmach/orb"
)

// What people have made of the ground. All places are metres east and north of
// the site's south-west corner.
var (
	// laneLine is the crown of the lane, from the north, downhill.
	laneLine = curve(1, orb.Point{10.3, 80}, orb.Point{9.6, 66}, orb.Point{8.6, 54}, orb.Point{6.6, 42},
		orb.Point{2.4, 31}, orb.Point{-4, 22}, orb.Point{-12, 15})
	// drainLine is the bed of the drain. It keeps beside the lane as far as the
	// lane's bend, then goes its own way down to the south edge.
	drainLine = curve(1, orb.Point{14.3, 78}, orb.Point{13.6, 66}, orb.Point{12.7, 54}, orb.Point{11.2, 44},
		orb.Point{10.3, 36}, orb.Point{11.3, 28}, orb.Point{13.6, 19.5}, orb.Point{14.0, 10}, orb.Point{15.8, 2}, orb.Point{17.2, -5})
	drainBed = bedUnder(drainLine)

	hollowAt  = orb.Point{72.5, 16.5}
	hollowLip = natural(hollowAt[0], hollowAt[1]) + 0.02

	northPad = bench{u: 76, v: 60.5, long: 13, deep: 10, turn: -14, height: 85.03, batter: 3}
	southPad = bench{u: 6.2, v: 9, long: 11, deep: 10, turn: 6, height: 82.86, batter: 3}
	terrace  = bench{u: 49, v: 20.5, long: 25, deep: 8.5, turn: -17, height: 83.71, batter: 2}
)

const (
	laneHalf     = 2.5   // half the lane's width [m]
	laneCamber   = 0.025 // fall from the crown to the edges [m/m]
	kerbHeight   = 0.12  // [m]
	shoulder     = 0.6   // level verge beside the lane [m]
	laneBatter   = 3.0   // slope from the verge to the ground [H:V]
	drainHalf    = 0.2   // half the drain's bed width [m]
	drainDepth   = 0.5   // below the banks [m]
	westPart     = 30.0  // lane and drain, with their banks, lie west of this
	leastFall    = 0.006 // of the drain's bed [m/m]
	roundedEdges = 0.10  // radius, in height, of worn edges [m]
)

// height returns the ground as it is [m].
func height(u, v float64) float64 {
	z := uncut(u, v)
	if u > westPart {
		return z
	}
	across, along := nearest(drainLine, orb.Point{u, v})
	bed := drainBedAfter(along)
	return softMin(z, bed+max(0, math.Abs(across)-drainHalf), 0.02)
}

// drainBedAfter returns the level of the drain's bed at a distance along it [m].
func drainBedAfter(along float64) float64 {
	i := min(int(along), len(drainBed)-2)
	return mix(drainBed[i], drainBed[i+1], along-float64(i))
}

// uncut is the ground before the drain was dug.
func uncut(u, v float64) float64 {
	z := natural(u, v)
	z = hollowed(u, v, z)
	z = terrace.shape(u, v, z)
	z = northPad.shape(u, v, z)
	z = southPad.shape(u, v, z)
	return laid(u, v, z)
}

// laid puts the lane on ground of height z: crowned, with a kerb along its west
// side, a level verge on either hand and batters down or up to the ground.
func laid(u, v, z float64) float64 {
	if u > westPart {
		return z
	}
	across, along := nearest(laneLine, orb.Point{u, v})
	off := math.Abs(across)
	crown := laneCrown(along)
	edge := crown - laneCamber*laneHalf
	if off <= laneHalf {
		return crown - laneCamber*off
	}
	rise := max(0, off-laneHalf-shoulder) / laneBatter
	if across > 0 { // walking downhill, the west is on the right
		return softClamp(z, edge+kerbHeight-rise, edge+kerbHeight+rise)
	}
	return softClamp(z, edge-rise, edge+rise)
}

// laneCrown is the crown's level at a distance along the lane [m]: an even
// fall, a little steeper in the middle.
func laneCrown(along float64) float64 {
	return 85.06 - 0.0305*along - 0.07*(1-math.Cos(2*math.Pi*along/95))/2
}

// hollowed sinks an old pond into ground of height z: a level floor with a low
// rim downhill, ten centimetres below its lip.
func hollowed(u, v, z float64) float64 {
	away := math.Hypot((u-hollowAt[0])/1.25, v-hollowAt[1])
	if away > 9 {
		return z
	}
	away += 0.5 * noise(u/3.5, v/3.5, 9)
	z = mix(hollowLip, z, fade((away-3.2)/5.2))
	return z - 0.12*(1-fade((away-1.2)/3.4))
}

// A bench is ground made level in a rectangle, cut into the slope above and
// filled out below.
type bench struct {
	// u, v is its middle; long and deep its sides [m]; turn the angle of the
	// long side, anticlockwise from east [degrees].
	u, v, long, deep, turn float64
	// height is its level [m]; batter the slope of its banks [H:V].
	height, batter float64
}

// shape returns the height at a place where the ground was z.
func (b bench) shape(u, v, z float64) float64 {
	a, c := b.local(u, v)
	// A rectangle with corners rounded to a metre and a half.
	const corner = 1.5
	du, dv := max(0, math.Abs(a)-b.long/2+corner), max(0, math.Abs(c)-b.deep/2+corner)
	away := max(0, math.Hypot(du, dv)-corner+0.3*noise(u/3.7, v/3.7, 7))
	// The floor sheds water outward, gently, and has been walked on.
	floor := b.height + 0.006*c + 0.008*noise(u/2.6, v/2.6, 8)
	return softClamp(z, floor-away/b.batter, floor+away/b.batter)
}

// local returns a place along and across the bench from its middle [m].
func (b bench) local(u, v float64) (along, across float64) {
	sin, cos := math.Sincos(b.turn * math.Pi / 180)
	return (u-b.u)*cos + (v-b.v)*sin, (v-b.v)*cos - (u-b.u)*sin
}

// place returns where a place along and across the bench lies.
func (b bench) place(along, across float64) orb.Point {
	sin, cos := math.Sincos(b.turn * math.Pi / 180)
	return orb.Point{b.u + along*cos - across*sin, b.v + along*sin + across*cos}
}

// bedUnder returns the levels of a drain's bed every metre along a line [m]: its
// depth below the ground, evened over some metres, never rising.
func bedUnder(line orb.LineString) []float64 {
	places := everyMetre(line)
	bed := make([]float64, len(places))
	for i := range places {
		var sum, n float64
		for j := max(0, i-6); j <= min(len(places)-1, i+6); j++ {
			sum += uncut(places[j][0], places[j][1])
			n++
		}
		bed[i] = sum/n - drainDepth
		if i > 0 {
			bed[i] = min(bed[i], bed[i-1]-leastFall)
		}
	}
	return bed
}

func everyMetre(line orb.LineString) orb.LineString {
	places := orb.LineString{line[0]}
	walked := 0.0
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		length := math.Hypot(b[0]-a[0], b[1]-a[1])
		for float64(len(places)) <= walked+length {
			t := (float64(len(places)) - walked) / length
			places = append(places, orb.Point{mix(a[0], b[0], t), mix(a[1], b[1], t)})
		}
		walked += length
	}
	return places
}

// softMin is the lower of a and b, rounded where they meet within r [m].
func softMin(a, b, r float64) float64 {
	h := max(0, r-math.Abs(a-b))
	return min(a, b) - h*h/(4*r)
}

func softClamp(z, low, high float64) float64 {
	z = softMin(z, high, roundedEdges)
	return -softMin(-z, -low, roundedEdges)
}
