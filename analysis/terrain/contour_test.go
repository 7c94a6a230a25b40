package terrain

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"pgregory.net/rapid"

	"runnel/geo/grid"
)

func contours(t testing.TB, g grid.Ground, interval float64) []Contour {
	t.Helper()
	got, err := Contours(context.Background(), g, interval)
	if err != nil {
		t.Fatal(err)
	}
	return got
}

// cone makes a ground that falls 1 m a metre from 50 m in the middle of n by n cells.
func cone(n int) grid.Ground {
	g := grid.New[float32](grid.Square(n, n, 0, float64(n), 1))
	for c := range g.V {
		g.V[c] = float32(50 - planar.Distance(g.Centre(c%n, c/n), orb.Point{float64(n) / 2, float64(n) / 2}))
	}
	return g
}

func TestContoursOfAConeAreCircles(t *testing.T) {
	const n = 81
	middle := orb.Point{n / 2.0, n / 2.0}
	circles := 0
	for _, contour := range contours(t, cone(n), 2) {
		want := 50 - contour.Level
		if want < 4 || want > 38 {
			continue
		}
		circles++
		if len(contour.Lines) != 1 || contour.Lines[0][0] != contour.Lines[0][len(contour.Lines[0])-1] {
			t.Fatalf("level %g m has %d lines, want one ring", contour.Level, len(contour.Lines))
		}
		// Averaging lowers a cone by a quarter cell² over its radius or so, and a
		// chord of one cell strays an eighth of a cell² over it.
		for _, p := range contour.Lines[0] {
			if got := planar.Distance(p, middle); math.Abs(got-want) > 0.4/want {
				t.Fatalf("level %g m runs %g m from the middle, want %g", contour.Level, got, want)
			}
		}
		// Round a peak with the high ground on the right is clockwise.
		if orb.Ring(contour.Lines[0]).Orientation() != orb.CW {
			t.Errorf("level %g m runs with the peak on its left", contour.Level)
		}
	}
	if circles != 18 {
		t.Errorf("%d levels were looked at, want the 18 from 12 to 46 m", circles)
	}
}

func TestContoursOfAPlaneAreStraight(t *testing.T) {
	// Cells 2 m wide: 100 m in the west, rising 0.25 m a metre.
	g := slant(grid.Frame{W: 20, H: 6, North: 6, DX: 2, DY: 1}, 0.25, 0)
	got := contours(t, g, 1)
	if len(got) != 9 {
		t.Fatalf("got %d contours, want 9, from 101 to 109 m", len(got))
	}
	for i, contour := range got {
		level := 101 + float64(i)
		if contour.Level != level || contour.Index != (i == 4) || len(contour.Lines) != 1 || len(contour.Lines[0]) != 6 {
			t.Fatalf("contour %d: got %+v, want one line of 6 points at %g m", i, contour, level)
		}
		for _, p := range contour.Lines[0] {
			if want := (level - 100) / 0.25; math.Abs(p[0]-want) > 0.001 {
				t.Errorf("level %g m runs %g m east, want %g", level, p[0], want)
			}
		}
		// Higher ground, the east, is on the right of a line running north.
		if line := contour.Lines[0]; line[0][1] > line[5][1] {
			t.Errorf("level %g m runs south", level)
		}
	}
}

func TestALevelAtTheHeightOfAPlainGoesRoundIt(t *testing.T) {
	g := grid.New[float32](grid.Square(12, 12, 0, 12, 1))
	for c := range g.V {
		if x, y := c%12, c/12; x > 2 && x < 9 && y > 2 && y < 9 {
			g.V[c] = 1
		}
	}
	got := contours(t, g, 0.5)
	if len(got) != 2 || len(got[1].Lines) != 1 {
		t.Fatalf("got %+v, want one ring each at 0.5 and 1 m", got)
	}
	for i, ring := range []orb.Ring{orb.Ring(got[0].Lines[0]), orb.Ring(got[1].Lines[0])} {
		// The plain is 6 m square; averaging brings its slope one cell in and one out.
		if area, want := math.Abs(planar.Area(ring)), []float64{36, 9}[i]; math.Abs(area-want) > 8 {
			t.Errorf("the ring at %g m holds %g m², want about %g", got[i].Level, area, want)
		}
	}
}

// roughs draws grounds of few heights, where saddles abound, with holes of no data.
func roughs() *rapid.Generator[grid.Ground] {
	return rapid.Custom(func(t *rapid.T) grid.Ground {
		g := grid.New[float32](grid.Square(rapid.IntRange(2, 9).Draw(t, "w"), rapid.IntRange(2, 9).Draw(t, "h"), 0, 9, 1))
		heights := rapid.SampledFrom([]float32{0, 0, 1, 2, 5, 5, 6, 6})
		for c := range g.V {
			g.V[c] = heights.Draw(t, "z")
		}
		for range rapid.IntRange(0, 2).Draw(t, "holes") {
			g.V[rapid.IntRange(1, len(g.V)).Draw(t, "hole")-1] = grid.NoData
		}
		return g
	})
}

func TestContoursNeverCross(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := roughs().Draw(t, "ground")
		got, err := Contours(context.Background(), g, rapid.SampledFrom([]float64{0.5, 1, 2}).Draw(t, "interval"))
		if err != nil {
			t.Fatal(err)
		}
		var pieces [][2]orb.Point
		owners := map[orb.Point]int{}
		lines := 0
		for _, contour := range got {
			for _, line := range contour.Lines {
				lines++
				for i, p := range line {
					if owner, taken := owners[p]; taken && owner != lines {
						t.Fatalf("two lines touch at %v\n%s", p, grid.Print(g))
					}
					owners[p] = lines
					if i > 0 {
						pieces = append(pieces, [2]orb.Point{line[i-1], p})
					}
				}
			}
		}
		for i, a := range pieces {
			for _, b := range pieces[:i] {
				if parts(a, b[0], b[1]) && parts(b, a[0], a[1]) {
					t.Fatalf("%v crosses %v\n%s", a, b, grid.Print(g))
				}
			}
		}
	})
}

// parts reports whether the line through s has p and q strictly on either side.
func parts(s [2]orb.Point, p, q orb.Point) bool {
	left := func(r orb.Point) float64 {
		return (s[1][0]-s[0][0])*(r[1]-s[0][1]) - (s[1][1]-s[0][1])*(r[0]-s[0][0])
	}
	const rounding = 1e-12
	a, b := left(p), left(q)
	return a > rounding && b < -rounding || a < -rounding && b > rounding
}

// A line ends only where the ground does: on the outermost centres or beside no
// data. Every other line is closed.
func TestLinesAreJoined(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := roughs().Draw(t, "ground")
		got, err := Contours(context.Background(), g, 1)
		if err != nil {
			t.Fatal(err)
		}
		for _, contour := range got {
			for _, line := range contour.Lines {
				first, last := line[0], line[len(line)-1]
				if len(line) < 2 || first != last && !(endsGround(g, first) && endsGround(g, last)) {
					t.Fatalf("at %g m a line is broken off: %v\n%s", contour.Level, line, grid.Print(g))
				}
			}
		}
	})
}

// endsGround reports whether one of the cells of the squares that meet at p, a
// point between two centres 1 m apart, is missing.
func endsGround(g grid.Ground, p orb.Point) bool {
	reach := orb.Point{0.5, 1} // p lies between columns
	if math.Mod(p[0], 1) == 0.5 {
		reach = orb.Point{1, 0.5} // p lies between rows
	}
	for _, d := range []orb.Point{{-1, -1}, {-1, 1}, {1, -1}, {1, 1}} {
		x, y, ok := g.Cell(orb.Point{p[0] + d[0]*reach[0], p[1] + d[1]*reach[1]})
		if !ok || grid.IsNoData(g.At(x, y)) {
			return true
		}
	}
	return false
}

func TestGroundsWithoutContours(t *testing.T) {
	for name, g := range map[string]grid.Ground{
		"one cell": grid.Parse("1"), "one row": grid.Parse("1 5 9"), "no height": grid.Parse(". .", ". ."),
		"level ground": grid.Parse("2 2 2", "2 2 2"), "a gap": grid.Parse("1 9", "5 ."),
	} {
		if got := contours(t, g, 1); len(got) != 0 {
			t.Errorf("%s: got %v", name, got)
		}
	}
}

func TestContoursRefuse(t *testing.T) {
	g := grid.Parse("0 50", "100 0")
	tall := grid.Parse("3e38 3e38", "3e38 3e38")
	endless := grid.Parse("1 2", "3 Inf")
	for _, test := range []struct {
		name     string
		ground   grid.Ground
		interval float64
		want     string
	}{
		{"no cells", grid.Ground{}, 1, "needs one at least"},
		{"no interval", g, 0, "give more than 0"},
		{"an interval that is no number", g, math.NaN(), "give more than 0"},
		{"too many levels", g, 0.01, "gives 10000 contours"},
		{"levels past counting", tall, 0.5, "too fine"},
		{"endless heights", endless, 1, "mark cells of no height"},
	} {
		_, err := Contours(context.Background(), test.ground, test.interval)
		if err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%s: got error %v, want one with %q", test.name, err, test.want)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Contours(ctx, g, 5); !errors.Is(err, context.Canceled) {
		t.Errorf("a cancelled run: got error %v", err)
	}
}

func TestInterval(t *testing.T) {
	for _, test := range []struct{ low, high, want float64 }{
		{0, 3, 0.2}, {0, 15, 1}, {0, 10, 0.5}, {100, 140, 2}, {-200, 100, 20}, {5, 5, 1}, {9, 3, 1}, {math.NaN(), 3, 1},
	} {
		if got := Interval(test.low, test.high); math.Abs(got-test.want) > 1e-12 {
			t.Errorf("from %g to %g m: got %g m, want %g", test.low, test.high, got, test.want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		relief := math.Pow(10, rapid.Float64Range(-3, 5).Draw(t, "log of relief"))
		if n := relief / Interval(0, relief); n < 15-1e-6 || n > 40 {
			t.Fatalf("%g m of relief gives %g contours", relief, n)
		}
	})
}
