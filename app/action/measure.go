package action

import (
	"context"
	"math"
	"strings"

	"runnel/analysis/compare"
	"runnel/app/report"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// Measure measures one scheme of a site, or each.
type Measure struct {
	Site   string   `arg:"" help:"The site (.gpkg)."`
	Scheme string   `help:"The scheme's name; left out, the site as it is and every scheme." placeholder:"NAME"`
	Level  *float64 `help:"Water level in every channel, in metres, or the brim where that is lower; left out, each channel's own." placeholder:"LEVEL"`
	JSON   bool     `name:"json" help:"Write the figures as JSON."`
}

// Run measures the scheme.
func (m *Measure) Run(ctx context.Context, s Streams) error {
	o, err := m.options()
	if err != nil {
		return err
	}
	site, err := s.In.Site(ctx, m.Site)
	if err != nil {
		return err
	}
	if err := levelOn(site.Ground, o.Level); err != nil {
		return err
	}
	accounts, err := m.accounts(ctx, site, o)
	if err != nil {
		return err
	}
	figures, err := shaped(ctx, site, accounts)
	if err != nil {
		return err
	}
	return writeFigures(s, figures, formOf(m.JSON))
}

// shaped gathers the figures of accounts, and what is worked out of each scheme's
// shape.
func shaped(ctx context.Context, site *plan.Site, accounts []compare.Account) (report.Figures, error) {
	figures := report.Of(site, accounts)
	for i := range accounts {
		if accounts[i].Scheme == plan.AsItIs {
			continue // nothing is shaped
		}
		shape, err := report.NewShape(ctx, site, &accounts[i])
		if err != nil {
			return figures, err
		}
		figures.Schemes[i].Shape = shape.Figures()
	}
	return figures, nil
}

func (m *Measure) accounts(ctx context.Context, site *plan.Site, o compare.Options) ([]compare.Account, error) {
	if m.Scheme == "" {
		return compare.Schemes(ctx, site, o)
	}
	scheme, err := schemeNamed(site, m.Scheme)
	if err != nil {
		return nil, err
	}
	account, err := compare.Measure(ctx, site, scheme, o)
	return []compare.Account{account}, err
}

func (m *Measure) options() (compare.Options, error) {
	o := compare.Options{Level: math.NaN()}
	if m.Level != nil {
		if o.Level = *m.Level; math.IsNaN(o.Level) || math.IsInf(o.Level, 0) {
			return o, mistyped("the level is %g; give metres", o.Level)
		}
	}
	return o, nil
}

// levelSlack is how far above and below the ground a water level may be asked for
// [m]: channels are dug below the lowest of it.
const levelSlack = 10.0

// levelOn refuses a level that is nowhere near the ground, as one in feet is. NaN
// passes.
func levelOn(ground grid.Ground, level float64) error {
	low, high, _ := grid.Extent(ground)
	if level > high+levelSlack || level < low-levelSlack {
		return mistyped("the level is %.2f m, and the ground lies between %.2f m and %.2f m; give a level no more than %.0f m above or below it",
			level, low, high, levelSlack)
	}
	return nil
}

// schemeNamed finds a scheme of a site; no name is the site as it is, as is its own.
func schemeNamed(site *plan.Site, name string) (plan.SchemeID, error) {
	if name == "" || strings.EqualFold(strings.TrimSpace(name), site.Plan.SchemeName(plan.AsItIs)) {
		return plan.AsItIs, nil
	}
	scheme, err := site.Plan.SchemeNamed(name)
	return scheme.ID, err
}

// A form is how figures are written.
type form uint8

const (
	asTable form = iota
	asJSON
)

func formOf(json bool) form {
	if json {
		return asJSON
	}
	return asTable
}

func writeFigures(s Streams, f report.Figures, as form) error {
	if as == asJSON {
		return f.WriteJSON(s.Out)
	}
	return f.WriteTable(s.Out)
}
