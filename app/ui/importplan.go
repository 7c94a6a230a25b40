package ui

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"github.com/paulmach/orb"

	"runnel/app/site"
	"runnel/app/view"
	"runnel/app/work"
	"runnel/geo/gdal"
	"runnel/geo/plan"
)

// importing asks what the shapes of a drawing are. They lie over the map meanwhile, and
// come into the site in one step.
type importing struct {
	w *Window
	readPlan
	// kinds are what the groups become; NoKind leaves one out.
	kinds []plan.Kind
	// scheme is the place of the scheme that takes what is designed, in schemeNames.
	scheme int
	latest *work.Latest[arriving]
	// got is what comes of the kinds; asked counts what was asked for, and known what has
	// come of it.
	got          arriving
	asked, known int
	// seen is set once the shapes have been brought into sight.
	seen bool
	form *importForm
}

// A readPlan is a drawing as it was read.
type readPlan struct {
	path string
	// system is what a person says that it is in; empty asks the file.
	system string
	drawn  []gdal.Drawn
	groups []gdal.Group
	notes  []string
	// by is the field that the shapes are sorted by, of fields; empty sorts by layers.
	by     string
	fields []string
	// unplaced is set where nothing says which system it is in, degrees where its
	// figures might be longitudes and latitudes.
	unplaced, degrees bool
}

func (w *Window) importPlan() { w.askFile(tr("Import a plan"), planEnds, w.askPlan) }

// askPlan reads a drawing and asks what its shapes are.
func (w *Window) askPlan(path string) {
	w.readPlan(readPlan{path: path}, func(read readPlan) {
		p := &importing{w: w, readPlan: read, scheme: w.schemePlace()}
		for _, g := range read.groups {
			p.kinds = append(p.kinds, g.Likely)
		}
		p.latest = work.NewLatest(func(got arriving, err error) { w.post(func() { p.take(got, err) }) })
		w.trace.say("drawing", "groups", len(read.groups), "unplaced", read.unplaced)
		w.inquiry.ask(p)
		p.reckon()
	})
}

// readPlan reads a drawing in a system, and then does what comes next.
func (w *Window) readPlan(read readPlan, next func(readPlan)) {
	s := w.doc.Site()
	w.start(job{
		doing: trf("Reading %s", filepath.Base(read.path)),
		run: func(ctx context.Context) error {
			drawn, notes, err := w.options.In.Drawn(ctx, read.path, gdal.DrawnOptions{To: s.CRS, System: read.system})
			if err != nil {
				return err
			}
			again := read.drawn != nil
			read.notes, read.drawn, read.fields = notes, drawn, gdal.SortFields(drawn)
			if !again {
				read.by = tellingField(drawn, read.path, read.fields)
			}
			read.groups = gdal.GroupsBy(drawn, read.path, read.by)
			read.unplaced, read.degrees = false, false
			read.look(drawn)
			return nil
		},
		done: func(err error) {
			switch {
			case w.doc == nil:
			case err != nil:
				w.report(trouble{tr("The drawing was not read"), err, tr("The site has not changed.")})
			case len(read.groups) == 0:
				w.complain(fmt.Errorf("%s holds nothing that can be drawn; choose another file", filepath.Base(read.path)))
			default:
				next(read)
			}
		},
	})
}

// look finds out whether it is known where the shapes lie.
func (r *readPlan) look(drawn []gdal.Drawn) {
	r.degrees = true
	for _, d := range drawn {
		if d.Unplaced {
			r.unplaced = true
			b := d.Geometry.Bound()
			r.degrees = r.degrees && b.Min[0] >= -180 && b.Max[0] <= 180 && b.Min[1] >= -90 && b.Max[1] <= 90
		}
	}
	r.degrees = r.degrees && r.unplaced
}

// reread reads the drawing in a system that a person names.
func (p *importing) reread(system string) {
	read := p.readPlan
	read.system = system
	p.w.readPlan(read, func(read readPlan) {
		if p.w.inquiry.now != p || len(read.groups) != len(p.kinds) {
			return
		}
		p.readPlan, p.seen = read, false
		p.w.inquiry.build(p.w.ledger.scroll)
		p.reckon()
	})
}

// arriving is what would come into the site.
type arriving struct {
	// asked tells it from what was asked for before and after.
	asked    int
	features []plan.Feature
	// came counts them by group.
	came   []int
	faults []error
	off    plan.Off
	// bound is round all shapes, whether they come in or not.
	bound orb.Bound
	shown *view.Arrivals
}

// arrive makes features of the groups that have a kind.
func arrive(ctx context.Context, groups []gdal.Group, kinds []plan.Kind, ground orb.Bound) (arriving, error) {
	a := arriving{came: make([]int, len(groups)), bound: groups[0].Drawn[0].Geometry.Bound()}
	var left []orb.Geometry
	for i, g := range groups {
		for _, d := range g.Drawn {
			a.bound = a.bound.Union(d.Geometry.Bound())
			if kinds[i] == plan.NoKind {
				left = append(left, d.Geometry)
			}
		}
		if err := ctx.Err(); err != nil {
			return a, err
		}
		if kinds[i] == plan.NoKind {
			continue
		}
		features, faults := gdal.Features(g.Drawn, kinds[i], plan.AsItIs)
		a.came[i] = len(features)
		a.features, a.faults = append(a.features, features...), append(a.faults, faults...)
	}
	a.off = plan.OffGround(ground, a.features)
	a.shown = view.NewArrivals(a.features, left)
	return a, ctx.Err()
}

// reckon works out anew what would come in. Until it is known which system the drawing
// is in, nothing would.
func (p *importing) reckon() {
	p.asked++
	p.form.show()
	if p.unplaced {
		p.got, p.known = arriving{}, p.asked
		p.w.reshow()
		p.form.show()
		return
	}
	groups, kinds, ground, asked := p.groups, slices.Clone(p.kinds), p.w.doc.Site().Ground.Bound(), p.asked
	p.latest.Request(func(ctx context.Context) (arriving, error) {
		a, err := arrive(ctx, groups, kinds, ground)
		a.asked = asked
		return a, err
	})
}

// take shows what would come in.
func (p *importing) take(got arriving, err error) {
	if p.w.inquiry.now != p || got.asked != p.asked {
		return
	}
	if err != nil {
		p.w.complain(err)
		return
	}
	p.got, p.known = got, got.asked
	p.w.reshow()
	p.form.show()
	if pane := p.w.pane; !p.seen && pane.width > 0 {
		p.seen = true
		if ground := p.w.doc.Site().Ground.Bound(); ground.Intersects(got.bound) && !pane.camera.Bound(pane.width, pane.height).Intersects(got.bound) {
			pane.fit()
		}
	}
	p.w.trace.say("previewed", "features", len(got.features), "faults", len(got.faults), "off", got.off.Count)
}

// ready reports whether what would come in is known and is something.
func (p *importing) ready() bool { return p.known == p.asked && len(p.got.features) > 0 }

// designed reports whether anything that comes in belongs to a scheme.
func (p *importing) designed() bool {
	for i, kind := range p.kinds {
		if kind != plan.NoKind && plan.SpecOf(kind).InScheme && (p.got.came == nil || p.got.came[i] > 0) {
			return true
		}
	}
	return false
}

// bringIn puts what would come in into the site, in one step.
func (p *importing) bringIn() {
	w := p.w
	if !p.ready() {
		return
	}
	edit := &site.Import{Add: site.Add{Features: p.got.features}, From: filepath.Base(p.path)}
	scheme := w.board.Scheme
	if p.designed() {
		if schemes := w.doc.Site().Plan.Schemes; p.scheme < len(schemes) {
			scheme = schemes[p.scheme].ID
			for i, f := range edit.Features {
				if plan.SpecOf(f.Kind).InScheme {
					edit.Features[i].Scheme = scheme
				}
			}
		} else {
			edit.Scheme = &site.AddScheme{Name: site.NextSchemeName(w.doc.Site(), tr("Scheme %s"))}
		}
	}
	came, faults := len(p.got.features), p.got.faults
	if err := w.doc.Do(edit); err != nil {
		w.complain(err)
		return
	}
	if edit.Scheme != nil {
		scheme = edit.Scheme.ID
	}
	w.inquiry.leave()
	w.showScheme(scheme)
	w.trace.say("imported", "features", came, "faults", len(faults))
	if len(faults) > 0 {
		w.tell(tr("Some shapes were left out"), trf("%[1]d came in, %[2]d did not. The first of them: %[3]s",
			came, len(faults), sentence(w.units.told(faults[0].Error()))))
	}
}

func (p *importing) arrivals() *view.Arrivals { return p.got.shown }

func (p *importing) pins() []view.Pin { return nil }

func (p *importing) picture() fyne.CanvasObject { return nil }

// over gives up what is being worked out.
func (p *importing) over() {
	p.latest.Request(func(context.Context) (arriving, error) { return arriving{}, context.Canceled })
}

// content builds the form.
func (p *importing) content() fyne.CanvasObject {
	p.form = newImportForm(p)
	p.form.show()
	return container.NewStack(p.form.object)
}
