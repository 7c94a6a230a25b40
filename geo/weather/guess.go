package weather

import (
	"math"
	"slices"
	"strings"

	"runnel/geo/delimited"
)

// unknown reports whether text is one of the usual marks of no figure.
func unknown(text string) bool {
	switch strings.ToLower(text) {
	case "", "na", "n/a", "nan", "null", "none", "-", "--", "---", "*", "?", ".", "m", "x", "nodata", "missing":
		return true
	}
	return false
}

// guess finds out which columns are what, in which order dates are written and in which
// units figures are, and says why.
func guess(l *Look, days []line) {
	l.Columns = byName(l.Header)
	l.guessDate(days)
	if c := l.Columns; c.Rain < 0 && c.Low < 0 && c.High < 0 && c.Level < 0 {
		l.guessByFigures(days)
	} else {
		l.tellColumns(func(what, column string) { l.note("%s is taken from %s by its name.", what, column) })
	}
	if at := l.Columns.Date; at >= 0 {
		order, why := orderOf(column(days, at))
		if l.Order = order; why != "" {
			l.note("%s", why)
		}
	}
	l.guessUnits(days)
}

// FindOrder finds the order of the dates in the first rows, for a column of dates that
// a person chose.
func (l *Look) FindOrder() {
	var texts []string
	for _, fields := range l.First {
		if l.Columns.Date < len(fields) {
			texts = append(texts, fields[l.Columns.Date])
		}
	}
	l.Order, _ = orderOf(texts)
}

// FindUnits finds the units that are empty for columns that a person chose.
func (l *Look) FindUnits() {
	days := make([]line, len(l.First))
	for i, fields := range l.First {
		days[i].fields = fields
	}
	l.guessUnits(days)
}

// tellColumns says what each column is taken for, a sentence each.
func (l *Look) tellColumns(says func(what, column string)) {
	for _, q := range quantities {
		if at := *q.Column(&l.Columns); at >= 0 {
			says(q.Label, l.title(at))
		}
	}
}

// column returns a column's texts.
func column(days []line, at int) []string {
	texts := make([]string, 0, len(days))
	for _, d := range days {
		if at < len(d.fields) {
			texts = append(texts, d.fields[at])
		}
	}
	return texts
}

// figures returns a column's numbers, and whether it holds nothing else but marks of none.
func (l *Look) figures(days []line, at int) (v []float64, only bool) {
	only = true
	for _, text := range column(days, at) {
		n, ok := delimited.Number([]byte(text), l.DecimalComma)
		switch {
		case ok && !blankNumber(text):
			v = append(v, n)
		case !ok && !unknown(text):
			only = false
		}
	}
	return v, only && len(v) > 0
}

// dated reports whether most of a column are dates.
func dated(days []line, at int) bool {
	n := 0
	for _, text := range column(days, at) {
		if isDate(text) {
			n++
		}
	}
	return 2*n > len(days)
}

func (l *Look) guessDate(days []line) {
	c := &l.Columns
	if c.Date >= 0 && !dated(days, c.Date) {
		if c.Day < 0 && c.Year >= 0 && c.Month >= 0 {
			c.Day = c.Date // a column called day is that of the month
		}
		c.Date = -1
	}
	if whole := c.Year >= 0 && (c.OfYear >= 0 || c.Month >= 0 && c.Day >= 0); c.Date >= 0 || whole {
		if c.Date >= 0 {
			c.Year, c.Month, c.Day, c.OfYear = -1, -1, -1, -1
		}
		return
	}
	c.Year, c.Month, c.Day, c.OfYear = -1, -1, -1, -1
	width := fieldsIn(days)
	for at := range width {
		if dated(days, at) {
			c.Date = at
			l.note("The date is taken from %s, which holds dates.", l.title(at))
			return
		}
	}
	l.guessNumbers(days, width)
}

// guessNumbers finds the year, the month and the day in columns of their own by what
// such numbers can be.
func (l *Look) guessNumbers(days []line, width int) {
	c := &l.Columns
	within := func(at int, low, high float64) bool {
		v, only := l.figures(days, at)
		return only && slices.Min(v) >= low && slices.Max(v) <= high && !slices.ContainsFunc(v, func(v float64) bool { return v != math.Trunc(v) })
	}
	for at := 0; at+1 < width; at++ {
		switch {
		case !within(at, firstYear, lastYear):
		case at+2 < width && within(at+1, 1, 12) && within(at+2, 1, 31):
			c.Year, c.Month, c.Day = at, at+1, at+2
			l.note("The year, the month and the day are taken from %s and the two after it.", l.title(at))
			return
		case within(at+1, 1, 366):
			c.Year, c.OfYear = at, at+1
			l.note("The year and its day are taken from %s and the one after it.", l.title(at))
			return
		}
	}
	l.note("No column holds dates that can be read; say which it is, or which are the year, the month and the day.")
}

func fieldsIn(days []line) int {
	most := 0
	for _, d := range days {
		most = max(most, len(d.fields))
	}
	return min(most, mostColumns)
}

// guessByFigures guesses columns whose names say nothing: rain is never below nought
// and most often nought, and of two temperatures one is never above the other.
func (l *Look) guessByFigures(days []line) {
	c := &l.Columns
	var free []int
	for at := range fieldsIn(days) {
		if _, only := l.figures(days, at); only && at != c.Date && at != c.Year && at != c.Month && at != c.Day && at != c.OfYear {
			free = append(free, at)
		}
	}
	most := 0.1 // the share of noughts that rain has at least
	for _, at := range free {
		v, _ := l.figures(days, at)
		dry := 0
		for _, v := range v {
			if v == 0 {
				dry++
			}
		}
		if share := float64(dry) / float64(len(v)); slices.Min(v) >= 0 && slices.Max(v) > 0 && share > most {
			c.Rain, most = at, share
		}
	}
	if len(free) == 1 {
		c.Rain = free[0]
	}
	free = slices.DeleteFunc(free, func(at int) bool { return at == c.Rain })
	for i := 0; c.Rain >= 0 && i+1 < len(free) && c.Low < 0; i++ {
		switch a, b := free[i], free[i+1]; {
		case l.below(days, a, b):
			c.Low, c.High = a, b
		case l.below(days, b, a):
			c.Low, c.High = b, a
		}
	}
	if c.Rain < 0 {
		l.note("Neither the names of the columns nor their figures tell which is rain; say which it is.")
		return
	}
	l.note("The names of the columns do not tell what they are, so their figures are gone by.")
	l.tellColumns(func(what, column string) { l.note("%s is taken from %s by its figures.", what, column) })
}

// below reports whether no figure of column a is above that of b on its day, and most
// are below it.
func (l *Look) below(days []line, a, b int) bool {
	pairs, less := 0, 0
	for _, d := range days {
		if max(a, b) >= len(d.fields) {
			continue
		}
		low, okLow := delimited.Number([]byte(d.fields[a]), l.DecimalComma)
		high, okHigh := delimited.Number([]byte(d.fields[b]), l.DecimalComma)
		if !okLow || !okHigh || blankNumber(d.fields[a]) || blankNumber(d.fields[b]) {
			continue
		}
		if pairs++; low > high {
			return false
		} else if low < high {
			less++
		}
	}
	return pairs > 1 && 2*less > pairs
}

// Greatest temperatures that are more than these in the middle, or at all, are no
// degrees Celsius.
const noCelsius, tenthsOfCelsius = 45, 150

// guessUnits takes the units that the names of the columns have, and finds some by
// their figures.
func (l *Look) guessUnits(days []line) {
	for i, q := range quantities {
		at, unit := *q.Column(&l.Columns), q.Unit(&l.Units)
		if at < 0 || at >= len(l.Header) || *unit != "" {
			continue
		}
		if *unit = unitHinted(i, headingOf(l.Header[at]).unit); *unit != "" {
			l.note("%s is in %s by the name of its column.", q.Label, *unit)
		}
	}
	l.guessDegrees(days)
	l.guessRainUnit()
	for _, q := range quantities {
		if at := *q.Column(&l.Columns); at >= 0 && *q.Unit(&l.Units) == "" {
			*q.Unit(&l.Units) = q.Units[0]
		}
	}
}

// guessDegrees finds the unit of temperatures by the greatest of each day.
func (l *Look) guessDegrees(days []line) {
	at := l.Columns.High
	if at < 0 || l.Units.Temperature != "" {
		return
	}
	v, _ := l.figures(days, at)
	slices.Sort(v)
	switch {
	case len(v) == 0:
	case v[len(v)-1] > tenthsOfCelsius && !slices.ContainsFunc(v, func(v float64) bool { return v != math.Trunc(v) }):
		l.Units.Temperature = tenthsOfDegrees
		l.note("The temperatures are too great for degrees and are whole numbers; they are taken for tenths of °C.")
	case v[len(v)/2] > noCelsius:
		l.Units.Temperature = fahrenheit
		l.note("The temperatures are too great for °C; they are taken for °F.")
	}
}

// guessRainUnit takes rain to be of the same hand as the temperatures.
func (l *Look) guessRainUnit() {
	if l.Columns.Rain < 0 || l.Units.Rain != "" {
		return
	}
	switch l.Units.Temperature {
	case fahrenheit:
		l.Units.Rain = inches
		l.note("The temperatures are in °F, so the rain is taken to be in inches; say so if it is not.")
	case tenthsOfDegrees:
		l.Units.Rain = tenthsOfMillimetres
		l.note("The temperatures are in tenths, so the rain is taken to be in tenths of mm; say so if it is not.")
	}
}
