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

// New makes a site from elevation rasters, or from contours and points.
type New struct {
	Site       string   `arg:"" help:"The site to make (.gpkg)."`
	Ground     []string `sep:"none" placeholder:"FILE" help:"An elevation raster; may be given again for those that lie side by side."`
	FillVoids  bool     `help:"Work out heights in the voids of the rasters from around them; the site keeps that they were not measured."`
	Measured   `embed:""`
	CRS        string   `name:"crs" placeholder:"EPSG:CODE" help:"The metric reference system of the site; left out, the file's own or the local UTM zone."`
	Cell       *float64 `placeholder:"METRES" help:"The size of a cell; left out, the raster's own, or chosen from how close the measurements lie."`
	Bounds     Bounds   `placeholder:"W,S,E,N" help:"The part to take, in the site's reference system."`
	HeightUnit string   `placeholder:"UNIT" help:"The unit of the heights, m, ft or us-ft, where a file does not say or is wrong."`
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

// Help tells how measurements are taken.
func (n *New) Help() string {
	return `The ground is made of elevation rasters, or of what was measured: contours, points,
breaklines and the edge of the survey, several files together. What was assumed
of the files is told, and what cannot be right in them: crossing contours, points
far off their neighbours, heights that are missing. All is kept unless --leave-out
is given. How good the ground is comes from measurements that are held out in turn;
runnel survey SITE tells it again.`
}

// Run makes the site.
func (n *New) Run(ctx context.Context, s Streams) error {
	if err := n.check(); err != nil {
		return err
	}
	made, err := n.site(ctx, s)
	if err != nil {
		return err
	}
	if made.Name = n.Name; made.Name == "" {
		made.Name = strings.TrimSuffix(filepath.Base(n.Site), filepath.Ext(n.Site))
	}
	return gdal.SaveSite(n.Site, &made)
}

func (n *New) site(ctx context.Context, s Streams) (plan.Site, error) {
	if len(n.Ground) > 0 {
		return n.fromRasters(ctx, s)
	}
	return n.fromMeasured(ctx, s)
}

// fromRasters makes the site of elevation rasters.
func (n *New) fromRasters(ctx context.Context, s Streams) (plan.Site, error) {
	o := gdal.GroundOptions{CRS: n.CRS, Bound: n.Bounds.Bound, HeightUnit: n.HeightUnit}
	if n.Cell != nil {
		o.Cell = *n.Cell
	}
	b, err := s.In.Ground(ctx, n.Ground, o)
	if err != nil {
		return plan.Site{}, err
	}
	return n.laid(ctx, s, b)
}

func (n *New) check() error {
	if err := siteName(n.Site); err != nil {
		return err
	}
	if n.Cell != nil && !(*n.Cell > 0 && *n.Cell <= math.MaxFloat64) {
		return mistyped("the cell is %v m; give a length of more than 0, or leave --cell out", *n.Cell)
	}
	if n.HeightUnit != "" {
		if _, err := geo.ParseLength(n.HeightUnit); err != nil {
			return mistyped("%v", err)
		}
	}
	switch measured := len(n.files()) > 0; {
	case len(n.Ground) == 0 && !measured:
		return mistyped("new needs what the ground is made of; give --ground for rasters, or --contours and --points")
	case len(n.Ground) > 0 && measured:
		return mistyped("a ground is made of rasters or of contours and points; give --ground or the others, not both")
	}
	if n.FillVoids && len(n.Ground) == 0 {
		return mistyped("--fill-voids is for rasters; leave it out with contours and points")
	}
	if err := n.Measured.check(); err != nil {
		return err
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
