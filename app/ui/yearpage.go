package ui

import (
	"math"

	"fyne.io/fyne/v2"

	"runnel/analysis/soakin"
	"runnel/geo"
	"runnel/geo/plan"
)

// A yearPage lays the account of the water out: through the year, through the record,
// in the design storm, below ground, and what it rests on.
type yearPage struct{ figurePage }

func newYearPage(w *Window) *yearPage {
	p := &yearPage{}
	p.figurePage = newFigurePage(w, pageKind{
		title: func() string { return tr("The year's water") }, parts: p.newParts,
		bare: p.bare, nothing: p.nothing, ready: func() {}, forget: func() {},
	})
	return p
}

func (p *yearPage) newParts() []pagePart {
	return []pagePart{
		&monthPart{yearPage: p}, &recordPart{yearPage: p}, &routePart{yearPage: p},
		&moundPart{yearPage: p}, &basisPart{yearPage: p},
	}
}

// yearsWater lays out the year's water, or goes back to the map.
func (w *Window) yearsWater() { w.year.turnOver() }

// account is the newest of the scheme, nil before it is known.
func (p *yearPage) account() *soakin.Account {
	if k := p.w.soaking; k.last() {
		return k.scheme
	}
	return nil
}

func (p *yearPage) works() []worked { return []worked{p.w.soaking} }

func (p *yearPage) lines() []lineChoice { return nil }

func (p *yearPage) stale() bool { return !p.w.soaking.current() }

// bare reports whether it is known that no water is held anywhere.
func (p *yearPage) bare() bool {
	a := p.account()
	return a != nil && len(a.Setup.Pools.Pools) == 0
}

func (p *yearPage) nothing() fyne.CanvasObject {
	draw := newButton(tr("Draw a channel"), func() { p.leave(); p.w.fetch(drawer(plan.Channel)) })
	draw.keys = p.key
	why := tr("Draw a drain with how long it runs in a year, or a channel that it feeds; what soaks in through the year then stands here.")
	if a := p.account(); a != nil {
		for _, n := range a.Notes {
			why += " " + sentence(p.w.units.told(n))
		}
	}
	return centred(tr("No channel and no drain holds water here."), why, draw)
}

// gauge is the yardstick of depths of rain [mm].
func (u units) gauge() yardstick {
	if u == usFeet {
		return yardstick{"in", millimetresPerInch}
	}
	return yardstick{"mm", 1}
}

// depthPlaces and volumePlaces are the decimals of depths of rain and of volumes.
func (u units) depthPlaces() int {
	if u == usFeet {
		return 1
	}
	return 0
}

func (u units) volumePlaces() int {
	if u == usFeet {
		return 0
	}
	return 1
}

// volumes is a column of volumes [m³].
func (u units) volumes(head string, of func(row int) float64) figureColumn {
	return u.yard(3).column(head, u.volumePlaces(), of)
}

// depths is a column of depths of rain [mm].
func (u units) depths(head string, of func(row int) float64) figureColumn {
	return u.gauge().column(head, u.depthPlaces(), of)
}

// daysColumn is a column of days.
func daysColumn(head string, of func(row int) float64) figureColumn {
	return yardstick{tr("days"), 1}.column(head, 0, of)
}

// A chartPlace holds the charts of a part, which are drawn anew once what they show has
// changed.
type chartPlace struct {
	p     *figurePage
	box   *fyne.Container
	drawn any
}

// show puts the charts up, where they are not of what is given already.
func (c *chartPlace) show(of any, charts func() []fyne.CanvasObject) {
	if c.drawn == of && len(c.box.Objects) > 0 {
		return
	}
	c.drawn = of
	c.p.easel.clear()
	c.box.Objects = charts()
	c.box.Refresh()
}

// drawnOf is what a chart of an account is of.
type drawnOf struct {
	account *soakin.Account
	line    plan.ID
	pool    int
	site    *plan.Site
	// ranged is set where its ranges are known.
	ranged bool
}

// names are the words that charts of waters share.
type waterNames struct{ recharge, irrigation, house, rain, reference string }

func newWaterNames() waterNames {
	return waterNames{tr("put back: recharge potential"), tr("irrigation"), tr("household and other draw"), tr("rain"), tr("reference evapotranspiration")}
}

// each divides some figures.
func each(figures []float64, by float64) []float64 {
	all := make([]float64, len(figures))
	for i, v := range figures {
		all[i] = v / by
	}
	return all
}

// spreadNow is the ranges of the account that is shown, nil until they are known.
func (p *yearPage) spreadNow() *soakin.Spread {
	k := p.w.soaking
	if s := &k.spread.value.scheme; k.current() && k.spread.current() && !math.IsNaN(s.Recharge.Low) {
		return s
	}
	return nil
}

// rangeColumns are between what the recharge of each row lies, as far as that is known.
func (p *yearPage) rangeColumns(ranges []geo.Range) []figureColumn {
	end := func(head string, of func(geo.Range) float64) figureColumn {
		return p.w.units.volumes(head, func(row int) float64 {
			if row >= len(ranges) {
				return math.NaN()
			}
			return of(ranges[row])
		})
	}
	return []figureColumn{
		end(tr("Recharge potential, low"), func(r geo.Range) float64 { return r.Low }),
		end(tr("Recharge potential, high"), func(r geo.Range) float64 { return r.High }),
	}
}
