package hydrograph

import (
	"errors"
	"fmt"
	"math"
	"sort"
	"strconv"
	"strings"
	"sync"

	"runnel/analysis/internal/printed"
	"runnel/assets"
	"runnel/geo/plan"
)

// A Shape is how the rain of a storm falls in time: its mass curve.
type Shape struct {
	Name string
	// Times rise from 0 to 1, shares of the storm's time; Fallen are the shares of its
	// rain that have fallen by then, 0 at first and 1 at last. It falls evenly between.
	Times, Fallen []float64
	// Hours is how long the storm lasts that the shape is of [h]; 0 for any.
	Hours float64
	// Source names the publication, for a person.
	Source string
}

// At returns the share of the rain that has fallen by a share of the storm's time.
func (s Shape) At(t float64) float64 {
	i := sort.SearchFloat64s(s.Times, t)
	switch {
	case !(t > 0):
		return 0
	case i == len(s.Times):
		return 1
	}
	part := (t - s.Times[i-1]) / (s.Times[i] - s.Times[i-1])
	return s.Fallen[i-1] + part*(s.Fallen[i]-s.Fallen[i-1])
}

// Told returns what a person should know of the shape in a storm of some hours, or
// nothing: the NRCS shapes are of 24 hours, and hold the hardest rain of every
// shorter time in their midst. Squeezed into less, all of them fall harder still.
func (s Shape) Told(hours float64) string {
	if s.Hours == 0 || s.Hours == hours {
		return ""
	}
	return fmt.Sprintf("%s is the course of a storm of %g hours; put into %g hours its rain peaks otherwise than any such storm's. Set the storm to %[2]g hours and to the rain of that time, or choose another course.", s.Name, s.Hours, hours)
}

// ShapeNamed finds a shape among plan.Distributions by its name, whatever its case.
// The table is the person's own, that plan.OwnStorm stands for.
func ShapeNamed(name, table string) (Shape, error) {
	name = strings.TrimSpace(name)
	if name == "" {
		name = plan.Distributions()[0]
	}
	if strings.EqualFold(name, plan.OwnStorm) {
		s, err := ParseShape(table)
		s.Name, s.Source = plan.OwnStorm, "own table"
		return s, err
	}
	for _, s := range shapes() {
		if strings.EqualFold(s.Name, name) {
			return s, nil
		}
	}
	return Shape{}, fmt.Errorf("the course of the storm %q is not known; give one of: %s", name, strings.Join(plan.Distributions(), ", "))
}

// ParseShape reads a mass curve: pairs of a share of the storm's time and the share
// of its rain that has fallen by then, such as "0 0, 0.5 0.8, 1 1".
func ParseShape(text string) (Shape, error) {
	return parseCurve(text, 1)
}

// parseCurve reads a mass curve whose times run up to an end.
func parseCurve(text string, end float64) (s Shape, err error) {
	if strings.TrimSpace(text) == "" {
		return Shape{}, errors.New(`the storm's own table is empty; give pairs of time and rain, such as "0 0, 0.5 0.8, 1 1"`)
	}
	for i, pair := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ';' || r == '\n' }) {
		words := strings.Fields(pair)
		if len(words) != 2 {
			return Shape{}, fmt.Errorf(`pair %d of the storm's table is %q; give a share of the time and a share of the rain, such as "0.5 0.8"`, i+1, strings.TrimSpace(pair))
		}
		t, err1 := strconv.ParseFloat(words[0], 64)
		v, err2 := strconv.ParseFloat(words[1], 64)
		if err := errors.Join(err1, err2); err != nil || !(t >= 0 && t <= end && v >= 0 && v <= 1) {
			return Shape{}, fmt.Errorf("pair %d of the storm's table is %q; give two figures, the time from 0 to %g and the rain from 0 to 1", i+1, strings.TrimSpace(pair), end)
		}
		s.Times, s.Fallen = append(s.Times, t/end), append(s.Fallen, v)
	}
	return s, s.check()
}

// check reports a mass curve that does not rise from nothing to all.
func (s Shape) check() error {
	last := len(s.Times) - 1
	if last < 1 || s.Times[0] != 0 || s.Fallen[0] != 0 || s.Times[last] != 1 || s.Fallen[last] != 1 {
		return errors.New(`the storm's table does not run from nothing to all; begin it with "0 0" and end it with "1 1"`)
	}
	for i := range last {
		if s.Times[i+1] <= s.Times[i] {
			return fmt.Errorf("the time in pair %d of the storm's table is not later than the one before; put the pairs in order of time", i+2)
		}
		if s.Fallen[i+1] < s.Fallen[i] {
			return fmt.Errorf("the rain in pair %d of the storm's table is less than the one before; give what has fallen in all by that time", i+2)
		}
	}
	return nil
}

// shapes are those of formulas and those of the table.
var shapes = sync.OnceValue(func() []Shape {
	tabled, err := parseShapes(assets.StormShapes)
	if err != nil {
		panic("hydrograph: the built-in table of storms: " + err.Error())
	}
	even := Shape{Name: "even", Times: []float64{0, 1}, Fallen: []float64{0, 1}, Source: "by definition"}
	return append([]Shape{triangular(), even}, tabled...)
})

// peakAt is the share of the storm's time at which the triangle peaks, 3/8: the
// proportions of the unit hydrograph of [NEH630]; [YenChow1980] found 0.3 to 0.5 in
// records (both from memory).
const peakAt = 3.0 / 8

// triangular is the rain that rises and falls in straight lines, its mass curve in
// steps of a 400th.
func triangular() Shape {
	const steps = 400
	s := Shape{Name: "triangular", Source: "Yen and Chow 1980, peak at 3/8 of the storm; from memory"}
	for i := range steps + 1 {
		t := float64(i) / steps
		fallen := t * t / peakAt
		if t > peakAt {
			fallen = 1 - (1-t)*(1-t)/(1-peakAt)
		}
		s.Times, s.Fallen = append(s.Times, t), append(s.Fallen, fallen)
	}
	return s
}

// parseShapes reads a heading, then rows of a shape, its hours, its curve, its
// source and what it was checked against.
func parseShapes(text string) ([]Shape, error) {
	table, err := printed.Read(text, 5)
	if err != nil {
		return nil, err
	}
	var all []Shape
	for _, row := range table.Rows {
		hours, err := printed.Figures{First: 1, End: 2, Low: 0, High: 72}.In(table, row)
		if err != nil {
			return nil, err
		}
		end := hours[0]
		if end == 0 {
			end = 1
		}
		s, err := parseCurve(row[2], end)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", row[0], err)
		}
		s.Name, s.Hours, s.Source = row[0], hours[0], row[3]
		all = append(all, s)
	}
	return all, nil
}

// A Storm is rain [mm] that falls in some hours.
type Storm struct {
	Depth, Hours float64
	Shape        Shape
}

// Steps returns the rain of each step [mm], as many as the storm lasts.
func (s Storm) Steps(step float64) []float64 {
	sum := s.Fallen(step)
	for i := len(sum) - 1; i > 0; i-- {
		sum[i] -= sum[i-1]
	}
	return sum
}

// Fallen returns what has fallen by the end of each step [mm], all of it at the last.
func (s Storm) Fallen(step float64) []float64 {
	if !(s.Hours > 0 && s.Depth > 0 && step > 0) {
		return nil
	}
	lasts := s.Hours * secondsAnHour
	sum := make([]float64, int(math.Ceil(lasts/step-1e-9)))
	for i := range sum {
		sum[i] = s.Depth * s.Shape.At(float64(i+1)*step/lasts)
	}
	sum[len(sum)-1] = s.Depth
	return sum
}

// Hardest returns the most rain that falls within some time [mm], at the start of
// which the storm may have begun already.
func (s Storm) Hardest(hours float64) float64 {
	share := hours / s.Hours
	if !(share < 1) {
		return s.Depth
	}
	most := 0.0
	for _, t := range s.Shape.Times { // it begins or ends where the curve has a corner
		most = max(most, s.Shape.At(t+share)-s.Shape.At(t), s.Shape.At(t)-s.Shape.At(t-share))
	}
	return most * s.Depth
}

const secondsAnHour = 3600
