package demand

import (
	"math"
	"testing"
)

// A printed figure, what came out, and how far apart they may be.
type figure struct {
	name           string
	got, want, tol float64
}

func compare(t *testing.T, figures []figure) {
	t.Helper()
	for _, f := range figures {
		if !(math.Abs(f.got-f.want) <= f.tol) {
			t.Errorf("%s is %.5g, want %.5g within %g", f.name, f.got, f.want, f.tol)
		}
	}
}

// degrees of latitude from degrees and minutes.
func degrees(d, m float64) float64 { return d + m/60 }

// Allen and others 1998 (FAO-56), examples 8 and 9: 20° S on 3 September; seen in copies
// of the text.
func TestRadiationAndDayLengthOfExamples8And9(t *testing.T) {
	const south, day = -20, 246
	compare(t, []figure{
		{"the distance", relativeDistance(day), 0.985, 0.0005},
		{"the declination", declination(day), 0.120, 0.0005},
		{"the sunset angle", sunsetAngle(south, day), 1.527, 0.0005},
		{"the radiation", extraterrestrialRadiation(south, day), 32.2, 0.05},
		{"the radiation as water", waterOfRadiation * extraterrestrialRadiation(south, day), 13.1, 0.05},
		{"the day", dayLength(south, day), 11.7, 0.05},
	})
}

// FAO-56 example 14: 3.2 m/s at 10 m; seen in a copy of the text.
func TestWindOfExample14(t *testing.T) {
	compare(t, []figure{{"the wind", windAtTwoMetres(3.2, 10), 2.4, 0.05}})
}

// FAO-56 annex 2, tables 2.3 and 2.4; seen in a copy of the text.
func TestVapourPressuresOfTheTables(t *testing.T) {
	compare(t, []figure{
		{"e°(24.5)", saturationPressure(24.5), 3.075, 0.001},
		{"e°(15)", saturationPressure(15), 1.705, 0.001},
		{"the slope at 30", slope(30), 0.243, 0.0008},
	})
}

// FAO-56 example 17: Bangkok in April, by monthly means; figures seen in copies of the
// text, the month before and the height of the wind from memory.
func TestPenmanMonteithOfExample17(t *testing.T) {
	const day, low, high, vapour = 105, 25.6, 34.8, 2.85
	latitude := degrees(13, 44)
	above := extraterrestrialRadiation(latitude, day)
	light := shortwaveOfSunshine(8.5, dayLength(latitude, day), above)
	clear := clearSky(2, above)
	net := netShortwave(light) - netLongwave(low, high, vapour, clearness(light, clear))
	ground := 0.14 * ((low+high)/2 - 29.2) // equation 43, of months
	compare(t, []figure{
		{"Ra", above, 38.06, 0.05}, {"N", dayLength(latitude, day), 12.31, 0.05}, {"Rs", light, 22.65, 0.02},
		{"es", meanSaturationPressure(low, high), 4.42, 0.005}, {"Rn", net, 14.33, 0.02}, {"G", ground, 0.14, 0.005},
		{"ETo", penmanMonteith(air{low, high, vapour, 2, airPressure(2), net, ground}), 5.72, 0.02},
	})
}

// FAO-56 example 18: Uccle on 6 July; seen in a copy of the text, line by line.
func TestPartsOfExample18(t *testing.T) {
	const day, low, high = 187, 12.3, 21.5
	latitude := degrees(50, 48)
	above := extraterrestrialRadiation(latitude, day)
	light := shortwaveOfSunshine(9.25, dayLength(latitude, day), above)
	clear := clearSky(100, above)
	vapour := vapourPressure(low, high, 63, 84)
	back := netLongwave(low, high, vapour, clearness(light, clear))
	compare(t, []figure{
		{"u2", windAtTwoMetres(10/3.6, 10), 2.078, 0.001}, {"P", airPressure(100), 100.1, 0.05},
		{"gamma", psychrometricConstant(airPressure(100)), 0.0666, 0.00005}, {"the slope", slope((low + high) / 2), 0.122, 0.0005},
		{"e°(Tmax)", saturationPressure(high), 2.564, 0.001}, {"e°(Tmin)", saturationPressure(low), 1.431, 0.001},
		{"es", meanSaturationPressure(low, high), 1.997, 0.001}, {"ea", vapour, 1.409, 0.001},
		{"Ra", above, 41.09, 0.05}, {"N", dayLength(latitude, day), 16.1, 0.05}, {"Rso", clear, 30.90, 0.02},
		{"Rns", netShortwave(light), 17.00, 0.02}, {"Rnl", back, 3.71, 0.02}, {"Rn", netShortwave(light) - back, 13.28, 0.02},
	})
}

// The sun neither sets nor rises beyond the polar circles; by definition.
func TestPolarDaysAndNights(t *testing.T) {
	compare(t, []figure{
		{"midsummer at 80° N", dayLength(80, 172), 24, 0}, {"midwinter at 80° N", dayLength(80, 355), 0, 0},
		{"midsummer at 80° S", dayLength(-80, 355), 24, 1e-9}, {"midwinter at the south pole", dayLength(-90, 172), 0, 0},
		{"light in the night at 80° N", extraterrestrialRadiation(80, 355), 0, 1e-9},
		{"light under the sky without sun", shortwaveOfSunshine(3, 0, 0), 0, 0},
	})
}

// The day is as long as the night everywhere at the equinox, whose place in the year is
// that of declination nought; by definition.
func TestTheEquatorHasTwelveHours(t *testing.T) {
	for day := 1; day <= 366; day += 5 {
		if n := dayLength(0, day); math.Abs(n-12) > 1e-9 {
			t.Fatalf("day %d is %g h long", day, n)
		}
		if north, south := dayLength(40, day), dayLength(-40, day); math.Abs(north+south-24) > 1e-9 {
			t.Fatalf("day %d is %g h long at 40° N and %g h at 40° S", day, north, south)
		}
	}
}
