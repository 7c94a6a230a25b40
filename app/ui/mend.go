package ui

import (
	"context"
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"github.com/paulmach/orb"

	"runnel/analysis/surface"
	"runnel/app/site"
	"runnel/geo/grid"
	"runnel/geo/plan"
	"runnel/geo/survey"
)

// mendCommands work out parts of the ground from around them.
func (w *Window) mendCommands() []command {
	return []command{
		{menu: fileMenu, part: 2, name: tr("Fill voids in the ground…"), also: tr("holes gaps no data heights missing mend"), cannot: w.needsGround, do: w.askVoids},
		{menu: fileMenu, part: 2, name: tr("Take buildings and trees out of the ground…"), also: tr("surface model bare earth roofs crowns remove mend"),
			cannot: w.needsCovers, do: w.askBare},
	}
}

// needsGround is why a command cannot run while there is no ground.
func (w *Window) needsGround() string {
	if why := w.needsSite(); why != "" {
		return why
	}
	if w.doc.Site().Ground.Len() == 0 {
		return tr("The site has no ground yet.")
	}
	return ""
}

// needsCovers is why nothing can be taken out of the ground.
func (w *Window) needsCovers() string {
	if why := w.needsGround(); why != "" {
		return why
	}
	if len(w.covering().covers) == 0 {
		return tr("Draw a roof or a tree first, or select an outline.")
	}
	return ""
}

// A void is what is known of the parts of a ground without heights that have heights all
// round.
type void struct{ holes, cells int }

func voidOf(g grid.Ground) (v void) {
	for _, h := range surface.Holes(g) {
		v.holes++
		v.cells += h.Cells
	}
	return v
}

// said says how many voids there are and how large they are together [m²].
func (v void) said(u units, cell float64) string {
	size := u.area(float64(v.cells) * cell)
	if v.holes == 1 {
		return trf("1 void of %s", size)
	}
	return trf("%[1]s voids, %[2]s in all", decimal(float64(v.holes), 0), size)
}

// askVoids fills the voids of the site's ground once that is agreed to.
func (w *Window) askVoids() {
	of := w.doc.Site().Ground
	var m surface.Mended
	w.start(job{
		doing: tr("Filling voids in the ground"),
		run:   func(ctx context.Context) (err error) { m, err = surface.FillHoles(ctx, of); return err },
		done: func(err error) {
			switch {
			case err != nil:
				w.complain(err)
			case len(m.Patches) == 0:
				w.tell(tr("Fill voids in the ground"), tr("The ground has no void: wherever heights are missing they are missing up to its edge, where the survey ended."))
			default:
				v := void{len(m.Patches), m.Cells}
				w.askMend(tr("Fill voids in the ground"), tr("Fill them"), []string{
					trf("The ground has %s.", v.said(w.units, of.CellArea())),
					tr("Heights there are worked out from around: nothing was measured there, and the map goes on to mark it."),
				}, &site.MendGround{Of: of, Ground: m.Ground, Patches: m.Patches})
			}
		},
	})
}

// askMend says what mending the ground does, and does it once that is agreed to.
func (w *Window) askMend(title, word string, says []string, e *site.MendGround) {
	box := container.NewVBox()
	for _, s := range says {
		box.Add(wrapped(s))
	}
	w.ask(prompt{title: title, content: box, size: fyne.NewSize(520, 160+float32(len(says))*24), choices: []choice{
		{word: tr("Cancel")}, {word: word, do: func() { w.complain(w.doc.Do(e)) }},
	}})
}

// A covering is what stands on the ground and may be taken out of it.
type covering struct {
	covers []surface.Cover
	// buildings, trees and others count what the covers are of.
	buildings, trees, others int
}

// covering gathers what is selected, or else all roofs and trees of the site, as far as it
// lies on the ground.
func (w *Window) covering() (all covering) {
	p, ground := w.doc.Site().Plan, w.doc.Site().Ground.Bound()
	chosen := w.board.Chosen(p)
	for _, f := range chosen {
		if f.Geometry != nil && f.Geometry.Bound().Intersects(ground) {
			all.add(f)
		}
	}
	if len(all.covers) > 0 {
		return all
	}
	for _, f := range p.In(plan.AsItIs) {
		if (f.Kind == plan.Roof || f.Kind == plan.Tree) && f.Geometry != nil && f.Geometry.Bound().Intersects(ground) {
			all.add(f)
		}
	}
	return all
}

// add takes a feature that has an outline.
func (s *covering) add(f plan.Feature) {
	switch shape := f.Geometry.(type) {
	case orb.Point:
		if f.Kind != plan.Tree {
			return
		}
		s.trees++
		s.covers = append(s.covers, surface.Cover{Outline: surface.Crown(shape, f.Num("spread")), Why: survey.Trees})
	case orb.Polygon:
		c := surface.Cover{Outline: shape, Why: survey.Building}
		switch f.Kind {
		case plan.Roof:
			s.buildings++
		case plan.Planting:
			c.Why = survey.Trees
			s.others++
		default:
			s.others++
		}
		s.covers = append(s.covers, c)
	}
}

// said says what is taken out.
func (s covering) said() string {
	switch {
	case s.others > 0:
		return trf("What is selected has %d outlines.", len(s.covers))
	case s.trees == 0 && s.buildings == 1:
		return tr("1 building is taken out.")
	case s.trees == 0:
		return trf("%d buildings are taken out.", s.buildings)
	case s.buildings == 0 && s.trees == 1:
		return tr("1 tree is taken out.")
	case s.buildings == 0:
		return trf("%d trees are taken out.", s.trees)
	}
	return trf("Buildings that are taken out: %[1]d; trees: %[2]d.", s.buildings, s.trees)
}

// littleSunk is how far the ground should sink at least in the mean where buildings and
// trees stand in it [m].
const littleSunk = 0.5

// askBare takes buildings and trees out of the ground once that is agreed to.
func (w *Window) askBare() {
	of, what := w.doc.Site().Ground, w.covering()
	var m surface.Mended
	w.start(job{
		doing: tr("Taking buildings and trees out of the ground"),
		run:   func(ctx context.Context) (err error) { m, err = surface.Bare(ctx, of, what.covers); return err },
		done: func(err error) {
			if err == nil && len(m.Patches) == 0 {
				err = fmt.Errorf("none of the outlines lies on the ground; draw them where the ground is")
			}
			if err != nil {
				w.complain(err)
				return
			}
			w.askMend(tr("Take buildings and trees out of the ground"), tr("Take them out"), append([]string{what.said()}, w.baredSays(m, of)...),
				&site.MendGround{Of: of, Ground: m.Ground, Patches: m.Patches})
		},
	})
}

// baredSays says what becomes of the ground.
func (w *Window) baredSays(m surface.Mended, of grid.Ground) []string {
	says := []string{trf("Heights under them, and %[1]d cells round them for eaves, are worked out from around: %[2]s in all. Nothing was measured there, and the map goes on to mark it.",
		surface.Rim, w.units.area(float64(m.Cells)*of.CellArea()))}
	if m.Sunk < littleSunk {
		return append(says, trf("The ground would sink there by no more than %[1]s in the mean, so it seems to be bare already: this is for surface models, which show roofs and crowns. Where the ground was measured under them it becomes worse by it.",
			w.units.height(max(0, m.Sunk))))
	}
	return append(says, trf("The ground sinks there by %[1]s in the mean, and by %[2]s at most.", w.units.height(m.Sunk), w.units.height(m.Most)))
}
