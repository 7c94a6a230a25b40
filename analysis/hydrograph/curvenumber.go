package hydrograph

import (
	"fmt"
	"sync"

	"runnel/analysis/fate"
	"runnel/analysis/internal/printed"
	"runnel/analysis/soil"
	"runnel/assets"
)

// A cover is one of the table of curve numbers, with its number by hydrologic soil group.
type cover struct {
	name   string
	number [4]float64
	// source is the row of the publication that stands for it.
	source string
}

// CurveNumber returns the curve number of a cover on a soil, with average moisture
// before the storm. It panics on a cover that is not in the table: plan.Covers and
// the covers of sources all are.
func CurveNumber(name string, g soil.Group) float64 {
	for _, c := range covers() {
		if c.name == name {
			return c.number[g]
		}
	}
	panic("hydrograph: no curve number for " + name)
}

var covers = sync.OnceValue(func() []cover {
	all, err := parseCovers(assets.CurveNumbers)
	if err != nil {
		panic("hydrograph: the built-in table of curve numbers: " + err.Error())
	}
	return all
})

// parseCovers reads a heading, then rows of a cover, its number on soils of the groups
// A to D, their source and what they were checked against.
func parseCovers(text string) ([]cover, error) {
	table, err := printed.Read(text, 7)
	if err != nil {
		return nil, err
	}
	var all []cover
	for _, row := range table.Rows {
		numbers, err := printed.Figures{First: 1, End: 5, Low: 30, High: 100}.In(table, row)
		if err != nil {
			return nil, err
		}
		c := cover{name: row[0], source: row[5]}
		for i, n := range numbers {
			if i > 0 && n < numbers[i-1] {
				return nil, fmt.Errorf("the numbers of %s do not rise from A to D; mend the row", row[0])
			}
			c.number[i] = n
		}
		all = append(all, c)
	}
	return all, nil
}

// hard is the curve number of roofs and paving on any soil ([TR55]).
const hard = 98

// Storage returns the most that the ground keeps once rain runs off [mm], S of
// [TR55]: 25.4 (1000/CN − 10).
func Storage(cn float64) float64 { return 25400/cn - 254 }

// Excess returns what runs off of some rain [mm], equations 2-1 to 2-4 of [TR55];
// exactly nothing up to a first loss of a fifth of Storage, and off a number of 0.
func Excess(cn, rain float64) float64 {
	s := Storage(cn)
	over := rain - s/5
	if !(over > 0) {
		return 0
	}
	return over * (over / (over + s)) // in this order no more than the rain, by no rounding
}

// Dry and Wet return the curve number where it was dry or wet before the storm, of
// one for average moisture: fits to table 10-1 of [NEH630] that stray from it by up
// to two, as [ChowMaidmentMays1988] gives them (from memory). They span what one
// ground sheds in one rain, as its low and its high.
func Dry(cn float64) float64 { return 4.2 * cn / (10 - 0.058*cn) }

// Wet is Dry's counterpart.
func Wet(cn float64) float64 { return 23 * cn / (10 + 0.13*cn) }

// A Mix is ground as it sheds together.
type Mix struct {
	// Open and Hard are areas [m²]; brick counts as hard.
	Open, Hard float64
	// Number is the mean curve number of what is open, by area; 0 where nothing is.
	Number float64
}

// MixOf puts ground together.
func MixOf(ground []fate.Ground) Mix {
	var m Mix
	for _, g := range ground {
		cn := CurveNumber(g.Cover, g.Group)
		if g.Hard || cn == hard {
			m.Hard += g.Area
			continue
		}
		m.Open += g.Area
		m.Number += cn * g.Area
	}
	if m.Open > 0 {
		m.Number /= m.Open
	}
	return m
}

// Runoff returns what runs off when so much rain falls [mm]; [m³].
func (m Mix) Runoff(rain float64) float64 {
	return millimetre * (Excess(m.Number, rain)*m.Open + Excess(hard, rain)*m.Hard)
}

// RunoffOver returns what has run off by each time of a storm [m³], of what has fallen
// by then [mm].
func (m Mix) RunoffOver(fallen []float64) []float64 {
	off := make([]float64, len(fallen))
	for i, rain := range fallen {
		off[i] = m.Runoff(rain)
	}
	return off
}

// With returns the mix with the number of its open ground put through Dry or Wet;
// what is hard sheds alike, dry or wet.
func (m Mix) With(moisture func(cn float64) float64) Mix {
	if m.Open > 0 {
		m.Number = moisture(m.Number)
	}
	return m
}

// Composite returns one curve number for all of some ground, by area, as [TR55] has
// it for hard ground that is led straight to the channel; 0 for no ground.
func Composite(ground []fate.Ground) float64 {
	m := MixOf(ground)
	if m.Open+m.Hard == 0 {
		return 0
	}
	return (m.Number*m.Open + hard*m.Hard) / (m.Open + m.Hard)
}

// millimetre is one in metres.
const millimetre = 0.001
