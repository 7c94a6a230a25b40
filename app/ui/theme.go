package ui

import (
	"image/color"

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

// deferred marks the theme's greyed words: enough to read, not to press.
const greyed = 0.55

func newLook(l *look) *look {
	p := l.palette
	primary := p.Kinds[plan.Channel].Edge.Colour
	caution := p.Caution.Body
	danger := p.Kinds[plan.Roof].Text
	if l.dark {
		danger = p.Kinds[plan.Roof].Body
		danger.A = 255
	}
	l.colours = map[fyne.ThemeColorName]color.Color{
		theme.ColorNameBackground:          p.Paper,
		theme.ColorNameForeground:          p.Ink,
		theme.ColorNamePlaceHolder:         p.Muted,
		theme.ColorNameDisabled:            faded(p.Ink, greyed),
		theme.ColorNamePrimary:             primary,
		theme.ColorNameHyperlink:           primary,
		theme.ColorNameForegroundOnPrimary: p.Paper,
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
		theme.ColorNameMenuBackground:      p.Paper,
		theme.ColorNameOverlayBackground:   p.Paper,
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
