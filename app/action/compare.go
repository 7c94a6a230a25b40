package action

import (
	"context"
	"math"

	"runnel/analysis/compare"
	"runnel/app/report"
)

// Compare measures every scheme of a site, the site as it is first.
type Compare struct {
	Site string `arg:"" help:"The site (.gpkg)."`
	JSON bool   `name:"json" help:"Write the figures as JSON."`
}

// Run compares the schemes.
func (c *Compare) Run(ctx context.Context, s Streams) error {
	site, err := s.In.Site(ctx, c.Site)
	if err != nil {
		return err
	}
	accounts, err := compare.Schemes(ctx, site, compare.Options{Level: math.NaN()})
	if err != nil {
		return err
	}
	return writeFigures(s, report.Of(site, accounts), formOf(c.JSON))
}
