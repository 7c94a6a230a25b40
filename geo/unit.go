package geo

import (
	"fmt"
	"math"
	"strings"
)

// Foot is the international foot [m], exact by definition (1959).
const Foot = 0.3048

// SurveyFoot is the US survey foot [m]: 1200/3937 by definition (1893).
const SurveyFoot = 1200.0 / 3937.0

// ParseLength returns the length in metres of the unit that a person or a file
// names: "m", "ft", "us-ft" and their usual spellings, whatever their case.
func ParseLength(name string) (metres float64, err error) {
	switch strings.ToLower(strings.TrimSpace(name)) {
	case "m", "metre", "metres", "meter", "meters":
		return 1, nil
	case "cm", "centimetre", "centimetres", "centimeter", "centimeters":
		return 0.01, nil
	case "ft", "foot", "feet", "international foot":
		return Foot, nil
	case "us-ft", "ftus", "us foot", "us survey foot", "us_survey_foot", "foot_us", "us survey feet":
		return SurveyFoot, nil
	}
	return 0, fmt.Errorf("the length unit %q is not known; give m, ft or us-ft", name)
}

// LengthName names for a person the unit that is so many metres long.
func LengthName(metres float64) string {
	const close = 1e-9
	switch {
	case metres == 1:
		return "metres"
	case math.Abs(metres-Foot) < close:
		return "feet (0.3048 m)"
	case math.Abs(metres-SurveyFoot) < close:
		return "US survey feet (1200/3937 m)"
	}
	return fmt.Sprintf("units of %.7g m", metres)
}

// LengthCode names the unit that is so many metres long as ParseLength takes it: m,
// ft, us-ft or cm; empty where it is another.
func LengthCode(metres float64) string {
	const close = 1e-9
	for _, code := range []string{"m", "ft", "us-ft", "cm"} {
		if length, err := ParseLength(code); err == nil && math.Abs(metres-length) < close {
			return code
		}
	}
	return ""
}
