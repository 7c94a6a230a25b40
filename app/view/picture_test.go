package view

import (
	"context"
	"fmt"
	"image"
	"math"
	"strings"
	"testing"

	"runnel/geo/plan"
)

func TestAPictureOfEveryKindHasItsWholeLegend(t *testing.T) {
	s := everythingScene(t)
	var texts []string
	for _, e := range s.Legend(Camera{}) {
		texts = append(texts, e.Text())
	}
	all := strings.Join(texts, "\n")
	for _, spec := range plan.Specs() {
		if !strings.Contains(all, spec.Label) {
			t.Errorf("the legend lacks %s", spec.Label)
		}
	}
	for _, want := range []string{"Standing water", "Water path", "Contours every", "Caution"} {
		if !strings.Contains(all, want) {
			t.Errorf("the legend lacks %q", want)
		}
	}
	s.Show = Shade
	if n := len(s.Legend(Camera{})); n != 0 {
		t.Errorf("a map of relief alone has a legend of %d lines", n)
	}
}

func TestAPictureIsComposedAtAnySize(t *testing.T) {
	s := everythingScene(t)
	for _, size := range [][2]int{{400, 300}, {1400, 950}, {420, 1600}, {2400, 320}} {
		for name, p := range map[string]Palette{"light": Light(), "dark": Dark()} {
			img, err := Picture(context.Background(), s, size[0], size[1], p, "A title that is rather longer than the block is wide, and Averyveryverylongwordindeed")
			if err != nil {
				t.Fatal(err)
			}
			if img.Rect != image.Rect(0, 0, size[0], size[1]) {
				t.Fatalf("%s: bounds %v", name, img.Rect)
			}
			edges(t, img, p.Paper, fmt.Sprintf("%s %v", name, size))
		}
	}
}

// edges reports anything drawn in the outermost pixels of a sheet.
func edges(t *testing.T, img *image.RGBA, paper Colour, name string) {
	t.Helper()
	w, h := img.Rect.Dx(), img.Rect.Dy()
	for y := range h {
		for x := range w {
			if (x < 2 || y < 2 || x >= w-2 || y >= h-2) && distance(img, x, y, paper) > 0 {
				t.Fatalf("%s: something is cut off at (%d, %d)", name, x, y)
			}
		}
	}
}

func TestAPictureTooSmallForItsTitleBlockIsRefused(t *testing.T) {
	for _, size := range [][2]int{{399, 900}, {900, 299}, {0, 0}, {1 << 15, 900}} {
		if _, err := Picture(context.Background(), everythingScene(t), size[0], size[1], Light(), "x"); err == nil {
			t.Errorf("%v is composed", size)
		}
	}
}

func TestWrappedTextFitsTheBlock(t *testing.T) {
	s := newSheet(800, 600, Light())
	look := lettering{size: 14}
	text := "Coordinates: a rather long reference system name / zone 26N (EPSG:32626) ünïcödewithoutanyspacesatallwhichmustbebrokensomewhere."
	lines := s.wrapped(text, look)
	for _, line := range lines {
		if w := s.letters.measure(line, look); w > s.right-s.left {
			t.Errorf("%q is %.1f px wide in a block of %.1f", line, w, s.right-s.left)
		}
	}
	if got := strings.ReplaceAll(strings.Join(lines, ""), " ", ""); got != strings.ReplaceAll(text, " ", "") {
		t.Errorf("the text comes out as %q", got)
	}
}

func TestScaleBarsAreOneTwoOrFive(t *testing.T) {
	for longest, want := range map[float64]float64{1: 1, 1.99: 1, 2: 2, 4.9: 2, 5: 5, 9.99: 5, 10: 10, 0.03: 0.02, 731: 500} {
		if got, parts := barLength(longest); math.Abs(got-want) > 1e-9*want || parts < 4 {
			t.Errorf("at most %g gives %g in %d parts, want %g", longest, got, parts, want)
		}
	}
	for _, none := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if _, parts := barLength(none); parts != 0 {
			t.Errorf("a bar of %g is divided in %d", none, parts)
		}
	}
}

func TestTheScaleBarIsAsLongAsItSays(t *testing.T) {
	for _, of := range []struct {
		units Units
		scale float64
		want  float64 // [px]
	}{
		{Metres, 12, 60}, // 5 m at 12 px/m
		{Feet, 12, 0.3048 * 20 * 12},
	} {
		k := testCanvas(400, 100, Camera{Scale: of.scale})
		k.clearTo(k.look.Paper)
		Furniture(k.dst, k.camera, k.look, FurnitureOptions{Units: of.units, Left: 20, Bottom: 20})
		// The foot of the bar is a line in ink from end to end.
		first, last := 400, 0
		for x := 40; x < 400; x++ {
			if distance(k.dst, x, 79, k.look.Ink) < 120 {
				first, last = min(first, x), max(last, x)
			}
		}
		if got := float64(last - first); math.Abs(got-of.want) > 2 {
			t.Errorf("units %d: the bar is %g px long, want %.1f", of.units, got, of.want)
		}
	}
}

// Nothing but the plate is painted at its foot, and what is written above stays within.
func TestTheScalesFigureStaysOnItsPlate(t *testing.T) {
	desk := Colour{R: 200, A: 255}
	for _, c := range []struct {
		scale float64
		units Units
	}{{12, Metres}, {1, Metres}, {0.05, Metres}, {0.0041, Metres}, {0.0006, Metres}, {0.05, Feet}, {0.0012, Feet}} {
		k := testCanvas(400, 100, Camera{Scale: c.scale})
		k.clearTo(desk)
		Furniture(k.dst, k.camera, k.look, FurnitureOptions{Units: c.units})
		last := func(from, to int) (x int) {
			for y := from; y < to; y++ {
				for at := range 400 {
					if distance(k.dst, at, y, desk) > 12 {
						x = max(x, at)
					}
				}
			}
			return x
		}
		if foot, all := last(82, 91), last(0, 100); all > foot {
			t.Errorf("at %g px/m the plate ends at %d, what is on it at %d", c.scale, foot, all)
		}
		if width, _ := FurnitureSize(k.look); float64(last(0, 100)) > width {
			t.Errorf("at %g px/m it reaches to %d of at most %.0f", c.scale, last(0, 100), width)
		}
	}
}

func TestAScaledPaletteScalesEveryLength(t *testing.T) {
	p, q := Light(), Light().Scaled(3)
	if q.Type.Text != 3*p.Type.Text || q.Index.Width != 3*p.Index.Width || q.Paths.Thick != 3*p.Paths.Thick {
		t.Error("type, contours or paths are not scaled")
	}
	for kind, s := range p.Kinds {
		o := q.Kinds[kind]
		if o.Edge.Width != 3*s.Edge.Width || o.Core.Width != 3*s.Core.Width || o.Least != 3*s.Least || o.Hatch.Size != 3*s.Hatch.Size {
			t.Errorf("kind %d: %+v becomes %+v", kind, s, o)
		}
		for i := range s.Edge.Dash {
			if o.Edge.Dash[i] != 3*s.Edge.Dash[i] {
				t.Errorf("kind %d: the dash %v becomes %v", kind, s.Edge.Dash, o.Edge.Dash)
			}
		}
	}
	if p.Kinds[plan.Boundary].Edge.Dash[0] != Light().Kinds[plan.Boundary].Edge.Dash[0] {
		t.Error("scaling changes the palette it is asked of")
	}
}

// contrast is the ratio of WCAG 2.1, 1 to 21.
func contrast(a, b Colour) float64 {
	light := func(c Colour) float64 {
		channel := func(v uint8) float64 {
			if s := float64(v) / 255; s > 0.03928 {
				return math.Pow((s+0.055)/1.055, 2.4)
			} else {
				return s / 12.92
			}
		}
		return 0.2126*channel(c.R) + 0.7152*channel(c.G) + 0.0722*channel(c.B)
	}
	x, y := light(a)+0.05, light(b)+0.05
	return max(x/y, y/x)
}

func TestTextStandsOutFromThePaper(t *testing.T) {
	for name, p := range map[string]Palette{"light": Light(), "dark": Dark()} {
		// WCAG 2.1, 1.4.3: 4.5 for text.
		for _, of := range []struct {
			what   string
			colour Colour
		}{{"ink", p.Ink}, {"muted text", p.Muted}, {"hollow text", p.Hollow.Text}} {
			if got := contrast(of.colour, p.Paper); got < 4.5 {
				t.Errorf("%s: the contrast of %s is %.2f", name, of.what, got)
			}
		}
		for _, spec := range plan.Specs() {
			if got := contrast(p.Kinds[spec.Kind].Text, p.Paper); got < 4.5 {
				t.Errorf("%s: the contrast of the names of %s is %.2f", name, spec.Label, got)
			}
		}
	}
}

func TestKindsThatShareAShapeAreToldApartWithoutColour(t *testing.T) {
	// Each swatch in shades of grey, compared pixel by pixel.
	swatch := func(spec plan.Spec) []float64 {
		k := testCanvas(80, 40, Camera{Scale: 1})
		k.clearTo(k.look.Paper)
		sampleKind(spec)(k, square(40, 20, 16))
		var grey []float64
		for i := 0; i < len(k.dst.Pix); i += 4 {
			grey = append(grey, 0.3*float64(k.dst.Pix[i])+0.59*float64(k.dst.Pix[i+1])+0.11*float64(k.dst.Pix[i+2]))
		}
		return grey
	}
	specs := plan.Specs()
	for i, a := range specs {
		for _, b := range specs[:i] {
			if a.Shape != b.Shape {
				continue
			}
			var sum float64
			ga, gb := swatch(a), swatch(b)
			for j := range ga {
				sum += math.Abs(ga[j] - gb[j])
			}
			if mean := sum / float64(len(ga)); mean < 2 {
				t.Errorf("%s and %s differ by %.2f of 255 on average", a.Label, b.Label, mean)
			}
		}
	}
}
