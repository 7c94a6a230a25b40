package demand

import (
	"fmt"
	"math"
	"sync"

	"runnel/analysis/internal/printed"
	"runnel/assets"
)

// inch is [mm].
const inch = 25.4

// EffectiveRain is how much of a month's rain plants use [mm] that need so much in that
// month [mm]: [USDA1993] equations 2-84 and 2-85, which are those of [USDA1970], for soil about the roots
// that keeps 3 inches (76 mm) of water. It is at most the rain, and at most the need.
func EffectiveRain(rain, need float64) float64 {
	return max(0, min(inch*effectiveInches(rain/inch, need/inch, 3), rain, need))
}

// effectiveInches is the equation itself, in its own inches, for a store of some depth.
func effectiveInches(rain, need, store float64) float64 {
	return storeFactor(store) * (0.70917*math.Pow(rain, 0.82416) - 0.11556) * math.Pow(10, 0.02426*need)
}

func storeFactor(store float64) float64 {
	return 0.531747 + 0.295164*store - 0.057697*store*store + 0.003804*store*store*store
}

// Efficiency is the share of the water of a way of watering, one of plan.Irrigations,
// that plants get ([Brouwer1989], of water applied to a field).
func Efficiency(irrigation string) (float64, error) {
	if share, ok := efficiencies()[irrigation]; ok {
		return share, nil
	}
	return 0, fmt.Errorf("the way of watering %q is not in the table; choose another from the list", irrigation)
}

var efficiencies = sync.OnceValue(func() map[string]float64 {
	all, err := parseEfficiencies(assets.Irrigation)
	if err != nil {
		panic("demand: the built-in table of ways of watering: " + err.Error())
	}
	return all
})

func parseEfficiencies(text string) (map[string]float64, error) {
	table, err := printed.Read(text, 3)
	if err != nil {
		return nil, err
	}
	all := map[string]float64{}
	for _, row := range table.Rows {
		share, err := printed.Figures{First: 1, End: 2, Low: 0.01, High: 1}.In(table, row)
		if err != nil {
			return nil, err
		}
		all[row[0]] = share[0]
	}
	return all, nil
}
