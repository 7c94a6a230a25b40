package synthetic

import (
	"math"

	"runnel/geo/grid"
)

// Awkward returns small grounds that are hard on a program, by a name that says
// why: each has an answer.
func Awkward() map[string]grid.Ground {
	survey := Site(70, 80, 3) // more rows and columns than are worked at once
	oblong := survey.Clone()
	oblong.DX, oblong.DY = 0.01, 3
	return map[string]grid.Ground{
		"islands of no data":          spoiled(survey, islands, grid.NoData),
		"an island in no data":        spoiled(survey, func(x, y int) bool { return ring(x, y) == 10 }, grid.NoData),
		"an edge of no data":          spoiled(survey, func(x, y int) bool { return ring(x, y) > 25+x%3 }, grid.NoData),
		"one cell with a height":      spoiled(survey, func(x, y int) bool { return ring(x, y) > 0 }, grid.NoData),
		"one value":                   spoiled(survey, func(int, int) bool { return true }, 3),
		"a wall of 1e30 round a part": spoiled(survey, func(x, y int) bool { return ring(x, y) == 20 }, 1e30),
		"an edge of 1e30":             spoiled(survey, func(x, y int) bool { return ring(x, y) > 25 }, 1e30),
		"a shaft 1e30 deep":           spoiled(survey, func(x, y int) bool { return ring(x, y) == 0 }, -1e30),
		"one row":                     {Frame: grid.Square(70, 1, 0, 1, 1), V: survey.Row(9)},
		"one column":                  {Frame: grid.Square(1, 70, 0, 70, 1), V: survey.Row(9)},
		"one cell":                    {Frame: grid.Square(1, 1, 0, 1, 1), V: survey.V[:1:1]},
		"cells of 1 cm by 3 m":        oblong,
	}
}

// ring is how many cells (x, y) lies from the one in the middle.
func ring(x, y int) int {
	return int(max(math.Abs(float64(x-35)), math.Abs(float64(y-40))))
}

// islands are holes of one cell and of some, some of them corner to corner.
func islands(x, y int) bool {
	return x%17 == 5 && y%13 == 4 || x%23 < 4 && y%19 > 14 || x == y && x%9 > 6
}

// spoiled returns g with the height z where a place is chosen.
func spoiled(g grid.Ground, chosen func(x, y int) bool, z float32) grid.Ground {
	g = g.Clone()
	for y := range g.H {
		for x := range g.W {
			if chosen(x, y) {
				g.Set(x, y, z)
			}
		}
	}
	return g
}
