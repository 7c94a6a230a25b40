package gdal

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/lukeroth/gdal"
	"github.com/paulmach/orb"

	"runnel/geo/crs"
	"runnel/geo/survey"
	"runnel/geo/table"
)

// readTable reads delimited text.
func (g *gathering) readTable(ctx context.Context, full string, l table.Look) error {
	g.source().Form = survey.Points // whatever it is taken for, a table has no lines
	columns, err := g.columnsOf(l)
	if err != nil {
		return err
	}
	shown := l.Shown(columns)
	if len(shown) == 0 {
		return errors.New("its first rows have no numbers in the columns of east and north; look at which column is which")
	}
	f, err := g.tableFrame(l, columns)
	if err != nil {
		return err
	}
	if err := g.choose(f, shown[len(shown)/2]); err != nil {
		return err
	}
	height := ""
	if columns.Z >= 0 && columns.Z < len(l.Header) {
		height = l.Header[columns.Z]
	}
	unit := g.heightUnitOf(f, height)
	l.Columns = columns
	if err := g.readRows(ctx, full, l, unit); err != nil {
		return err
	}
	if err := g.moveSpots(f); err != nil {
		return err
	}
	return g.finish()
}

// columnsOf returns the columns that are read: those that a person chose, or those
// that are guessed, with the heights where a person says.
func (g *gathering) columnsOf(l table.Look) (table.Columns, error) {
	columns := l.Columns
	if g.o.Columns != nil {
		columns = *g.o.Columns
	} else {
		g.notes = append(g.notes, l.Why...)
	}
	columns.Name = -1 // a point's place in the file is its name
	switch {
	case g.o.Height == NoHeight:
		columns.Z = -1
	case g.o.Columns == nil && g.o.Height != "" && g.o.Height != ZHeight:
		at := slices.IndexFunc(l.Header, func(name string) bool {
			return strings.EqualFold(strings.TrimSpace(name), strings.TrimSpace(g.o.Height))
		})
		switch {
		case at >= 0:
			columns.Z = at
		case !strings.EqualFold(strings.TrimSpace(g.o.Height), "z"):
			return columns, fmt.Errorf("it has no column %q; give one of %s", clip(g.o.Height), clip(strings.Join(l.Header, ", ")))
		}
		if columns.Code == columns.Z {
			columns.Code = -1
		}
	}
	return columns, columns.Check()
}

// tableFrame finds out how the coordinates of a table are to be understood. Columns
// with the names of longitude and latitude are that, on WGS 84.
func (g *gathering) tableFrame(l table.Look, columns table.Columns) (frame, error) {
	same := columns.X == l.Columns.X && columns.Y == l.Columns.Y
	if l.Degrees && same && g.o.System == "" {
		sr, err := reference(crs.LonLat())
		if err != nil {
			return frame{}, err
		}
		defer sr.Destroy()
		g.note("It names no reference system; its columns are taken to be longitude and latitude on WGS 84.")
		return g.frameOf(sr, true, true)
	}
	l.Columns = columns
	return g.frameOf(gdal.SpatialReference{}, false, tableInDegrees(l))
}

// readRows takes the rows as spots, where the file has them and with heights in
// metres.
func (g *gathering) readRows(ctx context.Context, full string, l table.Look, unit float64) error {
	g.survey.Spots = make([]survey.Spot, 0, l.Rows+l.Rows/16+16)
	bad, err := table.Read(ctx, full, l, func(r table.Row) error {
		g.survey.Spots = append(g.survey.Spots, survey.Spot{At: orb.Point{r.X, r.Y}, Z: r.Z * unit, Row: r.Number, Code: g.codeOf(r.Code())})
		return nil
	})
	for _, b := range bad {
		g.fault(fmt.Sprintf("Row %d is left out, for %s", b.Row, b.Says))
	}
	if inner := errors.Unwrap(err); inner != nil {
		return inner // doOn says the name of the file
	}
	return err
}

// moveChunk is how many spots are moved at a time.
const moveChunk = 1 << 16

// moveSpots brings all spots to the survey's system. Those that have no place there
// are left out.
func (g *gathering) moveSpots(f frame) error {
	m, err := g.moverOf(f)
	if err != nil {
		return err
	}
	defer m.close()
	spots := g.survey.Spots
	if m.idle && f.plain == 1 {
		return nil
	}
	kept := spots[:0]
	points := make([]orb.Point, 0, moveChunk)
	for len(spots) > 0 {
		chunk := spots[:min(moveChunk, len(spots))]
		spots = spots[len(chunk):]
		points = points[:0]
		for _, s := range chunk {
			points = append(points, orb.Point{s.At[0] * f.plain, s.At[1] * f.plain})
		}
		ok, first := m.moveSome(points)
		if first != nil {
			g.fault(fmt.Sprintf("Points are left out: %v", first))
		}
		for i, s := range chunk {
			if ok == nil || ok[i] {
				s.At = points[i]
				kept = append(kept, s)
			}
		}
	}
	if n := len(g.survey.Spots) - len(kept); n > 0 {
		g.note("%d points have no place in %v and are left out.", n, g.to)
	}
	g.survey.Spots = kept
	return nil
}
