package gdal

import (
	"context"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"strings"

	"github.com/paulmach/orb"

	"runnel/geo/table"
)

// readTable reads delimited text, whose rows are points.
func (d *drawing) readTable(ctx context.Context, full string, l table.Look) error {
	if l.Columns.Check() != nil {
		return errNoPositions
	}
	if l.Order != table.Named {
		d.notes = append(d.notes, l.Why...)
	}
	name := strings.TrimSuffix(filepath.Base(full), filepath.Ext(full))
	m, err := d.moverOf(systemSaid{layer: name, degrees: l.Degrees})
	if err != nil {
		return err
	}
	defer m.close()
	as := Drawn{Layer: name, Unplaced: d.to.Known() && !m.system.Known()}
	height := l.Columns.Z
	l.Columns.Z = -1 // a plan takes points whose height is no number
	bad, err := table.Read(ctx, full, l, func(r table.Row) error {
		as.Number++
		fields := r.Fields()
		as.Fields, as.Z = namedFields(l.Header, fields), math.NaN()
		if height >= 0 && height < len(fields) && !table.NoHeight(fields[height]) {
			if z, ok := numberIn(fields[height]); ok {
				as.Z = z
			}
		}
		return d.takePoint(orb.Point{r.X, r.Y}, as, m)
	})
	for _, b := range bad {
		d.noteOnRow(b)
	}
	if inner := errors.Unwrap(err); inner != nil {
		return inner // doOn says the name of the file
	}
	if err != nil {
		return err
	}
	return d.checkSome()
}

// namedFields returns what is filled of a row, by the names of its columns.
func namedFields(header, row []string) map[string]string {
	fields := make(map[string]string, len(row))
	for i, text := range row {
		if i >= len(header) || text == "" {
			continue
		}
		if _, twice := fields[header[i]]; !twice && header[i] != "" {
			fields[header[i]] = text
		}
	}
	return fields
}

// takePoint adds one row. Only what ends the reading is an error.
func (d *drawing) takePoint(at orb.Point, as Drawn, m moverFrom) error {
	moved := []orb.Point{at}
	if err := m.moveChecked(moved); err != nil {
		d.noteOn(as.Layer, as.Number, fmt.Errorf("%w; it is left out", err))
		return nil
	}
	as.Geometry = moved[0]
	as.takeNames()
	d.drawn = append(d.drawn, as)
	d.points++
	return d.checkSize()
}

// noteOnRow tells of a row that is no point, unless much has been told of.
func (d *drawing) noteOnRow(b table.BadRow) {
	if d.single++; d.single == 1 {
		d.firstFault = fmt.Sprintf("row %d: %s", b.Row, b.Says)
	}
	if d.single <= mostNotes {
		d.note("Row %d is left out, for %s.", b.Row, b.Says)
	}
}
