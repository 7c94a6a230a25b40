package weather

import (
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode"
)

// A DateOrder is the order of the numbers in a date that does not begin with a year of
// four figures.
type DateOrder uint8

// The orders.
const (
	YearMonthDay DateOrder = iota
	DayMonthYear
	MonthDayYear
)

func (o DateOrder) String() string {
	return [...]string{"year, month, day", "day, month, year", "month, day, year"}[o]
}

// The years that a record may be of.
const firstYear, lastYear = 1700, 2200

// dateParts are the numbers in a date as it is written.
type dateParts struct {
	n      [3]int
	digits [3]int
	count  int
	// month is the place of a month that is written as a word; -1 for none.
	month int
}

// months are how the names of months begin in some languages, their accents left off.
var months = [12]string{
	"jan ene gen", "feb fev", "mar mrt", "apr abr avr", "may mai mag mei", "jun juin giu", "jul juil lug", "aug ago aou", "sep set", "oct okt ott", "nov",
	"dec dez dic",
}

var unaccented = strings.NewReplacer("é", "e", "è", "e", "ä", "a", "û", "u", "ç", "c")

// monthNamed returns the number of a month; 0 for what is none.
func monthNamed(word string) int {
	word = unaccented.Replace(strings.ToLower(word))
	for i := 11; i >= 0 && len(word) >= 3; i-- {
		for begins := range strings.FieldsSeq(months[i]) {
			if strings.HasPrefix(word, begins) {
				return i + 1
			}
		}
	}
	return 0
}

// longestDate is the longest text that is taken for a date [bytes].
const longestDate = 40

// partsOf takes a date apart; a time of the day behind it is left away.
func partsOf(text string) (p dateParts, ok bool) {
	p.month = -1
	if len(text) > longestDate {
		return p, false
	}
	marks := 0
	for len(text) > 0 && p.count < 3 {
		size := strings.IndexFunc(text, func(r rune) bool { return r < '0' || r > '9' })
		word := size == 0 && unicode.IsLetter(rune(text[0])) || text[0] >= 0x80
		if word {
			size = strings.IndexFunc(text, func(r rune) bool { return !unicode.IsLetter(r) })
		}
		if size < 0 {
			size = len(text)
		}
		switch {
		case size == 0 && strings.IndexByte("-/. ,", text[0]) >= 0:
			marks++
			text = text[1:]
			continue
		case size == 0 || word && monthNamed(text[:size]) == 0, word && p.month >= 0, size > 14:
			return p, false
		case word:
			p.month, p.n[p.count] = p.count, monthNamed(text[:size])
		default:
			for _, b := range []byte(text[:min(size, 8)]) {
				p.n[p.count] = 10*p.n[p.count] + int(b-'0')
			}
			p.digits[p.count] = size
		}
		p.count++
		text = text[size:]
	}
	return p, marks >= p.count-1 && timeOfDay(text)
}

// timeOfDay reports whether what stands behind a date can be a time, or is nothing.
func timeOfDay(rest string) bool {
	rest = strings.TrimSpace(rest)
	if rest == "" || rest == "." {
		return true
	}
	rest = strings.TrimLeft(rest, "T, ")
	if len(rest) == 0 || rest[0] < '0' || rest[0] > '9' {
		return false
	}
	return !strings.ContainsFunc(rest, func(r rune) bool {
		return !unicode.IsDigit(r) && !strings.ContainsRune(":.,+- ZUTCAPMapm", r)
	})
}

// century makes a year of one that is written with two figures.
func century(year, digits int) int {
	switch {
	case digits > 2:
		return year
	case year < 50:
		return 2000 + year
	}
	return 1900 + year
}

// day returns the date that the parts say; ok is false where they say none.
func (p dateParts) day(order DateOrder) (number int, ok bool) {
	n, d := p.n, p.digits
	switch {
	case p.count == 1 && (d[0] == 8 || d[0] == 10 || d[0] == 12 || d[0] == 14):
		return dayOf(n[0]/10000, n[0]/100%100, n[0]%100)
	case p.count == 1 && d[0] == 7:
		return dayOfYear(n[0]/1000, n[0]%1000)
	case p.count == 2 && d[0] == 4 && d[1] == 3:
		return dayOfYear(n[0], n[1])
	case p.count != 3:
		return 0, false
	case d[0] == 4:
		return dayOf(n[0], n[1], n[2])
	case p.month == 0:
		return dayOf(century(n[2], d[2]), n[0], n[1])
	case p.month == 1 && order != YearMonthDay, p.month == 1 && d[2] == 4:
		return dayOf(century(n[2], d[2]), n[1], n[0])
	case order == MonthDayYear:
		return dayOf(century(n[2], d[2]), n[0], n[1])
	case order == DayMonthYear || d[2] == 4:
		return dayOf(century(n[2], d[2]), n[1], n[0])
	}
	return dayOf(century(n[0], d[0]), n[1], n[2])
}

// open reports whether the order of the parts is not plain from themselves.
func (p dateParts) open() bool {
	return p.count == 3 && p.digits[0] != 4 && !(p.month >= 0 && p.digits[2] == 4)
}

// dayOf numbers the days of the calendar, from 1 January 1970.
func dayOf(year, month, day int) (int, bool) {
	if year < firstYear || year > lastYear || month < 1 || month > 12 || day < 1 || day > 31 {
		return 0, false
	}
	t := time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC)
	return numberOf(t), t.Day() == day
}

func dayOfYear(year, n int) (int, bool) {
	if year < firstYear || year > lastYear || n < 1 || n > 366 {
		return 0, false
	}
	t := time.Date(year, time.January, n, 0, 0, 0, 0, time.UTC)
	return numberOf(t), t.Year() == year
}

const secondsInDay = 86400

// numberOf numbers a midnight, timeOf gives it back.
func numberOf(t time.Time) int { return int(t.Unix() / secondsInDay) }

func timeOf(number int) time.Time { return time.Unix(int64(number)*secondsInDay, 0).UTC() }

// isDate reports whether text is a date in some order.
func isDate(text string) bool {
	p, ok := partsOf(text)
	if !ok {
		return false
	}
	for o := range MonthDayYear + 1 {
		if _, ok := p.day(o); ok {
			return true
		}
	}
	return false
}

// orderOf finds the order of the dates of rows that follow one another: the one in
// which most are dates, and most come a day after the one before. It says why.
func orderOf(texts []string) (DateOrder, string) {
	parts := openDates(texts)
	if len(parts) == 0 {
		return YearMonthDay, ""
	}
	tries := []DateOrder{DayMonthYear, MonthDayYear, YearMonthDay}
	var dates, steps [3]int
	for i, o := range tries {
		before := 0
		for _, p := range parts {
			n, ok := p.day(o)
			if ok {
				dates[i]++
				if n == before+1 || n == before-1 {
					steps[i]++
				}
			}
			before = n
		}
	}
	best := 0
	for i := range tries {
		if dates[i] > dates[best] || dates[i] == dates[best] && steps[i] > steps[best] {
			best = i
		}
	}
	order := tries[best]
	for i := range tries {
		if i != best && dates[i] == dates[best] && steps[i] == steps[best] && slices.ContainsFunc(parts, func(p dateParts) bool { a, _ := p.day(order); b, _ := p.day(tries[i]); return a != b }) {
			return order, fmt.Sprintf("The dates can be read in two orders, and the rows do not tell which; %v is taken. Say so if it is another.", order)
		}
	}
	if dates[best] > dates[(best+1)%3] && dates[best] > dates[(best+2)%3] {
		return order, fmt.Sprintf("The order of the dates is %v: in any other, some of them would be none.", order)
	}
	return order, fmt.Sprintf("The order of the dates is %v: so most of them follow one another day by day.", order)
}

// openDates are the dates among texts whose order is not plain from themselves.
func openDates(texts []string) []dateParts {
	var parts []dateParts
	for _, text := range texts {
		if p, ok := partsOf(text); ok && p.open() {
			parts = append(parts, p)
		}
	}
	return parts
}
