package sheet

import (
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"runnel/app/view"
	"runnel/geo"
)

// keep writes a picture where LOOK names a folder, for an eye to judge.
func keep(t *testing.T, name string, drawn image.Image) {
	t.Helper()
	folder := os.Getenv("LOOK")
	if folder == "" {
		return
	}
	f, err := os.Create(filepath.Join(folder, name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, drawn); err != nil {
		t.Fatal(err)
	}
}

func schemes(n int) (bars []Bar, curves []Curve) {
	for i := range n {
		v := 60 + 190*math.Abs(math.Sin(float64(i)))
		bars = append(bars, Bar{Name: []string{"As it is", "Winding island channel", "Straight soakage trench", "D", "E", "F", "G", "H", "I"}[i],
			Value: geo.Range{Low: 0.8 * v, Likely: v, High: 1.3 * v}, Series: i})
		c := Curve{Name: bars[i].Name, Series: i}
		for k := range 17 {
			c.X, c.Y = append(c.X, 83.8+0.025*float64(k)), append(c.Y, v*float64(k)/16*(0.5+float64(k)/32))
		}
		curves = append(curves, c)
	}
	return bars, curves
}

func TestChartsAreOfTheSizeAndTheLookAsked(t *testing.T) {
	for name, p := range map[string]view.Palette{"light": view.Light(), "dark": view.Dark()} {
		for _, density := range []float64{1, 2} {
			for _, n := range []int{1, 3, 9} {
				bars, curves := schemes(n)
				l := LookOf(p, density)
				w, h := int(360*density), int(240*density)
				a := Bars{Title: "Contact area", Axis: "m²", Bars: bars}.Draw(w, h, l)
				b := Curves{Title: "Contact area by level", Across: "Water level [m]", Up: "Contact area [m²]", Curves: curves[1:], None: "No scheme has a channel."}.Draw(w, h, l)
				keep(t, name+[]string{"", "1", "2"}[int(density)]+string(rune('0'+n))+"bars.png", a)
				keep(t, name+[]string{"", "1", "2"}[int(density)]+string(rune('0'+n))+"curves.png", b)
				for _, drawn := range []*image.RGBA{a, b} {
					if drawn.Rect.Dx() != w || drawn.Rect.Dy() != h {
						t.Errorf("%s: the chart is %v", name, drawn.Rect)
					}
					paper := color.RGBAModel.Convert(p.Paper)
					if drawn.At(0, 0) != paper || plain(drawn) {
						t.Errorf("%s, %d schemes: the corner is %v on paper of %v, or nothing is drawn", name, n, drawn.At(0, 0), paper)
					}
				}
			}
		}
	}
}

func plain(m *image.RGBA) bool {
	for i := 4; i < len(m.Pix); i++ {
		if m.Pix[i] != m.Pix[i%4] {
			return false
		}
	}
	return true
}

func TestAPageHoldsAllThatItIsGiven(t *testing.T) {
	for _, n := range []int{1, 3, 9} {
		bars, curves := schemes(n)
		p := Page{Title: "A small place: the schemes side by side", Under: "Loam; a drain that runs 14 to 60 days a year", Notes: []string{"Recharge is a potential, not a promise of yield from a well."}}
		for _, b := range bars {
			p.Columns = append(p.Columns, Column{Name: b.Name, Map: image.NewUniform(color.Gray{200})})
		}
		l := LookOf(view.Light(), 1.5)
		for _, label := range []string{"Contact area", "Storage"} {
			r := Row{Label: label, Heavy: true}
			for range bars {
				r.Cells = append(r.Cells, Cell{"1 234 m²", []string{"+178 m² · × 3.61", "1 200–1 260 m²", "larger than its range"}})
			}
			p.Rows = append(p.Rows, r)
		}
		bare := p.Draw(l)
		p.Charts = append(p.Charts, Bars{"Storage", "m³", bars}.Draw, Curves{"Storage by level", "Water level [m]", "Storage [m³]", curves, ""}.Draw)
		drawn := p.Draw(l)
		keep(t, "page"+string(rune('0'+n))+".png", drawn)
		if drawn.Rect.Dx() != int(p.Width()*1.5) || drawn.Rect.Dy() <= bare.Rect.Dy()+int(chartHigh) {
			t.Errorf("%d schemes: the page is %v with charts and %v without", n, drawn.Rect, bare.Rect)
		}
		w, h := p.MapSize(l)
		if w < 100 || h < 100 {
			t.Errorf("%d schemes: maps are %d by %d pixels", n, w, h)
		}
	}
}

func TestTheMarksOfAnAxisAreWholeSteps(t *testing.T) {
	for _, c := range []struct {
		low, high float64
		want      []string
	}{
		{0, 300, []string{"0", "50", "100", "150", "200", "250", "300"}},
		{83.8, 84.2, []string{"83.8", "83.9", "84.0", "84.1", "84.2"}},
		{0, 0.034, []string{"0.00", "0.01", "0.02", "0.03"}},
		{-3, 4, []string{"-2", "0", "2", "4"}},
	} {
		var got []string
		for _, tick := range (steps{about: usualMarks}).Ticks(c.low, c.high) {
			got = append(got, tick.Label)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("from %v to %v the marks are %v, want %v", c.low, c.high, got, c.want)
		}
	}
}

func TestSchemesAreToldApartWithoutColour(t *testing.T) {
	grey := LookOf(view.Light(), 1)
	for i := range grey.Series {
		grey.Series[i] = color.NRGBA{90, 90, 90, 255}
	}
	seen := map[string]int{}
	for i := range hatches {
		bar := Bars{Title: "Storage", Axis: "m³", Bars: []Bar{{"Scheme", geo.Range{Low: 9, Likely: 10, High: 11}, i}}}
		key := string(bar.Draw(300, 120, grey).Pix)
		if other, taken := seen[key]; taken {
			t.Errorf("schemes %d and %d look alike in grey", other, i)
		}
		seen[key] = i
	}
}

func TestAChartOfNothingSaysSo(t *testing.T) {
	l := LookOf(view.Light(), 1)
	if plain((Curves{None: "No scheme has a channel."}).Draw(300, 200, l)) {
		t.Error("the chart is blank")
	}
	unknown := Bars{Title: "Storage", Axis: "m³", Bars: []Bar{{Name: "A", Value: geo.Range{Low: math.NaN(), Likely: math.NaN(), High: math.NaN()}}}}
	if plain(unknown.Draw(300, 200, l)) {
		t.Error("a chart without a known figure has no axes")
	}
	(Bars{}).Draw(0, 0, l)
}
