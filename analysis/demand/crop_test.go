package demand

import (
	"slices"
	"strings"
	"testing"
	"time"

	"runnel/geo/plan"
)

// FAO-56 example 28, dry bean: from memory of the book.
func TestCoefficientsOfExample28(t *testing.T) {
	bean := Crop{Initial: 0.15, Middle: 1.19, End: 0.35, Stages: [4]int{25, 25, 30, 20}}
	compare(t, []figure{
		{"day 20", bean.Coefficient(20), 0.15, 0.005}, {"day 40", bean.Coefficient(40), 0.77, 0.005},
		{"day 70", bean.Coefficient(70), 1.19, 0.005}, {"day 95", bean.Coefficient(95), 0.56, 0.005},
		{"the last day", bean.Coefficient(100), 0.35, 1e-12},
		{"the day before", bean.Coefficient(0), 0, 0}, {"the day after", bean.Coefficient(101), 0, 0},
	})
}

// FAO-56 example 27: 1.20 of the table, 2 m high; from memory of the book. Then the limits
// that it gives the equation.
func TestClimateOfExample27(t *testing.T) {
	compare(t, []figure{
		{"damp and still", 1.20 + climateTerm(1.3, 75, 2), 1.07, 0.005},
		{"dry and windy", 1.20 + climateTerm(4.6, 44, 2), 1.30, 0.005},
		{"as the table has it", climateTerm(2, 45, 2), 0, 1e-12},
		{"storm, desert, tree", climateTerm(20, 1, 40) - climateTerm(6, 20, 10), 0, 1e-12},
		{"calm, fog, lawn", climateTerm(0, 100, 0.01) - climateTerm(1, 80, 0.1), 0, 1e-12},
	})
}

// FAO-56 table 12: the coefficients of most in copies of the table, the rest and all
// heights from memory.
func TestCropsAreThoseOfTheTable(t *testing.T) {
	for name, want := range map[string][4]float64{
		"berries, bushes": {0.30, 1.05, 0.50, 1.5}, "strawberry": {0.40, 0.85, 0.75, 0.2},
		"grapes, table": {0.30, 0.85, 0.45, 2}, "kiwi": {0.40, 1.05, 1.05, 3}, "hops": {0.30, 1.05, 0.85, 5},
		"apple, cherry, pear":                    {0.45, 0.95, 0.70, 4},
		"apple, cherry, pear, with ground cover": {0.50, 1.20, 0.95, 4},
		"stone fruit":                            {0.45, 0.90, 0.65, 3}, "stone fruit, with ground cover": {0.50, 1.15, 0.90, 3},
		"walnut": {0.50, 1.10, 0.65, 4}, "almond": {0.40, 0.90, 0.65, 5},
		"small vegetables": {0.70, 1.05, 0.95, 0.3}, "lettuce, spinach": {0.70, 1.00, 0.95, 0.3},
		"onion": {0.70, 1.05, 0.75, 0.4}, "garlic": {0.70, 1.00, 0.70, 0.3},
		"tomato": {0.60, 1.15, 0.80, 0.6}, "pepper, eggplant": {0.60, 1.05, 0.90, 0.7},
		"cucumber": {0.60, 1.00, 0.75, 0.3}, "squash": {0.50, 0.95, 0.75, 0.3}, "melon": {0.50, 1.05, 0.75, 0.4},
		"potato": {0.50, 1.15, 0.75, 0.6}, "parsnip": {0.50, 1.05, 0.95, 0.4}, "radish": {0.70, 0.90, 0.85, 0.3},
		"green bean": {0.50, 1.05, 0.90, 0.4}, "dry bean": {0.40, 1.15, 0.35, 0.4}, "dry pea": {0.50, 1.15, 0.30, 0.5},
		"asparagus": {0.50, 0.95, 0.30, 0.5}, "artichoke": {0.50, 1.00, 0.95, 0.7}, "mint": {0.60, 1.15, 1.10, 0.6},
		"turf, cool season": {0.90, 0.95, 0.95, 0.1}, "turf, warm season": {0.80, 0.85, 0.85, 0.1},
		"cattail, bulrush": {0.30, 1.20, 0.30, 2}, "reed swamp": {1.00, 1.20, 1.00, 2},
	} {
		c, err := CropNamed(name)
		if got := [4]float64{c.Initial, c.Middle, c.End, c.Height}; err != nil || got != want {
			t.Errorf("%s has %v (%v), want %v", name, got, err, want)
		}
	}
}

// FAO-56 table 11: the first four in a copy of the table, the others from memory.
func TestStagesAreThoseOfTheTable(t *testing.T) {
	for name, want := range map[string][4]int{
		"hops": {25, 40, 80, 10}, "walnut": {20, 10, 130, 30}, "grapes, table": {20, 50, 75, 60}, "dry bean": {20, 30, 40, 20},
		"apple, cherry, pear": {20, 70, 90, 30}, "lettuce, spinach": {20, 30, 15, 10}, "asparagus": {50, 30, 100, 50},
	} {
		if c, err := CropNamed(name); err != nil || c.Stages != want {
			t.Errorf("%s grows %v days (%v), want %v", name, c.Stages, err, want)
		}
	}
}

func TestTheTableHasEveryCropOfThePlanWithASource(t *testing.T) {
	var names []string
	for _, c := range crops() {
		names = append(names, c.Name)
		if !strings.Contains(c.Source, "table 11") && !strings.Contains(c.Source, "and 11") && !strings.Contains(c.Source, "stages: common practice, no source") {
			t.Errorf("nothing says where the stages of %s are from: %s", c.Name, c.Source)
		}
	}
	if !slices.Equal(names, plan.Crops()) {
		t.Errorf("the table has %q,\nthe plan %q", names, plan.Crops())
	}
	if _, err := CropNamed("not watered"); err == nil {
		t.Error("what is not watered is a crop")
	}
}

func TestCropsStartHalfAYearLaterInTheSouth(t *testing.T) {
	c := Crop{Starts: time.April}
	if c.startsAt(50) != time.April || c.startsAt(-35) != time.October || c.startsAt(0) != time.April {
		t.Errorf("%v, %v, %v", c.startsAt(50), c.startsAt(-35), c.startsAt(0))
	}
	if c.Starts = time.October; c.startsAt(-35) != time.April {
		t.Errorf("%v", c.startsAt(-35))
	}
	if c.Starts = time.June; c.startsAt(-35) != time.December {
		t.Errorf("%v", c.startsAt(-35))
	}
}

// The slow way: every day counted from the last first of that month.
func TestGrowthIsCountedFromTheMonthInWhichItStarts(t *testing.T) {
	for _, all := range []int{35, 200, 364, 365} {
		c := Crop{Stages: [4]int{1, 1, 1, all - 3}}
		for month := time.January; month <= time.December; month++ {
			first := time.Date(2003, 2, 27, 0, 0, 0, 0, time.UTC)
			for i, got := range c.growth(month, first, 1100) {
				date := first.AddDate(0, 0, i)
				want := 1
				for d := date; d.Day() != 1 || d.Month() != month; d = d.AddDate(0, 0, -1) {
					want++
				}
				if want > all && all == 365 {
					want = 365
				} else if want > all {
					want = 0
				}
				if got != want {
					t.Fatalf("%v is day %d of %d from %v, want %d", date, got, all, month, want)
				}
			}
		}
	}
}

func TestSpoiltTablesOfCropsAreReported(t *testing.T) {
	const heading = "crop,initial,middle,end,height_m,initial_days,development_days,middle_days,late_days,starts,source,checked\n"
	for text, want := range map[string]string{
		heading: "no figures",
		heading + "moss,0.3,much,0.5,1,20,30,40,10,4,a,b\n":  `middle of moss is "much"`,
		heading + "moss,0.3,1,0.5,1,0,30,40,10,4,a,b\n":      `initial_days of moss is "0"`,
		heading + "moss,0.3,1,0.5,1,20,30,40,10,13,a,b\n":    `starts of moss is "13"`,
		heading + "moss,0.3,1,0.5,1,100,100,100,100,4,a,b\n": "grows 400 days",
	} {
		if got, err := parseCrops(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q is read as %v (%v), want %q", text, got, err, want)
		}
	}
}
