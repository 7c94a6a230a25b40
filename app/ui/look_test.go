package ui

import (
	"image"
	"image/color"
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"

	"runnel/app/view"
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
	for name, l := range map[string]*look{"light": lightLook(), "dark": darkLook()} {
		for _, c := range []struct {
			on, text fyne.ThemeColorName
			least    float64
		}{
			// 4.5 for plain text and 3 for the parts of a control: WCAG 2.1, 1.4.3 and 1.4.11.
			{theme.ColorNameBackground, theme.ColorNameForeground, 4.5},
			{theme.ColorNameBackground, theme.ColorNamePlaceHolder, 4.5},
			{theme.ColorNameMenuBackground, theme.ColorNameForeground, 4.5},
			{theme.ColorNamePrimary, theme.ColorNameForegroundOnPrimary, 4.5},
			{theme.ColorNameBackground, theme.ColorNamePrimary, 3},
			{theme.ColorNameBackground, theme.ColorNameError, 3},
		} {
			if got := contrast(l.Color(c.on, 0), l.Color(c.text, 0)); got < c.least {
				t.Errorf("%s: %s on %s has a contrast of %.2f, want %g", name, c.text, c.on, got, c.least)
			}
		}
	}
}

func TestEveryStepAndToolHasItsIcon(t *testing.T) {
	names := []string{"select", "runnel"}
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

func TestNoTextIsCutOffAt1280By800(t *testing.T) {
	b := newBench(t)
	b.open()
	b.drawChannel()
	b.settle()
	for i := range steps {
		b.goTo(i)
		b.win.Canvas().Capture()
		for _, o := range test.LaidOutObjects(b.win.Content()) {
			words, ok := o.(*canvas.Text)
			if !ok || !words.Visible() || words.Text == "" {
				continue
			}
			if least := words.MinSize().Width; least > words.Size().Width+0.5 && words.Size().Width > 0 {
				t.Errorf("%s: %q needs %.0f and has %.0f", steps[i].word, words.Text, least, words.Size().Width)
			}
		}
	}
}

func TestASettledPictureIsLaidWhereItBelongs(t *testing.T) {
	mark := color.RGBA{200, 10, 20, 255}
	p := picture{view.Camera{West: 0, North: 100, Scale: 2}, image.NewRGBA(image.Rect(0, 0, 200, 200))}
	p.image.SetRGBA(60, 40, mark) // the ground at 30.25 east, 79.75 north
	for _, c := range []struct {
		name   string
		camera view.Camera
		x, y   int
	}{
		{"the same camera", p.camera, 60, 40},
		{"the map moved by 10 m", view.Camera{West: 10, North: 90, Scale: 2}, 40, 20},
		{"the map twice as close", view.Camera{West: 10, North: 90, Scale: 4}, 81, 41},
	} {
		dst := image.NewRGBA(image.Rect(0, 0, 120, 120))
		stretch(dst, p, c.camera)
		if dst.RGBAAt(c.x, c.y) != mark {
			t.Errorf("%s: (%d, %d) is %v", c.name, c.x, c.y, dst.RGBAAt(c.x, c.y))
		}
	}
	far := image.NewRGBA(image.Rect(0, 0, 50, 50))
	stretch(far, p, view.Camera{West: 5000, North: 5000, Scale: 3})
	if far.RGBAAt(25, 25) != (color.RGBA{}) {
		t.Error("a picture shows where it has no ground")
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
