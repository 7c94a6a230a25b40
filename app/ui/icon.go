package ui

import (
	"fmt"
	"image/color"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"runnel/assets"
)

// iconIn returns an icon of the program drawn in one colour. The colour is
// written into the drawing itself: the toolkit recolours fills only, and these
// are strokes. A name with no drawing gives a plain mark.
func iconIn(name string, ink color.Color) fyne.Resource {
	drawing, err := assets.Icons.ReadFile("icons/" + name + ".svg")
	if err != nil {
		return theme.NewThemedResource(theme.RadioButtonIcon())
	}
	r, g, b, _ := ink.RGBA()
	hex := fmt.Sprintf("#%02x%02x%02x", r>>8, g>>8, b>>8)
	return fyne.NewStaticResource(name+hex+".svg", []byte(strings.ReplaceAll(string(drawing), "currentColor", hex)))
}
