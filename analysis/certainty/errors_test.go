package certainty

import (
	"context"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"runnel/analysis/synthetic"
	"runnel/geo/grid"
)

// The error of a cell is that of the field of 1 m there times the cell's own.
func TestEachCellIsOffByItsOwnError(t *testing.T) {
	f := grid.Square(40, 30, 0, 30, 1)
	flat, whole, own := grid.New[float32](f), grid.New[float32](f), grid.New[float32](f)
	each := make([]float32, f.Len())
	for i := range each {
		each[i] = float32(i%7) / 10
	}
	each[100] = grid.NoData
	newField(f, 5).add(flat, size{all: 1}, rand.New(rand.NewPCG(1, 2)), whole)
	newField(f, 5).add(flat, size{all: 0.3, each: each}, rand.New(rand.NewPCG(1, 2)), own)
	for i, v := range own.V {
		want := float64(whole.V[i]) * float64(each[i])
		if i == 100 {
			want = float64(whole.V[i]) * 0.3
		}
		if math.Abs(float64(v)-want) > 1e-6 {
			t.Fatalf("cell %d is off by %g m, want %g m", i, v, want)
		}
	}
}

func TestPathsAreSureWhereTheSurveyIsAndNotWhereItIsNot(t *testing.T) {
	g := synthetic.Rounded(synthetic.Site(80, 80, 5))
	errors := grid.New[float32](g.Frame)
	for i := range errors.V {
		if i >= 40*g.W { // all of the south
			errors.V[i] = 0.5
		}
	}
	s := Survey{Errors: &errors, Reach: 3, Draws: 20, Seed: 2, Least: 30}
	share, err := Of(context.Background(), g, s, nil)
	if err != nil {
		t.Fatal(err)
	}
	unsure := [2]int{}
	for i, v := range share.V {
		if v > 0 && v < 1 {
			unsure[i/(40*g.W)]++
		}
	}
	if unsure[1] < 200 || unsure[0] > unsure[1]/4 {
		t.Errorf("%d cells are unsure in the sure north and %d in the south", unsure[0], unsure[1])
	}
}

func TestErrorsThatCannotBeAreOneSentence(t *testing.T) {
	g := synthetic.Site(9, 8, 1)
	for word, spoil := range map[string]func(*grid.Grid[float32]){
		"column 3, row 2 is -1 m": func(e *grid.Grid[float32]) { e.Set(3, 2, -1) },
		"row 0 is +Inf m":         func(e *grid.Grid[float32]) { e.V[0] = float32(math.Inf(1)) },
		"5 by 5 cells":            func(e *grid.Grid[float32]) { *e = grid.New[float32](grid.Square(5, 5, 0, 0, 1)) },
		"one for each":            func(e *grid.Grid[float32]) { e.V = e.V[1:] },
	} {
		errors := grid.New[float32](g.Frame)
		spoil(&errors)
		_, err := Of(context.Background(), g, Survey{Errors: &errors, Draws: 2, Least: 9}, nil)
		if err == nil || !strings.Contains(err.Error(), word) {
			t.Errorf("%v; want a sentence with %q", err, word)
		}
	}
}
