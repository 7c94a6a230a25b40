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
	dark    bool
	colours map[fyne.ThemeColorName]color.Color
}

// lightLook is ink on warm paper.
func lightLook() *look { return newLook(&look{palette: view.Light()}) }

// darkLook is the same hues on deep green.
func darkLook() *look { return newLook(&look{palette: view.Dark(), dark: true}) }

// greyed is the opacity of what cannot be pressed: enough to read.
const greyed = 0.55

func newLook(l *look) *look {
	p := l.palette
	primary := p.Kinds[plan.Channel].Edge.Colour
	caution := p.Caution.Body
	danger := p.Kinds[plan.Roof].Text
	onPrimary := color.Color(color.White)
	if l.dark {
		onPrimary = p.Desk
		danger = p.Kinds[plan.Roof].Body
		danger.A = 255
	}
	l.colours = map[fyne.ThemeColorName]color.Color{
		theme.ColorNameBackground:          p.Paper,
		theme.ColorNameForeground:          ink(p.Ink),
		theme.ColorNamePlaceHolder:         blend(p.Muted, p.Ink, 0.25),
		theme.ColorNameDisabled:            faded(p.Ink, greyed),
		theme.ColorNamePrimary:             primary,
		theme.ColorNameHyperlink:           primary,
		theme.ColorNameForegroundOnPrimary: onPrimary,
		theme.ColorNameFocus:               faded(primary, 0.35),
		theme.ColorNameSelection:           faded(primary, 0.16),
		theme.ColorNameHover:               faded(p.Ink, 0.06),
		theme.ColorNamePressed:             faded(p.Ink, 0.14),
		theme.ColorNameButton:              faded(p.Ink, 0.07),
		theme.ColorNameDisabledButton:      faded(p.Ink, 0.03),
		theme.ColorNameInputBackground:     faded(p.Ink, 0.04),
		theme.ColorNameInputBorder:         faded(p.Ink, 0.22),
		theme.ColorNameSeparator:           faded(p.Ink, 0.16),
		theme.ColorNameHeaderBackground:    p.Desk,
		theme.ColorNameMenuBackground:      l.raised(),
		theme.ColorNameOverlayBackground:   l.raised(),
		theme.ColorNameScrollBar:           faded(p.Ink, 0.3),
		theme.ColorNameShadow:              faded(color.Black, 0.25),
		theme.ColorNameWarning:             caution,
		theme.ColorNameError:               danger,
		theme.ColorNameSuccess:             p.Kinds[plan.Planting].Edge.Colour,
	}
	return l
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
	return uint32(k.R) * 0x101, uint32(k.G) * 0x101, uint32(k.B) * 0x101, 0xFFC9
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

// Size gives three sizes of text, and lengths on a grid of four.
func (l *look) Size(name fyne.ThemeSizeName) float32 {
	switch name {
	case theme.SizeNameText, theme.SizeNameSubHeadingText:
		return 13
	case theme.SizeNameCaptionText:
		return 11
	case theme.SizeNameHeadingText:
		return 17
	case theme.SizeNameInnerPadding, theme.SizeNamePadding, theme.SizeNameInputRadius, theme.SizeNameSelectionRadius:
		return gap
	case theme.SizeNameInlineIcon:
		return 4 * gap
	}
	return theme.DefaultTheme().Size(name)
}
