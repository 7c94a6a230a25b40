package action

import (
	"context"

	"runnel/analysis/accuracy"
	"runnel/app/groundwork"
	"runnel/app/report"
)

// Survey tells what the ground of a site rests on and how good it is.
type Survey struct {
	Site string `arg:"" help:"The site (.gpkg)."`
	JSON bool   `help:"Write the figures as JSON."`
}

// Help tells how to read the figures.
func (v *Survey) Help() string {
	return `Told are the files that the ground was made from, with their form, count, unit,
datum and cell; how far measurements that were held out in turn lie off the ground
that the others make; the error and its reach that are reckoned with; how much of
the ground is known too thinly to say which way water runs; the parts that were
worked out from around them; and the faults in the measurements.`
}

// Run tells it.
func (v *Survey) Run(ctx context.Context, s Streams) error {
	site, err := s.In.Site(ctx, v.Site)
	if err != nil {
		return err
	}
	known, err := groundwork.KnownOf(ctx, site)
	if err != nil {
		return err
	}
	faults, err := accuracy.Faults(ctx, site.Survey)
	if err != nil {
		return err
	}
	tooLittle, little := known.Shares()
	f := report.OfSurvey(site, report.Thinness{TooLittle: tooLittle, Little: little}, faults)
	if formOf(v.JSON) == asJSON {
		return f.WriteJSON(s.Out)
	}
	return f.WriteTable(s.Out)
}
