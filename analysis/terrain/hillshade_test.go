package terrain

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"runnel/geo/grid"
)

func shade(t testing.TB, g grid.Ground, o ShadeOptions) grid.Grid[uint8] {
	t.Helper()
	got, err := Hillshade(context.Background(), g, o)
	if err != nil {
		t.Fatal(err)
	}
	return got
}

// Brightness is worked by hand from the formula of Horn, Proceedings of the IEEE
// 69 (1981) 14, for light from 315 degrees, 45 degrees high: 0.81169 on the first
// window, 0.75333 on ground that rises 1 in 10 to the east.
func TestShadeOfWindowsWorkedByHand(t *testing.T) {
	window := grid.Parse("101 102 104", "100 103 106", "99 101 107")
	rise := grid.Parse("1 2 3", "1 2 3", "1 2 3")
	for _, test := range []struct {
		name       string
		ground     grid.Ground
		brightness float64
	}{{"a rough window", window, 0.81169}, {"a rise to the east", rise, 0.75333}} {
		test.ground.DX, test.ground.DY = 10, 10
		want := uint8(1 + math.Round(254*test.brightness))
		if got := shade(t, test.ground, ShadeOptions{Exaggeration: 1}).At(1, 1); got != want {
			t.Errorf("%s: got %d, want %d", test.name, got, want)
		}
	}
}

// A plane's brightness is the dot product of the unit vectors of its
// perpendicular and the light.
func TestShadeOfAPlane(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		east, north := rapid.Float64Range(-1, 1).Draw(t, "east"), rapid.Float64Range(-1, 1).Draw(t, "north")
		azimuth, altitude := rapid.Float64Range(1, 360).Draw(t, "azimuth"), rapid.Float64Range(5, 90).Draw(t, "altitude")
		stretch := rapid.Float64Range(0.5, 4).Draw(t, "exaggeration")
		got, err := Hillshade(context.Background(), slant(grid.Square(5, 4, 0, 0, 1), east, north),
			ShadeOptions{Azimuth: azimuth, Altitude: altitude, Exaggeration: stretch})
		if err != nil {
			t.Fatal(err)
		}
		a, h := azimuth*math.Pi/180, altitude*math.Pi/180
		light := [3]float64{math.Sin(a) * math.Cos(h), math.Cos(a) * math.Cos(h), math.Sin(h)}
		normal := [3]float64{-east * stretch, -north * stretch, 1}
		length := math.Sqrt(normal[0]*normal[0] + normal[1]*normal[1] + 1)
		cosine := (light[0]*normal[0] + light[1]*normal[1] + light[2]*normal[2]) / length
		for c, v := range got.V {
			if want := 1 + 254*max(cosine, 0); math.Abs(float64(v)-want) > 0.51 {
				t.Fatalf("cell %d: got %d, want %.2f", c, v, want)
			}
		}
	})
}

func TestShadeChoices(t *testing.T) {
	f := grid.Square(6, 6, 0, 0, 1)
	facing, turned := slant(f, 0.2, -0.2), slant(f, -0.2, 0.2)
	if lit, dark := shade(t, facing, ShadeOptions{}).At(2, 2), shade(t, turned, ShadeOptions{}).At(2, 2); lit <= dark {
		t.Errorf("ground facing the north-west is %d bright, ground facing away %d", lit, dark)
	}
	if gentle := SuitedExaggeration(slant(f, 0.05, 0)); math.Abs(gentle-5) > 0.01 {
		t.Errorf("a fall of 1 in 20 is exaggerated %g times, want 5", gentle)
	}
	for name, test := range map[string]struct {
		ground grid.Ground
		want   float64
	}{
		"level ground":     {slant(f, 0, 0), 10},
		"steep ground":     {slant(f, 0.6, 0), 1},
		"ground of nought": {grid.Parse(". ."), 1},
	} {
		if got := SuitedExaggeration(test.ground); got != test.want {
			t.Errorf("%s is exaggerated %g times, want %g", name, got, test.want)
		}
	}
}

func TestShadeOfNoDataIsNought(t *testing.T) {
	got := shade(t, grid.Parse("5 .", "5 5"), ShadeOptions{})
	level := uint8(1 + math.Round(254*math.Sqrt(0.5)))
	for c, want := range []uint8{level, 0, level, level} {
		if got.V[c] != want {
			t.Errorf("cell %d: got %d, want %d", c, got.V[c], want)
		}
	}
}

func TestHillshadeRefuses(t *testing.T) {
	short := grid.Parse("1 2")
	short.V = short.V[:1]
	for _, test := range []struct {
		name   string
		ground grid.Ground
		o      ShadeOptions
		want   string
	}{
		{"no cells", grid.Ground{}, ShadeOptions{}, "needs one at least"},
		{"fewer heights than cells", short, ShadeOptions{}, "one height a cell"},
		{"a light below the horizon", grid.Parse("1"), ShadeOptions{Altitude: -5}, "give 0 to 90"},
		{"an azimuth that is no number", grid.Parse("1"), ShadeOptions{Azimuth: math.NaN()}, "give 0 to 360"},
		{"a negative exaggeration", grid.Parse("1"), ShadeOptions{Exaggeration: -1}, "exaggerated -1 times"},
	} {
		_, err := Hillshade(context.Background(), test.ground, test.o)
		if err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%s: got error %v, want one with %q", test.name, err, test.want)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Hillshade(ctx, grid.Parse("1"), ShadeOptions{}); !errors.Is(err, context.Canceled) {
		t.Errorf("a cancelled run: got error %v", err)
	}
}
