package action

import (
	"context"
	"math"

	"runnel/analysis/compare"
	"runnel/app/report"
	"runnel/geo/plan"
)

// Levels measures schemes at one water level after another.
type Levels struct {
	Site   string   `arg:"" help:"The site (.gpkg)."`
	Scheme string   `help:"The scheme's name; left out, every scheme." placeholder:"NAME"`
	Step   *float64 `help:"How far apart the levels are, in metres; left out, 16 steps from the lowest bed to the highest brim." placeholder:"METRES"`
	JSON   bool     `name:"json" xor:"form" help:"Write the tables as JSON."`
	CSV    bool     `name:"csv" xor:"form" help:"Write the tables as comma-separated values."`
}

// usualLevels is at how many levels a scheme is measured where no step is given.
const usualLevels = 17

// Run measures the schemes.
func (l *Levels) Run(ctx context.Context, s Streams) error {
	if l.Step != nil && (!(*l.Step > 0) || math.IsInf(*l.Step, 0)) {
		return mistyped("the step is %g; give metres above nought", *l.Step)
	}
	site, err := s.In.Site(ctx, l.Site)
	if err != nil {
		return err
	}
	schemes, err := l.schemes(site)
	if err != nil {
		return err
	}
	figures := report.NewLevels(site)
	for _, scheme := range schemes {
		table, err := l.table(ctx, site, scheme)
		if err != nil {
			return err
		}
		figures.Add(site.Plan.SchemeName(scheme), table)
	}
	switch {
	case l.JSON:
		return figures.WriteJSON(s.Out)
	case l.CSV:
		return figures.WriteCSV(s.Out)
	}
	return figures.WriteTable(s.Out)
}

func (l *Levels) schemes(site *plan.Site) ([]plan.SchemeID, error) {
	if l.Scheme != "" {
		id, err := schemeNamed(site, l.Scheme)
		return []plan.SchemeID{id}, err
	}
	var all []plan.SchemeID
	for _, scheme := range site.Plan.Schemes {
		all = append(all, scheme.ID)
	}
	return all, nil
}

func (l *Levels) table(ctx context.Context, site *plan.Site, scheme plan.SchemeID) (compare.Stages, error) {
	if l.Step == nil {
		return compare.StageTable(ctx, site, scheme, usualLevels)
	}
	return compare.StagesEvery(ctx, site, scheme, *l.Step)
}
