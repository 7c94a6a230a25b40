package channel

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Limits of a surveyed section: points, how far they may lie from the line and from
// its bed [m], and how far off nought its height on the line may be [m].
const (
	surveyedPoints = 500
	surveyedFar    = 50.0
	surveyedSlack  = 0.01
)

var (
	errSurveyedForm   = errors.New("write offset and height in metres for each point, from left to right, as in “-1 0.4; 0 0; 1 0.4”")
	errSurveyedCommas = errors.New("its surveyed section has more than two numbers in one point; part the points by “;”, as in “-1 0.4; 0 0; 1 0.4”, each an offset from the channel's line and a height above its bed there, in metres")
	errSurveyedLevels = fmt.Errorf("its surveyed section has heights of more than %g m; give heights above the channel's bed on the line, not levels, so that it is 0 at offset 0, as in “-1 0.4; 0 0; 1 0.4”", surveyedFar)
)

// ParseSurveyed reads a surveyed section: points from left to right, parted by
// semicolons or line ends, each an offset from the channel's line and a height above
// its bed there [m]. Text of spaces is no section.
func ParseSurveyed(text string) ([]Point, error) {
	var line []Point
	written := math.Inf(-1)
	for _, part := range strings.FieldsFunc(text, func(r rune) bool { return r == ';' || r == '\n' || r == '\r' }) {
		if strings.TrimSpace(part) == "" {
			continue
		}
		p, err := surveyedPoint(part)
		if err != nil {
			return nil, err
		}
		if p.Off < written {
			return nil, fmt.Errorf("its surveyed section goes back at %q; %w", shortened(part), errSurveyedForm)
		}
		written = p.Off
		if k := len(line) - 1; k >= 0 {
			// A wall leans a little, and so does what follows hard on it.
			p.Off = max(p.Off, line[k].Off+max(steepest*math.Abs(p.Height-line[k].Height), steepest*steepest))
		}
		if line = append(line, p); len(line) > surveyedPoints {
			return nil, fmt.Errorf("its surveyed section has more than %d points; leave some out", surveyedPoints)
		}
	}
	return line, checkSurveyed(line)
}

// surveyedPoint reads one point. A comma between digits is a decimal one.
func surveyedPoint(part string) (Point, error) {
	numbers := strings.Fields(strings.NewReplacer("−", "-", ",", ".").Replace(part))
	unread := fmt.Errorf("its surveyed section cannot be read at %q; %w", shortened(part), errSurveyedForm)
	var v []float64
	for _, number := range numbers {
		n, err := strconv.ParseFloat(strings.TrimSuffix(number, "."), 64)
		if err != nil || math.IsNaN(n) || math.IsInf(n, 0) {
			return Point{}, unread
		}
		v = append(v, n)
	}
	switch {
	case len(v) > 2:
		return Point{}, errSurveyedCommas
	case len(v) < 2 || math.Abs(v[0]) > surveyedFar:
		return Point{}, unread
	case math.Abs(v[1]) > surveyedFar:
		return Point{}, errSurveyedLevels
	}
	return Point{v[0], v[1]}, nil
}

// quoted is how many letters of what cannot be read are quoted.
const quoted = 20

func shortened(text string) string {
	letters := []rune(strings.TrimSpace(text))
	if len(letters) > quoted {
		return string(letters[:quoted]) + "…"
	}
	return string(letters)
}

func checkSurveyed(line []Point) error {
	switch {
	case len(line) == 0:
		return nil
	case len(line) == 1:
		return errors.New("its surveyed section has one point only; give two at least")
	case line[0].Off > 0 || line[len(line)-1].Off < 0:
		return errors.New("its surveyed section lies on one side of the channel's line; give points on both sides of offset 0")
	}
	s := Section{Line: line}
	if high := s.Height(0); math.Abs(high) > surveyedSlack {
		return fmt.Errorf("its surveyed section lies at %.2f m on the channel's line; give heights above the bed on the line, so that it is 0 at offset 0", high)
	}
	return nil
}
