package ui

import (
	"image/color"
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"

	"runnel/assets"
	"runnel/geo"
	"runnel/geo/plan"
)

// luminance is relative luminance and contrast the ratio of two of them: W3C,
// Web Content Accessibility Guidelines 2.1.
func luminance(c color.Color) float64 {
	r, g, b, _ := c.RGBA()
	linear := func(v uint32) float64 {
		s := float64(v) / 0xffff
		if s <= 0.03928 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(r) + 0.7152*linear(g) + 0.0722*linear(b)
}

func contrast(a, b color.Color) float64 {
	la, lb := luminance(a), luminance(b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

func TestTextCanBeReadInBothLooks(t *testing.T) {
	for style := range styleCount {
		l, name := newLook(style, 0), lookNames()[style]
		// 4.5 for plain text and 3 for the parts of a control: WCAG 2.2, 1.4.3 and 1.4.11;
		// 7 for text of high contrast: 1.4.6.
		words, parts := 4.5, 0.0
		if style&starkStyle != 0 {
			words, parts = 7, 3
		}
		for _, c := range []struct {
			on, text fyne.ThemeColorName
			least    float64
		}{
			{theme.ColorNameBackground, theme.ColorNameForeground, words},
			{theme.ColorNameHeaderBackground, theme.ColorNameForeground, words},
			{theme.ColorNameBackground, theme.ColorNamePlaceHolder, words},
			{theme.ColorNameHeaderBackground, theme.ColorNamePlaceHolder, words},
			{theme.ColorNameMenuBackground, theme.ColorNameForeground, words},
			{theme.ColorNameMenuBackground, theme.ColorNamePlaceHolder, words},
			{theme.ColorNamePrimary, theme.ColorNameForegroundOnPrimary, words},
			{theme.ColorNameBackground, theme.ColorNamePrimary, max(3, parts)},
			{theme.ColorNameBackground, theme.ColorNameError, max(3, parts)},
			{theme.ColorNameBackground, theme.ColorNameInputBorder, parts},
			{theme.ColorNameBackground, theme.ColorNameSeparator, parts},
			{theme.ColorNameBackground, theme.ColorNameScrollBar, parts},
			{theme.ColorNameBackground, theme.ColorNameFocus, parts},
		} {
			on := l.Color(c.on, 0)
			if got := contrast(on, laidOver(l.Color(c.text, 0), on)); got < c.least {
				t.Errorf("%s: %s on %s has a contrast of %.2f, want %g", name, c.text, c.on, got, c.least)
			}
		}
		for _, ground := range []fyne.ThemeColorName{theme.ColorNameSelection, theme.ColorNameHover, theme.ColorNameButton} {
			on := laidOver(l.Color(ground, 0), l.Color(theme.ColorNameBackground, 0))
			if got := contrast(on, l.Color(theme.ColorNameForeground, 0)); got < words {
				t.Errorf("%s: text on %s has a contrast of %.2f, want %g", name, ground, got, words)
			}
		}
	}
}

func TestEveryColourOfEveryLookIsOne(t *testing.T) {
	for style := range styleCount {
		for name, c := range newLook(style, 0).colours {
			// image/color: the parts are multiplied by the opacity, so none is above it.
			if r, g, b, a := c.RGBA(); r > a || g > a || b > a {
				t.Errorf("%s: %s is %x %x %x of %x", lookNames()[style], name, r, g, b, a)
			}
		}
	}
}

// laidOver is what is seen of a colour that lets the opaque one beneath show through.
func laidOver(over, beneath color.Color) color.Color {
	r, g, b, a := over.RGBA()
	r0, g0, b0, _ := beneath.RGBA()
	part := func(over, beneath uint32) uint8 { return uint8(min(0xffff, over+beneath*(0xffff-a)/0xffff) >> 8) }
	return color.NRGBA{part(r, r0), part(g, g0), part(b, b0), 255}
}

func TestTheMapOfHighContrastIsDrawnToBeToldFromTheSheet(t *testing.T) {
	for _, style := range []lookStyle{starkStyle, starkStyle | darkStyle} {
		p := newLook(style, 0).palette
		for kind, s := range p.Kinds {
			if s.Text.A > 0 && contrast(s.Text, p.Paper) < 7 {
				t.Errorf("%s: the names of kind %d have a contrast of %.2f, want 7", lookNames()[style], kind, contrast(s.Text, p.Paper))
			}
			// A rim in the sheet's own colour parts a mark from what is under it.
			if got := contrast(s.Edge.Colour, p.Paper); s.Edge.Colour.A > 0 && s.Edge.Colour != p.Paper && got < 3 && got > 1.4 {
				t.Errorf("%s: the edge of kind %d has a contrast of %.2f, want 3", lookNames()[style], kind, got)
			}
		}
		for _, c := range []color.Color{p.Contour.Colour, p.Index.Colour, p.Paths.Small, p.Paths.Large} {
			if got := contrast(laidOver(c, p.Paper), p.Paper); got < 3 {
				t.Errorf("%s: a line has a contrast of %.2f, want 3", lookNames()[style], got)
			}
		}
	}
}

func TestEveryStepAndToolHasItsIcon(t *testing.T) {
	names := []string{"select", "runnel", "mark"}
	for _, s := range steps {
		names = append(names, s.icon)
		for _, kind := range s.kinds {
			names = append(names, plan.SpecOf(kind).Name)
		}
	}
	for _, name := range names {
		if _, err := assets.Icons.ReadFile("icons/" + name + ".svg"); err != nil {
			t.Errorf("%s has none: %v", name, err)
		}
	}
}

func TestEveryKindCanBeDrawnInSomeStep(t *testing.T) {
	drawn := map[plan.Kind]bool{}
	for _, s := range steps {
		for _, kind := range s.kinds {
			drawn[kind] = true
		}
	}
	for _, spec := range plan.Specs() {
		if !drawn[spec.Kind] {
			t.Errorf("no step draws a %s", spec.Label)
		}
	}
}

func TestNoTextIsCutOffAt1280By800InAnyLanguage(t *testing.T) {
	for _, of := range tongues {
		t.Run(of.code, func(t *testing.T) {
			b := newBench(t)
			b.speakFor(of.code)
			b.open()
			b.drawChannel()
			b.settle()
			for i := range steps {
				b.goTo(i)
				b.win.Canvas().Capture()
				b.wantNothingCutOff()
			}
		})
	}
}

func (b *bench) wantNothingCutOff() {
	b.t.Helper()
	if least := b.tools.box.MinSize().Width + 2*gap; least > toolsWidth {
		b.t.Errorf("%s: the tools need %.0f and have %d", steps[b.step].word(), least, toolsWidth)
	}
	for _, o := range test.LaidOutObjects(b.win.Content()) {
		words, ok := o.(*canvas.Text)
		if !ok || !words.Visible() || words.Text == "" {
			continue
		}
		if least := words.MinSize().Width; least > words.Size().Width+0.5 && words.Size().Width > 0 {
			b.t.Errorf("%s: %q needs %.0f and has %.0f", steps[b.step].word(), words.Text, least, words.Size().Width)
		}
	}
}

func TestARangeBarReachesFromLowToHigh(t *testing.T) {
	test.NewTempApp(t)
	bar := newRangeBar(geo.Range{Low: 20, Likely: 50, High: 80}, 100, theme.ColorNamePrimary)
	r := bar.CreateRenderer().(*rangeBarRenderer)
	r.Layout(fyne.NewSize(200, 16))
	if x, w := r.span.Position().X, r.span.Size().Width; x != 40 || w != 120 {
		t.Errorf("the span begins at %g and is %g wide", x, w)
	}
	if x := r.tick.Position().X; x != 100 {
		t.Errorf("the tick is at %g", x)
	}
	bar.figure.Likely = math.NaN()
	r.Layout(fyne.NewSize(200, 16))
	if r.span.Visible() {
		t.Error("a range that is not known has a span")
	}
}

func TestASentenceHasItsCapitalAndItsStop(t *testing.T) {
	for given, want := range map[string]string{
		"the bed width is 0":               "The bed width is 0.",
		"ground.tif: it is no raster":      "ground.tif: it is no raster.",
		"/data/site.gpkg: it is damaged":   "/data/site.gpkg: it is damaged.",
		"Water stands near a well.":        "Water stands near a well.",
		"the ground: it has no cells; add": "The ground: it has no cells; add.",
		"":                                 "",
	} {
		if got := sentence(given); got != want {
			t.Errorf("%q gives %q, want %q", given, got, want)
		}
	}
}
