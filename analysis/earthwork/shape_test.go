package earthwork

import (
	"math"
	"testing"

	"runnel/geo/plan"
)

// words sets fields of text on the last feature that was drawn.
func words(s *plan.Site, fields ...string) {
	f := &s.Plan.Features[len(s.Plan.Features)-1]
	for i := 0; i < len(fields); i += 2 {
		*f = f.With(fields[i], plan.Value{Text: fields[i+1]})
	}
}

func winding() []float64 {
	var flat []float64
	for x := 4.0; x <= 26; x += 0.5 {
		flat = append(flat, x, 10+3*math.Sin(x/4))
	}
	return flat
}

// shapes are channels whose section or bed changes along them, or whose banks are
// raised.
var shapes = map[string]func(s *plan.Site){
	"rounded": func(s *plan.Site) {
		add(s, plan.Channel, line(winding()...), map[string]float64{"bed_width": 1.2, "side_left": 1.5, "side_right": 3, "bed_start": 9.5, "bed_end": 9.45, "water_level": 9.85})
		words(s, "shape", "rounded")
	},
	"rounded, by stations": func(s *plan.Site) {
		add(s, plan.Channel, line(winding()...), map[string]float64{"bed_width": 1.2, "bed_start": 9.5, "bed_end": 9.45, "water_level": 9.85})
		words(s, "shape", "rounded")
		add(s, plan.Section, line(15, 10+3*math.Sin(15.0/4))[0], map[string]float64{"bed_width": 0.6, "side_left": 3, "side_right": 1})
	},
	"a pool between narrows": func(s *plan.Site) {
		add(s, plan.Channel, line(winding()...), map[string]float64{"bed_width": 0.6, "bed_start": 9.5, "bed_end": 9.45, "water_level": 9.85})
		add(s, plan.Section, line(12, 10+3*math.Sin(3.0))[0], map[string]float64{"bed_width": 1.8, "side_left": 4, "bed_level": 9.47})
	},
	"surveyed": func(s *plan.Site) {
		add(s, plan.Channel, line(winding()...), map[string]float64{"bed_start": 9.5, "bed_end": 9.45, "water_level": 9.85})
		add(s, plan.Section, line(9, 10+3*math.Sin(9.0/4))[0], nil)
		words(s, "surveyed", "-1.4 0.6; -0.7 0.15; -0.3 -0.05; 0 0; 0.5 0.1; 1.2 0.12; 2 0.6")
		add(s, plan.Section, line(19, 10+3*math.Sin(19.0/4))[0], map[string]float64{"side_left": 1})
		words(s, "surveyed", "-0.8 0.5; -0.4 0; 0.6 0; 1.6 0.6")
	},
	"drops": func(s *plan.Site) {
		add(s, plan.Channel, line(4, 8, 15, 10, 26, 10), map[string]float64{"bed_width": 0.8, "side_left": 1.5, "bed_start": 9.7, "bed_end": 9.3, "water_level": 9.85})
		words(s, "bed", "between its ends")
		add(s, plan.Section, line(10, 9.1)[0], map[string]float64{"drop": 0.1})
		add(s, plan.Section, line(15, 10)[0], map[string]float64{"drop": 0.2})
	},
	"raised banks": func(s *plan.Site) {
		add(s, plan.Channel, line(winding()...), map[string]float64{"bed_start": 9.6, "bed_end": 9.55, "bank_top": 10.25, "water_level": 10.15})
	},
	"raised banks round an island": func(s *plan.Site) {
		add(s, plan.Channel, line(3, 9, 27, 11), map[string]float64{"bed_start": 9.6, "bed_end": 9.55, "bank_top": 10.25, "water_level": 10.15})
		add(s, plan.Island, circle(15, 10, 3), map[string]float64{"top": 10.4})
	},
}

func TestTheTwoWaysAgreeOnChannelsOfAnyShape(t *testing.T) {
	for name, draw := range shapes {
		s := siteOf(0.05, level)
		draw(s)
		sections, wet, _ := both(t, s)
		t.Logf("%s: contact %.3f m² along the sections, %.3f m² on the ground", name, sections.Contact, wet.Contact)
		for what, pair := range map[string][2]float64{
			"contact": {wet.Contact, sections.Contact}, "surface": {wet.Surface, sections.Surface},
			"volume": {wet.Volume, sections.Volume}, "wet bank": {wet.WetBank, sections.WetBank},
		} {
			if !(math.Abs(pair[0]/pair[1]-1) < 0.01) {
				t.Errorf("%s: %s is %v on the ground and %v along the sections", name, what, pair[0], pair[1])
			}
		}
	}
}
