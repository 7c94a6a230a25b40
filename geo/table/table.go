// Package table reads measured points from delimited text: a file of rows, each
// with a place, most often a height, and sometimes a point's name and code.
//
// What people send differs in all that such text can differ in: what stands
// between the fields, what stands before the decimals, how the letters are
// encoded, and whether and in what language the columns are named. LookAt finds
// out and says why it thinks so; a person may say otherwise; Read goes by what
// it is given. No row is dropped in silence: each that is not a point is told by
// its number. Rows are the lines of the file, counted from 1; a field in quotes
// ends on its line.
//
// A height that is empty, or is one of the usual marks for none, is NaN: a point
// without a height is a point.
package table

import (
	"fmt"

	"github.com/paulmach/orb"

	"runnel/geo/delimited"
)

// A Look is what a file of rows looks like.
type Look struct {
	delimited.Form
	// Columns and Order are a guess, and Why says in sentences what it rests on.
	Columns Columns
	Order   Order
	// Degrees is set where the names of the columns are those of longitude and
	// latitude.
	Degrees bool
	Why     []string
}

// Columns are the places of what is read in a row, counted from 0; -1 is none.
type Columns struct {
	Name, X, Y, Z, Code int // X is east or longitude, Y north or latitude
}

// None names no column.
var None = Columns{-1, -1, -1, -1, -1}

// Check reports columns by which no point can be read.
func (c Columns) Check() error {
	if c.X < 0 || c.Y < 0 {
		return fmt.Errorf("two columns are needed for where a point lies; say which is east and which is north")
	}
	seen := map[int]bool{}
	for _, at := range []int{c.X, c.Y, c.Z} {
		if at >= 0 && seen[at] {
			return fmt.Errorf("column %d is taken for two things; choose another for one of them", at+1)
		}
		seen[at] = true
	}
	return nil
}

// last is the highest place of a column that a row must have.
func (c Columns) last() int { return max(c.X, c.Y) }

// An Order is a usual order of columns.
type Order uint8

// The orders: P is the point's name or number, N its northing, E its easting, Z
// its height, D its description or code, X east and Y north. Named is what the
// names of the columns say.
const (
	Unordered Order = iota
	Named
	XYZ
	YXZ
	PNEZD
	PENZD
)

func (o Order) String() string {
	return [...]string{"none", "by the names of the columns", "XYZ", "YXZ", "PNEZD", "PENZD"}[o]
}

// Columns returns the places of an order's columns in rows of so many fields; ok
// is false where the order does not say or the row is too short.
func (o Order) Columns(fields int) (c Columns, ok bool) {
	switch o {
	case XYZ:
		c = Columns{-1, 0, 1, 2, 3}
	case YXZ:
		c = Columns{-1, 1, 0, 2, 3}
	case PNEZD:
		c = Columns{0, 2, 1, 3, 4}
	case PENZD:
		c = Columns{0, 1, 2, 3, 4}
	default:
		return None, false
	}
	if c.Z >= fields {
		c.Z = -1
	}
	if c.Code >= fields {
		c.Code = -1
	}
	return c, c.last() < fields
}

// A BadRow is one that is not a point. Row counts the lines of the file from 1.
type BadRow struct {
	Row  int32
	Says string // a sentence without its row and its full stop
}

// Shown returns the points among the first rows, in the columns c.
func (l Look) Shown(c Columns) []orb.Point {
	if c.Check() != nil {
		return nil
	}
	var points []orb.Point
	for _, fields := range l.First {
		if len(fields) <= c.last() {
			continue
		}
		x, okX := delimited.Number([]byte(fields[c.X]), l.DecimalComma)
		y, okY := delimited.Number([]byte(fields[c.Y]), l.DecimalComma)
		if okX && okY {
			points = append(points, orb.Point{x, y})
		}
	}
	return points
}
