package geo

import (
	"math"
	"testing"
)

func TestRangesScaleFigureByFigure(t *testing.T) {
	if got, want := (Range{1, 2, 3}).Scale(10), (Range{10, 20, 30}); got != want {
		t.Errorf("ten times is %v, want %v", got, want)
	}
}

func TestARangeOutOfOrderIsReported(t *testing.T) {
	for _, r := range []Range{{3, 2, 1}, {1, 3, 2}, {math.NaN(), 1, 2}} {
		if r.Check() == nil {
			t.Errorf("%v passes", r)
		}
	}
	if err := (Range{1, 1, 2}).Check(); err != nil {
		t.Error(err)
	}
}

func TestUnitsAreTheDefinedLengths(t *testing.T) {
	// The international foot is 0.3048 m and the US survey foot 1200/3937 m:
	// US Federal Register notice of 1959-07-01.
	for name, want := range map[string]float64{
		"m": 1, "Metres": 1, "ft": 0.3048, "US survey foot": 0.3048006096012192, "us-ft": 0.3048006096012192, "cm": 0.01,
	} {
		if got, err := ParseLength(name); err != nil || math.Abs(got-want) > 1e-15 {
			t.Errorf("%q is %v m (%v), want %v", name, got, err, want)
		}
	}
	if _, err := ParseLength("cubit"); err == nil {
		t.Error("a cubit is taken")
	}
}

func TestUnitsAreNamedForPeople(t *testing.T) {
	for want, metres := range map[string]float64{
		"metres": 1, "feet (0.3048 m)": Foot, "US survey feet (1200/3937 m)": SurveyFoot, "units of 0.01 m": 0.01,
	} {
		if got := LengthName(metres); got != want {
			t.Errorf("%v m is called %q, want %q", metres, got, want)
		}
	}
}
