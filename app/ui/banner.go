package ui

import (
	"fmt"
	"math"
	"strings"

	"fyne.io/fyne/v2"

	"runnel/app/view"
	"runnel/geo/plan"
)

// The banner's drawing is so large [px], and holds so many lines of equal height.
const (
	bannerWide  = 960
	bannerHigh  = 150
	bannerLines = 11
)

// banner draws the head of the start screen in the map's own colours: contours, and a
// channel that winds round an island.
func banner(p view.Palette) fyne.Resource {
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%[1]d" height="%[2]d" viewBox="0 0 %[1]d %[2]d">`, bannerWide, bannerHigh)
	ground := blend(p.Paper, p.Contour.Colour, 0.07)
	fmt.Fprintf(&b, `<rect width="%d" height="%d" fill="%s"/>`, bannerWide, bannerHigh, hexOf(ground))
	for i := range bannerLines {
		pen := 0.8
		if i%5 == 2 {
			pen = 1.4
		}
		stroke(&b, contourAt(float64(i)), hexOf(blend(ground, p.Contour.Colour, 0.3)), pen)
	}
	channel := p.Kinds[plan.Channel].Edge.Colour
	for _, island := range islands {
		leaf(&b, island, hexOf(blend(p.Paper, p.Kinds[plan.Island].Hatch.Colour, 0.75)))
	}
	for _, arm := range []func(float64) float64{upper, lower} {
		stroke(&b, arm, hexOf(channel), 9)
	}
	for _, arm := range []func(float64) float64{upper, lower} {
		stroke(&b, arm, hexOf(p.Pond.Middle), 6)
	}
	b.WriteString("</svg>")
	return fyne.NewStaticResource("banner-"+hexOf(p.Desk)+hexOf(channel)+".svg", []byte(b.String()))
}

// bed is how far down the channel lies at a place along the banner.
func bed(x float64) float64 { return bannerHigh - 30 + 8*math.Sin(x/52) + 4*math.Sin(x/23+1) }

// islands are where along the banner the channel's arms part, and meet again.
var islands = [][2]float64{{470, 600}, {745, 850}}

// aside is how far the arms are from the middle of the channel.
func aside(x float64) float64 {
	for _, island := range islands {
		if share := (x - island[0]) / (island[1] - island[0]); share > 0 && share < 1 {
			return 14 * math.Pow(math.Sin(math.Pi*share), 1.5)
		}
	}
	return 0
}

func upper(x float64) float64 { return bed(x) - aside(x) }

func lower(x float64) float64 { return bed(x) + aside(x) }

// leaf fills an island.
func leaf(b *strings.Builder, island [2]float64, colour string) {
	b.WriteString(`<path d="M`)
	for x := island[0]; x <= island[1]; x += 5 {
		fmt.Fprintf(b, "%.0f %.1f ", x, upper(x))
	}
	for x := island[1]; x >= island[0]; x -= 5 {
		fmt.Fprintf(b, "%.0f %.1f ", x, lower(x))
	}
	fmt.Fprintf(b, `Z" fill="%s"/>`, colour)
}

// contourAt is a line of equal height: ground that falls toward the channel, with a
// rise at the left and one at the right.
func contourAt(i float64) func(float64) float64 {
	return func(x float64) float64 {
		rise := 30*math.Exp(-math.Pow((x-250)/150, 2)) + 42*math.Exp(-math.Pow((x-760)/190, 2))
		return 118 - 13*i + rise*(1-i/9) + 5*math.Sin(x/70+i/3)
	}
}

// stroke draws a line along the banner.
func stroke(b *strings.Builder, at func(float64) float64, colour string, width float64) {
	b.WriteString(`<path d="M`)
	for x := -10.0; x <= bannerWide+10; x += 6 {
		fmt.Fprintf(b, "%.0f %.1f ", x, at(x))
	}
	fmt.Fprintf(b, `" fill="none" stroke="%s" stroke-width="%.1f" stroke-linejoin="round"/>`, colour, width)
}

func hexOf(c view.Colour) string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }
