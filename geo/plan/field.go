package plan

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// FieldType is the type of a field's value.
type FieldType uint8

// A Number has a unit and limits, a Choice is one of a few words, Text is free.
const (
	Number FieldType = iota
	Choice
	Text
)

// A Field describes one property of a kind of feature.
type Field struct {
	// Name stands in files and on the command line; Label is for people.
	Name, Label string
	// Unit of a number; empty for a ratio.
	Unit string
	Type FieldType
	// Usual is a number's value where none is given, unless the field is Optional.
	Usual float64
	// Optional numbers have no usual value: they are NaN until they are set.
	Optional bool
	// Low and High are the least and the greatest number that is taken.
	Low, High float64
	// Of lists the words of a choice; the first is the usual one.
	Of []string
	// Part heads the fields that belong together; empty for none.
	Part string
	// Needs is what makes the field count; the zero Need makes it always count.
	Needs Need
}

// A Need is a field of the same feature that must hold a word, or where Is is empty
// must be set, before another field counts.
type Need struct{ Field, Is string }

// Counts reports whether a field of a feature says anything as the feature is.
func (f Field) Counts(of Feature) bool {
	switch n := f.Needs; {
	case n.Field == "":
		return true
	case n.Is == "":
		_, set := of.Fields[n.Field]
		return set
	default:
		return of.Text(n.Field) == n.Is
	}
}

// A Value is what a field holds: a number or text, as its Field says.
type Value struct {
	Number float64
	Text   string
}

// Parse reads a value as a person types it; a comma may stand for the point.
// Empty text gives ok = false for an optional number: the field is to be unset.
func (f Field) Parse(typed string) (v Value, ok bool, err error) {
	typed = strings.TrimSpace(typed)
	switch f.Type {
	case Text:
		return Value{Text: typed}, typed != "", nil
	case Choice:
		if !slices.Contains(f.Of, typed) {
			return Value{}, false, fmt.Errorf("%s is %q; give one of: %s", f.phrase(), typed, strings.Join(f.Of, ", "))
		}
		return Value{Text: typed}, true, nil
	}
	if typed == "" && f.Optional {
		return Value{}, false, nil
	}
	number, err := strconv.ParseFloat(strings.Replace(typed, ",", ".", 1), 64)
	if err != nil {
		return Value{}, false, fmt.Errorf("%s is %q; give a number from %g to %g%s", f.phrase(), typed, f.Low, f.High, f.in())
	}
	v = Value{Number: number}
	return v, true, f.Check(v)
}

// Check reports a value that the field cannot hold.
func (f Field) Check(v Value) error {
	switch f.Type {
	case Choice:
		if !slices.Contains(f.Of, v.Text) {
			return fmt.Errorf("%s is %q; give one of: %s", f.phrase(), v.Text, strings.Join(f.Of, ", "))
		}
	case Number:
		if math.IsNaN(v.Number) || v.Number < f.Low || v.Number > f.High {
			return fmt.Errorf("%s is %g; give a number from %g to %g%s", f.phrase(), v.Number, f.Low, f.High, f.in())
		}
	}
	return nil
}

// Format writes a value as Parse reads it.
func (f Field) Format(v Value) string {
	if f.Type != Number {
		return v.Text
	}
	return strconv.FormatFloat(v.Number, 'f', -1, 64)
}

func (f Field) phrase() string { return "the " + strings.ToLower(f.Label) }

func (f Field) in() string {
	if f.Unit == "" {
		return ""
	}
	return " " + f.Unit
}
