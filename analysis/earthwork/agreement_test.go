package earthwork

import (
	"math"
	"testing"

	"runnel/analysis/channel"
	"runnel/geo/plan"
)

var schemes = map[string]func(cell float64) *plan.Site{
	"a straight channel": func(cell float64) *plan.Site {
		s := siteOf(cell, level)
		add(s, plan.Channel, line(5, 8, 25, 12), map[string]float64{"side_left": 3, "side_right": 3, "water_level": 9.85, "bed_start": 9.5, "bed_end": 9.5})
		return s
	},
	"a winding channel": func(cell float64) *plan.Site {
		s := siteOf(cell, level)
		var flat []float64
		for x := 4.0; x <= 26; x += 0.5 {
			flat = append(flat, x, 10+4*math.Sin(x/3))
		}
		add(s, plan.Channel, line(flat...), map[string]float64{"water_level": 9.9})
		return s
	},
	"a channel round an island": func(cell float64) *plan.Site {
		s := siteOf(cell, level)
		add(s, plan.Channel, line(3, 9, 27, 11), map[string]float64{"water_level": 9.85, "bed_start": 9.5, "bed_end": 9.55})
		add(s, plan.Island, circle(15, 10, 3), nil)
		return s
	},
	"a channel that runs into a drain": func(cell float64) *plan.Site {
		s := siteOf(cell, func(x, y float64) float64 { return min(10, 9.5+max(0, math.Abs(x-6.1)-0.3)) })
		add(s, plan.Drain, line(6.1, -2, 6.1, 22), map[string]float64{"bed_width": 0.6, "water_depth": 0.2})
		add(s, plan.Channel, line(6.1, 10, 24, 13), map[string]float64{"bed_start": 9.5, "bed_end": 9.45})
		return s
	},
}

// The two ways share only where the beds are and how high the water stands.
func TestTheTwoWaysToContactAgreeAsCellsShrink(t *testing.T) {
	for name, draw := range schemes {
		var off [3]float64
		for i, cell := range []float64{0.2, 0.1, 0.05} {
			sections, wet, _ := both(t, draw(cell))
			off[i] = math.Abs(wet.Contact/sections.Contact - 1)
			if cell > 0.05 {
				continue
			}
			for what, pair := range map[string][2]float64{
				"contact": {wet.Contact, sections.Contact}, "surface": {wet.Surface, sections.Surface},
				"volume": {wet.Volume, sections.Volume}, "wet bank": {wet.WetBank, sections.WetBank},
			} {
				if !(math.Abs(pair[0]/pair[1]-1) < 0.01) {
					t.Errorf("%s: %s is %v on the ground and %v along the sections", name, what, pair[0], pair[1])
				}
			}
		}
		t.Logf("%s: contact differs by %.2f, %.2f and %.2f %% at cells of 0.2, 0.1 and 0.05 m", name, 100*off[0], 100*off[1], 100*off[2])
		if !(off[2] < off[1] && off[1] < off[0]) {
			t.Errorf("%s: the difference does not shrink with the cells: %v", name, off)
		}
	}
}

// Water that is asked to stand above the lowest bank is measured at the brim.
func TestTheTwoWaysAgreeHoweverHighTheWaterIsAsked(t *testing.T) {
	hill := func(x, y float64) float64 { return 10.5 - 0.03*x - 0.01*y }
	for name, draw := range map[string]func(s *plan.Site){
		"a channel along a slope": func(s *plan.Site) {
			add(s, plan.Channel, line(5, 8, 25, 12), map[string]float64{"water_level": 40, "bed_start": 9.2, "bed_end": 9.2})
		},
		"a channel round an island": func(s *plan.Site) {
			add(s, plan.Channel, line(3, 9, 27, 11), map[string]float64{"water_level": 40, "bed_start": 9.2, "bed_end": 9.2})
			add(s, plan.Island, circle(15, 10, 3), nil)
		},
		"two pools": func(s *plan.Site) {
			add(s, plan.Channel, line(3, 10, 27, 10), map[string]float64{"water_level": 40, "bed_start": 9.4, "bed_end": 9.2})
			add(s, plan.Sill, line(15, 5, 15, 15), map[string]float64{"crest": 9.9})
		},
	} {
		s := siteOf(0.1, hill)
		draw(s)
		n, problems := channel.NewNetwork(s, 1)
		if len(problems) != 1 {
			t.Errorf("%s: the problems are %v", name, problems)
		}
		lines, err := n.Measure(t.Context(), channel.Step{})
		if err != nil {
			t.Fatal(err)
		}
		_, wet, err := Stand(t.Context(), s.Ground, n)
		if got := lines[0].Measure; err != nil || !(math.Abs(wet.Contact/got.Contact-1) < 0.03) {
			t.Errorf("%s: contact is %v on the ground and %v along the sections (%v)", name, wet.Contact, got.Contact, err)
		}
	}
}

// A channel may start short of a drain's line, on it, or past it.
func TestTheTwoWaysAgreeWhereverAChannelStartsInADrain(t *testing.T) {
	for _, x := range []float64{5.5, 6.1, 6.3, 6.6, 7.2} {
		s := siteOf(0.05, func(x, y float64) float64 { return min(10, 9.5+max(0, math.Abs(x-6.1)-0.3)) })
		add(s, plan.Drain, line(6.1, -2, 6.1, 22), map[string]float64{"bed_width": 0.6, "water_depth": 0.2})
		add(s, plan.Channel, line(x, 10, 24, 13), map[string]float64{"bed_start": 9.5, "bed_end": 9.45})
		sections, wet, _ := both(t, s)
		if !(math.Abs(wet.Contact/sections.Contact-1) < 0.01) {
			t.Errorf("from %v m: contact is %v on the ground and %v along the sections", x, wet.Contact, sections.Contact)
		}
	}
}

func BenchmarkStanding(b *testing.B) {
	s := schemes["a channel round an island"](0.1)
	for b.Loop() {
		both(b, s)
	}
}
