package ui

import (
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"runnel/geo/gdal"
	"runnel/geo/plan"
)

// An importForm is what importing asks, as it stands on the screen.
type importForm struct {
	p      *importing
	object fyne.CanvasObject
	notes  *widget.RichText
	// system asks for the reference system; nil where the file says it.
	system *systemForm
	came   []*widget.RichText
	scheme *fyne.Container
	sum    *widget.RichText
	off    *fyne.Container
	rows   *fyne.Container
	where  *widget.RichText
	take   *button
}

// mostGroups is how many layers are asked about one by one.
const mostGroups = 200

func newImportForm(p *importing) *importForm {
	f := &importForm{p: p, notes: quiet(""), sum: quiet(""), where: quiet("")}
	rows := container.NewVBox(flush(f.notes))
	f.rows = rows
	if p.unplaced || p.system != "" {
		f.system = newSystemForm(p)
		rows.Add(f.system.object)
	}
	rows.Add(text(tr("What the shapes are"), strong))
	if len(p.fields) > 0 {
		rows.Add(container.New(columns{8, 15}, text(tr("Sorted by"), body), p.sorter()))
	}
	for i := range p.groups[:min(len(p.groups), mostGroups)] {
		rows.Add(f.row(i))
	}
	if more := len(p.groups) - mostGroups; more > 0 {
		rows.Add(paragraph(trf("%d more layers are left out; import a file of fewer layers to choose among them.", more)))
	}
	schemes := p.w.newPicker(p.w.schemeNames())
	schemes.SetSelectedIndex(min(p.scheme, len(schemes.Options)-1))
	schemes.OnChanged = func(string) { p.scheme = schemes.SelectedIndex() }
	f.scheme = container.NewVBox(rule(), container.New(columns{8, 15}, text(tr("In scheme"), body), schemes),
		paragraph(tr("For what is designed; what is there already belongs to the site as it is.")))
	rows.Add(f.scheme)
	f.off = container.NewVBox(rule(), flush(f.where), container.NewHBox(
		newButton(tr("Zoom to them"), func() { p.w.pane.bring(p.got.off.Bound) }),
		newButton(tr("Zoom to the ground"), func() { p.w.pane.fit() })))
	rows.Add(f.off)
	f.object = matterPage(shortened(trf("Import %s", filepath.Base(p.path)), 28), rows, f.foot())
	return f
}

// foot holds what does not scroll: the sum, and the two answers.
func (f *importForm) foot() fyne.CanvasObject {
	f.take = newButton(tr("Import"), f.p.bringIn)
	f.take.Importance = widget.HighImportance
	return container.NewVBox(flush(f.sum), container.NewHBox(layout.NewSpacer(),
		newButton(tr("Cancel"), f.p.w.inquiry.leave), f.take))
}

// row asks what one group becomes.
func (f *importForm) row(i int) fyne.CanvasObject {
	p, g := f.p, f.p.groups[i]
	name := widget.NewLabelWithStyle(groupName(g), fyne.TextAlignLeading, fyne.TextStyle{Bold: true})
	name.Truncation = fyne.TextTruncateEllipsis
	kinds, words := kindsFor(g)
	pick := p.w.newPicker(words)
	pick.SetSelectedIndex(max(0, slices.Index(kinds, p.kinds[i])))
	pick.OnChanged = func(string) {
		p.kinds[i] = kinds[pick.SelectedIndex()]
		p.reckon()
	}
	came := quiet("")
	f.came = append(f.came, came)
	return container.NewVBox(rule(), flush(name),
		container.New(columns{12, 12}, flush(quiet(countsOf(g))), pick), flush(came))
}

// groupName is a group's name as a person reads it.
func groupName(g gdal.Group) string {
	if kind, ok := plan.KindNamed(g.Name); ok {
		return told(plan.SpecOf(kind).Label)
	}
	return strings.TrimSpace(g.Name)
}

// countsOf says of what shapes a group is.
func countsOf(g gdal.Group) string {
	some := func(n int, one, many string) string {
		switch n {
		case 0:
			return ""
		case 1:
			return one
		}
		return many
	}
	return joined(some(g.Points, tr("1 point"), trf("%d points", g.Points)),
		some(g.Lines, tr("1 line"), trf("%d lines", g.Lines)), some(g.Areas, tr("1 area"), trf("%d areas", g.Areas)))
}

// kindsFor lists what the shapes of a group could be, first that they are left out.
func kindsFor(g gdal.Group) (kinds []plan.Kind, words []string) {
	kinds, words = []plan.Kind{plan.NoKind}, []string{tr("Leave out")}
	for _, s := range plan.Specs() {
		if g.Suits(s.Kind) > 0 {
			kinds, words = append(kinds, s.Kind), append(words, told(s.Label))
		}
	}
	return kinds, words
}

// show says what would come in as it is known now.
func (f *importForm) show() {
	if f == nil {
		return
	}
	p := f.p
	setQuiet(f.notes, strings.Join(sentences(p.w.units, p.notes[:min(len(p.notes), 4)]), " "))
	shown(f.notes, len(p.notes) > 0 && !p.unplaced) // else what it is taken for is asked
	for i, came := range f.came {
		left := 0
		if p.got.came != nil && p.kinds[i] != plan.NoKind {
			left = len(p.groups[i].Drawn) - p.got.came[i]
		}
		setQuiet(came, trf("%[1]d of %[2]d cannot be this and stay out.", left, len(p.groups[i].Drawn)))
		shown(came, left > 0)
	}
	shown(f.scheme, p.designed())
	f.showOff()
	setQuiet(f.sum, f.sumWords())
	f.rows.Refresh() // what is shown now takes its room
	if p.ready() {
		f.take.Enable()
	} else {
		f.take.Disable()
	}
}

// sumWords says what Import would do, or why it cannot.
func (f *importForm) sumWords() string {
	p := f.p
	all := 0
	for _, g := range p.groups {
		all += len(g.Drawn)
	}
	switch {
	case p.unplaced:
		return tr("Say first which coordinates these are; then the map shows where the shapes lie.")
	case p.known != p.asked:
		return tr("Working…")
	case len(p.got.features) == 0 && len(p.got.faults) > 0:
		return trf("None of the %[1]d shapes comes in. The first of them: %[2]s", all, sentence(p.w.units.told(p.got.faults[0].Error())))
	case len(p.got.features) == 0:
		return tr("Everything is left out. Choose what at least one of them is.")
	}
	return trf("%[1]d of %[2]d shapes come in. They lie on the map with a bright edge; what is left out is dashed.", len(p.got.features), all)
}

// showOff tells of what lies off the ground.
func (f *importForm) showOff() {
	off := f.p.got.off
	shown(f.off, off.Count > 0)
	if off.Count == 0 {
		return
	}
	said := trf("%[1]d of %[2]d shapes lie off the ground, the nearest %[3]s from it.", off.Count, len(f.p.got.features), f.p.w.units.length(off.Nearest))
	if off.Count == len(f.p.got.features) {
		said = trf("All %[1]d shapes lie off the ground, the nearest %[2]s from it. Look at which coordinates they are in.", off.Count, f.p.w.units.length(off.Nearest))
	}
	setQuiet(f.where, said)
}

// A systemForm asks which reference system the coordinates of a file are in.
type systemForm struct {
	object *fyne.Container
	code   *answer
	asked  *question
}

// lonLatCode is longitude and latitude on WGS 84.
const lonLatCode = "EPSG:4326"

func newSystemForm(p *importing) *systemForm {
	f := &systemForm{}
	f.code = newAnswer("", func(typed string) error {
		if strings.TrimSpace(typed) != "" {
			p.reread(typed)
		}
		return nil
	})
	if p.system != gdal.OwnSystem {
		f.code.Text = p.system
		f.code.given = p.system
	}
	f.code.SetPlaceHolder("EPSG:32632")
	f.asked = newQuestion(tr("Another, by its code"), f.code, "")
	own := newButton(tr("The site's own"), func() { p.reread(gdal.OwnSystem) })
	degrees := newButton(tr("Longitude and latitude"), func() { p.reread(lonLatCode) })
	chosen(own, p.system == gdal.OwnSystem)
	chosen(degrees, p.system == lonLatCode)
	offers := container.NewVBox(own)
	if p.degrees || p.system == lonLatCode {
		offers.Add(degrees)
	}
	f.object = container.NewVBox(text(tr("Which coordinates these are"), strong),
		paragraph(trf("The file names no reference system. The site is in %s.", p.w.doc.Site().CRS)), offers, f.asked.row, rule())
	return f
}

// chosen shows a button as the answer that was given.
func chosen(b *button, on bool) {
	b.Importance = widget.MediumImportance
	if on {
		b.Importance = widget.HighImportance
	}
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
