package demo

import (
	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// drainWater is how deep the drain runs in the season [m].
const drainWater = 0.2

// tieIn is where both schemes leave the drain.
var tieIn = orb.Point{13.15, 60}

// standing is the level at which water stands in a scheme [m]: that of the
// running drain where the scheme leaves it.
func standing() float64 { return drainBedAt(tieIn) + drainWater }

// drainBedAt returns the level of the drain's bed nearest to a place [m].
func drainBedAt(p orb.Point) float64 {
	_, along := nearest(drainLine, p)
	return drainBedAfter(along)
}

// drawWinding draws a channel that winds along the contour round two islands.
func (d *drawing) drawWinding() {
	d.begin("Winding island channel")
	water := millimetre(standing())
	line := curve(1, tieIn, orb.Point{15.6, 59.7}, orb.Point{21.2, 60.2}, orb.Point{25.4, 55.9}, orb.Point{29.7, 51.3},
		orb.Point{36.4, 52.9}, orb.Point{41.2, 49.3}, orb.Point{46.4, 48.6}, orb.Point{51.4, 47.4}, orb.Point{56.9, 48.8},
		orb.Point{60.4, 45.2}, orb.Point{64.2, 41.6}, orb.Point{69.3, 42.4}, orb.Point{73.2, 41.9}, orb.Point{76.6, 39.4})
	d.draw(plan.Channel, "Winding channel", line, fields{
		"bed_width": number(0.6), "side_left": number(2), "side_right": number(2),
		"bed_start": number(water - 0.21), "bed_end": number(water - 0.34), "water_level": number(water),
	})
	d.draw(plan.Island, "Long island", ring(0.7, orb.Point{42.6, 48.9}, orb.Point{44.2, 50.6}, orb.Point{47.0, 50.5},
		orb.Point{49.5, 49.3}, orb.Point{50.4, 47.8}, orb.Point{48.6, 46.7}, orb.Point{45.9, 46.8}, orb.Point{43.6, 47.3}),
		fields{"arm_width": number(0.6), "side": number(1.5)})
	d.draw(plan.Island, "Small island", ring(0.6, orb.Point{68.7, 42.0}, orb.Point{69.9, 43.4}, orb.Point{71.9, 43.2},
		orb.Point{73.0, 41.8}, orb.Point{71.6, 40.7}, orb.Point{69.8, 40.8}),
		fields{"arm_width": number(0.5), "side": number(1.5)})
	d.draw(plan.Spillway, "Spillway", orb.Point{76.6, 39.4}, fields{"crest": number(water + 0.06), "width": number(1)})
	d.drawDrainSill(water)
	d.drawWindingPlanting(line)
	d.drawWindingWalk()
	d.drawBeds()
}

// drawDrainSill draws a sill across the drain just below the channel's mouth. It
// holds the channel's water when the drain stops.
func (d *drawing) drawDrainSill(crest float64) {
	_, mouth := nearest(drainLine, tieIn)
	across := stretch(drainLine, mouth+1.2, mouth+3.3)
	left, right := beside(across, -0.9), beside(across, 0.9)
	d.draw(plan.Sill, "Drain sill", orb.LineString{left[1], right[1]}, fields{"crest": number(crest)})
}

func (d *drawing) drawWindingPlanting(line orb.LineString) {
	d.draw(plan.Planting, "Basket willow", strip(line[6:19], -3.0, -1.3), fields{"plant": word("purple willow"), "spacing": number(0.6)})
	d.draw(plan.Planting, "Elder", strip(line[14:28], 1.3, 3.0), fields{"plant": word("elder"), "spacing": number(2)})
	d.draw(plan.Planting, "Mint bank", strip(line[21:30], -2.6, -1.3), fields{"plant": word("mint"), "spacing": number(0.4), "crop": word("mint")})
	d.draw(plan.Planting, "Currants", strip(line[51:63], 1.4, 3.2), fields{"plant": word("black currant"), "spacing": number(1.3), "crop": word("berries, bushes")})
	d.draw(plan.Planting, "Island sedge", ring(0.7, orb.Point{44.2, 48.9}, orb.Point{45.9, 49.9}, orb.Point{48.4, 48.9}, orb.Point{47.9, 47.6}, orb.Point{45.4, 47.7}),
		fields{"plant": word("sedge"), "spacing": number(0.5)})
}

func (d *drawing) drawWindingWalk() {
	d.draw(plan.Path, "Water walk", curve(2, orb.Point{13.9, 45.8}, orb.Point{20, 47.6}, orb.Point{27.5, 47.2}, orb.Point{35, 46.6},
		orb.Point{41, 43.6}, orb.Point{47, 42.9}, orb.Point{53, 43.2}, orb.Point{57.6, 43.0}, orb.Point{61.2, 46.9}, orb.Point{63, 51.4}, orb.Point{67.6, 57.6}),
		fields{"width": number(1.2), "surface": word("woodchip")})
	d.draw(plan.Path, "Way to the beds", curve(2, orb.Point{41, 43.6}, orb.Point{40.2, 36}, orb.Point{43.2, 28.6}, orb.Point{44.8, 22.2}),
		fields{"width": number(1), "surface": word("mown grass")})
	d.draw(plan.Place, "Entrance", orb.Point{13.9, 45.8}, fields{"use": word("entrance")})
	d.draw(plan.Place, "Seat by the island", orb.Point{47, 42.9}, fields{"use": word("rest")})
	d.draw(plan.Place, "Beds", orb.Point{44.8, 22.2}, fields{"use": word("work")})
}

// drawBeds draws what grows on the terrace. It is watered from the well, and the same in
// both schemes.
func (d *drawing) drawBeds() {
	for _, b := range []struct {
		name, plant, crop    string
		along, long, spacing float64
	}{
		{"Tomatoes", "tomato", "tomato", -8.75, 4.5, 0.5},
		{"Roots and cabbages", "carrots, beet, cabbage", "small vegetables", 0.5, 9, 0.3},
		{"Beans", "climbing bean", "green bean", 8.25, 5.5, 0.3},
	} {
		d.draw(plan.Planting, b.name, terrace.block(b.along, 0, b.long, 6.5),
			fields{"plant": word(b.plant), "spacing": number(b.spacing), "crop": word(b.crop)})
	}
}

// drawTrench draws the usual answer: a straight trench and no more.
func (d *drawing) drawTrench() {
	d.begin("Straight soakage trench")
	water := millimetre(standing())
	d.draw(plan.Channel, "Soakage trench", curve(1, tieIn, orb.Point{36.6, 51.4}), fields{
		"bed_width": number(0.5), "side_left": number(0.5), "side_right": number(0.5),
		"bed_start": number(water - 0.21), "bed_end": number(water - 0.3), "water_level": number(water),
	})
	d.draw(plan.Spillway, "Spillway", orb.Point{36.6, 51.4}, fields{"crest": number(water + 0.06), "width": number(1)})
	d.draw(plan.Path, "Way to the seat", curve(2, orb.Point{13.9, 45.8}, orb.Point{22, 47.2}, orb.Point{30, 46.6}, orb.Point{35.4, 48.6}),
		fields{"width": number(1.2), "surface": word("mown grass")})
	d.draw(plan.Place, "Entrance", orb.Point{13.9, 45.8}, fields{"use": word("entrance")})
	d.draw(plan.Place, "Seat", orb.Point{35.4, 48.6}, fields{"use": word("rest")})
	d.drawBeds()
}
