package gdal

import (
	"context"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"slices"

	"github.com/paulmach/orb"

	"runnel/geo/crs"
	"runnel/geo/grid"
)

// mostTiles is how many files make one ground.
const mostTiles = 1000

// A mosaic is laid of tiles, each of which is opened twice: once to learn how large
// the whole is, before memory is taken, and once to be read.
type mosaic struct {
	Brought
	o   GroundOptions
	net net
	// frames are where the tiles lie on the net; those outside have no cells.
	frames []grid.Frame
	// over counts the cells that two tiles have, by how much [m] the later lies
	// above the earlier.
	over overlap
	said []saying
}

// A saying is a note with the files of which it is true.
type saying struct {
	text  string
	files []string
}

// A net is an endless grid of square cells: a corner of one, and their size [m].
type net struct {
	corner orb.Point
	cell   float64
}

// readMosaic reads a ground of several files.
func readMosaic(ctx context.Context, paths []string, o GroundOptions) (Brought, error) {
	if len(paths) > mostTiles {
		return Brought{}, fmt.Errorf("%d files are given for one ground, and %d is the most; join some of them first", len(paths), mostTiles)
	}
	m := mosaic{o: o}
	var full []string
	for _, path := range paths {
		f, err := localFile(path)
		if err != nil {
			return Brought{}, hopeless{err}
		}
		full = append(full, f)
	}
	for i, f := range full {
		if err := ctx.Err(); err != nil {
			return Brought{}, err
		}
		if err := doOn(f, func() error { return m.look(f, i == 0) }); err != nil {
			return Brought{}, err
		}
	}
	if err := m.lay(full); err != nil {
		return Brought{}, err
	}
	for i, f := range full {
		if m.frames[i].Len() == 0 {
			continue
		}
		if err := doOn(f, func() error { return m.take(ctx, f, m.frames[i]) }); err != nil {
			return Brought{}, judged(err, o)
		}
	}
	if len(m.Sources) == 0 {
		return Brought{}, fmt.Errorf("none of the %d files has a height there; look at the site's place and reference system", len(full))
	}
	m.finish()
	return m.Brought, nil
}

// look finds where a tile lies. The first settles the system and the net.
func (m *mosaic) look(full string, first bool) error {
	s, err := openGround(full, m.o)
	if err != nil {
		return err
	}
	defer s.set.Close()
	if first {
		if m.CRS, err = s.target(m.o.CRS); err != nil {
			return err
		}
		m.net = s.net(m.CRS, m.o)
	} else if err := s.bring(m.CRS); err != nil {
		return err
	}
	extent, err := s.extent(m.CRS)
	if err != nil {
		return err
	}
	if m.o.cropped() {
		if extent = meet(extent, m.o.Bound); !(extent.Min[0] < extent.Max[0] && extent.Min[1] < extent.Max[1]) {
			m.frames = append(m.frames, grid.Frame{})
			m.note(full, "It lies outside the rectangle to cut out and is left out.")
			return nil
		}
	}
	f, err := m.net.around(extent)
	m.frames = append(m.frames, f)
	return err
}

// net is that of the file's own cells where they can be kept, and else one that grounds
// of one place have in common.
func (s *source) net(to crs.CRS, o GroundOptions) net {
	if f, ok := s.own(to, o); ok {
		return net{orb.Point{f.West, f.North}, f.DX}
	}
	n := net{cell: o.Cell}
	if n.cell == 0 {
		n.cell = threeDigits(math.Sqrt(s.Grid.DX * s.Grid.DY))
	}
	if o.cropped() {
		n.corner = orb.Point{o.Bound.Min[0], o.Bound.Max[1]}
	}
	return n
}

// bring gets a tile ready for the system that the first has settled.
func (s *source) bring(to crs.CRS) error {
	s.scaleToMetres()
	switch {
	case s.CRS.Known() && !to.Known():
		return fmt.Errorf("it is in %v, and the first file names no reference system; name the system to bring them all to", s.CRS)
	case !s.CRS.Known() && to.Known():
		s.note("It is taken to be in %v.", to)
		s.CRS = to
	case s.CRS.Known() && !s.CRS.Same(to):
		s.note("It is brought to %v.", to)
	}
	return nil
}

func meet(a, b orb.Bound) orb.Bound {
	return orb.Bound{
		Min: orb.Point{max(a.Min[0], b.Min[0]), max(a.Min[1], b.Min[1])},
		Max: orb.Point{min(a.Max[0], b.Max[0]), min(a.Max[1], b.Max[1])},
	}
}

// netSlack is how far [cells] an edge may lie beyond a cell's before the next cell is taken.
const netSlack = 1e-4

// around returns the cells of the net that touch a rectangle.
func (n net) around(b orb.Bound) (grid.Frame, error) {
	x0 := math.Floor((b.Min[0]-n.corner[0])/n.cell + netSlack)
	y0 := math.Floor((n.corner[1]-b.Max[1])/n.cell + netSlack)
	x1 := math.Ceil((b.Max[0]-n.corner[0])/n.cell - netSlack)
	y1 := math.Ceil((n.corner[1]-b.Min[1])/n.cell - netSlack)
	w, h := max(1, x1-x0), max(1, y1-y0)
	if !(w*h <= grid.MaxCells) {
		return grid.Frame{}, fmt.Errorf("it would be %.0f by %.0f cells of %g m, more than the %d million that fit in memory; cut it to the site or choose a larger cell",
			w, h, n.cell, grid.MaxCells/1_000_000)
	}
	return grid.Square(int(w), int(h), n.corner[0]+x0*n.cell, n.corner[1]-y0*n.cell, n.cell), nil
}

// lay makes the ground that all tiles lie on, with no data yet.
func (m *mosaic) lay(full []string) error {
	var all orb.Bound
	some := false
	for _, f := range m.frames {
		switch {
		case f.Len() == 0:
		case !some:
			all, some = f.Bound(), true
		default:
			all = all.Union(f.Bound())
		}
	}
	if !some {
		return fmt.Errorf("none of the %d files has a cell in the rectangle to cut out; look at the site's place and reference system", len(full))
	}
	f, err := m.net.around(all)
	if err != nil {
		return fmt.Errorf("the %d files together: %w", len(full), err)
	}
	m.Ground = grid.New[float32](f)
	for i := range m.Ground.V {
		m.Ground.V[i] = grid.NoData
	}
	return nil
}

// take reads a tile and puts its heights where there are none yet.
func (m *mosaic) take(ctx context.Context, full string, f grid.Frame) error {
	s, err := openGround(full, m.o)
	if err != nil {
		return err
	}
	defer s.set.Close()
	from := s.describeFile(full)
	if err := s.bring(m.CRS); err != nil {
		return err
	}
	tile, err := s.onNet(ctx, m.CRS, f)
	if errors.Is(err, errNoHeight) || errors.Is(err, errNoneInside) {
		m.note(full, "It has no height there and is left out.")
		return nil
	}
	if err != nil {
		return err
	}
	if len(m.Sources) == 0 {
		s.noteStretch(m.Ground.Frame, m.CRS)
	}
	s.toMetres(tile)
	from.Count = m.paste(tile)
	m.Sources = append(m.Sources, from)
	if m.Taken == "" {
		m.Taken = s.taken()
	}
	for _, n := range s.Notes {
		m.note(full, n)
	}
	return nil
}

// note keeps a sentence of a file.
func (m *mosaic) note(full, text string) {
	i := slices.IndexFunc(m.said, func(n saying) bool { return n.text == text })
	if i < 0 {
		i = len(m.said)
		m.said = append(m.said, saying{text: text})
	}
	m.said[i].files = append(m.said[i].files, filepath.Base(full))
}

// String is the note with what it is of before it.
func (n saying) String() string {
	switch more := len(n.files) - 1; more {
	case 0:
		return fmt.Sprintf("%s: %s", n.files[0], n.text)
	case 1:
		return fmt.Sprintf("%s and %s: %s", n.files[0], n.files[1], n.text)
	default:
		return fmt.Sprintf("%s and %d more: %s", n.files[0], more, n.text)
	}
}

// tellOverlap is how far heights of two files may lie apart in the mean before it is told [m].
const tellOverlap = 0.01

// finish tells what the tiles do not agree on.
func (m *mosaic) finish() {
	for _, n := range m.said {
		m.Notes = append(m.Notes, n.String())
	}
	if note := m.overlap(); note != "" {
		m.Notes = append(m.Notes, note)
	}
	datums := make([]string, 0, len(m.Sources))
	for _, s := range m.Sources {
		if s.Datum != "" && !slices.Contains(datums, s.Datum) {
			datums = append(datums, s.Datum)
		}
	}
	if len(datums) > 1 {
		m.Notes = append(m.Notes, fmt.Sprintf("The files are not above one datum: one is above %s, another above %s. The ground steps where they meet.", datums[0], datums[1]))
	}
}

// overlap tells how far files lie apart where they overlap; empty where that is little.
func (m *mosaic) overlap() string {
	switch mean := m.over.sum / float64(max(1, m.over.cells)); {
	case mean > tellOverlap:
		return fmt.Sprintf("Where files overlap the earlier one's heights stand; the later one's lie %.2f m above them in the mean of %d cells, and %.2f m apart at most. Look whether all are above one datum and in one unit.", mean, m.over.cells, m.over.most)
	case mean < -tellOverlap:
		return fmt.Sprintf("Where files overlap the earlier one's heights stand; the later one's lie %.2f m below them in the mean of %d cells, and %.2f m apart at most. Look whether all are above one datum and in one unit.", -mean, m.over.cells, m.over.most)
	}
	return ""
}
