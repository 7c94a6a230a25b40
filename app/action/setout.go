package action

import (
	"context"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"strings"

	"runnel/analysis/earthwork"
	"runnel/app/report"
	"runnel/geo/plan"
)

// SetOut writes where a scheme's channels and moats are pegged out.
type SetOut struct {
	Site   string   `arg:"" help:"The site (.gpkg)."`
	File   string   `arg:"" help:"The file to write: .csv points (number, northing, easting, elevation, description), .gpx, .dxf, .json, or .txt a table; - writes the table to standard output."`
	Scheme string   `placeholder:"NAME" help:"The scheme; it may be left out where the site has one."`
	Every  *float64 `placeholder:"METRES" help:"How far apart pegs stand along a line; 2 where it is left out."`
	Offset *float64 `placeholder:"METRES" help:"How far outside the top of a bank its stake stands; 1 where it is left out."`
	Table  bool     `help:"For .csv: write all columns too, with a heading, to NAME.table.csv."`
}

// setOutForms are the endings that can be written.
const setOutForms = "give a name that ends in .csv, .gpx, .dxf, .json or .txt, or - for a table on standard output"

// Run writes the file.
func (c *SetOut) Run(ctx context.Context, s Streams) error {
	extension := strings.ToLower(filepath.Ext(c.File))
	o, err := c.check(extension)
	if err != nil {
		return err
	}
	site, err := s.In.Site(ctx, c.Site)
	if err != nil {
		return err
	}
	scheme, err := designNamed(site, c.Scheme)
	if err != nil {
		return err
	}
	out, err := report.NewSetOut(ctx, site, scheme, o)
	if err != nil {
		return err
	}
	for _, p := range out.Problems {
		s.say(p.Error())
	}
	if len(out.Pegs) == 0 {
		return sentence("%s has no channel that can be set out; draw one, or name another scheme", out.Scheme)
	}
	if c.File == "-" {
		return out.WriteTable(s.Out)
	}
	written, err := c.write(ctx, out, extension)
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(s.Out, "%d pegs of %s: %s\n", len(out.Pegs), out.Scheme, strings.Join(written, ", "))
	return err
}

// designNamed finds a scheme with something designed: by its name, or the only one.
func designNamed(site *plan.Site, name string) (plan.SchemeID, error) {
	schemes := site.Plan.Schemes
	switch {
	case name != "":
		return schemeNamed(site, name)
	case len(schemes) == 1:
		return schemes[0].ID, nil
	case len(schemes) == 0:
		return 0, sentence("the site has no scheme, so there is nothing to set out; draw a channel first")
	}
	var names []string
	for _, scheme := range schemes {
		names = append(names, scheme.Name)
	}
	return 0, mistyped("the site has %d schemes; give one by --scheme: %s", len(schemes), strings.Join(names, ", "))
}

func (c *SetOut) check(extension string) (o earthwork.SetOutOptions, err error) {
	switch extension {
	case ".csv", ".gpx", ".dxf", ".json", ".txt":
	default:
		switch {
		case c.File == "":
			return o, mistyped("the name of the file to write is empty; %s", setOutForms)
		case c.File != "-":
			return o, mistyped("%s cannot be written; %s", filepath.Base(c.File), setOutForms)
		}
	}
	if c.Table && extension != ".csv" {
		return o, mistyped("--table is for a .csv; leave it out")
	}
	if o.Spacing, err = metres("--every", c.Every); err != nil {
		return o, err
	}
	o.Offset, err = metres("--offset", c.Offset)
	return o, err
}

// metres reads a length that may be left out, as nought.
func metres(flag string, v *float64) (float64, error) {
	switch {
	case v == nil:
		return 0, nil
	case !(*v > 0) || math.IsInf(*v, 0):
		return 0, mistyped("%s is %g; give more than 0 metres", flag, *v)
	}
	return *v, nil
}

// write writes the file, and what goes with it first: a person who finds the points
// finds what they mean. It returns the files' names.
func (c *SetOut) write(ctx context.Context, out report.SetOut, extension string) ([]string, error) {
	type file struct {
		path  string
		write func(io.Writer) error
	}
	stem := strings.TrimSuffix(c.File, filepath.Ext(c.File))
	note := file{stem + ".note.txt", out.WriteNote}
	var files []file
	switch extension {
	case ".csv":
		files = []file{note, {c.File, out.WritePoints}}
		if c.Table {
			files = append(files, file{stem + ".table.csv", out.WriteSheet})
		}
	case ".dxf":
		files = []file{note, {c.File, func(w io.Writer) error { return out.WriteDXF(ctx, w) }}}
	case ".gpx":
		lonlat, release, err := lonLat(out.Site.CRS)
		if err != nil {
			return nil, err
		}
		defer release()
		files = []file{{c.File, func(w io.Writer) error { return out.WriteGPX(w, lonlat) }}}
	case ".json":
		files = []file{{c.File, out.WriteJSON}}
	default:
		files = []file{{c.File, out.WriteTable}}
	}
	var names []string
	for _, f := range files {
		if err := writeFile(f.path, f.write); err != nil {
			return nil, err
		}
		names = append(names, filepath.Base(f.path))
	}
	return names, nil
}
