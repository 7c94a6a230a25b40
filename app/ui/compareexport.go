package ui

import (
	"context"
	"encoding/csv"
	"image/png"
	"io"
	"math"
	"strconv"
	"strings"

	"runnel/app/sheet"
	"runnel/app/view"
	"runnel/geo/plan"
)

// exportPicture writes the page as a picture, light whatever the window's look.
func (c *comparing) exportPicture() {
	c.w.export(destination{title: tr("Export the comparison as a picture"), name: "comparison.png", end: ".png"}, c.pictureWriter())
}

// pictureWriter writes the page as it is now.
func (c *comparing) pictureWriter() writer {
	page := c.sheet()
	scenes := make([]*view.Scene, len(c.accounts))
	for i := range scenes {
		if s := c.shapeFor(i); s != nil {
			scenes[i] = s.scene
		}
	}
	return func(ctx context.Context, path string, _ *plan.Site, _ plan.SchemeID) error {
		const density = 2
		look := chartLook(printed(), density)
		w, h := page.MapSize(look)
		for i, scene := range scenes {
			if scene == nil {
				continue
			}
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
	page := sheet.Page{Title: trf("%s: the schemes side by side", name), Under: comparedHow(), Notes: c.resting()}
	for i := range c.accounts {
		page.Columns = append(page.Columns, sheet.Column{Name: c.name(i)})
	}
	for _, r := range c.rows() {
		if r.head != "" {
			page.Rows = append(page.Rows, sheet.Row{Label: lettered(r.head), Heavy: true})
		}
		row := sheet.Row{Label: lettered(strings.Replace(r.label, under, "\u00a0\u00a0\u00a0", 1)), Heavy: r.counts}
		for i := range c.accounts {
			cell := sheet.Cell{Figure: lettered(r.write(c.w.units, r.of(i)))}
			for _, more := range c.said(r, i) {
				cell.Small = append(cell.Small, lettered(more.words))
			}
			row.Cells = append(row.Cells, cell)
		}
		page.Rows = append(page.Rows, row)
	}
	cautions := sheet.Row{Label: tr("Cautions")}
	for i := range c.accounts {
		cautions.Cells = append(cautions.Cells, sheet.Cell{Figure: strconv.Itoa(c.cautions(i))})
	}
	page.Rows = append(page.Rows, cautions)
	for _, of := range c.chartList() {
		if of.wide {
			page.Wide = append(page.Wide, sheet.WideChart{High: float64(of.high), Draw: of.draw})
		} else {
			page.Charts = append(page.Charts, of.draw)
		}
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
	over := ""
	for _, f := range c.rows() {
		name, part := strings.CutPrefix(f.label, under)
		if part {
			name = over + ", " + name
		} else {
			over = name
		}
		for i := range c.accounts {
			rows = append(rows, append([]string{name}, c.record(f, i)...))
		}
	}
	for i := range c.accounts {
		rows = append(rows, []string{tr("Cautions"), "", c.name(i), strconv.Itoa(c.cautions(i)), "", "", "", ""})
	}
	return rows
}

// record is a scheme's figure from its unit on.
func (c *comparing) record(f schemeRow, i int) []string {
	_, unit := cutUnit(f.write(metric, 1))
	each := 1.0
	if unit == "%" {
		each = 100
	}
	record := []string{unit, c.name(i), plainNumber(each * f.of(i)), "", "", "", ""}
	if i > 0 {
		record[5] = plainNumber(each * (f.of(i) - f.of(0)))
	}
	if f.span == nil {
		return record
	}
	r, ok := f.span(i)
	if !ok {
		return record
	}
	record[3], record[4] = plainNumber(each*r.Low), plainNumber(each*r.High)
	if was, known := f.span(0); i > 0 && known && !math.IsNaN(r.Low+was.Low) {
		record[6] = map[bool]string{true: "yes", false: "no"}[c.surely(f, i)]
	}
	return record
}

// plainNumber writes a number for a program, to the thousandth.
func plainNumber(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return ""
	}
	return strconv.FormatFloat(roundTo(v, math.Round)+0, 'f', -1, 64)
}
