package view

import (
	"context"
	"fmt"
	"image"
	"image/draw"
	"strings"

	"github.com/paulmach/orb"

	"runnel/analysis/caution"
	"runnel/geo/plan"
)

// The smallest picture that has room for a map and its title block [px].
const (
	leastWidth  = 400
	leastHeight = 300
)

// Picture composes a finished map of w by h pixels: the whole scene, and beside
// it a block with the title, a legend of what is drawn, the scale, north, and
// what the map rests on.
func Picture(ctx context.Context, s *Scene, w, h int, p Palette, title string) (*image.RGBA, error) {
	if w < leastWidth || h < leastHeight || w > maxSide || h > maxSide {
		return nil, fmt.Errorf("the picture is %d by %d pixels; give %d by %d at least and %d at most on each side",
			w, h, leastWidth, leastHeight, maxSide)
	}
	// A sheet is laid out for 1400 by 950 pixels; other sizes are scaled to it.
	p = p.Scaled(max(0.4, min(float64(w)/1400, float64(h)/950)))
	p.Desk = p.Paper
	sheet := newSheet(w, h, p)
	camera := Fit(s.Bound(), sheet.chart.Dx(), sheet.chart.Dy())
	chart, err := Draw(ctx, s, camera, sheet.chart.Dx(), sheet.chart.Dy(), p)
	if err != nil {
		return nil, err
	}
	if s.Show.Has(Grid) {
		newCanvas(chart, camera, p).graticule(s.Units)
	}
	draw.Draw(sheet.dst, sheet.chart, chart, image.Point{}, draw.Src)
	sheet.camera = camera
	sheet.frame()
	sheet.titleBlock(s, title)
	return sheet.dst, nil
}

// A sheet is a picture with a chart and a block of text beside it.
type sheet struct {
	*canvas
	chart image.Rectangle
	// left and right bound the block of text, y is where its next line goes [px].
	left, right, y float64
}

func newSheet(w, h int, p Palette) *sheet {
	k := newCanvas(image.NewRGBA(image.Rect(0, 0, w, h)), Camera{Scale: 1}, p)
	k.clearTo(p.Paper)
	margin, column := int(24*k.px), int(270*k.px)
	return &sheet{
		canvas: k,
		chart:  image.Rect(margin, margin, w-2*margin-column, h-margin),
		left:   float64(w - margin - column), right: float64(w - margin), y: float64(margin),
	}
}

func (s *sheet) frame() {
	r := s.chart
	b := orb.Bound{Min: orb.Point{float64(r.Min.X), float64(r.Min.Y)}, Max: orb.Point{float64(r.Max.X), float64(r.Max.Y)}}
	s.draw(b.ToRing(), Pen{Colour: s.look.Ink, Width: 1.4 * s.px})
}

// titleBlock writes the block: title above, foot below, the legend between.
func (s *sheet) titleBlock(scene *Scene, title string) {
	heading := lettering{size: s.look.Type.Title, weight: mediumWeight, colour: s.look.Ink}
	body := lettering{size: s.look.Type.Text, colour: s.look.Ink}
	quiet := lettering{size: s.look.Type.Small, colour: s.look.Muted}
	s.paragraph(title, heading)
	s.y += 4 * s.px
	if scene.Site != nil {
		if scene.Site.Name != title {
			s.paragraph(scene.Site.Name, body)
		}
		name := scene.Site.Plan.SchemeName(scene.Scheme)
		if scene.Scheme == plan.AsItIs {
			name = s.trf(name)
		}
		s.paragraph(name, body)
	}
	s.y += 8 * s.px
	s.rule(s.y)
	foot := s.foot(scene, quiet)
	s.legendRows(scene.Legend(s.camera), foot-16*s.px)
}

func (s *sheet) rule(y float64) {
	s.draw([]orb.Point{{s.left, y}, {s.right, y}}, Pen{Colour: faint(s.look.Ink, 0.6), Width: s.px})
}

// paragraph writes text in lines that fit the block, and moves down.
func (s *sheet) paragraph(text string, l lettering) {
	for _, line := range s.wrapped(text, l) {
		s.y += 1.25 * l.size
		s.write(line, l, upright(s.left, s.y))
	}
}

// wrapped breaks text between words, and words that are wider than the block.
func (s *sheet) wrapped(text string, l lettering) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		for s.letters.measure(word, l) > s.right-s.left && len([]rune(word)) > 1 {
			cut := s.fits(word, l)
			if line != "" {
				lines, line = append(lines, line), ""
			}
			lines, word = append(lines, word[:cut]), word[cut:]
		}
		longer := strings.TrimSpace(line + " " + word)
		if s.letters.measure(longer, l) > s.right-s.left {
			lines, longer = append(lines, line), word
		}
		line = longer
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// fits returns how many bytes of a word fit the block, one letter at least.
func (s *sheet) fits(word string, l lettering) int {
	last := 0
	for i := range word {
		if last > 0 && s.letters.measure(word[:i], l) > s.right-s.left {
			break
		}
		if i > 0 {
			last = i
		}
	}
	return max(last, 1)
}

// foot writes what the map rests on at the bottom of the block, with the scale
// bar and the north arrow above it, and returns how high it reaches.
func (s *sheet) foot(scene *Scene, quiet lettering) float64 {
	var notes []string
	if len(scene.Contours) > 0 {
		notes = append(notes, s.trf("%s. Heights in %s above the survey's datum.", s.trf(everyContour, s.look.Tongue.write(scene.intervalFigure())), s.trf(scene.Units.plural())))
	}
	if scene.Site != nil && scene.Site.CRS.Known() {
		notes = append(notes, s.trf("Coordinates: %s.", scene.Site.CRS))
	}
	notes = append(notes, s.look.Tongue.say(caution.Deference))
	var lines []string
	for _, n := range notes {
		lines = append(lines, s.wrapped(n, quiet)...)
	}
	leading := 1.35 * quiet.size
	y := float64(s.h) - 24*s.px - leading*float64(len(lines)-1)
	for i, line := range lines {
		s.write(line, quiet, upright(s.left, y+float64(i)*leading))
	}
	top := y - quiet.size - 14*s.px
	s.northArrow(orb.Point{s.left + 10*s.px, top - 22*s.px}, 22*s.px)
	s.scaleBar(orb.Point{s.left + 40*s.px, top - 4*s.px}, 170*s.px, scene.Units)
	top -= 58 * s.px
	s.rule(top)
	return top
}

// wideRow is how many rows of a legend a scale takes: its name, and the scale.
const wideRow = 2

func (e Entry) rows() float64 {
	if e.IsScale() {
		return wideRow
	}
	return 1
}

func rowsOf(entries []Entry) (rows float64) {
	for _, e := range entries {
		rows += e.rows()
	}
	return rows
}

// legendRows draws the legend from where the block stands down to a limit,
// closer together where it would not fit; what still does not fit is counted.
func (s *sheet) legendRows(entries []Entry, limit float64) {
	look := lettering{size: s.look.Type.Text, colour: s.look.Ink}
	top := s.y + 12*s.px
	row := min(25*s.px, (limit-top)/max(rowsOf(entries), 1))
	if least := 1.1 * look.size; row < least {
		row = least
		fit := len(entries)
		for fit > 0 && rowsOf(entries[:fit])+1 > (limit-top)/row {
			fit--
		}
		left := len(entries) - fit
		entries = append(entries[:fit:fit], swatch("and %d more", func(*canvas, orb.Bound) {}, left))
	}
	for _, e := range entries {
		s.legendRow(e, top, row)
		top += e.rows() * row
	}
}

// legendRow draws one entry: its sample before its name, a scale under it.
func (s *sheet) legendRow(e Entry, top, row float64) {
	look := lettering{size: s.look.Type.Text, colour: s.look.Ink}
	middle := top + 0.5*row
	half := min(8*s.px, 0.4*row)
	x, b := s.left+50*s.px, orb.Bound{Min: orb.Point{s.left + 2*s.px, middle - half}, Max: orb.Point{s.left + 38*s.px, middle + half}}
	if e.IsScale() {
		x, b = s.left+2*s.px, orb.Bound{Min: orb.Point{s.left + 2*s.px, top + row}, Max: orb.Point{s.right - 2*s.px, top + 1.95*row}}
	}
	e.draw(s.canvas, b)
	s.write(e.said(s.look.Tongue), look, upright(x, middle+(ascent-descent)/2*look.size))
}
