package ui

import (
	"context"
	"errors"
	"math"

	"github.com/paulmach/orb"

	"runnel/analysis/certainty"
	"runnel/app/groundwork"
	"runnel/app/site"
	"runnel/app/view"
	"runnel/app/work"
	"runnel/geo/plan"
	"runnel/geo/survey"
)

// waters is what is asked of a drainage besides where its paths run: a storm on
// it, where the water of roofs and paving ends, how sure the paths are. The zero
// waters asks for the storm of the site's setting.
type waters struct {
	// rain is the storm that is looked at [mm] while other is set; else it is the
	// site's own.
	rain  float64
	other bool
	// soaks is set to let the ground take water in meanwhile.
	soaks bool
	// asked is the storm that was asked for last, storm what came of it or of one
	// before.
	asked downpour
	storm stormed
	// hollow is the place in the list of the hollow that is pointed out, from 1, and
	// deepest where it is deepest.
	hollow  int
	deepest orb.Point
	fates   fated
	// allTrails shows the ways of all surfaces' water, chosen those of some, pointed
	// that of the one under the pointer. trails are those on the map.
	allTrails bool
	chosen    map[plan.ID]bool
	pointed   plan.ID
	trails    []view.Trail
	sure      surely
}

// surely is how sure the water paths of a drainage are, given how far off its
// survey may be.
type surely struct {
	of    *view.Drainage
	asked *certainty.Survey
	// rests is what the ground rests on.
	rests survey.Survey
	paths *view.Sureness
	// cancel stops the work while it is going on; share is how much of it is done.
	cancel func()
	share  float64
}

// rain returns the storm that is looked at [mm].
func (w *Window) rain() float64 {
	if w.waters.other {
		return w.waters.rain
	}
	return w.doc.Site().Setting.Storm
}

// lookAtRain looks at another storm [mm]; the site stays as it is.
func (w *Window) lookAtRain(millimetres float64) {
	w.waters.rain, w.waters.other = millimetres, true
	w.pour()
	w.ledger.refresh()
	w.used() // what drains to a place is of that storm
}

// askOfWater asks for all that is shown of the water and not known yet.
func (w *Window) askOfWater() {
	if w.scene != nil && w.figures.known && w.scene.Lacks(w.show) && !w.drawing {
		w.draw()
	}
	w.pour()
	w.followFates()
}

// pour asks for what the storm that is looked at leaves, where that is shown.
func (w *Window) pour() {
	if w.scene == nil || w.scene.Ponding == nil || !w.show.Has(view.Stormwater) {
		return
	}
	setting := w.doc.Site().Setting
	d := downpour{of: w.scene.Drainage, ponds: w.scene.Ponding, rain: w.rain() / 1000, hours: setting.StormHours}
	if w.waters.soaks {
		d.soil = setting.Soil
	}
	if d == w.waters.asked {
		return
	}
	w.waters.asked = d
	w.storms.Request(func(ctx context.Context) (stormed, error) { return w.stormer.fill(ctx, d) })
}

// takeStorm shows what a storm leaves. What comes in for another ground is dropped.
func (w *Window) takeStorm(s stormed, err error) {
	switch {
	case w.doc == nil || w.scene == nil:
	case err != nil:
		w.waters.asked = downpour{}
		w.status.fault(err)
	case s.of == w.scene.Drainage:
		w.waters.storm = s
		w.reshow()
		w.ledger.refresh()
		w.trace.say("storm", "rain", s.rain*1000, "stored", s.stored, "left", s.left+s.swallowed)
	}
}

// weather shows the storm and all else that is asked of the scene's drainage.
func (w *Window) weather(shown *view.Scene) {
	if w.waters.storm.of != nil && w.waters.storm.of.Flow.Ground.Frame == shown.Ground.Frame {
		shown.Storm = w.waters.storm.water
	}
	shown.Trails = w.waters.trails
	if w.waters.sure.of == shown.Drainage {
		shown.Sure = w.waters.sure.paths
	}
}

// draws is how many grounds the certainty of a path is told from: its share is
// then off by a twentieth at most.
const draws = 100

// askHowSure works out how sure the water paths are, while the person goes on.
func (w *Window) askHowSure() {
	if w.scene == nil || w.scene.Drainage == nil || w.waters.sure.cancel != nil {
		return
	}
	of, s := w.scene.Drainage, w.doc.Site()
	setting := s.Setting
	asked := &certainty.Survey{
		Error: setting.SurveyError, Reach: setting.SurveyReach, Draws: draws, Seed: 1,
		Least: view.LeastCourse(of.Flow.Ground.Frame), Inlets: of.Surface.Inlets(), Carry: of.Surface.Carry,
	}
	w.waters.sure = surely{of: of, asked: asked, rests: s.Survey}
	w.waters.sure.cancel = work.Start(work.Long[*view.Sureness]{
		Do: func(ctx context.Context, report func(work.Progress)) (*view.Sureness, error) {
			q, err := withDoubt(ctx, *asked, s, of)
			if err != nil {
				return nil, err
			}
			share, err := certainty.Of(ctx, of.Surface.Ground, q, func(share float64) { report(work.Progress{Fraction: share}) })
			if err != nil {
				return nil, err
			}
			return view.NewSureness(share), nil
		},
		Show: func(p work.Progress) {
			w.post(func() {
				if w.waters.sure.asked == asked {
					w.waters.sure.share = p.Fraction
					w.ledger.refresh()
				}
			})
		},
		Done: func(paths *view.Sureness, err error) { w.post(func() { w.takeHowSure(asked, paths, err) }) },
	})
	w.ledger.refresh()
}

// withDoubt adds to what is asked how well each place is known, where the survey of
// the site is recorded.
func withDoubt(ctx context.Context, q certainty.Survey, s *plan.Site, of *view.Drainage) (certainty.Survey, error) {
	if s.Survey.Empty() || of.Surface.Ground.Frame != s.Ground.Frame {
		return q, nil
	}
	doubt, err := groundwork.Doubt(ctx, s)
	q.Errors = &doubt
	return q, err
}

// takeHowSure shows how sure the paths are. What comes in for a question that was
// dropped is dropped too.
func (w *Window) takeHowSure(asked *certainty.Survey, paths *view.Sureness, err error) {
	if w.waters.sure.asked != asked || w.doc == nil {
		return
	}
	w.waters.sure = surely{of: w.waters.sure.of, asked: asked, rests: w.waters.sure.rests, paths: paths}
	if err != nil {
		w.waters.sure = surely{}
		if !errors.Is(err, context.Canceled) {
			w.complain(err)
		}
	} else {
		w.show = w.show.With(view.Certainty)
	}
	w.trace.say("certainty", "ok", err == nil)
	w.reshow()
	w.ledger.refresh()
}

// reviewHowSure drops what is no longer of the ground that is shown or of the
// survey's error.
func (w *Window) reviewHowSure() {
	sure, s := w.waters.sure, w.doc.Site()
	if sure.asked != nil && (sure.of != w.scene.Drainage || !sure.rests.Is(s.Survey) ||
		sure.asked.Error != s.Setting.SurveyError || sure.asked.Reach != s.Setting.SurveyReach) {
		w.dropHowSure()
	}
}

// dropHowSure stops the work on a ground that is no longer shown, and forgets what
// was found of it.
func (w *Window) dropHowSure() {
	if w.waters.sure.cancel != nil {
		w.waters.sure.cancel()
	}
	w.waters.sure = surely{}
}

// setSetting changes one of the site's settings; the rest stay.
func (w *Window) setSetting(change func(*plan.Setting)) error {
	s := w.doc.Site().Setting
	change(&s)
	return w.doc.Do(&site.SetSetting{Setting: s})
}

// keepStorm makes the storm that is looked at the site's own.
func (w *Window) keepStorm() {
	rain := math.Round(w.rain()*10) / 10
	w.waters.other = false
	w.complain(w.setSetting(func(s *plan.Setting) { s.Storm = rain }))
}
