// Package sheet draws charts, and pages that hold them, on images: the measures of
// schemes beside each other, and the water's account by storm, day, month and year. It
// knows no widget, no site and no language; what it draws comes to it in the units and
// the words in which it is to be read.
//
// Every axis has its unit. Schemes are told apart by colour and by hatch, dash and
// marker as well, so that a chart reads in grey and to any eye.
//
// Sizes are in points of which Look.Density pixels make one.
package sheet

import (
	"image"
	"image/color"
	"image/draw"
	"math"
	"strconv"
	"sync"

	"golang.org/x/image/font/gofont/gomedium"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	plotdraw "gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"

	"runnel/app/view"
	"runnel/geo/plan"
)

// A Look is how charts look. Start from LookOf.
type Look struct {
	Paper, Ink, Muted, Grid color.NRGBA
	// Series are the colours of schemes in turn; the first is of the site as it is.
	Series []color.NRGBA
	// Soak is what soaks in, Water what stands, Rain what falls, Runs a drain that runs,
	// Plants and House what is drawn from the well, Sun what the air takes, Limit what is
	// not to be passed.
	Soak, Water, Rain, Runs, Plants, House, Sun, Limit color.NRGBA
	// Small and Text are the sizes of type [points].
	Small, Text float64
	// Density is the pixels of a point; 0 is one.
	Density float64
	// Number writes the figures of an axis with some decimals; nil is plain English.
	Number func(v float64, places int) string
	// Months are the short names of the months, January first; empty is English.
	Months [12]string
}

// LookOf takes the colours of the map's palette, of so many pixels a point.
func LookOf(p view.Palette, density float64) Look {
	l := Look{Paper: p.Paper, Ink: p.Ink, Muted: p.Muted, Grid: p.Muted, Small: 11, Text: 13, Density: density}
	l.Grid.A = 60
	l.Soak, l.Water, l.Rain, l.Runs = p.Kinds[plan.Channel].Edge.Colour, p.Paths.Large, p.Pond.Middle, p.Kinds[plan.Drain].Text
	l.Plants, l.House, l.Sun, l.Limit = p.Kinds[plan.Planting].Edge.Colour, p.Trails[2], p.Trails[0], p.Fault.Text
	// Okabe and Ito's order of hues, as far as the palette has them: told apart by
	// every kind of colour vision that is common.
	l.Series = []color.NRGBA{p.Muted, p.Paths.Large, p.Trails[0], p.Trails[1], p.Trails[2], p.Trails[3], p.Trails[4], p.Trails[5], p.Trails[6]}
	return l
}

func (l Look) density() float64 {
	if l.Density > 0 {
		return l.Density
	}
	return 1
}

func (l Look) number(v float64, places int) string {
	if l.Number != nil {
		return l.Number(v, places)
	}
	return strconv.FormatFloat(v, 'f', places, 64)
}

// series returns the colour of the scheme in a place of the list.
func (l Look) series(i int) color.NRGBA {
	if len(l.Series) == 0 {
		return l.Ink
	}
	return l.Series[i%len(l.Series)]
}

// typeface is the one that the map is lettered in.
const typeface = "Go"

var fonts = sync.OnceValue(func() *font.Cache {
	read := func(ttf []byte) *opentype.Font {
		f, err := opentype.Parse(ttf)
		if err != nil {
			panic("sheet: the built-in typeface cannot be read")
		}
		return f
	}
	return font.NewCache(font.Collection{
		{Font: font.Font{Typeface: typeface}, Face: read(goregular.TTF)},
		{Font: font.Font{Typeface: typeface, Weight: weightBold}, Face: read(gomedium.TTF)},
	})
})

// weightBold marks the heavier letters in the cache.
const weightBold = 2

// style returns how a piece of text is set.
func (l Look) style(size float64, ink color.Color) text.Style {
	return text.Style{
		Color: ink, Font: font.Font{Typeface: typeface, Size: vg.Length(size)},
		YAlign: plotdraw.YTop, Handler: text.Plain{Fonts: fonts()},
	}
}

func (l Look) bold(size float64) text.Style {
	s := l.style(size, l.Ink)
	s.Font.Weight = weightBold
	return s
}

// canvas makes a sheet of paper of some pixels, and what draws on it.
func (l Look) canvas(w, h int) (*image.RGBA, plotdraw.Canvas) {
	const pointsPerInch = 72
	size := image.Rect(0, 0, max(1, w), max(1, h))
	c := vgimg.NewWith(vgimg.UseImage(image.NewRGBA(size)), vgimg.UseDPI(int(math.Round(pointsPerInch*l.density()))))
	paper := c.Image().(*image.RGBA) // a copy of what was given, which is of this type too
	draw.Draw(paper, paper.Rect, image.NewUniform(l.Paper), image.Point{}, draw.Src)
	return paper, plotdraw.New(c)
}

// plot makes an empty chart in this look.
func (l Look) plot(title string) *plot.Plot {
	p := plot.New()
	p.BackgroundColor = l.Paper
	p.TextHandler = text.Plain{Fonts: fonts()}
	p.Title.Text, p.Title.TextStyle = title, l.bold(l.Text)
	p.Title.TextStyle.XAlign = plotdraw.XCenter
	p.Title.Padding = vg.Length(l.Text) / 2
	for _, axis := range []*plot.Axis{&p.X, &p.Y} {
		axis.LineStyle.Color, axis.Tick.LineStyle.Color = l.Muted, l.Muted
		axis.Padding = 0
		axis.Label.TextStyle = aligned(axis.Label.TextStyle, l.style(l.Small, l.Muted))
		axis.Tick.Label = aligned(axis.Tick.Label, l.style(l.Small, l.Ink))
		axis.Tick.Length = 4
		axis.Tick.Marker = steps{look: l, about: usualMarks}
	}
	p.Legend.TextStyle = aligned(p.Legend.TextStyle, l.style(l.Small, l.Ink))
	return p
}

// aligned returns a style that stands and turns as another does.
func aligned(as, style text.Style) text.Style {
	style.XAlign, style.YAlign, style.Rotation = as.XAlign, as.YAlign, as.Rotation
	return style
}

// steps marks an axis at whole steps of 1, 2 or 5 times a power of ten.
type steps struct {
	look Look
	// about is how many marks there are, more or less.
	about float64
}

// usualMarks are as many as an axis has room for as a rule.
const usualMarks = 5

// Ticks implements plot.Ticker.
func (s steps) Ticks(low, high float64) []plot.Tick {
	step, places := stepOf(high-low, s.about)
	var ticks []plot.Tick
	for i := math.Ceil(low/step - 1e-9); i*step <= high+step*1e-9; i++ {
		ticks = append(ticks, plot.Tick{Value: i * step, Label: s.look.number(i*step+0, places)})
	}
	return ticks
}

// stepOf returns the step of about so many marks over a span, and the decimals it has.
func stepOf(span, about float64) (step float64, places int) {
	if !(span > 0) || math.IsInf(span, 0) {
		return 1, 0
	}
	power := math.Floor(math.Log10(span / about))
	unit := math.Pow10(int(power))
	step = 10 * unit
	for _, k := range []float64{1, 2, 5} {
		if span/(k*unit) <= about+1 {
			step = k * unit
			break
		}
	}
	return step, max(0, -int(math.Floor(math.Log10(step)+1e-9)))
}
