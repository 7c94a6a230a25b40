package action

import (
	"context"
	"path/filepath"
	"strings"

	"runnel/analysis/soakin"
	"runnel/app/report"
	"runnel/assets/demo"
	"runnel/geo/gdal"
	"runnel/geo/plan"
)

// Demo writes the demo site and does the whole job on it.
type Demo struct {
	Dir string `arg:"" help:"The folder for the results."`
}

// Help tells what is written.
func (d *Demo) Help() string {
	return `Written into the folder: site.gpkg, the site; plan.geojson, its drawing;
map-*.png, a map of the site as it is and of each scheme; figures.json and
figures.txt, what each scheme measures and what soaks in under it; account,
season, storm and cautions, each .json and .txt, as the commands of these names
tell them; survey/contours.geojson and survey/points.csv, an invented survey of
the same ground to make a site of. One of the points is planted a metre too
high. The table is written out as well.`
}

// demoPicture is the size of the maps [px].
var demoPicture = size{1800, 1150}

// Run writes the site, the maps and the figures.
func (d *Demo) Run(ctx context.Context, s Streams) error {
	if err := folder(d.Dir); err != nil {
		return err
	}
	site := demo.Site()
	if err := gdal.SaveSite(filepath.Join(d.Dir, "site.gpkg"), &site); err != nil {
		return err
	}
	if err := writeDrawing(filepath.Join(d.Dir, "plan.geojson"), &site); err != nil {
		return err
	}
	if err := writeSurvey(ctx, filepath.Join(d.Dir, "survey"), &site); err != nil {
		return err
	}
	for _, scheme := range append([]plan.Scheme{{Name: site.Plan.SchemeName(plan.AsItIs)}}, site.Plan.Schemes...) {
		path := filepath.Join(d.Dir, "map-"+fileName(scheme.Name)+".png")
		if err := writePicture(ctx, path, &site, scheme.ID, demoPicture); err != nil {
			return err
		}
	}
	var book soakin.Book
	measured, accounts, err := book.Accounts(ctx, &site)
	if err != nil {
		return err
	}
	columns, err := soakin.Beside(ctx, &site, accounts, soakin.Draws)
	if err != nil {
		return err
	}
	figures, err := shaped(ctx, &site, measured)
	if err != nil {
		return err
	}
	return d.writeFigures(s, figures.WithSoak(columns), []named{
		{"account", report.NewAccounts(&site, columns)}, {"season", report.NewSeasons(&site, accounts)},
		{"storm", report.NewStorms(&site, accounts)}, {"cautions", report.NewCautions(&site, accounts)},
	})
}

// named are figures with the name of their files.
type named struct {
	name string
	told
}

// writeFigures writes figures and others as tables and as JSON, and the figures' table out.
func (d *Demo) writeFigures(s Streams, f report.Figures, others []named) error {
	for _, of := range append([]named{{"figures", f}}, others...) {
		path := filepath.Join(d.Dir, of.name)
		if err := writeFile(path+".json", of.WriteJSON); err != nil {
			return err
		}
		if err := writeFile(path+".txt", of.WriteTable); err != nil {
			return err
		}
	}
	return f.WriteTable(s.Out)
}

// fileName makes a scheme's name fit for a file: small letters and hyphens.
func fileName(name string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(name), func(r rune) bool {
		return (r < 'a' || r > 'z') && (r < '0' || r > '9')
	}), "-")
}
