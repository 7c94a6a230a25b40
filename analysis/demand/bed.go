package demand

import (
	"fmt"
	"slices"
	"time"

	"github.com/paulmach/orb/planar"

	"runnel/analysis/channel"
	"runnel/geo/plan"
	"runnel/geo/weather"
)

// plantBeds takes the plantings that are watered.
func (d *Demand) plantBeds(s *plan.Site, scheme plan.SchemeID) (problems []channel.Problem) {
	var drawn []plan.Feature
	for _, f := range s.Plan.Of(plan.Planting, scheme) {
		if err := plan.Check(f); err != nil {
			problems = append(problems, channel.Problem{ID: f.ID, Err: err})
			continue
		}
		if !slices.Contains(plan.Crops(), f.Text("crop")) {
			continue
		}
		crop, err := CropNamed(f.Text("crop"))
		if err != nil {
			problems = append(problems, channel.Problem{ID: f.ID, Err: fmt.Errorf("%s: %w", f.Title(), err)})
			continue
		}
		bed := Bed{Feature: f.ID, Name: f.Title(), Crop: crop, Starts: crop.startsAt(s.Weather.Latitude), Area: planar.Area(f.Area())}
		if v := f.Num("starts"); known(v) {
			bed.Starts = time.Month(v + 0.5)
		}
		d.Beds = append(d.Beds, bed)
		drawn = append(drawn, f)
	}
	return append(problems, overlaps(drawn)...)
}

// overlaps lists the pairs of beds that cover the same ground.
func overlaps(beds []plan.Feature) (problems []channel.Problem) {
	for i, a := range beds {
		for _, b := range beds[:i] {
			if !a.Area().Bound().Intersects(b.Area().Bound()) {
				continue
			}
			if at, shared := sharedPlace(a.Area(), b.Area()); shared {
				problems = append(problems, channel.Problem{ID: a.ID, At: at, Err: fmt.Errorf(
					"%s and %s overlap, and the ground that they share is watered twice; move or cut back one of them", b.Title(), a.Title())})
			}
		}
	}
	return problems
}

// water works out a bed's months.
func (d *Demand) water(b *Bed, r weather.Record, et []float64, spans []span) {
	grown := b.Crop.growth(b.Starts, r.First, len(r.Days))
	b.Crop, b.Adjusted = b.Crop.inClimate(r, grown)
	coefficient := make([]float64, b.Crop.days()+1)
	for day := range coefficient {
		coefficient[day] = b.Crop.Coefficient(day)
	}
	b.Months = make([]Water, len(spans))
	for i, span := range spans {
		if !d.Months[i].Known {
			b.Months[i] = unknownWater()
			d.Months[i].Water.add(b.Months[i])
			continue
		}
		var need, rain float64 // while it grows [mm]
		for day := span.from; day < span.to; day++ {
			if grown[day] > 0 {
				need += coefficient[grown[day]] * et[day]
				rain += r.Days[day].Rain
			}
		}
		used := EffectiveRain(rain, need)
		cubic := b.Area / 1000
		b.Months[i] = Water{need * cubic, used * cubic, (need - used) * cubic, (need - used) * cubic / d.Efficiency}
		d.Months[i].Water.add(b.Months[i])
	}
}
