package earthwork

import (
	"math"
	"math/rand/v2"

	"github.com/paulmach/orb"
	"runnel/geo/plan"
)

// A draught is a network being drawn at random on a site of 30 by 20 m.
type draught struct {
	*rand.Rand
	site *plan.Site
	// ground is its height for each place, water how high the water stands [m].
	ground func(x, y float64) float64
	water  float64
	// bed is its narrowest bed [m], kind what it shows.
	bed  float64
	kind int
}

func (d *draught) from(low, high float64) float64 { return low + (high-low)*d.Float64() }

// drawn draws the network of a number. Its ground falls by up to 1 in 100 and is
// uneven; its cells are a twelfth of its narrowest bed.
func drawn(number uint64) *draught {
	d := &draught{Rand: rand.New(rand.NewPCG(number, 1857)), water: 9.6}
	d.bed = d.from(0.6, 1.2)
	fall, turn, uneven := d.from(0, 0.01)*float64(number%3), d.from(0, 2*math.Pi), d.from(0, 0.03)
	sin, cos := math.Sincos(turn)
	d.ground = func(x, y float64) float64 {
		return 10 + fall*((x-15)*cos+(y-10)*sin) + uneven*math.Sin(x/3)*math.Cos(y/4)
	}
	d.site = siteOf(d.bed/12, d.ground)
	d.site.Plan.Schemes = []plan.Scheme{{ID: 1, Name: "Test"}}
	switch d.kind = int(number % kinds); d.kind {
	case 0:
		d.channel(d.winding(10))
	case 1:
		d.channel(d.bent(10))
	case 2:
		d.crossedIsland(d.winding(10))
	case 3:
		d.ring()
	case 4:
		d.sills(d.winding(10))
	case 5:
		d.junction()
	case 6:
		d.stations(d.winding(10))
	case 7:
		d.channel(d.bent(6))
		d.crossedIsland(d.bent(15))
	case 8:
		d.loop()
	case 9:
		d.raised(d.winding(10))
	case 10:
		d.fed()
	}
	return d
}

// channel draws a channel, of a bed up to half as wide again as the narrowest, and
// banks of their own slopes; every third is rounded.
func (d *draught) channel(l orb.LineString) plan.ID {
	fields := map[string]float64{
		"bed_width": d.bed * d.from(1, 1.5), "side_left": d.from(1, 3), "side_right": d.from(1, 3),
		"bed_start": d.water - d.from(0.15, 0.3), "bed_end": d.water - d.from(0.15, 0.3), "water_level": d.water,
	}
	add(d.site, plan.Channel, l, fields)
	f := &d.site.Plan.Features[len(d.site.Plan.Features)-1]
	if d.IntN(3) == 0 {
		*f = f.With("shape", plan.Value{Text: "rounded"})
	}
	return f.ID
}

// winding draws a curve about a northing, no tighter than three metres.
func (d *draught) winding(about float64) orb.LineString {
	length, swing := d.from(2, 3), d.from(0.3, 1.6)
	phase := d.from(0, 6)
	var flat []float64
	for x := 4.0; x <= 26; x += 0.4 {
		flat = append(flat, x, about+swing*math.Sin(x/length+phase))
	}
	return line(flat...)
}

// bent draws a line of a few straight stretches about a northing.
func (d *draught) bent(about float64) orb.LineString {
	var flat []float64
	for x := 4.0; x <= 26; x += d.from(5, 7) {
		flat = append(flat, x, about+d.from(-1.2, 1.2))
	}
	return line(flat...)
}

// crossedIsland draws a channel with an island in its middle.
func (d *draught) crossedIsland(l orb.LineString) {
	d.channel(l)
	middle := l[len(l)/2]
	d.island(middle[0]-500_000+d.from(-0.3, 0.3), middle[1]-4_000_000+d.from(-0.3, 0.3), d.from(1.2, 2.2))
}

// island draws one that is longer than wide, and raises every second.
func (d *draught) island(x, y, radius float64) {
	long := d.from(1, 1.6)
	var flat []float64
	for i := range 40 {
		sin, cos := math.Sincos(float64(i) * math.Pi / 20)
		flat = append(flat, x+long*radius*cos, y+radius*sin)
	}
	fields := map[string]float64{"arm_width": d.bed * d.from(1, 1.3), "side": d.from(1, 2.5)}
	if d.IntN(2) == 0 {
		fields["top"] = d.ground(x, y) + d.from(0.1, 0.3)
	}
	add(d.site, plan.Island, orb.Polygon{orb.Ring(line(append(flat, flat[0], flat[1])...))}, fields)
}

// ring draws a ring of channel about an island.
func (d *draught) ring() {
	r := d.from(5.5, 6.5)
	d.channel(orb.LineString(circle(15, 10, r)[0]))
	d.site.Plan.Features[0] = d.site.Plan.Features[0].With("bed_end", plan.Value{Number: d.site.Plan.Features[0].Num("bed_start")})
	d.island(15, 10, d.from(1, 1.5))
}

// sills draws a channel that a sill parts in two pools.
func (d *draught) sills(l orb.LineString) {
	d.channel(l)
	f := &d.site.Plan.Features[0]
	*f = f.With("bed_start", plan.Value{Number: d.water - 0.1}).With("bed_end", plan.Value{Number: d.water - 0.35}).
		With("water_level", plan.Value{Number: d.water - 0.1})
	i := len(l) / 2
	across := orb.Point{l[i+1][1] - l[i][1], l[i][0] - l[i+1][0]}
	size := math.Hypot(across[0], across[1]) / 4
	middle := orb.Point{(l[i][0] + l[i+1][0]) / 2, (l[i][1] + l[i+1][1]) / 2}
	add(d.site, plan.Sill, orb.LineString{{middle[0] + across[0]/size, middle[1] + across[1]/size}, {middle[0] - across[0]/size, middle[1] - across[1]/size}},
		map[string]float64{"crest": d.water + 0.05})
}

// junction draws a channel and one or two more that end in it or cross it.
func (d *draught) junction() {
	l := d.winding(10)
	d.channel(l)
	for k := range 1 + d.IntN(2) {
		at := l[len(l)*(k+1)/3]
		x := at[0] - 500_000
		far := 17.0
		if d.IntN(2) == 0 {
			far = 3
		}
		end := line(x+d.from(-2, 2), far)[0]
		if d.IntN(3) == 0 {
			at = line(x, 20-far)[0] // it crosses
		}
		d.channel(orb.LineString{end, at})
	}
}

// stations draws a channel with sections of its own on the way: one wider, one of
// which the bed drops, and one that is surveyed.
func (d *draught) stations(l orb.LineString) {
	d.channel(l)
	f := &d.site.Plan.Features[0]
	high := d.water - d.from(0.1, 0.15)
	*f = f.With("bed_start", plan.Value{Number: high}).With("bed_end", plan.Value{Number: high - 0.2})
	add(d.site, plan.Section, l[len(l)/4], map[string]float64{"bed_width": d.bed * d.from(1, 2), "side_left": d.from(1, 3), "bed_level": high - d.from(0, 0.05)})
	add(d.site, plan.Section, l[len(l)/2], map[string]float64{"drop": d.from(0.05, 0.1)})
	if d.IntN(2) == 0 {
		add(d.site, plan.Section, l[len(l)*3/4], nil)
		f := &d.site.Plan.Features[len(d.site.Plan.Features)-1]
		*f = f.With("surveyed", plan.Value{Text: "-1.2 0.6; -0.5 0.05; 0 0; 0.4 0; 1.3 0.5"})
	}
}

// loop draws a channel and another that leaves it and comes back, with an island
// between them.
func (d *draught) loop() {
	about := d.from(5, 6)
	d.channel(line(4, about, 26, about))
	high := d.from(5, 7)
	var flat []float64
	for i := range 33 {
		sin, cos := math.Sincos(math.Pi * float64(i) / 32)
		flat = append(flat, 15-7*cos, about+high*sin)
	}
	d.channel(line(flat...))
	bed := d.site.Plan.Features[0].Num("bed_start")
	for i := range d.site.Plan.Features {
		f := &d.site.Plan.Features[i]
		*f = f.With("bed_start", plan.Value{Number: bed}).With("bed_end", plan.Value{Number: bed})
	}
	d.island(15, about+high/2, d.from(0.6, 0.9))
}

// raised draws a channel whose banks are raised with spoil.
func (d *draught) raised(l orb.LineString) {
	d.channel(l)
	f := &d.site.Plan.Features[0]
	*f = f.With("bank_top", plan.Value{Number: 10 + d.from(0.05, 0.25)}).With("bank_width", plan.Value{Number: d.from(0.3, 0.8)})
}

// fed draws a channel that a drain feeds, which lies in a ditch.
func (d *draught) fed() {
	bed, half := d.water-0.2, d.bed/2
	open := d.ground
	d.site.Ground = siteOf(d.bed/12, func(x, y float64) float64 { return min(open(x, y), bed+max(0, math.Abs(x-6.1)-half)) }).Ground
	add(d.site, plan.Drain, line(6.1, -2, 6.1, 22), map[string]float64{"bed_width": d.bed, "water_depth": 0.2})
	l := d.winding(10)
	d.channel(append(line(6.1, 10), l[len(l)/3:]...))
	d.site.Plan.Features[1] = d.site.Plan.Features[1].Without("water_level").With("bed_start", plan.Value{Number: bed})
}
