package ui

import (
	"context"
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"runnel/analysis/compare"
)

// compareSchemes measures every scheme and lays them side by side.
func (w *Window) compareSchemes() {
	s := w.doc.Site()
	var accounts []compare.Account
	w.start(job{
		doing: "Measuring the schemes",
		run: func(ctx context.Context) (err error) {
			accounts, err = compare.Schemes(ctx, s, compare.Options{})
			return err
		},
		done: func(err error) {
			if err != nil {
				w.complain(err)
				return
			}
			w.showComparison(accounts)
		},
	})
}

const (
	compareLabel  = 200 // the column of labels [dp]
	compareColumn = 152 // the column of a scheme [dp]
)

func (w *Window) showComparison(accounts []compare.Account) {
	table := container.NewScroll(w.comparison(accounts))
	width := compareLabel + compareColumn*float32(len(accounts)) + 20*gap
	w.ask(prompt{
		title: "The schemes side by side", choices: closing,
		content: container.New(layout.NewCustomPaddedLayout(0, 0, gap, gap), container.NewBorder(nil,
			paragraph("Alike for alike: the same soil, the same days of running. Recharge is a potential, from low to high; it promises nothing of a well's yield, and takes no account of how much water comes."),
			nil, nil, table)),
		size: fyne.NewSize(min(max(width, 560), w.win.Canvas().Size().Width-80), min(560, w.win.Canvas().Size().Height-80)),
	})
	w.trace.say("compared", "schemes", len(accounts))
}

// A comparison is a table: a row for each figure, a column for each scheme.
type comparison struct {
	rows     *fyne.Container
	accounts []compare.Account
	shares   columns
	width    float32
}

// row adds a label and what cell makes of each scheme.
func (c *comparison) row(label string, r role, cell func(compare.Account) fyne.CanvasObject) {
	cells := []fyne.CanvasObject{text(label, r)}
	for _, a := range c.accounts {
		cells = append(cells, cell(a))
	}
	c.rows.Add(container.New(widthOf(c.width), container.New(c.shares, cells...)))
}

// figure adds a row of figures.
func (c *comparison) figure(label string, r role, write func(compare.Account) string) {
	c.row(label, r, func(a compare.Account) fyne.CanvasObject { return rightText(write(a), r) })
}

func (w *Window) comparison(accounts []compare.Account) fyne.CanvasObject {
	c := &comparison{rows: container.NewVBox(), accounts: accounts, shares: columns{compareLabel}, width: compareLabel}
	full := 0.0
	for _, a := range accounts {
		c.shares, c.width = append(c.shares, compareColumn), c.width+compareColumn
		full = max(full, a.Recharge.High)
	}
	c.row("", caption, func(a compare.Account) fyne.CanvasObject { return flush(columnHead(a.Name)) })
	c.rows.Add(rule())
	for _, m := range measuredFigures {
		r := body
		if m.counts {
			r = strong
		}
		c.figure(m.label, r, func(a compare.Account) string { return m.write(w.units, a) })
	}
	c.rows.Add(rule())
	c.figure("Recharge potential, likely", strong, func(a compare.Account) string { return w.units.volume(a.Recharge.Likely) })
	c.figure("low to high", body, func(a compare.Account) string { return w.units.volumes(a.Recharge) })
	c.row("", body, func(a compare.Account) fyne.CanvasObject {
		return newRangeBar(a.Recharge, full, theme.ColorNamePrimary)
	})
	c.figure("Cautions", body, func(a compare.Account) string { return fmt.Sprint(len(a.Cautions) + len(a.Problems)) })
	return c.rows
}

// read shows a text in Markdown.
func (w *Window) read(title, markdown string) {
	words := widget.NewRichTextFromMarkdown(markdown)
	words.Wrapping = fyne.TextWrapWord
	w.ask(prompt{title: title, content: container.NewVScroll(words), size: fyne.NewSize(640, 520), choices: closing})
}
