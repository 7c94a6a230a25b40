package flow_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"runnel/geo/grid"
)

func TestDirections(t *testing.T) {
	tests := []struct {
		name   string
		ground grid.Ground
		want   []string
	}{{
		// Made so that no two ways are equally steep: any steepest descent agrees.
		name:   "a hollow flank draws together to the middle of the south edge",
		ground: grid.Parse("9 9 9 9 9", "9 7 6 8 9", "9 6 4 5 9", "9 8 3 6 9", "9 9 1 9 9"),
		want: []string{
			"SE SE S SW SW",
			"SE SE S S SW",
			"E SE S SW W",
			"NE E S SW W",
			"NE E S W NW",
		},
	}, {
		// A teaching grid printed in many texts, from memory; its first place of
		// printing is not certain. The ways are worked again by hand.
		name: "the teaching grid of six by six cells",
		ground: grid.Parse(
			"78 72 69 71 58 49",
			"74 67 56 49 46 50",
			"69 53 44 37 38 48",
			"64 58 55 22 31 24",
			"68 61 47 21 16 19",
			"74 53 34 12 11 12"),
		want: []string{
			"SE SE SE S S SW",
			"SE SE SE S S SW",
			"E E SE S SW S",
			"NE NE E SE S SW",
			"SE SE E S S S",
			"E E E E S W",
		},
	}, {
		// The two gradients worked by hand after Barnes, Lehman and Mulla, Computers &
		// Geosciences 62 (2014) 128: twice the steps to the way out, laid on the steps
		// away from the rim.
		name: "a flat with one way out draws together to its middle line",
		ground: grid.Parse(
			"9 9 9 9 9 9 9", "9 6 6 6 6 6 9", "9 6 6 6 6 6 9", "9 6 6 6 6 6 9",
			"9 6 6 6 6 6 9", "9 6 6 6 6 6 9", "9 9 9 5 9 9 9"),
		want: []string{
			"SE S S S S S SW",
			"E SE S S S SW W",
			"E SE SE S SW SW W",
			"E SE SE S SW SW W",
			"E SE S S S SW W",
			"E E SE S SW W W",
			"NE N E S W N NW",
		},
	}, {
		name:   "a full hollow drains to its spill, not to its deepest place",
		ground: grid.Parse("9 9 9 9 9", "9 1 5 4 6", "9 9 9 9 9"),
		want:   []string{"SE S SW S SW", "E E E E E", "NE N NW N NW"},
	}, {
		name:   "ground beside no data drains into it where no neighbour is lower",
		ground: grid.Parse("5 5 5 5", "5 4 . 5", "5 5 5 5"),
		want:   []string{"SE S SW N", "E E . E", "NE N NW E"},
	}, {
		name:   "at a corner water keeps to the steepest fall that brings it there",
		ground: grid.Parse("4 3 2", "3 2 1", "2 1 0"),
		want:   []string{"SE SE S", "SE SE S", "E E SE"},
	}, {
		name:   "one row falling east leaves at its east end",
		ground: grid.Parse("3 2 1"),
		want:   []string{"E E E"},
	}, {
		name:   "one column falling north leaves at its north end",
		ground: grid.Parse("1", "2", "3"),
		want:   []string{"N", "N", "N"},
	}, {
		name:   "a lone cell drains north, the first way of all",
		ground: grid.Parse("3"),
		want:   []string{"N"},
	}, {
		name:   "of equally steep ways the first clockwise from north is taken",
		ground: grid.Parse("9 1 9", "1 5 1", "9 1 9"),
		want:   []string{"E N S", "W N E", "N S N"},
	}, {
		name:   "level ground leaves by the nearest edge",
		ground: grid.Parse("2 2 2", "2 2 2", "2 2 2"),
		want:   []string{"N N N", "W N E", "S S E"},
	}}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			_, dir := route(t, test.ground)
			if got, want := ways(dir), strings.Join(test.want, "\n"); got != want {
				t.Errorf("got\n%s\nwant\n%s", got, want)
			}
		})
	}
}

// On cells 4 m wide and 1 m high a plane that falls 0.3 m a metre east and 1 m a
// metre south is steepest to the south: 1 against 2.2/√17 = 0.53 to the
// south-east and 0.3 east. Counted in cells it would be the south-east.
func TestSteepnessIsPerMetreNotPerCell(t *testing.T) {
	ground := grid.New[float32](grid.Frame{W: 5, H: 5, DX: 4, DY: 1})
	for y := range ground.H {
		for x := range ground.W {
			ground.Set(x, y, 100-1.2*float32(x)-float32(y))
		}
	}
	_, dir := route(t, ground)
	if d := dir.At(2, 2); d != 4 {
		t.Errorf("the middle drains %s, want S", compass[d])
	}
}

// From a cone's tip every cell drains farther from the tip.
func TestWaterRunsStraightOffACone(t *testing.T) {
	const n = 41
	ground := grid.New[float32](grid.Square(n, n, 0, n, 1))
	away := func(x, y int) float64 { return math.Hypot(float64(x-n/2), float64(y-n/2)) }
	for y := range n {
		for x := range n {
			ground.Set(x, y, float32(100-away(x, y)))
		}
	}
	_, dir := route(t, ground)
	for y := range n {
		for x := range n {
			d := dir.At(x, y)
			if from, to := away(x, y), away(x+grid.StepX[d], y+grid.StepY[d]); to <= from {
				t.Fatalf("at column %d, row %d water runs %s, toward the tip", x, y, compass[d])
			}
		}
	}
}

// Off level ground every cell falls its steepest way; what is level stays level,
// and a cell with no way on is the lowest there is around.
func TestFallKeepsTheRules(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ground := grounds().Draw(t, "ground")
		f := routed(t, ground)
		for y := range ground.H {
			for x, d := range f.Fall.Row(y) {
				if problem := broken(ground, x, y, d); problem != "" {
					t.Fatalf("at column %d, row %d: %s\nground\n%sfalls\n%s", x, y, problem, grid.Print(ground), ways(f.Fall))
				}
			}
		}
	})
}

// broken tells which rule the fall d of cell (x, y) breaks, "" for none.
func broken(ground grid.Ground, x, y int, d grid.Dir) string {
	if grid.IsNoData(ground.At(x, y)) {
		if d != grid.NoDir {
			return "no data has a direction"
		}
		return ""
	}
	steepest, first, length := 0.0, grid.NoDir, ground.StepLengths()
	for n := range grid.Dir(8) {
		nx, ny := x+grid.StepX[n], y+grid.StepY[n]
		if ground.In(nx, ny) && !grid.IsNoData(ground.At(nx, ny)) {
			if slope := float64(ground.At(x, y)-ground.At(nx, ny)) / length[n]; slope > steepest+1e-12 {
				steepest, first = slope, n
			}
		}
	}
	switch {
	case first != grid.NoDir && d != first:
		return "the steepest way is " + compass[first]
	case first != grid.NoDir:
		return ""
	case d == grid.Stay && atBorder(ground, x, y):
		return "an outlet keeps its water"
	case d == grid.Stay:
		return ""
	case d > 7:
		return "there is no direction"
	}
	nx, ny := x+grid.StepX[d], y+grid.StepY[d]
	off := !ground.In(nx, ny) || grid.IsNoData(ground.At(nx, ny))
	switch {
	case atBorder(ground, x, y) && !off:
		return "an outlet drains back inside"
	case !atBorder(ground, x, y) && (off || ground.At(nx, ny) != ground.At(x, y)):
		return "a level cell does not stay level"
	}
	return ""
}

func TestRaisingTheGroundChangesNoFlow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ground := grounds().Draw(t, "ground")
		lift := float32(rapid.IntRange(-500, 500).Draw(t, "lift"))
		lifted := ground.Clone()
		for c := range lifted.V {
			lifted.V[c] += lift
		}
		var got [2]string
		for i, g := range []grid.Ground{ground, lifted} {
			_, dir := route(t, g)
			got[i] = ways(dir)
		}
		if got[0] != got[1] {
			t.Fatalf("ground\n%sbefore\n%s\n%g m higher\n%s", grid.Print(ground), got[0], lift, got[1])
		}
	})
}
