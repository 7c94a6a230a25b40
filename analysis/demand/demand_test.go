package demand

import (
	"math"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
	"runnel/geo/weather"
)

// square is an area whose sides are so long [m], from a corner in a map's coordinates.
func square(east, side float64) orb.Polygon {
	x, y := 500_000+east, 4_800_000.0
	return orb.Polygon{{{x, y}, {x + side, y}, {x + side, y + side}, {x, y + side}, {x, y}}}
}

func bed(id plan.ID, g orb.Polygon, crop string) plan.Feature {
	return plan.Feature{ID: id, Kind: plan.Planting, Scheme: 1, Geometry: g,
		Fields: map[string]plan.Value{"crop": {Text: crop}}}
}

func well(fields map[string]plan.Value) plan.Feature {
	return plan.Feature{ID: 90, Kind: plan.Well, Geometry: orb.Point{500_000, 4_800_000}, Fields: fields}
}

// seasons is a record of whole years, from 2001 on, of wet winters and dry summers, and its reference.
func seasons(years int) (weather.Record, []float64) {
	r := weather.Record{Latitude: 50, First: time.Date(2001, 1, 1, 0, 0, 0, 0, time.UTC)}
	var et []float64
	for i := 0; r.Date(i).Year() < 2001+years; i++ {
		winter := math.Cos(2 * math.Pi * float64(r.Date(i).YearDay()) / 365)
		d := blank()
		d.Rain = max(0, 2+1.5*winter+math.Sin(float64(7*i)))
		r.Days = append(r.Days, d)
		et = append(et, 2.2-1.8*winter)
	}
	return r, et
}

func siteOf(r weather.Record, features ...plan.Feature) *plan.Site {
	s := &plan.Site{Setting: plan.UsualSetting(), Weather: r}
	s.Plan.Features = features
	s.Plan.Schemes = []plan.Scheme{{ID: 1, Name: "Beds"}}
	return s
}

func demandOf(t *testing.T, s *plan.Site, et []float64) Demand {
	t.Helper()
	d, problems := Of(s, 1, et)
	for _, p := range problems {
		t.Errorf("feature %d: %v", p.ID, p.Err)
	}
	return d
}

// A chain of arithmetic: 4.5 mm a day for a coefficient of 1.05 over the 30 days of June
// is 141.75 mm. 50 mm of rain give 39 mm of that, 102.75 mm are left, and 50 m² take
// 5.1375 m³, by drip 5.7083 m³.
func TestTheChainFromReferenceToTheWell(t *testing.T) {
	r := weather.Record{Latitude: 50, First: time.Date(2001, 6, 1, 0, 0, 0, 0, time.UTC)}
	var et []float64
	for range 30 {
		d := blank()
		d.Rain = 50.0 / 30
		r.Days, et = append(r.Days, d), append(et, 4.5)
	}
	f := bed(1, square(0, math.Sqrt(50)), "small vegetables").With("starts", plan.Value{Number: 3})
	d := demandOf(t, siteOf(r, f), et)
	m := d.Months[0]
	compare(t, []figure{
		{"rain", m.Rain, 50, 1e-9}, {"reference", m.Reference, 135, 1e-9}, {"crop water", m.Crop, 0.05 * 141.75, 1e-6},
		{"effective rain", m.Effective, 0.05 * 39, 0.001}, {"net", m.Net, 5.1375, 0.001}, {"gross", m.Gross, 5.7083, 0.001},
		{"draw", m.Draw, 5.7083, 0.001}, {"in the mean", d.Mean[5].Gross, m.Gross, 1e-12}, {"the bed", d.Beds[0].Months[0].Net, m.Net, 0},
	})
	if !m.Known || d.Beds[0].Starts != time.March || d.MeanYear.Known || d.Years[0].Known || !math.IsNaN(d.Years[0].Draw) {
		t.Errorf("the month is %+v, the year %+v", m, d.Years)
	}
}

func TestMonthsMakeYearsAndBedsMakeMonths(t *testing.T) {
	r, et := seasons(5)
	s := siteOf(r, bed(1, square(0, 5), "tomato"), bed(2, square(10, 7), "berries, bushes"), bed(3, square(20, 9), "not watered"),
		well(map[string]plan.Value{"household": {Number: 0.4}}))
	d := demandOf(t, s, et)
	if len(d.Beds) != 2 || len(d.Months) != 60 || len(d.Years) != 5 {
		t.Fatalf("%d beds, %d months, %d years", len(d.Beds), len(d.Months), len(d.Years))
	}
	for i, m := range d.Months {
		both := d.Beds[0].Months[i]
		both.add(d.Beds[1].Months[i])
		days := float64(time.Date(m.Year, m.Month+1, 0, 0, 0, 0, 0, time.UTC).Day())
		compare(t, []figure{
			{"net", m.Net, m.Crop - m.Effective, 1e-9}, {"gross", m.Gross, m.Net / 0.9, 1e-9}, {"the beds'", both.Gross, m.Gross, 1e-9},
			{"household", m.Household, 0.4 * days, 1e-9}, {"draw", m.Draw, m.Gross + m.Household, 1e-9},
		})
		if winter := m.Month < time.March || m.Month > time.October; !m.Known || winter != (m.Crop == 0) {
			t.Errorf("%v %d: %+v", m.Month, m.Year, m.Sum)
		}
	}
	var draw, dry, mean float64
	for i, m := range d.Months {
		draw += m.Draw
		mean += m.Draw / 5
		if d.Dry[m.Month-1] {
			dry += m.Draw
		}
		if m.Month == time.December {
			y := d.Years[i/12]
			compare(t, []figure{{"the year's draw", y.Draw, draw, 1e-9}, {"of its dry months", y.DryDraw, dry, 1e-9}})
			draw, dry = 0, 0
		}
	}
	compare(t, []figure{{"the mean year's draw", d.MeanYear.Draw, mean, 1e-9}})
	if d.Dry != [12]bool{3: true, 4: true, 5: true, 6: true, 7: true, 8: true} || !d.MeanYear.Known {
		t.Errorf("the dry months are %v", d.Dry)
	}
}

// Water that plants need is the reference times coefficients, day by day; the slow way.
func TestABedNeedsItsCoefficientDayByDay(t *testing.T) {
	r, et := seasons(3)
	r.Latitude = -35
	d := demandOf(t, siteOf(r, bed(1, square(0, 10), "potato")), et)
	potato, _ := CropNamed("potato")
	if d.Beds[0].Starts != time.October || d.Beds[0].Adjusted {
		t.Errorf("it starts in %v", d.Beds[0].Starts)
	}
	want, day := map[[2]int]float64{}, 93 // 1 January, from 1 October
	for i := range et {
		date := r.Date(i)
		if date.Month() == time.October && date.Day() == 1 {
			day = 1
		}
		want[[2]int{date.Year(), int(date.Month())}] += potato.Coefficient(day) * et[i] / 10
		day++
	}
	for _, m := range d.Months {
		compare(t, []figure{{m.Month.String(), m.Crop, want[[2]int{m.Year, int(m.Month)}], 1e-9}})
	}
}

func TestAMeasuredDrawStandsInPlaceOfWateringInDryMonths(t *testing.T) {
	r, et := seasons(2)
	s := siteOf(r, bed(1, square(0, 8), "mint"), well(map[string]plan.Value{"draw": {Number: 1.5}, "household": {Number: 0.2}}))
	d := demandOf(t, s, et)
	for _, m := range d.Months {
		days := m.Household / 0.2
		want := m.Gross + m.Household
		if d.Dry[m.Month-1] {
			want = 1.5*days + m.Household
		}
		compare(t, []figure{{m.Month.String(), m.Draw, want, 1e-9}})
	}
	compare(t, []figure{{"in the dry months", d.MeanYear.DryDraw, 1.7 * (30 + 31 + 30 + 31 + 31 + 30), 1e-9}})
}

func TestWithoutBedsTheWellsAreTheDemand(t *testing.T) {
	r, et := seasons(1)
	d := demandOf(t, siteOf(r, well(map[string]plan.Value{"household": {Number: 0.4}})), et)
	compare(t, []figure{{"a year", d.Years[0].Draw, 146, 1e-9}, {"watering", d.Years[0].Gross, 0, 0}})
	d = demandOf(t, siteOf(r), et)
	if d.Years[0].Draw != 0 || !d.Years[0].Known || !math.IsNaN(d.Measured) {
		t.Errorf("a site with nothing draws %+v", d.Years[0])
	}
}

func TestWithoutARecordTheWellsAreLeft(t *testing.T) {
	w := well(map[string]plan.Value{"household": {Number: 0.4}})
	d := demandOf(t, siteOf(weather.Record{}, w), nil)
	compare(t, []figure{{"a year", d.MeanYear.Draw, 146, 1e-9}, {"February", d.Mean[1].Draw, 11.2, 1e-9}})
	if d.MeanYear.Known || len(d.Months) != 0 {
		t.Errorf("%+v", d.MeanYear)
	}
	w = w.With("draw", plan.Value{Number: 2})
	if d = demandOf(t, siteOf(weather.Record{}, w), nil); d.Measured != 2 || !math.IsNaN(d.MeanYear.Draw) {
		t.Errorf("%+v", d.MeanYear)
	}
	d = demandOf(t, siteOf(weather.Record{}, w, bed(1, square(0, 8), "mint")), nil)
	if !math.IsNaN(d.MeanYear.Gross) || !math.IsNaN(d.Beds[0].Mean[6].Crop) {
		t.Errorf("%+v", d.MeanYear)
	}
}

// Of 2001 to 2004, day 40 has no rain and day 500 no reference; the record ends on 29
// February 2004.
func TestAMonthThatLacksADayIsWithheld(t *testing.T) {
	r, et := seasons(4)
	to := int(time.Date(2004, 3, 1, 0, 0, 0, 0, time.UTC).Sub(r.First).Hours() / 24)
	r.Days, et = r.Days[:to], et[:to]
	r.Days[40].Rain, et[500] = math.NaN(), math.NaN()
	d := demandOf(t, siteOf(r, bed(1, square(0, 8), "turf, cool season")), et)
	for i, m := range d.Months {
		lacks := i == 1 || i == 16
		for _, v := range []float64{m.Rain, m.Reference, m.Crop, m.Effective, m.Net, m.Gross, m.Draw, d.Beds[0].Months[i].Gross} {
			if m.Known == lacks || math.IsNaN(v) != lacks {
				t.Fatalf("%v %d is %+v", m.Month, m.Year, m)
			}
		}
	}
	for i, want := range []bool{false, false, true, false} {
		y := d.Years[i]
		if y.Known != want || math.IsNaN(y.Draw) == want || math.IsNaN(y.DryDraw) == want && i != 0 {
			t.Errorf("%d is %+v", y.Year, y)
		}
	}
	leap := d.Months[len(d.Months)-1]
	turf, _ := CropNamed("turf, cool season")
	var depth float64
	for i := to - 29; i < to; i++ {
		depth += turf.Coefficient(min(365, 307+i-(to-29)+31-1)) * et[i] // 1 February is day 338 from 1 March
	}
	compare(t, []figure{{"the February of 29 days", leap.Crop, depth * 0.064, 1e-9}, {"its mean", d.Mean[1].Crop, (d.Months[13].Crop + d.Months[25].Crop + leap.Crop) / 3, 1e-9}})
	if leap.Year != 2004 || leap.Month != time.February {
		t.Errorf("the last month is %v %d", leap.Month, leap.Year)
	}
}

func TestBedsThatOverlapCountAndAreNamed(t *testing.T) {
	r, et := seasons(1)
	s := siteOf(r, bed(1, square(0, 10), "mint"), bed(2, square(9, 10), "mint"), bed(3, square(19, 10), "mint"), bed(4, square(5, 2), "not watered"))
	d, problems := Of(s, 1, et)
	if len(problems) != 1 || problems[0].ID != 2 || !strings.Contains(problems[0].Error(), "Planting 1 and Planting 2 overlap") {
		t.Fatalf("the problems are %v", problems)
	}
	if at := problems[0].At; !(at[0] > 500_009 && at[0] < 500_010) {
		t.Errorf("they overlap at %v", at)
	}
	compare(t, []figure{{"the water of three", d.Years[0].Crop, 3 * demandOf(t, siteOf(r, s.Plan.Features[0]), et).Years[0].Crop, 1e-9}})
}

func TestWhatCannotBeReckonedWithIsLeftOutAndListed(t *testing.T) {
	r, et := seasons(1)
	bad := bed(1, orb.Polygon{{{0, 0}, {1, 1}, {0, 1}, {1, 0}, {0, 0}}}, "mint")
	s := siteOf(r, bad, bed(2, square(0, 10), "mint"), well(map[string]plan.Value{"household": {Number: -1}}))
	s.Setting.Irrigation = "by bucket"
	d, problems := Of(s, 1, et)
	if len(problems) != 3 || len(d.Beds) != 1 || d.Household != 0 {
		t.Fatalf("the problems are %v", problems)
	}
	if y := d.Years[0]; !math.IsNaN(y.Gross) || !math.IsNaN(y.Draw) || !(y.Net > 0) {
		t.Errorf("with no efficiency the year is %+v", y)
	}
}

// In a dry and windy climate the coefficients of the last two stages rise, by as much as
// equation 62 says of its mean.
func TestCoefficientsFollowWindAndHumidityWhereTheyAreKnown(t *testing.T) {
	r, et := seasons(2)
	for i := range r.Days {
		r.Days[i].Low, r.Days[i].High, r.Days[i].Wind, r.Days[i].DampLow, r.Days[i].DampHigh = 15, 30, 4.6, 44, 90
	}
	s := siteOf(r, bed(1, square(0, 10), "hops"))
	got := demandOf(t, s, et).Beds[0]
	hops, _ := CropNamed("hops")
	add := climateTerm(4.6, 44, 5)
	compare(t, []figure{{"middle", got.Crop.Middle, hops.Middle + add, 1e-9}, {"end", got.Crop.End, hops.End + add, 1e-9}, {"initial", got.Crop.Initial, 0.30, 0}})
	// FAO-56 equation 63: one mean humidity says what the warmest hour has.
	for i := range r.Days {
		r.Days[i].DampLow, r.Days[i].DampHigh = 60, 60
	}
	damp := 60 * (saturationPressure(15) + saturationPressure(30)) / 2 / saturationPressure(30)
	got = demandOf(t, s, et).Beds[0]
	compare(t, []figure{{"middle by the mean", got.Crop.Middle, hops.Middle + climateTerm(4.6, damp, 5), 1e-9}})
	for i := range r.Days[:len(r.Days)*4/5] {
		r.Days[i].Wind = math.NaN()
	}
	if got = demandOf(t, s, et).Beds[0]; got.Adjusted || got.Crop != hops {
		t.Errorf("with wind on one day in five it is %+v", got.Crop)
	}
}

func BenchmarkOf(b *testing.B) {
	r, et := seasons(30)
	var features []plan.Feature
	for i, c := range crops()[:10] {
		features = append(features, bed(plan.ID(i+1), square(20*float64(i), 10), c.Name))
	}
	s := siteOf(r, features...)
	for b.Loop() {
		Of(s, 1, et)
	}
}
