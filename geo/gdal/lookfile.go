package gdal

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/lukeroth/gdal"

	"runnel/geo/table"
)

// A measuredFile is an open file of measurements that is no table.
type measuredFile struct {
	openFile
	format string // the library's name of it
	// unknown is set where the file names a system that nobody knows: what the
	// library takes for its system is then not to be believed.
	unknown bool
	unread  int  // features without a shape that can be read
	links   bool // it is a KML file with links to others
	notes   []string
}

// mostFileBytes is how large a file of measurements may be.
const mostFileBytes = 2 << 30

// refuseLarge refuses a file before anything of it is read.
func refuseLarge(full string) error {
	info, err := os.Stat(full)
	if err == nil && info.Size() > mostFileBytes {
		return fmt.Errorf("it has %.1f GB, and %d GB can be read; cut it to the site", float64(info.Size())/(1<<30), mostFileBytes>>30)
	}
	return nil
}

// openMeasured opens a file that localFile has passed. The blocks of a DXF drawing
// are not put in place of their references: a few can stand for millions of lines.
func openMeasured(full string) (*measuredFile, error) {
	if err := refuseLarge(full); err != nil {
		return nil, err
	}
	m := &measuredFile{}
	var err error
	withOption("DXF_INLINE_BLOCKS", "FALSE", func() {
		withOption("GPX_ELE_AS_25D", "YES", func() { m.openFile, err = openDrawing(full) })
	})
	if err != nil && isRaster(full) {
		return nil, errors.New("it is a raster, not lines or points; bring it in as a ground")
	}
	if err != nil {
		return nil, err
	}
	m.format = m.Driver().ShortName()
	if m.format == "GPKG" {
		if held, err := readSettings(m.Dataset); err == nil && held["format"] == siteFormat {
			m.Close()
			return nil, errSite
		}
	}
	if m.note != "" {
		m.notes = append(m.notes, m.note)
	}
	if m.links = strings.HasSuffix(m.format, "KML") && linksIn(full); m.links {
		m.notes = append(m.notes, "Its links to other files are not followed.")
	}
	switch {
	case failedOnSystem():
		m.unknown = true
	case failed():
		m.notes = append(m.notes, "Part of it is damaged and may be missing.")
	}
	forget()
	return m, m.checkCounts()
}

// errSite refuses a site where contours or points are asked for: what is drawn on one
// has heights of walls and trees, which are none of the ground.
var errSite = errors.New("it is a site that Runnel saved, not contours or points; open it to work on it")

// isRaster reports a file of cells.
func isRaster(full string) bool {
	set, err := openRaster(full)
	forget()
	if err != nil {
		return false
	}
	defer set.Close()
	return set.RasterCount() > 0
}

// checkCounts refuses what has too many features, as far as the file says so
// before it is read.
func (m *measuredFile) checkCounts() error {
	total := 0
	for _, layer := range m.layers() {
		if n, ok := layer.FeatureCount(false); ok {
			total += max(0, n)
		}
	}
	forget()
	if total > mostFeatures {
		m.Close()
		return tooMany()
	}
	return nil
}

func tooMany() error {
	return fmt.Errorf("it holds more than %d features or %d points; cut it to the site", mostFeatures, mostPoints)
}

// layers returns the layers that have positions. A GPX file gives its tracks and
// routes twice, as lines and as points: the points are taken, in their order. The
// definitions of a DXF drawing's blocks lie nowhere.
func (m *measuredFile) layers() []gdal.Layer {
	var layers []gdal.Layer
	for i := range layerCount(m.Dataset) {
		layer := m.LayerByIndex(i)
		name := layer.Name()
		switch {
		case layer.Type() == gdal.GT_None:
		case m.format == "GPX" && (name == "tracks" || name == "routes"):
		case m.format == "DXF" && name != "entities":
		default:
			layers = append(layers, layer)
		}
	}
	return layers
}

// each calls f for every feature of a layer until it says that it has enough.
func (m *measuredFile) each(ctx context.Context, layer gdal.Layer, f func(gdal.Feature) error) error {
	layer.ResetReading()
	for n := 1; ; n++ {
		if n%1024 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		feature := layer.NextFeature()
		if feature == nil {
			break
		}
		if n > mostFeatures {
			feature.Destroy()
			return tooMany()
		}
		err := f(*feature)
		feature.Destroy()
		if errors.Is(err, errEnough) {
			return nil
		}
		if err != nil {
			return err
		}
	}
	if failed() {
		forget()
		return fmt.Errorf("layer %s cannot be read to its end; copy the file again from where it came", clip(readable(layer.Name())))
	}
	return nil
}

var errEnough = errors.New("enough is read")

// tableEndings are those of delimited text.
var tableEndings = []string{".csv", ".txt", ".xyz", ".tsv", ".dat", ".pts", ".prn", ".asc", ".nez", ".enz", ".tab"}

// vectorEndings are those of the formats that hold drawings.
var vectorEndings = []string{".json", ".geojson", ".gpkg", ".shp", ".dbf", ".shx", ".dxf", ".kml", ".gpx", ".fgb"}

// isTable reports a file that is delimited text. A table whose places are written
// as well-known text is for the library.
func isTable(full string) bool {
	ending := strings.ToLower(filepath.Ext(full))
	if slices.Contains(vectorEndings, ending) {
		return false
	}
	if !slices.Contains(tableEndings, ending) {
		_, err := table.LookAt(full)
		return err == nil
	}
	head := strings.ToLower(headOf(full))
	line, _, _ := strings.Cut(head, "\n")
	return !(ending == ".csv" && strings.Contains(line, "wkt"))
}

// headOf returns the beginning of a file.
func headOf(full string) string {
	file, err := os.Open(full)
	if err != nil {
		return ""
	}
	defer file.Close()
	head := make([]byte, 512)
	n, _ := io.ReadFull(file, head)
	return string(head[:n])
}

// mostLinkBytes is how much of a file is gone through for links.
const mostLinkBytes = 8 << 20

var errOnlyLinks = errors.New("it holds only links to other files, which are not followed; get the file that is linked to, and give that")

// linksIn reports a KML file that has links to other files.
func linksIn(full string) bool {
	file, err := os.Open(full)
	if err != nil {
		return false
	}
	defer file.Close()
	text, _ := io.ReadAll(io.LimitReader(file, mostLinkBytes))
	return bytes.Contains(text, []byte("<NetworkLink>")) || bytes.Contains(text, []byte("<NetworkLink "))
}

// lookAtTable looks at delimited text, and refuses the text of a raster.
func lookAtTable(full string) (table.Look, error) {
	if words := strings.Fields(strings.ToLower(headOf(full))); len(words) > 0 && (words[0] == "ncols" || words[0] == "nrows") {
		return table.Look{}, fmt.Errorf("%s: it is a grid of heights, not a table of points; bring it in as a raster", filepath.Base(full))
	}
	return table.LookAt(full)
}
