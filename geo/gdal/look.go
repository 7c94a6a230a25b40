package gdal

import (
	"context"
	"fmt"
	"math"
	"path/filepath"
	"strings"

	"github.com/lukeroth/gdal"
	"github.com/paulmach/orb"

	"runnel/geo/crs"
	"runnel/geo/table"
)

// A Look is what a file of measurements or of drawings holds.
type Look struct {
	Layers []LayerLook
	// System is that of the coordinates; unknown where the file does not say.
	System crs.CRS
	// Degrees is set where the coordinates are degrees, or look like degrees.
	Degrees bool
	// Table is set where the file is delimited text; its one layer then has neither
	// fields nor a bound, and its count is an estimate.
	Table *table.Look
	// Grid is set where the rows of a table named .xyz are the cells of a raster.
	Grid  bool
	Notes []string
}

// A LayerLook is one layer of a file: of a DXF drawing, one of its own layers.
type LayerLook struct {
	Name                 string
	Points, Lines, Areas int // parts, each as it is read
	// HasZ is set where points have a third coordinate that is not nought everywhere.
	HasZ   bool
	Fields []FieldLook
	// Height is what seems to hold the heights: a field's name, ZHeight, or "" for none.
	Height string
	// Bound is in the file's own coordinates.
	Bound orb.Bound
}

// A FieldLook is one field of a layer.
type FieldLook struct {
	Name string
	// Number is set where all of its values are numbers; Low and High are of those.
	Number    bool
	Low, High float64
	Set       int // in how many features it is set
	Samples   []string
}

// LookAt goes through a file without keeping what is in it. Nothing that the file
// points to is opened.
func LookAt(ctx context.Context, path string) (Look, error) {
	full, err := localFile(path)
	if err != nil {
		return Look{}, err
	}
	if isTable(full) {
		return lookTable(full)
	}
	var l Look
	err = doOn(full, func() error {
		m, err := openMeasured(full)
		if err != nil {
			return err
		}
		defer m.Close()
		l, err = m.look(ctx, full)
		return err
	})
	if err != nil {
		return Look{}, err
	}
	return l, nil
}

func lookTable(full string) (Look, error) {
	t, err := lookAtTable(full)
	if err != nil {
		return Look{}, err
	}
	l := Look{Table: &t, Degrees: t.Degrees, Notes: t.Why}
	if strings.EqualFold(filepath.Ext(full), ".xyz") {
		do(func() error { l.Grid = isRaster(full); return nil })
	}
	if t.Degrees {
		l.System = crs.LonLat()
	} else {
		l.Degrees = tableInDegrees(t)
	}
	height := ""
	if at := t.Columns.Z; at >= 0 && at < len(t.Header) {
		height = t.Header[at]
	} else if at >= 0 {
		height = ZHeight
	}
	l.Layers = []LayerLook{{Name: strings.TrimSuffix(filepath.Base(full), filepath.Ext(full)), Points: t.Rows, HasZ: t.Columns.Z >= 0, Height: height}}
	return l, nil
}

// look describes the layers.
func (m *measuredFile) look(ctx context.Context, full string) (Look, error) {
	l := Look{Notes: m.notes}
	left := map[entity]int{}
	for _, layer := range m.layers() {
		from := m.systemOf(layer)
		if !l.System.Known() {
			l.System = from
		} else if from.Known() && !from.Same(l.System) {
			l.Notes = append(l.Notes, fmt.Sprintf("Layer %s is in %v.", clip(readable(layer.Name())), from))
		}
		tallies, err := m.tally(ctx, layer, left)
		if err != nil {
			return Look{}, err
		}
		for _, t := range tallies {
			if t.Points+t.Lines+t.Areas > 0 {
				l.Layers = append(l.Layers, t.done())
				l.Notes = append(l.Notes, t.notes()...)
			}
		}
	}
	l.Notes = append(l.Notes, leftOut(left)...)
	if lacksTable(full) {
		l.note("Its .dbf is missing, the file that holds its fields.")
	}
	if m.unread > 0 {
		l.Notes = append(l.Notes, fmt.Sprintf("%d of its features have no shape that can be read.", m.unread))
	}
	if m.unknown {
		l.Notes = append(l.Notes, "It names a reference system that is not known; say which it is.")
	}
	l.Degrees = l.System.Degrees || !l.System.Known() && looksLikeDegrees(boundOf(l.Layers))
	if len(l.Layers) == 0 {
		return Look{}, m.errNothing(left)
	}
	return l, nil
}

func (l *Look) note(said string) { l.Notes = append(l.Notes, said) }

// errNothing says that a file holds nothing that can be taken.
func (m *measuredFile) errNothing(left map[entity]int) error {
	if m.links {
		return errOnlyLinks
	}
	if said := leftOut(left); len(said) > 0 {
		return fmt.Errorf("it holds no points, lines or areas that can be taken; %s", strings.ToLower(said[0][:1])+strings.TrimSuffix(said[0][1:], "."))
	}
	return fmt.Errorf("it holds no points, lines or areas that can be taken; give another file, or another layer of it")
}

// leftOut tells what of a DXF drawing is left out.
func leftOut(left map[entity]int) []string {
	var notes []string
	if n := left[textEntity] + left[blockEntity]; n > 0 {
		notes = append(notes, fmt.Sprintf("Texts and blocks are left out: %d texts and dimensions, %d blocks.", left[textEntity], left[blockEntity]))
	}
	if n := left[areaEntity]; n > 0 {
		notes = append(notes, fmt.Sprintf("Its areas are hatches and faces and are left out: %d of them.", n))
	}
	if n := left[paperEntity]; n > 0 {
		notes = append(notes, fmt.Sprintf("What lies on its sheets of paper is left out: %d parts.", n))
	}
	return notes
}

// systemOf returns the system that a layer says that it is in.
func (m *measuredFile) systemOf(layer gdal.Layer) crs.CRS {
	if sr := layer.SpatialReference(); handle(sr) != nil && !m.unknown {
		return describe(sr)
	}
	return crs.CRS{}
}

func boundOf(layers []LayerLook) orb.Bound {
	if len(layers) == 0 {
		return orb.Bound{}
	}
	b := layers[0].Bound
	for _, l := range layers[1:] {
		b = b.Union(l.Bound)
	}
	return b
}

// widestDegrees is how far a site can reach [degrees].
const widestDegrees = 0.5

// looksLikeDegrees reports coordinates that a site has only in degrees: a small
// part of one across, and far from nought.
func looksLikeDegrees(b orb.Bound) bool {
	far := math.Max(math.Abs(b.Min[0]), math.Abs(b.Min[1])) > 1
	return far && b.Min[0] >= -180 && b.Max[0] <= 180 && b.Min[1] >= -90 && b.Max[1] <= 90 &&
		b.Max[0]-b.Min[0] < widestDegrees && b.Max[1]-b.Min[1] < widestDegrees &&
		b.Max[0] > b.Min[0] && b.Max[1] > b.Min[1]
}

// tableInDegrees is looksLikeDegrees of the rows that are shown.
func tableInDegrees(t table.Look) bool {
	b, any := orb.Bound{}, false
	for _, p := range t.Shown(t.Columns) {
		if !any {
			b, any = p.Bound(), true
		}
		b = b.Extend(p)
	}
	return any && looksLikeDegrees(b)
}
