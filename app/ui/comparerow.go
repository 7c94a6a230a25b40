package ui

import (
	"math"
	"slices"

	"runnel/analysis/soakin"
	"runnel/geo"
)

// A schemeRow is one figure of every scheme of the comparison.
type schemeRow struct {
	figure
	of func(i int) float64
	// span is its range, ok false where it has none yet; nil where it never has.
	span func(i int) (r geo.Range, ok bool)
	// sure reports whether it differs from the site as it is for sure; nil where the
	// ranges tell.
	sure func(i int) bool
	// stale is set where ranges are of the drawing before.
	stale bool
	// head stands over it where a new part begins.
	head string
	// note says more of a scheme's figure in place of its difference; it may be nil.
	note func(i int) string
}

// rows are the figures in the order in which they are read: what the work is about
// first, then the year, the storm and the cost, then the rest of the shape.
func (c *comparing) rows() []schemeRow {
	var first, shape []schemeRow
	for _, f := range accountFigures() {
		if f.counts {
			first = append(first, c.measuredRow(f))
		} else {
			shape = append(shape, c.measuredRow(f))
		}
	}
	freeboard := figure{key: "freeboard", label: tr("Least freeboard, steady flow"), write: units.height}
	shape = append(shape, schemeRow{figure: freeboard, of: func(i int) float64 {
		if s := c.shapeFor(i); s != nil {
			return s.freeboard
		}
		return math.NaN()
	}})
	var year, storm, cost []schemeRow
	for _, f := range yearFigures() {
		year = append(year, c.yearRow(f))
	}
	for _, f := range stormFigures() {
		storm = append(storm, c.stormRow(f))
	}
	for _, f := range c.w.costFigures() {
		cost = append(cost, schemeRow{figure: f.figure, of: func(i int) float64 { return f.of(c.soaked[i]) }})
	}
	set := c.site.Setting
	year[0].head, cost[0].head, shape[0].head = tr("The year's water"), tr("What it costs"), tr("The shape")
	storm[0].head = trf("The design storm, %[1]s in %[2]s h", c.w.units.rain(set.Storm), typedNumber(set.StormHours))
	return slices.Concat(first, year, storm, cost, shape)
}

func (c *comparing) measuredRow(f figure) schemeRow {
	row := schemeRow{figure: f, of: func(i int) float64 { return f.value(&c.accounts[i]) }, stale: c.shapes.site != c.site}
	if f.span != nil {
		row.span = func(i int) (geo.Range, bool) {
			if s := c.shapeFor(i); s != nil {
				return f.span(&s.spread), true
			}
			return geo.Range{}, false
		}
	}
	return row
}

func (c *comparing) yearRow(f soakFigure) schemeRow {
	row := schemeRow{figure: f.figure, of: func(i int) float64 { return f.of(c.soaked[i]) }, stale: c.draws.site != c.site}
	if f.note != nil {
		row.note = func(i int) string { return f.note(c.w, c.soaked[i]) }
	}
	if f.within != nil {
		row.span = func(i int) (geo.Range, bool) {
			if column := c.columnFor(i); column != nil {
				return f.within(c.soaked[i], &column.Spread), true
			}
			return geo.Range{}, false
		}
	}
	paired := map[string]func(*soakin.Column) soakin.Difference{
		"soaked":   func(k *soakin.Column) soakin.Difference { return k.MoreSoaked },
		"recharge": func(k *soakin.Column) soakin.Difference { return k.MoreRecharge },
		"share":    func(k *soakin.Column) soakin.Difference { return k.MoreShare },
	}[f.key]
	if paired != nil && f.within != nil {
		row.sure = func(i int) bool {
			column := c.columnFor(i)
			return column != nil && paired(column).Sure
		}
	}
	return row
}

func (c *comparing) stormRow(f soakFigure) schemeRow {
	row := schemeRow{figure: f.figure, of: func(i int) float64 { return f.of(c.soaked[i]) }}
	of := map[string]func(soakin.Through) geo.Range{
		"storm-level":     func(t soakin.Through) geo.Range { return t.Highest },
		"storm-freeboard": func(t soakin.Through) geo.Range { return t.Freeboard },
		"hours-to-empty":  func(t soakin.Through) geo.Range { return t.Empty },
		"overflow":        func(t soakin.Through) geo.Range { return t.Overflow },
	}[f.key]
	if of == nil {
		return row
	}
	row.span = func(i int) (geo.Range, bool) {
		t, ok := c.soaked[i].Through()
		return of(t), ok
	}
	return row
}

// differs says how a scheme's figure differs from that of the site as it is; empty where
// there is nothing to say.
func (c *comparing) differs(row schemeRow, i int) string {
	now, was := row.of(i), row.of(0)
	switch more := now - was; {
	case row.note != nil:
		return row.note(i)
	case i == 0 || math.IsNaN(more) || math.IsInf(more, 0):
		return ""
	case row.key == "share":
		return points(more)
	}
	return row.differenceAndRatio(c.w.units, now, was)
}

// surely reports whether a scheme's figure differs from that of the site as it is by more
// than both are unsure.
func (c *comparing) surely(row schemeRow, i int) bool {
	if i == 0 || row.span == nil || row.stale {
		return false
	}
	if row.sure != nil {
		return row.sure(i)
	}
	now, ok := row.span(i)
	was, known := row.span(0)
	return ok && known && disjoint(now, was)
}

// A remark is something said beneath a figure.
type remark struct {
	words string
	// stale is set where it is of the drawing before, sure where it is the mark.
	stale, sure bool
}

// said is what there is to say of a scheme's figure, a line each: how it differs from
// that of the site as it is, its range, and whether it differs by more than that.
func (c *comparing) said(row schemeRow, i int) []remark {
	var said []remark
	if words := c.differs(row, i); words != "" {
		said = append(said, remark{words: words})
	}
	if row.span == nil {
		return said
	}
	switch r, ok := row.span(i); {
	case !ok && !math.IsNaN(row.of(i)):
		said = append(said, remark{words: "…", stale: true})
	case ok && r.Low < r.High:
		said = append(said, remark{words: c.w.spanned(row.figure, r), stale: row.stale})
	}
	if c.surely(row, i) {
		said = append(said, remark{words: sureDifference(), sure: true})
	}
	return said
}

// cautions are what is to be looked into in a scheme, and what is not as drawn.
func (c *comparing) cautions(i int) int {
	return len(c.soaked[i].Cautions) + len(c.accounts[i].Problems)
}
