package action

import (
	"context"

	"runnel/analysis/fate"
	"runnel/app/report"
)

// Fates tells where the water of each roof and each piece of paving ends.
type Fates struct {
	Site   string `arg:"" help:"The site (.gpkg)."`
	Scheme string `help:"The scheme's name; left out, the site as it is." placeholder:"NAME"`
	JSON   bool   `name:"json" help:"Write the fates, with their paths, as JSON."`
}

// Run follows the water.
func (f *Fates) Run(ctx context.Context, s Streams) error {
	site, err := s.In.Site(ctx, f.Site)
	if err != nil {
		return err
	}
	scheme, err := schemeNamed(site, f.Scheme)
	if err != nil {
		return err
	}
	fates, problems, err := fate.OfScheme(ctx, site, scheme)
	if err != nil {
		return err
	}
	figures := report.OfFates(site, scheme, fates, problems)
	if f.JSON {
		return figures.WriteJSON(s.Out)
	}
	return figures.WriteTable(s.Out)
}
