package ui

import (
	"context"
	"math"
	"slices"
	"time"

	"runnel/analysis/compare"
	"runnel/analysis/hydraulics"
	"runnel/analysis/soakin"
	"runnel/app/site"
	"runnel/app/view"
	"runnel/app/work"
	"runnel/geo/plan"
)

// compared is the first stroke: what every scheme of a site comes to as is likely, the
// site as it is first.
type compared struct {
	doc      *site.Document
	site     *plan.Site
	accounts []compare.Account
	soaked   []*soakin.Account
	// asked is when the page learnt of the change.
	asked time.Time
}

// shaped is the second stroke: what else hangs on the shape of every scheme.
type shaped struct {
	site *plan.Site
	of   []shape
}

// A shape is one scheme's: the ranges of what it measures, its measures by water level,
// its small map, and the least freeboard of the steady flow [m], NaN where none is told.
type shape struct {
	account   *soakin.Account
	spread    compare.Spread
	stage     []compare.StagePoint
	scene     *view.Scene
	freeboard float64
}

// drawn is the third: the ranges of what soaks in.
type drawn struct {
	site    *plan.Site
	columns []soakin.Column
}

// stageLevels is at how many levels the water is measured for a chart.
const stageLevels = 17

// strokes follow the newest site. What a later stroke came to stays, pale, until it is
// known anew.
type strokes struct {
	of *comparing
	compared
	shapes shaped
	draws  drawn

	first  *work.Latest[compared]
	second *work.Latest[shaped]
	third  *work.Latest[drawn]
	// book is the first stroke's own.
	book soakin.Book
	// wanted is the site that was last asked for, failed one of which nothing came.
	wanted, failed *plan.Site
}

func newStrokes(c *comparing) strokes {
	return strokes{
		of:     c,
		first:  work.NewLatest(func(got compared, err error) { c.w.post(func() { c.take(got, err) }) }),
		second: work.NewLatest(func(got shaped, err error) { c.w.post(func() { c.takeShapes(got, err) }) }),
		third:  work.NewLatest(func(got drawn, err error) { c.w.post(func() { c.takeDraws(got, err) }) }),
	}
}

// follow asks for the first stroke of the site as it is now.
func (k *strokes) follow() {
	doc, s, asked := k.of.w.doc, k.of.w.doc.Site(), time.Now()
	if k.wanted == s {
		return
	}
	k.wanted = s
	k.giveUp()
	k.first.Request(func(ctx context.Context) (compared, error) {
		got := compared{doc: doc, site: s, asked: asked}
		var err error
		got.accounts, got.soaked, err = k.book.Accounts(ctx, s)
		return got, err
	})
}

// waits reports whether the page is on and its first stroke is still to come.
func (k *strokes) waits() bool {
	return k.of.on && k.wanted != nil && k.wanted == k.of.w.doc.Site() && k.wanted != k.compared.site && k.wanted != k.failed
}

// drawMap has the map drawn that stood back for the first stroke.
func (k *strokes) drawMap() {
	if w := k.of.w; w.figures.known && (w.scene == nil || w.scene.Site != w.figures.site) {
		w.draw()
	}
}

// giveUp ends the later strokes of a site that has changed.
func (k *strokes) giveUp() {
	k.second.Request(func(context.Context) (shaped, error) { return shaped{}, nil })
	k.third.Request(func(context.Context) (drawn, error) { return drawn{}, nil })
}

// drop gives up what runs and forgets what is known.
func (k *strokes) drop() {
	k.giveUp()
	k.first.Request(func(context.Context) (compared, error) {
		k.book = soakin.Book{}
		return compared{}, nil
	})
	k.compared, k.shapes, k.draws, k.wanted, k.failed = compared{}, shaped{}, drawn{}, nil, nil
}

// take shows the first stroke, and asks for the others once nothing has changed for a
// moment.
func (k *strokes) take(got compared, err error) {
	c := k.of
	switch {
	case !c.on || c.w.doc == nil || err == nil && got.doc != c.w.doc:
		return
	case err != nil:
		k.failed = k.wanted
		k.drawMap()
		c.w.soaking.take(soaks{}, err)
		c.w.complain(err)
		return
	}
	if got.doc != k.doc {
		k.shapes, k.draws = shaped{}, drawn{}
	}
	k.compared = got
	c.build()
	c.w.soaking.follow()
	k.drawMap()
	c.w.trace.say("compared", "schemes", len(got.accounts), "ms", time.Since(got.asked).Milliseconds())
	shapes, draws := k.shapes, k.draws
	k.second.Request(func(ctx context.Context) (shaped, error) {
		if err := calm(ctx); err != nil {
			return shaped{}, err
		}
		return got.shape(ctx, shapes)
	})
	k.third.Request(func(ctx context.Context) (drawn, error) {
		if err := calm(ctx); err != nil {
			return drawn{}, err
		}
		columns, err := soakin.Beside(ctx, got.site, got.soaked, soakin.Draws, draws.columns...)
		return drawn{got.site, columns}, err
	})
}

// calm waits until nothing has changed for a moment.
func calm(ctx context.Context) error {
	select {
	case <-ctx.Done():
		return ctx.Err()
	case <-time.After(rest):
		return nil
	}
}

// shape works out the second stroke; of schemes that are as they were it has it already.
func (c compared) shape(ctx context.Context, known shaped) (shaped, error) {
	got := shaped{site: c.site}
	for i := range c.accounts {
		if k := slices.IndexFunc(known.of, func(s shape) bool { return s.account == c.soaked[i] }); k >= 0 {
			got.of = append(got.of, known.of[k])
			continue
		}
		one, err := shapeOf(ctx, c.site, &c.accounts[i])
		if err != nil {
			return got, err
		}
		one.account = c.soaked[i]
		got.of = append(got.of, one)
	}
	return got, nil
}

func shapeOf(ctx context.Context, s *plan.Site, a *compare.Account) (shape, error) {
	one := shape{freeboard: math.NaN()}
	var err error
	if one.scene, err = view.Small(ctx, s, a); err != nil {
		return one, err
	}
	if one.spread, err = compare.SpreadOf(ctx, s, a); err != nil {
		return one, err
	}
	stage, err := compare.StageTable(ctx, s, a.Scheme, stageLevels)
	if err != nil {
		return one, err
	}
	one.stage = stage.Scheme
	flow, err := hydraulics.Flow(ctx, s, a.Network, hydraulics.Options{})
	if err != nil {
		return one, err
	}
	r := runs{site: s, result: flow}
	if at, ok := r.greatest(func(s hydraulics.Station) float64 { return -s.Freeboard }); ok {
		one.freeboard = at.Freeboard
	}
	return one, nil
}

func (k *strokes) takeShapes(got shaped, err error) {
	if k.late(got.site, err) {
		return
	}
	k.shapes = got
	k.of.build()
	k.of.w.trace.say("compared shapes", "ms", time.Since(k.asked).Milliseconds())
}

func (k *strokes) takeDraws(got drawn, err error) {
	if k.late(got.site, err) {
		return
	}
	k.draws = got
	k.of.build()
	k.of.w.soaking.follow()
	k.of.w.trace.say("compared ranges", "ms", time.Since(k.asked).Milliseconds())
}

// late reports whether what a later stroke came to is of no use: it is of another site,
// or there is none.
func (k *strokes) late(of *plan.Site, err error) bool {
	if err == nil && of != nil && k.of.on && of == k.compared.site {
		return false
	}
	if err != nil && k.of.on {
		k.of.w.complain(err)
	}
	return true
}

// shapeFor is what is known of a scheme's shape, if only of before; nil where nothing is.
func (k *strokes) shapeFor(i int) *shape {
	for n := range k.shapes.of {
		if k.shapes.of[n].account.Scheme == k.soaked[i].Scheme {
			return &k.shapes.of[n]
		}
	}
	return nil
}

// columnFor is the like for the ranges of what soaks in.
func (k *strokes) columnFor(i int) *soakin.Column {
	for n := range k.draws.columns {
		if k.draws.columns[n].Scheme == k.soaked[i].Scheme {
			return &k.draws.columns[n]
		}
	}
	return nil
}
