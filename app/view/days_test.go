package view

import (
	"image/png"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"

	"runnel/analysis/compare"
	"runnel/assets/demo"
	"runnel/geo/grid"
)

// dayBands are days a year by columns of 8 m, the last of them dry, on 80 by 60 m.
func dayBands(bands ...float64) grid.Ground {
	days := grid.New[float32](grid.Square(80, 60, 0, 60, 1))
	for y := range days.H {
		for x := range days.W {
			v := math.NaN()
			if x/8 < len(bands) {
				v = bands[x/8]
			}
			days.Set(x, y, float32(v))
		}
	}
	return days
}

func TestDaysUnderWaterHaveTheColourOfTheirClass(t *testing.T) {
	s := sceneShowing(t, Maker{Show: Slopes}, ramped(0.01))
	s = s.WithDays(dayBands(1, 7, 29.9, 60, 150, 240, 366, 0.4))
	s.Show = Days
	img := mustDraw(t, s, Camera{North: 60, Scale: 4}, 320, 240)
	look := Light()
	for band, want := range []Colour{look.Days[0], look.Days[1], look.Days[1], look.Days[3], look.Days[4], look.Days[5], look.Days[5], look.Paper, look.Paper} {
		if x := 32*band + 16; distance(img, x, 120, want) > 2 {
			t.Errorf("band %d is %v, want %v", band, img.RGBAAt(x, 120), want)
		}
	}
	// The edge of what is wet is drawn in one colour, without a band of each class.
	for x := 32*7 - 6; x < 32*7+6; x++ {
		for class := range 5 {
			if distance(img, x, 120, look.Days[class]) < 2 {
				t.Errorf("pixel %d at the edge of the seventh band has the colour of class %d", x, class)
			}
		}
	}
	s.Show = Shade
	if img := mustDraw(t, s, Camera{North: 60, Scale: 4}, 320, 240); distance(img, 16, 120, look.Days[0]) < 3 {
		t.Error("days are drawn although they are not shown")
	}
}

func TestTheLegendTellsOfDays(t *testing.T) {
	s := sceneShowing(t, Maker{Show: Days}, ramped(0.01))
	words := func(s *Scene) (all []string) {
		for _, e := range s.Legend(Camera{Scale: 1}) {
			all = append(all, e.Text())
		}
		return all
	}
	if got := words(s); !slices.Contains(got, "Days under water: not known yet") {
		t.Errorf("with no days known the legend has %q", got)
	}
	known := s.WithDays(dayBands(100))
	if got := words(known); !slices.Contains(got, "Under water, days a year or more") || len(got) != len(words(s)) {
		t.Errorf("with days known the legend has %q", got)
	}
	for _, e := range known.Legend(Camera{Scale: 1}) {
		if e.Text() == "Under water, days a year or more" && !slices.Equal(e.Figures, []string{"1", "7", "30", "60", "120", "240"}) {
			t.Errorf("its figures are %q", e.Figures)
		}
	}
	known.Show = AllLayers
	if got := words(known); slices.Contains(got, "Under water, days a year or more") {
		t.Error("days are listed although nobody asked for them")
	}
	if newPlate(s).imprint(Light()) == newPlate(s.WithDays(dayBands(100))).imprint(Light()) {
		t.Error("scenes of other days have one imprint")
	}
}

// TestDaysOfTheDemo draws the demo's channel with made-up days where LOOK names a folder.
func TestDaysOfTheDemo(t *testing.T) {
	site := demo.Site()
	account, err := compare.Measure(t.Context(), &site, site.Plan.Schemes[0].ID, compare.Options{})
	if err != nil {
		t.Fatal(err)
	}
	scene, err := Maker{}.Scene(t.Context(), &site, &account)
	if err != nil {
		t.Fatal(err)
	}
	days := scene.Wet.Clone()
	for i, v := range days.V {
		days.V[i] = float32(math.NaN())
		if v > 0 {
			days.V[i] = min(366, 900*v)
		}
	}
	scene = scene.WithDays(days)
	scene.Show = Shade | Contours | Drawn | Labels | Days
	for name, look := range map[string]Palette{"light": Light(), "dark": Dark()} {
		for _, wide := range []int{500, 1400} {
			img, err := Picture(t.Context(), scene, wide, wide*2/3, look, "Days under water")
			if err != nil {
				t.Fatal(err)
			}
			seen := 0
			for i := 0; i < len(img.Pix); i += 4 {
				if c := look.Days[4]; img.Pix[i] == c.R && img.Pix[i+1] == c.G && img.Pix[i+2] == c.B {
					seen++
				}
			}
			if wide == 1400 && seen < 50 {
				t.Errorf("%s: %d pixels have the colour of four months", name, seen)
			}
			if folder := os.Getenv("LOOK"); folder != "" {
				f, err := os.Create(filepath.Join(folder, "days-"+name+"-"+strconv.Itoa(wide)+".png"))
				if err != nil {
					t.Fatal(err)
				}
				if err := png.Encode(f, img); err != nil {
					t.Fatal(err)
				}
				f.Close()
			}
		}
	}
}
