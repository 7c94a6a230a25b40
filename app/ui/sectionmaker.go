package ui

import (
	"context"
	"fmt"
	"image"
	"image/draw"
	"math"
	"slices"

	"fyne.io/fyne/v2"
	"github.com/paulmach/orb"

	"runnel/analysis/channel"
	"runnel/app/site"
	"runnel/app/view"
	"runnel/geo/plan"
)

// pixels is the size of a picture in pixels of the device, and how many of them go
// into one of the toolkit's units.
type pixels struct {
	w, h  int
	scale float64
}

func pixelsOf(o fyne.CanvasObject, w, h int) pixels {
	p := pixels{w, h, 1}
	if width := o.Size().Width; width > 0 {
		p.scale = float64(w) / float64(width)
	}
	return p
}

// A sectionRequest is all that the pictures of the sections rest on. Two that are
// equal have the same pictures.
type sectionRequest struct {
	site   *plan.Site
	scheme plan.SchemeID
	look   *look
	units  view.Units
	// of is the feature; measured stands for the points of a line that is none.
	of          plan.ID
	measured    string
	station     float64
	long, cross pixels
	note        string
	// flow is how water runs; nil where that is not known.
	flow *runs
	// view is the scale that is kept; the zero view fits the section.
	view view.SideView
}

// sectioned is what came of a request.
type sectioned struct {
	doc                       *site.Document
	request                   sectionRequest
	feature                   plan.Feature
	line                      orb.LineString
	long                      view.LongSection
	cross                     channel.CrossSection
	longPicture, crossPicture *image.RGBA
	// half is how far out from the line its own section goes [m].
	half float64
}

// A sectionMaker works out and draws sections. It keeps the network of the site
// that it saw last, where it is given none. It is used by one goroutine at a time.
type sectionMaker struct {
	site    *plan.Site
	scheme  plan.SchemeID
	network *channel.Network
	last    sectioned
}

// make draws what is asked for; known is the network of it, nil where there is none yet.
func (m *sectionMaker) make(ctx context.Context, r sectionRequest, f plan.Feature, known *channel.Network) (sectioned, error) {
	if m.network == nil || m.site != r.site || m.scheme != r.scheme {
		if m.network = known; known == nil {
			m.network, _ = channel.NewNetwork(r.site, r.scheme)
		}
		m.site, m.scheme = r.site, r.scheme
	}
	if err := ctx.Err(); err != nil {
		return sectioned{}, err
	}
	s := sectioned{request: r, feature: f, line: f.Line(), half: f.Width() / 2}
	if last := m.last.request; sameLong(last, r) {
		s.long, s.longPicture = m.last.long, m.last.longPicture
	} else {
		m.drawLong(&s)
	}
	if err := ctx.Err(); err != nil {
		return sectioned{}, err
	}
	m.drawCross(&s)
	m.last = s
	return s, nil
}

// sameLong reports whether two requests have one long section.
func sameLong(a, b sectionRequest) bool {
	a.station, a.cross = b.station, b.cross
	return a.site != nil && a == b
}

func (m *sectionMaker) drawLong(s *sectioned) {
	r := s.request
	l, err := m.network.LongSection(r.of)
	if err != nil {
		l = m.network.AlongLine(s.line)
		l.ID, l.Title = r.of, s.feature.Name
		if r.of != 0 {
			l.Title, l.Kind = titleOf(s.feature), s.feature.Kind
		}
	}
	for _, mark := range m.acrossMarks(s.feature) {
		if !slices.ContainsFunc(l.Marks, func(o channel.Mark) bool { return o.ID == mark.ID }) {
			l.Marks = append(l.Marks, mark)
		}
	}
	palette := dense(r.look.palette, r.long.scale)
	s.long = view.NewLongSection(l, r.long.w, r.long.h, palette, r.units)
	if r.view != (view.SideView{}) {
		s.long.View = r.view
	}
	s.long.Note = r.note
	for _, at := range r.flow.on(r.of) {
		s.long.Running = append(s.long.Running, view.RunningPlace{Chainage: at.Chainage, Level: at.Level})
	}
	s.longPicture = image.NewRGBA(image.Rect(0, 0, r.long.w, r.long.h))
	s.long.Draw(s.longPicture, palette)
}

// beyondPath is how much ground is shown on either side of a line that has no
// section of its own [m].
const beyondPath = 2.0

func (m *sectionMaker) drawCross(s *sectioned) {
	r := s.request
	station := r.station
	if station == atMiddle {
		station = s.long.Length / 2
	}
	var err error
	if s.cross, err = m.network.Section(r.of, station); err != nil {
		s.cross = m.network.AcrossLine(s.line, station, s.half+beyondPath)
	}
	s.crossPicture = image.NewRGBA(image.Rect(0, 0, r.cross.w, r.cross.h))
	view.CrossSection{CrossSection: s.cross, Units: r.units, Own: m.own(r, s.cross.Station)}.Draw(s.crossPicture, dense(r.look.palette, r.cross.scale))
}

// own is what the design says of a channel's section; nil of a line without one.
func (m *sectionMaker) own(r sectionRequest, station float64) *view.OwnSection {
	id := r.of
	section, err := m.network.SectionAt(id, station)
	if err != nil {
		return nil
	}
	o := &view.OwnSection{Section: section, Level: m.network.BedAt(id, station), Cut: math.NaN(), Fill: math.NaN(), Speed: r.flow.speedAt(id, station)}
	if o.Left, o.Right, err = m.network.Banks(id, station); err != nil {
		return nil
	}
	if dug, err := m.network.DigAcross(id, station); err == nil {
		o.Cut, o.Fill = dug.Cut, dug.Fill
	}
	return o
}

// acrossMarks are the sections and crossings on a channel's line, each with the bed
// there, as marks of its long section.
func (m *sectionMaker) acrossMarks(f plan.Feature) (marks []channel.Mark) {
	if f.Kind != plan.Channel {
		return nil
	}
	for _, other := range m.site.Plan.In(m.scheme) {
		if other.Kind != plan.Section && other.Kind != plan.Crossing {
			continue
		}
		chainage, off := channel.Chainage(f.Line(), other.Point())
		if off <= max(plan.BesideChannel, f.Width()/2) {
			marks = append(marks, channel.Mark{Kind: other.Kind, ID: other.ID, Title: titleOf(other), Chainage: chainage, Level: m.network.BedAt(f.ID, chainage)})
		}
	}
	return marks
}

// dense is a palette for so many pixels in one of the toolkit's units.
func dense(p view.Palette, scale float64) view.Palette {
	if scale == 1 {
		return p
	}
	return p.Scaled(scale)
}

// lineKey is the same for equal lines alone.
func lineKey(line orb.LineString) string { return fmt.Sprint(line) }

func blankSheet(w, h int, c view.Colour) *image.RGBA {
	sheet := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.Draw(sheet, sheet.Rect, image.NewUniform(c), image.Point{}, draw.Src)
	return sheet
}
