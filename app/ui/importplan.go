package ui

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"
	"github.com/paulmach/orb"

	"runnel/app/site"
	"runnel/geo/gdal"
	"runnel/geo/plan"
)

func (w *Window) importPlan() { w.askFile(planEnds, w.askPlan) }

// askPlan reads a drawing and asks what its shapes are.
func (w *Window) askPlan(path string) {
	s := w.doc.Site()
	var drawn []gdal.Drawn
	var notes []string
	w.start(job{
		doing: "Reading " + filepath.Base(path),
		run: func(ctx context.Context) (err error) {
			drawn, notes, err = w.options.In.Drawn(ctx, path, s.CRS)
			return err
		},
		done: func(err error) {
			switch {
			case err != nil:
				w.complain(err)
			case len(drawn) == 0:
				w.complain(fmt.Errorf("%s holds nothing that can be drawn; choose another file", filepath.Base(path)))
			default:
				w.askKind(path, drawn, notes)
			}
		},
	})
}

// shapesOf counts points, lines and areas.
func shapesOf(drawn []gdal.Drawn) map[plan.Shape]int {
	count := map[plan.Shape]int{}
	for _, d := range drawn {
		switch d.Geometry.(type) {
		case orb.Point:
			count[plan.PointShape]++
		case orb.LineString:
			count[plan.LineShape]++
		case orb.Polygon:
			count[plan.AreaShape]++
		}
	}
	return count
}

// kindsFor lists the kinds that shapes could be.
func kindsFor(count map[plan.Shape]int) (kinds []plan.Kind, labels []string) {
	for _, s := range plan.Specs() {
		if count[s.Shape] > 0 {
			kinds, labels = append(kinds, s.Kind), append(labels, s.Label)
		}
	}
	return kinds, labels
}

// askKind asks what the shapes of a drawing are and, for what is designed, in
// which scheme they belong.
func (w *Window) askKind(path string, drawn []gdal.Drawn, notes []string) {
	count := shapesOf(drawn)
	kinds, labels := kindsFor(count)
	if len(kinds) == 0 {
		w.complain(fmt.Errorf("%s has no points, lines or areas; choose another file", filepath.Base(path)))
		return
	}
	scheme := widget.NewSelect(w.schemeNames(), nil)
	scheme.SetSelectedIndex(w.schemePlace())
	kind := widget.NewSelect(labels, nil)
	kind.OnChanged = func(string) {
		scheme.Enable()
		if !plan.SpecOf(kinds[kind.SelectedIndex()]).InScheme {
			scheme.Disable()
		}
	}
	kind.SetSelectedIndex(0)
	found := widget.NewLabel(fmt.Sprintf("%d points, %d lines, %d areas. %s",
		count[plan.PointShape], count[plan.LineShape], count[plan.AreaShape], strings.Join(notes, " ")))
	found.Wrapping = fyne.TextWrapWord
	d := dialog.NewForm("Import "+filepath.Base(path), "Import", "Cancel", []*widget.FormItem{
		widget.NewFormItem("It holds", found),
		hinted("They are", kind, "Shapes of another sort are left out."),
		hinted("In scheme", scheme, "For what is designed; what is there already belongs to the site as it is."),
	}, func(ok bool) {
		if ok {
			w.takePlan(path, drawn, kinds[kind.SelectedIndex()], scheme.SelectedIndex())
		}
	}, w.win)
	d.Resize(fyne.NewSize(560, 320))
	d.Show()
}

// newScheme stands in the list where a scheme is to be made.
const newScheme = "A new scheme"

func (w *Window) schemeNames() []string {
	var names []string
	for _, s := range w.doc.Site().Plan.Schemes {
		names = append(names, s.Name)
	}
	return append(names, newScheme)
}

// schemePlace is the place of the shown scheme in the list of names.
func (w *Window) schemePlace() int {
	for i, s := range w.doc.Site().Plan.Schemes {
		if s.ID == w.board.Scheme {
			return i
		}
	}
	return 0
}

// takePlan puts the shapes into the site as features of one kind.
func (w *Window) takePlan(path string, drawn []gdal.Drawn, kind plan.Kind, place int) {
	scheme := plan.AsItIs
	if plan.SpecOf(kind).InScheme {
		if schemes := w.doc.Site().Plan.Schemes; place < len(schemes) {
			w.showScheme(schemes[place].ID)
		} else {
			w.addScheme()
		}
		scheme = w.board.Scheme
	}
	var fitting []gdal.Drawn
	for _, d := range drawn {
		if shapesOf([]gdal.Drawn{d})[plan.SpecOf(kind).Shape] > 0 {
			fitting = append(fitting, d)
		}
	}
	features, faults := gdal.Features(fitting, kind, scheme)
	if len(features) == 0 && len(faults) > 0 {
		w.complain(faults[0])
		return
	}
	if err := w.doc.Do(&site.Import{Add: site.Add{Features: features}, From: filepath.Base(path)}); err != nil {
		w.complain(err)
		return
	}
	w.trace.say("imported", "features", len(features), "faults", len(faults))
	if len(faults) > 0 {
		w.tell("Some shapes were left out", fmt.Sprintf("%d came in, %d did not. The first of them: %s",
			len(features), len(faults), sentence(faults[0].Error())))
	}
}
