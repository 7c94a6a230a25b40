package ui

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"runnel/app/groundwork"
	"runnel/geo"
)

// A groundAsk is how the ground is asked for.
type groundAsk struct {
	typedCell string
	typedPart [4]string
	// in are the units that it is typed in.
	in units
	// cell and bound are what was typed [m], and usual the cell where none is.
	cell, usual float64
	bound       orb.Bound
	fault       error
}

// lengthUnit is the sign of the unit in which lengths are typed, and its length [m].
func (u units) lengthUnit() (sign string, metres float64) {
	if u == usFeet {
		return "ft", geo.Foot
	}
	return "m", 1
}

// written is a length [m] as it is typed here, to a tenth of a millimetre.
func (a *groundAsk) written(v float64) string {
	_, metres := a.in.lengthUnit()
	return typedNumber(math.Round(v/metres*1e4) / 1e4)
}

// metresOf is what was typed as metres are typed; what is no number stays as it is.
func (a *groundAsk) metresOf(typed string) string {
	_, metres := a.in.lengthUnit()
	v, err := heightTyped(typed)
	if err != nil || metres == 1 {
		return typed
	}
	return strconv.FormatFloat(v*metres, 'f', -1, 64)
}

// turnTo writes anew in other units what was typed.
func (a *groundAsk) turnTo(u units) {
	if a.in == u {
		return
	}
	turned := func(typed string) string {
		v, err := heightTyped(a.metresOf(typed))
		if err != nil {
			return typed
		}
		return (&groundAsk{in: u}).written(v)
	}
	a.typedCell = turned(a.typedCell)
	for i, typed := range a.typedPart {
		a.typedPart[i] = turned(typed)
	}
	a.in = u
}

// read takes what is typed; whole is the part that is taken where none is.
func (a *groundAsk) read(whole orb.Bound) {
	a.fault = nil
	for _, typed := range append([]string{a.typedCell}, a.typedPart[:]...) {
		if strings.TrimSpace(typed) == "" {
			continue
		}
		if _, err := heightTyped(typed); err != nil {
			a.fault = fmt.Errorf("%q is no length; give a number, or leave the field empty", typed)
			return
		}
	}
	if a.cell, a.fault = cellSize(a.metresOf(a.typedCell)); a.fault != nil {
		return
	}
	part := a.typedPart
	for i, typed := range part {
		part[i] = a.metresOf(typed)
	}
	a.bound, a.fault = partOf(whole, part)
}

// findUsual finds the cell that suits what was measured.
func (c *surveying) findUsual() {
	c.ask.usual = 0
	if f, err := groundwork.Frame(c.survey, 0, orb.Bound{}); err == nil {
		c.ask.usual = f.DX
	}
}

// askAgain reads what is typed of the ground.
func (c *surveying) askAgain() error {
	c.ask.read(c.survey.Bound())
	c.made = nil
	c.refresh()
	return c.ask.fault
}
