package ui

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"
	"github.com/paulmach/orb"

	"runnel/app/groundwork"
	"runnel/geo/plan"
	"runnel/geo/survey"
)

// A file of that name may hold the cells of a raster or points that lie anyhow.
func TestHeightsInRowsAreAGridOrPointsAsTheyLie(t *testing.T) {
	b := newBench(t)
	var grid, points strings.Builder
	for y := range 12 {
		for x := range 10 {
			east, north := 500_000+float64(x), 4_800_012-float64(y)
			fmt.Fprintf(&grid, "%.1f %.1f %.2f\n", east, north, 100+0.1*float64(x+y))
			fmt.Fprintf(&points, "%.2f %.2f %.2f\n", east+0.31*float64((7*x+3*y)%5), north+0.17*float64((3*x+5*y)%7), 100+0.1*float64(x+y))
		}
	}
	b.dropped([]fyne.URI{storage.NewFileURI(b.write("tile.xyz", grid.String()))})
	b.until("what it is", func() bool { return b.covered() && !strings.Contains(b.dialogText(), "Reading") })
	if shown := b.dialogText(); b.surveying.on || !strings.Contains(shown, "tile.xyz") {
		t.Errorf("of a grid it says:\n%s", shown)
	}
	b.answer("Cancel")
	b.dropped([]fyne.URI{storage.NewFileURI(b.write("shots.xyz", points.String()))})
	b.until("the page", func() bool { return b.surveying.on })
	b.read()
	if n := len(b.surveying.survey.Spots); n != 120 {
		t.Errorf("%d points are on the page:\n%s", n, texts(b.surveying.face.object))
	}
}

func TestAFilesOwnErrorIsTypedAndKept(t *testing.T) {
	b := newBench(t)
	c := b.onPage(beginning, b.hill("elev"))
	b.seen("ownerror")
	field := func() *answer {
		for _, o := range c.face.file.fields {
			if a, ok := o.(*answer); ok {
				return a
			}
		}
		t.Fatalf("no field is there:\n%s", texts(c.face.object))
		return nil
	}
	give := func(typed string) {
		a := field()
		a.SetText(typed)
		a.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	}
	give("-2")
	if shown := texts(c.face.object); !strings.Contains(shown, "give a number of metres above 0") {
		t.Errorf("of a wrong error it says:\n%s", shown)
	}
	give("0,25")
	b.read()
	if e := c.survey.Sources[0].Error; e != 0.25 || field().Text != "0.25" {
		t.Errorf("the error is %v and the field says %q", e, field().Text)
	}
	if strings.Contains(texts(c.face.object), "Reference system") {
		t.Error("a file that names its system is asked for one")
	}
	b.pressOn("Make the ground")
	b.until("the ground", func() bool { return c.made != nil || c.trouble != "" })
	if q := c.made.Survey.Quality; q.Error < 0.25 {
		t.Errorf("the error reckoned with is %v", q.Error)
	}
	b.seen("ownerrormade")
}

func TestKerbsComeWithTheirGroundInOneStep(t *testing.T) {
	b := newBench(t)
	b.open()
	before, features := b.doc.Site(), len(b.doc.Site().Plan.Features)
	c := b.onPage(replacing, b.hill("elev"))
	rests := c.survey
	rests.Lines = append(slices.Clone(rests.Lines), survey.Line{At: orb.LineString{{hillEast, hillNorth}, {hillEast + 9, hillNorth}}, Z: []float64{109}, Use: survey.Kerb})
	ground := before.Ground.Clone()
	c.made = &madeGround{Made: groundwork.Made{Ground: ground, Survey: rests}}
	c.bringIn()
	b.settle()
	if s := b.doc.Site(); len(s.Plan.Features) != features+1 || s.Plan.Features[features].Kind != plan.Kerb {
		t.Fatalf("%d features are there, %d were", len(s.Plan.Features), features)
	}
	b.undoLast()
	if s := b.doc.Site(); len(s.Plan.Features) != features || !sameGround(s.Ground, before.Ground) {
		t.Errorf("taken back once %d features are there, %d were", len(s.Plan.Features), features)
	}
	b.redoLast()
	if s := b.doc.Site(); len(s.Plan.Features) != features+1 || len(s.Survey.Lines) != len(rests.Lines) {
		t.Errorf("done again %d features and %d lines are there", len(s.Plan.Features), len(s.Survey.Lines))
	}
}
