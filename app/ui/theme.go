package ui

import (
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"runnel/app/view"
	"runnel/geo/plan"
)

const (
	captionSize = theme.SizeNameCaptionText
	quietColour = theme.ColorNamePlaceHolder
)

// look is the theme of the window: the map's own palette, three sizes of text
// and a grid of four.
type look struct {
	palette view.Palette
	style   lookStyle
	dark    bool
	// size is the place of the text's size in textSizes, times how large that is.
	size    int
	times   float32
	colours map[fyne.ThemeColorName]color.Color
}

// lookStyle is one of the four looks: light or dark, each plain or of high contrast.
type lookStyle uint8

const (
	darkStyle  lookStyle = 1
	starkStyle lookStyle = 2
	styleCount lookStyle = 4
)

// lookNames are the looks' names in their order.
func lookNames() [styleCount]string {
	return [styleCount]string{tr("Light"), tr("Dark"), tr("High contrast, light"), tr("High contrast, dark")}
}

// A textSize is one of the sizes of text that a person may choose.
type textSize struct {
	name  string
	times float32
}

func textSizes() [3]textSize {
	return [3]textSize{{tr("Normal text"), 1}, {tr("Large text"), 1.25}, {tr("Larger text"), 1.5}}
}

// newLook makes the theme of a style with text of a size.
func newLook(style lookStyle, size int) *look {
	l := &look{style: style, size: size, dark: style&darkStyle != 0, palette: view.Light()}
	if l.dark {
		l.palette = view.Dark()
	}
	if style&starkStyle != 0 {
		l.palette = stark(l.palette, l.dark)
	}
	l.palette.Tongue = spoken().drawn
	l.times = textSizes()[size].times
	times := float64(l.times)
	l.palette.Type = view.Sizes{Small: l.palette.Type.Small * times, Text: l.palette.Type.Text * times, Title: l.palette.Type.Title * times}
	l.mix()
	return l
}

// A wash says how strongly the ink of a look shades its parts, from 0 to 1.
type wash struct{ greyed, hover, pressed, button, field, border, line, bar, chosen, focus float64 }

// washes are those of the plain looks and of those of high contrast, where what parts
// a control from its ground stands out by 3 to 1 (WCAG 2.2, 1.4.11) and text that
// is greyed can still be read.
var washes = map[bool]wash{
	false: {0.55, 0.06, 0.14, 0.07, 0.04, 0.22, 0.16, 0.3, 0.16, 0.35},
	true:  {0.72, 0.14, 0.28, 0.12, 0, 0.72, 0.6, 0.7, 0.22, 0.8},
}

// mix makes the colours of the parts from the palette.
func (l *look) mix() {
	p, k := l.palette, washes[l.style&starkStyle != 0]
	primary := p.Kinds[plan.Channel].Edge.Colour
	danger, onPrimary := p.Kinds[plan.Roof].Text, color.Color(color.White)
	if l.dark {
		onPrimary = p.Desk
	}
	if l.style == darkStyle {
		danger = p.Kinds[plan.Roof].Body
		danger.A = 255
	}
	l.colours = map[fyne.ThemeColorName]color.Color{
		theme.ColorNameBackground:          p.Paper,
		theme.ColorNameForeground:          ink(p.Ink),
		theme.ColorNamePlaceHolder:         blend(p.Muted, p.Ink, 0.25),
		theme.ColorNameDisabled:            faded(p.Ink, k.greyed),
		theme.ColorNamePrimary:             primary,
		theme.ColorNameHyperlink:           primary,
		theme.ColorNameForegroundOnPrimary: onPrimary,
		theme.ColorNameFocus:               faded(primary, k.focus),
		theme.ColorNameSelection:           faded(primary, k.chosen),
		theme.ColorNameHover:               faded(p.Ink, k.hover),
		theme.ColorNamePressed:             faded(p.Ink, k.pressed),
		theme.ColorNameButton:              faded(p.Ink, k.button),
		theme.ColorNameDisabledButton:      faded(p.Ink, k.button/2),
		theme.ColorNameInputBackground:     faded(p.Ink, k.field),
		theme.ColorNameInputBorder:         faded(p.Ink, k.border),
		theme.ColorNameSeparator:           faded(p.Ink, k.line),
		theme.ColorNameHeaderBackground:    p.Desk,
		theme.ColorNameMenuBackground:      l.raised(),
		theme.ColorNameOverlayBackground:   l.raised(),
		theme.ColorNameScrollBar:           faded(p.Ink, k.bar),
		theme.ColorNameShadow:              faded(color.Black, 0.25),
		theme.ColorNameWarning:             p.Caution.Body,
		theme.ColorNameError:               danger,
		theme.ColorNameSuccess:             p.Kinds[plan.Planting].Edge.Colour,
	}
}

// Color gives the colour of a part; what the palette does not speak of is the
// toolkit's own.
func (l *look) Color(name fyne.ThemeColorName, _ fyne.ThemeVariant) color.Color {
	if c, ok := l.colours[name]; ok {
		return c
	}
	return theme.DefaultTheme().Color(name, l.variant())
}

// ink is the colour of text. The toolkit (2.7.1) takes the opacity of a menu's
// shortcuts from the low byte of 0.95 of the text's, which hides them; 0xFFC9 is
// the same to the eye and makes that byte 0xFF.
type ink color.NRGBA

// RGBA implements color.Color.
func (k ink) RGBA() (r, g, b, a uint32) {
	const opacity = 0xFFC9 // which no part of a colour may be above
	part := func(v uint8) uint32 { return min(uint32(v)*0x101, opacity) }
	return part(k.R), part(k.G), part(k.B), opacity
}

// raised is the colour of what lies over the sheet: menus and dialogs.
func (l *look) raised() color.Color {
	if l.dark {
		return blend(l.palette.Paper, l.palette.Ink, 0.05)
	}
	return blend(l.palette.Paper, view.Colour{R: 255, G: 255, B: 255, A: 255}, 0.7)
}

// blend returns the opaque colour a share of the way from a to b.
func blend(a, b view.Colour, share float64) view.Colour {
	part := func(a, b uint8) uint8 { return uint8(math.Round((1-share)*float64(a) + share*float64(b))) }
	return view.Colour{R: part(a.R, b.R), G: part(a.G, b.G), B: part(a.B, b.B), A: 255}
}

func (l *look) variant() fyne.ThemeVariant {
	if l.dark {
		return theme.VariantDark
	}
	return theme.VariantLight
}

// Font is the toolkit's own.
func (l *look) Font(style fyne.TextStyle) fyne.Resource { return theme.DefaultTheme().Font(style) }

// Icon is the toolkit's own.
func (l *look) Icon(name fyne.ThemeIconName) fyne.Resource { return theme.DefaultTheme().Icon(name) }

// plainText is how large text is where nobody has asked for larger [dp].
const plainText = 13

// Size gives three sizes of text, and lengths on a grid of four.
func (l *look) Size(name fyne.ThemeSizeName) float32 {
	times := l.times // asked for at every measuring of a text
	switch name {
	case theme.SizeNameText, theme.SizeNameSubHeadingText:
		return plainText * times
	case theme.SizeNameCaptionText:
		return 11 * times
	case theme.SizeNameHeadingText:
		return 17 * times
	case theme.SizeNameInnerPadding, theme.SizeNamePadding, theme.SizeNameInputRadius, theme.SizeNameSelectionRadius:
		return gap
	case theme.SizeNameInlineIcon:
		return 4 * gap * times
	}
	return theme.DefaultTheme().Size(name)
}

// scaled is a length that holds text, in the size of text that is chosen [dp].
func scaled(length float32) float32 {
	return length * theme.Size(theme.SizeNameText) / plainText
}
