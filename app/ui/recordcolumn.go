package ui

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"

	"runnel/geo/weather"
)

// recordColumns is how many columns of a file are shown, and those that are taken;
// recordRows how many of its days, and recordWidth how wide each column is [dp].
const (
	recordColumns = 40
	recordRows    = 4
	recordWidth   = 168
)

// A recordRole is what a column may be.
type recordRole struct {
	word string
	// of are the places in the columns that it fills.
	of func(*weather.Columns) []*int
	// dates is set for what says the day.
	dates bool
}

// recordRoles are what a column may be, in the order in which they are offered.
func recordRoles() []recordRole {
	one := func(word string, of func(*weather.Columns) *int) recordRole {
		return recordRole{word: word, of: func(c *weather.Columns) []*int { return []*int{of(c)} }}
	}
	roles := []recordRole{
		one(tr("Date"), func(c *weather.Columns) *int { return &c.Date }),
		one(tr("Year"), func(c *weather.Columns) *int { return &c.Year }),
		one(tr("Month"), func(c *weather.Columns) *int { return &c.Month }),
		one(tr("Day of the month"), func(c *weather.Columns) *int { return &c.Day }),
		one(tr("Day of the year"), func(c *weather.Columns) *int { return &c.OfYear }),
		{word: tr("Mean humidity"), of: func(c *weather.Columns) []*int { return []*int{&c.DampLow, &c.DampHigh} }},
	}
	for i := range roles[:5] {
		roles[i].dates = true
	}
	mean := roles[5]
	roles = roles[:5]
	for _, q := range weather.Quantities() {
		if q.Name == "humidity_low" {
			roles = append(roles, mean)
		}
		roles = append(roles, one(told(q.Label), q.Column))
	}
	return roles
}

// recordRoleOf is the place of a column's role in the list; -1 for none.
func recordRoleOf(c weather.Columns, column int) int {
	return slices.IndexFunc(recordRoles(), func(r recordRole) bool {
		return !slices.ContainsFunc(r.of(&c), func(at *int) bool { return *at != column })
	})
}

// recordGiven gives a column the role of a place in the list, or none. A date and what
// it is made of go not together.
func recordGiven(c weather.Columns, column, role int) weather.Columns {
	roles := recordRoles()
	for _, r := range roles {
		for _, at := range r.of(&c) {
			if *at == column {
				*at = -1
			}
		}
	}
	if role < 0 {
		return c
	}
	for i, r := range roles {
		if r.dates && roles[role].dates && (i == 0) != (role == 0) {
			*r.of(&c)[0] = -1
		}
	}
	for _, at := range roles[role].of(&c) {
		*at = column
	}
	return c
}

// A recordTable shows the first days of a file, with what each column is above it.
type recordTable struct {
	object fyne.CanvasObject
	// picks are those of the columns that are shown.
	picks   []*picker
	columns []int
}

func newRecordTable(r *recording) *recordTable {
	t := &recordTable{}
	words := []string{dash}
	for _, role := range recordRoles() {
		words = append(words, role.word)
	}
	cells := container.NewHBox()
	for i := range widthOfDays(r.look) {
		if i >= recordColumns && recordRoleOf(r.look.Columns, i) < 0 {
			continue
		}
		pick := r.w.newPicker(words)
		t.picks, t.columns = append(t.picks, pick), append(t.columns, i)
		column := container.NewVBox(pick)
		if i < len(r.look.Header) {
			column.Add(tableCell(r.look.Header[i], fyne.TextStyle{Bold: true}))
		}
		for _, row := range r.look.First[:min(len(r.look.First), recordRows)] {
			word := ""
			if i < len(row) {
				word = row[i]
			}
			column.Add(tableCell(word, fyne.TextStyle{}))
		}
		cells.Add(container.New(widthOf(recordWidth), column))
	}
	t.object = container.NewHScroll(container.New(layout.NewCustomPaddedLayout(0, 2*gap, 0, 0), cells))
	return t
}

// show shows what each column is; a person who sets another has the file read again.
func (t *recordTable) show(r *recording) {
	for i, pick := range t.picks {
		at := t.columns[i]
		pick.OnChanged = nil
		pick.SetSelectedIndex(recordRoleOf(r.look.Columns, at) + 1)
		pick.OnChanged = func(string) {
			r.look.Columns = recordGiven(r.look.Columns, at, pick.SelectedIndex()-1)
			r.read()
		}
	}
}

// widthOfDays is how many columns a file has.
func widthOfDays(l weather.Look) int {
	width := len(l.Header)
	for _, row := range l.First {
		width = max(width, len(row))
	}
	return width
}
