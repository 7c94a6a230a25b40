package ui

import (
	"context"
	"encoding/csv"
	"image/png"
	"io"
	"math"
	"strconv"

	"runnel/app/sheet"
	"runnel/geo/plan"
)

// exportPicture writes the page as a picture, light whatever the window's look.
func (c *comparing) exportPicture() {
	c.w.export(destination{title: tr("Export the comparison as a picture"), name: "comparison.png", end: ".png"}, c.pictureWriter())
}

// pictureWriter writes the page as it is now.
func (c *comparing) pictureWriter() writer {
	page, scenes := c.sheet(), c.scenes
	return func(ctx context.Context, path string, _ *plan.Site, _ plan.SchemeID) error {
		const density = 2
		look := chartLook(printed(), density)
		w, h := page.MapSize(look)
		for i, scene := range scenes {
			drawn, err := drawSmall(ctx, scene, printed(), w, h, density)
			if err != nil {
				return err
			}
			page.Columns[i].Map = drawn
		}
		drawn := page.Draw(look)
		return replaceFile(path, func(to io.Writer) error { return png.Encode(to, drawn) })
	}
}

// sheet is the page without its maps.
func (c *comparing) sheet() sheet.Page {
	name := c.site.Name
	if name == "" {
		name = tr("Untitled site")
	}
	page := sheet.Page{Title: trf("%s: the schemes side by side", name), Under: tr("All at one scale, north up, with the water that stands in them."), Notes: c.resting()}
	for i := range c.accounts {
		page.Columns = append(page.Columns, sheet.Column{Name: c.name(i)})
	}
	for _, f := range append(accountFigures(), rechargeFigure()) {
		row := sheet.Row{Label: f.label, Heavy: f.counts}
		for i := range c.accounts {
			cell := sheet.Cell{Figure: lettered(f.write(c.w.units, f.value(&c.accounts[i])))}
			for _, words := range c.said(f, i) {
				cell.Small = append(cell.Small, lettered(words))
			}
			row.Cells = append(row.Cells, cell)
		}
		page.Rows = append(page.Rows, row)
	}
	cautions := sheet.Row{Label: tr("Cautions")}
	for i := range c.accounts {
		cautions.Cells = append(cautions.Cells, sheet.Cell{Figure: strconv.Itoa(len(c.accounts[i].Cautions) + len(c.accounts[i].Problems))})
	}
	page.Rows = append(page.Rows, cautions)
	for _, draw := range c.chartList() {
		page.Charts = append(page.Charts, draw)
	}
	return page
}

// exportTable writes the figures for a spreadsheet, in metric units: a row for each
// figure of each scheme.
func (c *comparing) exportTable() {
	rows := c.records()
	c.w.export(destination{title: tr("Export the comparison as a table"), name: "comparison.csv", end: ".csv"},
		func(_ context.Context, path string, _ *plan.Site, _ plan.SchemeID) error {
			return replaceFile(path, func(to io.Writer) error { return csv.NewWriter(to).WriteAll(rows) })
		})
}

// records are the rows of the table, its heading first. What is not known is empty.
func (c *comparing) records() [][]string {
	rows := [][]string{{"figure", "unit", "scheme", "value", "low", "high", "difference from as it is", "sure difference"}}
	for _, f := range append(accountFigures(), rechargeFigure()) {
		_, unit := cutUnit(f.write(metric, 1))
		for i := range c.accounts {
			v, was := f.value(&c.accounts[i]), f.value(&c.accounts[0])
			row := []string{f.label, unit, c.name(i), plainNumber(v), "", "", "", ""}
			if i > 0 {
				row[6] = plainNumber(v - was)
			}
			if r, ok := c.rangeOf(f, i); ok {
				row[4], row[5] = plainNumber(r.Low), plainNumber(r.High)
				if before, _ := c.rangeOf(f, 0); i > 0 {
					row[7] = map[bool]string{true: "yes", false: "no"}[disjoint(r, before)]
				}
			}
			rows = append(rows, row)
		}
	}
	return rows
}

// plainNumber writes a number for a program, to the thousandth.
func plainNumber(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return ""
	}
	return strconv.FormatFloat(roundTo(v, math.Round)+0, 'f', -1, 64)
}
