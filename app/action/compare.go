package action

import (
	"context"

	"runnel/analysis/soakin"
	"runnel/app/report"
)

// Compare measures every scheme of a site, the site as it is first, and tells what soaks
// in under each.
type Compare struct {
	Site  string `arg:"" help:"The site (.gpkg)."`
	Draws int    `help:"How many worlds are drawn for the ranges." default:"10000" placeholder:"N"`
	JSON  bool   `name:"json" help:"Write the figures as JSON."`
}

// Run compares the schemes.
func (c *Compare) Run(ctx context.Context, s Streams) error {
	if err := checkDraws(c.Draws); err != nil {
		return err
	}
	site, err := s.In.Site(ctx, c.Site)
	if err != nil {
		return err
	}
	var book soakin.Book
	measured, accounts, err := book.Accounts(ctx, site)
	if err != nil {
		return err
	}
	columns, err := soakin.Beside(ctx, site, accounts, c.Draws)
	if err != nil {
		return err
	}
	return writeFigures(s, report.Of(site, measured).WithSoak(columns), formOf(c.JSON))
}
