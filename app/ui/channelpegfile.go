package ui

import (
	"context"
	"io"

	"fyne.io/fyne/v2"

	"runnel/geo/crs"
	"runnel/geo/gdal"
	"runnel/geo/plan"
)

// saveItems are the files that the pegs can be saved as.
func (p *pegPart) saveItems() []*fyne.MenuItem {
	item := func(word string, to destination, write func(ctx context.Context, out pegged, path string) error) *fyne.MenuItem {
		return fyne.NewMenuItem(word, func() { p.savePegs(to, write) })
	}
	note := tr("Beside it a note says how it is read, what it rests on and what to heed.")
	return []*fyne.MenuItem{
		item(tr("Points for an instrument, CSV…"), destination{name: "pegs.csv", end: ".csv", beside: pegNote,
			says: runOn([]string{tr("A row for each peg, bank top and stake: number, northing, easting, level and description, with no heading."), note})}, writePegPoints),
		item(tr("All columns for a spreadsheet, CSV…"), destination{name: "pegs-table.csv", end: ".csv"}, pegWriter(pegged.WriteSheet)),
		item(tr("Waypoints for a hand-held receiver, GPX…"), destination{name: "pegs.gpx", end: ".gpx",
			says: tr("A waypoint for each peg and a route along each line. A hand-held receiver finds a peg to a few metres, not to the centimetre that digging needs.")}, writePegGPX),
		item(tr("Drawing, DXF…"), destination{name: "pegs-drawing.dxf", end: ".dxf", beside: pegNote,
			says: runOn([]string{tr("Centre lines, edges of the bed, bank tops, pegs and stakes on layers of their own."), note})}, writePegDXF),
		item(tr("Table to print, text…"), destination{name: "pegs.txt", end: ".txt"}, pegWriter(pegged.WriteTable)),
	}
}

// pegNote is how the note ends that goes with points and with a drawing.
const pegNote = ".note.txt"

// savePegs writes all pegs of the scheme as they are shown, in metres.
func (p *pegPart) savePegs(to destination, write func(ctx context.Context, out pegged, path string) error) {
	out := p.pegs.value
	to.title, to.name = tr("Save the pegs"), p.w.schemeFile(to.name)
	p.w.export(to, func(ctx context.Context, path string, _ *plan.Site, _ plan.SchemeID) error {
		if to.beside != "" {
			if err := replaceFile(to.second(path), out.WriteNote); err != nil {
				return err
			}
		}
		return write(ctx, out, path)
	})
}

func pegWriter(write func(pegged, io.Writer) error) func(context.Context, pegged, string) error {
	return func(_ context.Context, out pegged, path string) error {
		return replaceFile(path, func(to io.Writer) error { return write(out, to) })
	}
}

func writePegPoints(_ context.Context, out pegged, path string) error {
	return replaceFile(path, out.WritePoints)
}

func writePegDXF(ctx context.Context, out pegged, path string) error {
	return replaceFile(path, func(to io.Writer) error { return out.WriteDXF(ctx, to) })
}

func writePegGPX(_ context.Context, out pegged, path string) error {
	lonlat, release, err := gdal.NewTransform(out.Site.CRS, crs.LonLat())
	if err != nil {
		return err
	}
	defer release()
	return replaceFile(path, func(to io.Writer) error { return out.WriteGPX(to, lonlat) })
}
