package action

import (
	"slices"
	"strconv"
	"strings"

	"runnel/geo/table"
)

// orders are the usual orders of columns that may be named.
var orders = []table.Order{table.PNEZD, table.PENZD, table.XYZ, table.YXZ}

// columnPlaces says which of a table's columns a word means.
var columnPlaces = map[string]func(*table.Columns) *int{
	"point": func(c *table.Columns) *int { return &c.Name }, "name": func(c *table.Columns) *int { return &c.Name },
	"east": func(c *table.Columns) *int { return &c.X }, "x": func(c *table.Columns) *int { return &c.X },
	"longitude": func(c *table.Columns) *int { return &c.X },
	"north":     func(c *table.Columns) *int { return &c.Y }, "y": func(c *table.Columns) *int { return &c.Y },
	"latitude": func(c *table.Columns) *int { return &c.Y },
	"height":   func(c *table.Columns) *int { return &c.Z }, "z": func(c *table.Columns) *int { return &c.Z },
	"code": func(c *table.Columns) *int { return &c.Code },
}

// columnForm is how the columns are typed.
const columnForm = "give PNEZD, PENZD, XYZ or YXZ, or columns as point=1,north=2,east=3,height=4,code=5"

// checkColumns reports columns that can be meant in no file.
func (m *Measured) checkColumns() error {
	if m.Columns == "" || m.order() != table.Unordered {
		return nil
	}
	for _, part := range strings.Split(m.Columns, ",") {
		what, which, ok := strings.Cut(part, "=")
		if columnPlaces[strings.ToLower(strings.TrimSpace(what))] == nil || !ok || strings.TrimSpace(which) == "" {
			return mistyped("--columns has %q; %s", part, columnForm)
		}
		if n, err := strconv.Atoi(strings.TrimSpace(which)); err == nil && n < 1 {
			return mistyped("--columns has %q; columns are counted from 1", part)
		}
	}
	return nil
}

// order is the usual order that is named; Unordered where none is.
func (m *Measured) order() table.Order {
	i := slices.IndexFunc(orders, func(o table.Order) bool { return strings.EqualFold(o.String(), strings.TrimSpace(m.Columns)) })
	if i < 0 {
		return table.Unordered
	}
	return orders[i]
}

// columns are those of one file of delimited text.
func (m *Measured) columns(look *table.Look, name string) (*table.Columns, error) {
	fields := len(look.Header)
	for _, row := range look.First {
		fields = max(fields, len(row))
	}
	if order := m.order(); order != table.Unordered {
		c, ok := order.Columns(fields)
		if !ok {
			return nil, sentence("%s has %d columns, too few for %v; say with --columns which they are", name, fields, order)
		}
		return &c, nil
	}
	c := table.None
	for _, part := range strings.Split(m.Columns, ",") {
		what, which, _ := strings.Cut(part, "=")
		at, err := columnNamed(which, look.Header, fields)
		if err != nil {
			return nil, sentence("%s: %w", name, err)
		}
		*columnPlaces[strings.ToLower(strings.TrimSpace(what))](&c) = at
	}
	if err := c.Check(); err != nil {
		return nil, sentence("%s: %w", name, err)
	}
	return &c, nil
}

// columnNamed finds a column by its name in the header, else by its number from 1.
func columnNamed(text string, header []string, fields int) (int, error) {
	text = strings.TrimSpace(text)
	if i := slices.IndexFunc(header, func(name string) bool { return strings.EqualFold(strings.TrimSpace(name), text) }); i >= 0 {
		return i, nil
	}
	n, err := strconv.Atoi(text)
	switch {
	case err == nil && n >= 1 && n <= fields:
		return n - 1, nil
	case err == nil:
		return 0, sentence("there is no column %d; there are %d", n, fields)
	case len(header) == 0:
		return 0, sentence("the columns have no names, so there is none called %s; give its number", quoted(text))
	}
	return 0, sentence("there is no column called %s; there are %s", quoted(text), strings.Join(header, ", "))
}
