package ui

import (
	"context"
	"encoding/csv"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"runnel/app/site"
	"runnel/geo/plan"
)

// paint waits for the pictures of the page.
func (b *bench) paint() {
	b.t.Helper()
	b.win.Canvas().Capture()
	b.until("the pictures", func() bool {
		for _, p := range b.comparing.easel.pictures {
			if p.asked.X > 0 && (p.done == nil || p.done.Rect.Size() != p.asked) {
				return false
			}
		}
		return true
	})
}

func TestTheComparisonLaysSchemesSideBySide(t *testing.T) {
	b := newBench(t)
	b.open()
	b.drawChannel()
	b.settle()
	b.compareSchemes()
	b.until("the comparison", func() bool { return len(b.comparing.accounts) == 2 })
	b.paint()
	if b.comparing.stage.Visible() || !b.comparing.page.Visible() {
		t.Error("the page does not take the map's place")
	}
	shown := texts(b.comparing.page)
	for _, want := range []string{"As it is", "Meander", "Contact area", "Storage", "Recharge potential", "Cautions", "a sure difference", "Back to the map"} {
		if !strings.Contains(shown, want) {
			t.Errorf("the comparison has no %q:\n%s", want, shown)
		}
	}
	if n := len(b.comparing.easel.pictures); n != 2+5 {
		t.Errorf("%d maps and charts, want 2 and 5", n)
	}
}

func TestTheComparisonFollowsTheSiteAndGivesTheMapBack(t *testing.T) {
	b := newBench(t)
	b.open()
	b.drawChannel()
	b.settle()
	b.compareSchemes()
	b.until("the comparison", func() bool { return len(b.comparing.accounts) == 2 })
	b.copyScheme(b.board.Scheme)
	b.until("three columns", func() bool { return len(b.comparing.accounts) == 3 })
	b.doc.Undo()
	b.until("two again", func() bool { return len(b.comparing.accounts) == 2 })
	before := texts(b.comparing.page)
	b.turnUnits()
	if now := texts(b.comparing.page); now == before || !strings.Contains(now, "ft²") {
		t.Error("the page does not follow the units")
	}
	b.schemeKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if b.comparing.on || !b.comparing.stage.Visible() || b.comparing.page.Visible() {
		t.Error("Escape does not bring the map back")
	}
	if b.schemeKey(&fyne.KeyEvent{Name: fyne.KeyEscape}) {
		t.Error("with the map shown the page takes Escape")
	}
}

func TestNineColumnsCanBeScrolledByKeys(t *testing.T) {
	b := newBench(t)
	b.open()
	b.drawChannel()
	for range 7 {
		b.copyScheme(b.board.Scheme)
	}
	b.settle()
	b.compareSchemes()
	b.until("the comparison", func() bool { return len(b.comparing.accounts) == 9 })
	b.paint()
	for key, moved := range map[fyne.KeyName]func(fyne.Position) bool{
		fyne.KeyRight: func(p fyne.Position) bool { return p.X > 0 },
		fyne.KeyEnd:   func(p fyne.Position) bool { return p.Y > 500 },
		fyne.KeyHome:  func(p fyne.Position) bool { return p.Y == 0 },
	} {
		b.comparing.back.TypedKey(&fyne.KeyEvent{Name: key})
		if !moved(b.comparing.scroll.Offset) && key != fyne.KeyHome {
			t.Errorf("%s scrolls to %v", key, b.comparing.scroll.Offset)
		}
	}
	b.comparing.back.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if b.comparing.on {
		t.Error("the button does not go back to the map")
	}
}

func TestASiteWithoutASchemeIsCompared(t *testing.T) {
	b := newBench(t)
	b.open()
	b.complain(b.doc.Do(&site.RemoveScheme{ID: b.doc.Site().Plan.Schemes[0].ID}))
	b.settle()
	b.compareSchemes()
	b.until("the comparison", func() bool { return len(b.comparing.accounts) == 1 })
	b.paint()
	if shown := texts(b.comparing.page); strings.Contains(shown, "a sure difference") {
		t.Errorf("the site as it is differs from itself:\n%s", shown)
	}
}

func TestTheComparisonIsWrittenAsTableAndAsPicture(t *testing.T) {
	b := newBench(t)
	b.open()
	b.drawChannel()
	b.settle()
	c, err := compareAll(t.Context(), b.doc, b.doc.Site())
	if err != nil {
		t.Fatal(err)
	}
	b.comparing.compared = c
	rows, err := csv.NewReader(strings.NewReader(csvOf(t, b.comparing.records()))).ReadAll()
	if err != nil || len(rows) != 1+2*len(append(accountFigures(), rechargeFigure())) {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	a, was := c.accounts[1], c.accounts[0]
	contact := []string{"Contact area", "m²", "Meander", plainNumber(a.Contact), plainNumber(c.spreads[1].Contact.Low), plainNumber(c.spreads[1].Contact.High),
		plainNumber(a.Contact - was.Contact), "no"}
	if c.spreads[1].Contact.Low > c.spreads[0].Contact.High {
		contact[7] = "yes"
	}
	if !slices.Equal(rows[2], contact) {
		t.Errorf("the contact area of the scheme is written as %q, want %q", rows[2], contact)
	}
	if plainNumber(math.NaN()) != "" || plainNumber(-0.0001) != "0" || plainNumber(1.23456) != "1.235" {
		t.Error("numbers are not written as a program reads them")
	}
	path := filepath.Join(t.TempDir(), "comparison.png")
	if err := b.comparing.pictureWriter()(t.Context(), path, nil, plan.AsItIs); err != nil {
		t.Fatal(err)
	}
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if drawn, err := png.Decode(f); err != nil || drawn.Bounds().Dx() < 1500 || drawn.Bounds().Dy() < 1500 {
		t.Errorf("the picture is %v (%v)", drawn.Bounds(), err)
	}
}

func csvOf(t *testing.T, rows [][]string) string {
	t.Helper()
	var b strings.Builder
	if err := csv.NewWriter(&b).WriteAll(rows); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestComparingStopsWhenAsked(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	s := valley()
	if _, err := compareAll(ctx, nil, &s); err == nil {
		t.Error("it goes on")
	}
}
