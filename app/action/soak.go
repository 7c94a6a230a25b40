package action

import (
	"context"
	"io"
	"math"
	"slices"

	"runnel/analysis/compare"
	"runnel/analysis/soakin"
	"runnel/app/report"
	"runnel/geo/plan"
)

// A soaking is what the commands about soak-in share: a site, and a scheme of it or all.
type soaking struct {
	Site   string `arg:"" help:"The site (.gpkg)."`
	Scheme string `help:"The scheme's name; left out, the site as it is and every scheme." placeholder:"NAME"`
	JSON   bool   `name:"json" help:"Write the figures as JSON."`
}

// accounts works out the likely accounts.
func (k *soaking) accounts(ctx context.Context, s Streams) (*plan.Site, []*soakin.Account, error) {
	site, err := s.In.Site(ctx, k.Site)
	if err != nil {
		return nil, nil, err
	}
	m := Measure{Scheme: k.Scheme}
	measured, err := m.accounts(ctx, site, compare.Options{Level: math.NaN()})
	if err != nil {
		return nil, nil, err
	}
	accounts, err := soakin.Accounts(ctx, site, measured)
	return site, accounts, err
}

// besideAsItIs works out the likely accounts, the site as it is first, though one scheme
// alone be asked for.
func (k *soaking) besideAsItIs(ctx context.Context, s Streams) (*plan.Site, []*soakin.Account, error) {
	site, err := s.In.Site(ctx, k.Site)
	if err != nil {
		return nil, nil, err
	}
	asked, err := schemeNamed(site, k.Scheme)
	if err != nil {
		return nil, nil, err
	}
	measured, err := compare.Schemes(ctx, site, compare.Options{Level: math.NaN()})
	if err != nil {
		return nil, nil, err
	}
	if k.Scheme != "" {
		measured = slices.DeleteFunc(measured, func(a compare.Account) bool { return a.Scheme != plan.AsItIs && a.Scheme != asked })
	}
	accounts, err := soakin.Accounts(ctx, site, measured)
	return site, accounts, err
}

// told are figures that can be written as a table and as JSON.
type told interface {
	WriteJSON(io.Writer) error
	WriteTable(io.Writer) error
}

// written writes figures as they are asked for.
func (k *soaking) written(s Streams, f told) error {
	if k.JSON {
		return f.WriteJSON(s.Out)
	}
	return f.WriteTable(s.Out)
}

// Storm leads the design storm through a scheme.
type Storm struct {
	soaking
	Rain  *float64 `help:"Rain of the storm, in millimetres; left out, the site's own." placeholder:"MM"`
	Hours *float64 `help:"How long it falls, in hours; left out, the site's own." placeholder:"HOURS"`
}

// Run leads it through.
func (k *Storm) Run(ctx context.Context, s Streams) error {
	site, err := s.In.Site(ctx, k.Site)
	if err != nil {
		return err
	}
	for _, f := range []struct {
		typed *float64
		to    *float64
		what  string
	}{{k.Rain, &site.Setting.Storm, "rain"}, {k.Hours, &site.Setting.StormHours, "time"}} {
		if f.typed == nil {
			continue
		}
		if *f.to = *f.typed; !(*f.to > 0) || math.IsInf(*f.to, 0) {
			return mistyped("the storm's %s is %g; give a figure above nought", f.what, *f.typed)
		}
	}
	m := Measure{Scheme: k.Scheme}
	measured, err := m.accounts(ctx, site, compare.Options{Level: math.NaN()})
	if err != nil {
		return err
	}
	accounts, err := soakin.Accounts(ctx, site, measured)
	if err != nil {
		return err
	}
	return k.written(s, report.NewStorms(site, accounts))
}

// Season balances the water of a scheme through the site's daily record.
type Season struct{ soaking }

// Run balances it.
func (k *Season) Run(ctx context.Context, s Streams) error {
	site, accounts, err := k.accounts(ctx, s)
	if err != nil {
		return err
	}
	return k.written(s, report.NewSeasons(site, accounts))
}

// Account tells what a scheme puts back beside what the well gives up.
type Account struct {
	soaking
	Draws int `help:"How many worlds are drawn for the ranges." default:"10000" placeholder:"N"`
}

// leastDraws and mostDraws are how many worlds may be drawn.
const (
	leastDraws = 100
	mostDraws  = 1_000_000
)

func checkDraws(draws int) error {
	if draws < leastDraws || draws > mostDraws {
		return mistyped("there are %d worlds to draw; give %d to %d", draws, leastDraws, mostDraws)
	}
	return nil
}

// Run tells it.
func (k *Account) Run(ctx context.Context, s Streams) error {
	if err := checkDraws(k.Draws); err != nil {
		return err
	}
	site, accounts, err := k.besideAsItIs(ctx, s)
	if err != nil {
		return err
	}
	columns, err := soakin.Beside(ctx, site, accounts, k.Draws)
	if err != nil {
		return err
	}
	if k.Scheme != "" { // the site as it is was worked out to set it against
		columns = columns[len(columns)-1:]
	}
	return k.written(s, report.NewAccounts(site, columns))
}

// Cautions lists what to look into before a scheme is dug.
type Cautions struct{ soaking }

// Run lists it.
func (k *Cautions) Run(ctx context.Context, s Streams) error {
	site, accounts, err := k.accounts(ctx, s)
	if err != nil {
		return err
	}
	return k.written(s, report.NewCautions(site, accounts))
}
