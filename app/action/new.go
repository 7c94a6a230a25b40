package action

import (
	"context"
	"errors"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"runnel/geo"
	"runnel/geo/gdal"
	"runnel/geo/plan"
)

// New makes a site from an elevation file.
type New struct {
	Site       string   `arg:"" help:"The site to make (.gpkg)."`
	Ground     string   `required:"" placeholder:"FILE" help:"The elevation raster."`
	CRS        string   `name:"crs" placeholder:"EPSG:CODE" help:"The metric reference system of the site; left out, the file's own or the local UTM zone."`
	Cell       *float64 `placeholder:"METRES" help:"The size of a cell; left out, the file's own."`
	Bounds     Bounds   `placeholder:"W,S,E,N" help:"The part to take, in the site's reference system."`
	HeightUnit string   `placeholder:"UNIT" help:"The unit of the file's heights, m, ft or us-ft, where the file does not say or is wrong."`
	Name       string   `help:"The site's name; left out, that of its file."`
	Force      bool     `help:"Write over a file that is there."`
}

// Bounds is a rectangle typed as west, south, east and north.
type Bounds struct{ orb.Bound }

// UnmarshalText reads four numbers parted by commas.
func (b *Bounds) UnmarshalText(text []byte) error {
	parts := strings.Split(string(text), ",")
	var v [4]float64
	for i, part := range parts {
		number, err := strconv.ParseFloat(strings.TrimSpace(part), 64)
		if len(parts) != 4 || err != nil {
			return sentence("the bounds are %q; give four numbers, west,south,east,north", text)
		}
		v[i] = number
	}
	if !(v[0] < v[2] && v[1] < v[3]) {
		return sentence("the bounds are %q; west must be less than east, and south less than north", text)
	}
	b.Bound = orb.Bound{Min: orb.Point{v[0], v[1]}, Max: orb.Point{v[2], v[3]}}
	return nil
}

// Run makes the site.
func (n *New) Run(ctx context.Context, s Streams) error {
	if err := n.check(); err != nil {
		return err
	}
	o := gdal.GroundOptions{CRS: n.CRS, Bound: n.Bounds.Bound, HeightUnit: n.HeightUnit}
	if n.Cell != nil {
		o.Cell = *n.Cell
	}
	ground, system, notes, err := s.In.Ground(ctx, n.Ground, o)
	if err != nil {
		return err
	}
	s.tell(n.Ground, notes)
	name := n.Name
	if name == "" {
		name = strings.TrimSuffix(filepath.Base(n.Site), filepath.Ext(n.Site))
	}
	site := plan.Site{Name: name, CRS: system, Ground: ground, Setting: plan.UsualSetting()}
	return gdal.SaveSite(n.Site, &site)
}

func (n *New) check() error {
	if err := siteName(n.Site); err != nil {
		return err
	}
	if n.Cell != nil && !(*n.Cell > 0 && *n.Cell <= math.MaxFloat64) {
		return mistyped("the cell is %v m; give a length of more than 0, or leave --cell out for the file's own", *n.Cell)
	}
	if n.HeightUnit != "" {
		if _, err := geo.ParseLength(n.HeightUnit); err != nil {
			return mistyped("%v", err)
		}
	}
	switch info, err := os.Stat(n.Site); {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return gdal.Unwritable(n.Site, err)
	case info.IsDir():
		return sentence("%s is a folder; give the name of a file", n.Site)
	case !n.Force:
		return sentence("%s is there already; give another name, or --force to write over it", n.Site)
	}
	return nil
}

// siteName reports a name that a site file cannot have.
func siteName(path string) error {
	if path == "" {
		return mistyped("the name of the site is empty; give one that ends in .gpkg")
	}
	if !strings.EqualFold(filepath.Ext(path), ".gpkg") {
		return mistyped("a site is a .gpkg file; %s is not", filepath.Base(path))
	}
	return nil
}
