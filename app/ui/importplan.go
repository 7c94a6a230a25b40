package ui

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
	"github.com/paulmach/orb"

	"runnel/app/site"
	"runnel/geo/gdal"
	"runnel/geo/plan"
)

func (w *Window) importPlan() { w.askFile(tr("Import a plan"), planEnds, w.askPlan) }

// askPlan reads a drawing and asks what its shapes are.
func (w *Window) askPlan(path string) {
	s := w.doc.Site()
	var drawn []gdal.Drawn
	var notes []string
	w.start(job{
		doing: trf("Reading %s", filepath.Base(path)),
		run: func(ctx context.Context) (err error) {
			drawn, notes, err = w.options.In.Drawn(ctx, path, s.CRS)
			return err
		},
		done: func(err error) {
			switch {
			case err != nil:
				w.report(trouble{tr("The drawing was not read"), err, tr("The site has not changed.")})
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
			kinds, labels = append(kinds, s.Kind), append(labels, told(s.Label))
		}
	}
	return kinds, labels
}

// tellingNames are parts of files' names that tell what kind a drawing holds.
var tellingNames = []struct {
	part string
	kind plan.Kind
}{
	{"build", plan.Roof}, {"roof", plan.Roof}, {"house", plan.Roof}, {"bound", plan.Boundary}, {"parcel", plan.Boundary}, {"plot", plan.Boundary},
	{"pav", plan.Paving}, {"road", plan.Paving}, {"street", plan.Paving}, {"drain", plan.Drain}, {"ditch", plan.Drain}, {"kerb", plan.Kerb},
	{"culvert", plan.Culvert}, {"inlet", plan.Inlet}, {"gully", plan.Inlet}, {"downpipe", plan.Downpipe}, {"wall", plan.Wall}, {"cover", plan.Cover}, {"tree", plan.Tree}, {"well", plan.Well}, {"septic", plan.SepticField}, {"cable", plan.ServiceLine},
	{"service", plan.ServiceLine}, {"path", plan.Path}, {"island", plan.Island}, {"channel", plan.Channel}, {"plant", plan.Planting}, {"bed", plan.Planting},
}

// usualKinds are what shapes are taken for where the file's name tells nothing.
var usualKinds = [...]plan.Kind{plan.PointShape: plan.Tree, plan.LineShape: plan.Drain, plan.AreaShape: plan.Roof}

// likelyKind guesses what a drawing holds, by its file's name and by what most
// of its shapes are.
func likelyKind(path string, count map[plan.Shape]int) plan.Kind {
	name := strings.ToLower(filepath.Base(path))
	for _, t := range tellingNames {
		if strings.Contains(name, t.part) && count[plan.SpecOf(t.kind).Shape] > 0 {
			return t.kind
		}
	}
	most := plan.PointShape
	for _, s := range []plan.Shape{plan.LineShape, plan.AreaShape} {
		if count[s] > count[most] {
			most = s
		}
	}
	return usualKinds[most]
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
	scheme := w.newPicker(w.schemeNames())
	scheme.SetSelectedIndex(w.schemePlace())
	kind := w.newPicker(labels)
	kind.OnChanged = func(string) {
		scheme.Enable()
		if !plan.SpecOf(kinds[kind.SelectedIndex()]).InScheme {
			scheme.Disable()
		}
	}
	kind.SetSelectedIndex(max(0, slices.Index(kinds, likelyKind(path, count))))
	found := widget.NewLabel(trf("%[1]d points, %[2]d lines, %[3]d areas. %[4]s",
		count[plan.PointShape], count[plan.LineShape], count[plan.AreaShape], strings.Join(sentences(w.units, notes), " ")))
	found.Wrapping = fyne.TextWrapWord
	w.ask(prompt{
		title: trf("Import %s", filepath.Base(path)), size: fyne.NewSize(560, 320),
		content: widget.NewForm(
			widget.NewFormItem(tr("It holds"), found),
			hinted(tr("They are"), kind, tr("Shapes of another sort are left out.")),
			hinted(tr("In scheme"), scheme, tr("For what is designed; what is there already belongs to the site as it is."))),
		choices: []choice{{word: tr("Cancel")}, {word: tr("Import"), do: func() {
			w.takePlan(path, drawn, kinds[kind.SelectedIndex()], scheme.SelectedIndex())
		}}},
	})
	w.win.Canvas().Focus(kind)
}

// schemeNames lists the schemes, and at the end what stands for one to be made.
func (w *Window) schemeNames() []string {
	var names []string
	for _, s := range w.doc.Site().Plan.Schemes {
		names = append(names, s.Name)
	}
	return append(names, tr("A new scheme"))
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
		w.tell(tr("Some shapes were left out"), trf("%[1]d came in, %[2]d did not. The first of them: %[3]s",
			len(features), len(faults), sentence(w.units.told(faults[0].Error()))))
	}
}
