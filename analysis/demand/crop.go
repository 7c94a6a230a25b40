package demand

import (
	"fmt"
	"math"
	"sync"
	"time"

	"runnel/analysis/internal/printed"
	"runnel/assets"
)

// A Crop is a row of the table: how much of the reference evapotranspiration it needs in
// the stages of its growth.
type Crop struct {
	Name string
	// Initial is its coefficient in the first stage, Middle that of the third, End that on the
	// last day; Height is its height [m].
	Initial, Middle, End, Height float64
	// Stages are how long it grows in each of four: the first, growing up, the middle,
	// and ripening [days].
	Stages [4]int
	// Starts is the month in which that begins north of the equator.
	Starts time.Month
	// Source names what the figures are from, for a person.
	Source string
}

// CropNamed finds a crop by its name.
func CropNamed(name string) (Crop, error) {
	for _, c := range crops() {
		if c.Name == name {
			return c, nil
		}
	}
	return Crop{}, fmt.Errorf("the crop %q is not in the table; choose another from the list", name)
}

// crops lists what the table knows: each of plan.Crops, in its order.
var crops = sync.OnceValue(func() []Crop {
	all, err := parseCrops(assets.Crops)
	if err != nil {
		panic("demand: the built-in table of crops: " + err.Error())
	}
	return all
})

func parseCrops(text string) ([]Crop, error) {
	table, err := printed.Read(text, 12)
	if err != nil {
		return nil, err
	}
	var all []Crop
	for _, row := range table.Rows {
		of, err := printed.Figures{First: 1, End: 5, Low: 0.01, High: 30}.In(table, row)
		if err != nil {
			return nil, err
		}
		days, err := printed.Figures{First: 5, End: 9, Low: 1, High: 365}.In(table, row)
		if err != nil {
			return nil, err
		}
		month, err := printed.Figures{First: 9, End: 10, Low: 1, High: 12}.In(table, row)
		if err != nil {
			return nil, err
		}
		c := Crop{Name: row[0], Initial: of[0], Middle: of[1], End: of[2], Height: of[3], Starts: time.Month(month[0]), Source: row[10]}
		for i, d := range days {
			c.Stages[i] = int(d)
		}
		if c.days() > 365 {
			return nil, fmt.Errorf("%s grows %d days a year; give at most 365", c.Name, c.days())
		}
		all = append(all, c)
	}
	return all, nil
}

// days is how long it grows in a year.
func (c Crop) days() int { return c.Stages[0] + c.Stages[1] + c.Stages[2] + c.Stages[3] }

// Coefficient is what the reference evapotranspiration is multiplied by on a day of its
// growth, from 1 ([Allen1998] equation 66): level, a straight line up, level, and a straight line to the
// end. It is nought outside its growth.
func (c Crop) Coefficient(day int) float64 {
	first, second, third := c.Stages[0], c.Stages[0]+c.Stages[1], c.Stages[0]+c.Stages[1]+c.Stages[2]
	switch {
	case day < 1 || day > c.days():
		return 0
	case day <= first:
		return c.Initial
	case day <= second:
		return mix(c.Initial, c.Middle, float64(day-first)/float64(c.Stages[1]))
	case day <= third:
		return c.Middle
	}
	return mix(c.Middle, c.End, float64(day-third)/float64(c.Stages[3]))
}

func mix(a, b, t float64) float64 { return a + (b-a)*t }

// startsAt is the month in which it starts at a latitude [degrees]: half a year later
// south of the equator.
func (c Crop) startsAt(latitude float64) time.Month {
	if latitude < 0 {
		return (c.Starts+5)%12 + 1
	}
	return c.Starts
}

// growth returns on which day of its growth, from 1, a crop that starts on the first of a
// month is on each of some days, nought where it is not growing. What is green all
// year has no pause in a leap year.
func (c Crop) growth(starts time.Month, first time.Time, days int) []int {
	grown := make([]int, days)
	began := time.Date(first.Year(), starts, 1, 0, 0, 0, 0, time.UTC)
	if began.After(first) {
		began = began.AddDate(-1, 0, 0)
	}
	next := began.AddDate(1, 0, 0)
	day := int(math.Round(first.Sub(began).Hours() / 24))
	left := int(math.Round(next.Sub(first).Hours() / 24))
	for i := range grown {
		if left == 0 {
			began, next = next, next.AddDate(1, 0, 0)
			day, left = 0, int(math.Round(next.Sub(began).Hours()/24))
		}
		day++
		left--
		switch all := c.days(); {
		case day <= all:
			grown[i] = day
		case all == 365:
			grown[i] = all
		}
	}
	return grown
}
