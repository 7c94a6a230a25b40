package ui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
)

func TestATableOfManyRowsHoldsOnlyThoseThatAreSeen(t *testing.T) {
	b := newBench(t)
	b.open()
	table := newFigureTable(func(*fyne.KeyEvent) bool { return false })
	window := b.app.NewWindow("")
	defer window.Close()
	window.SetContent(table)
	window.Resize(fyne.NewSize(500, 400))
	const many = 50_000
	asked := map[int]bool{}
	table.show(figureSheet{rows: many, columns: []figureColumn{
		countColumn("Row", func(row int) int { return row }),
		{head: "Figure", unit: "m", decimals: 2, value: func(row int) float64 { asked[row] = true; return float64(row) }},
	}})
	if len(table.rows) > 30 || len(asked) > 400 {
		t.Errorf("%d rows exist, %d were asked for", len(table.rows), len(asked))
	}
	table.bring(many / 2)
	if at := float32(many/2) * scaled(rowHigh); table.scroll.Offset.Y > at || table.scroll.Offset.Y+table.scroll.Size().Height < at+scaled(rowHigh) {
		t.Errorf("the row in the middle is brought to %v", table.scroll.Offset)
	}
	table.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEnd})
	seen := texts(table)
	if table.chosen != many-1 || !strings.Contains(seen, "49"+thinSpace+"999.00") || strings.Contains(seen, "49"+thinSpace+"000.00") {
		t.Errorf("at the end row %d is marked, and seen is\n%s", table.chosen, seen)
	}
}

func TestTheHeadsOfATableFollowItSideways(t *testing.T) {
	b := newBench(t)
	b.figuresOf(3)
	table := b.channels.now().focus()
	for range 5 {
		table.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	}
	if off := table.scroll.Offset.X; off < 100 || table.head.Position().X != -off || table.corner.Position().X != 0 {
		t.Errorf("scrolled by %v the heads stand at %v, the first at %v", off, table.head.Position(), table.corner.Position())
	}
}
