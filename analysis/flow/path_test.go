package flow_test

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"runnel/analysis/flow"
	"runnel/geo/grid"
)

func TestDrop(t *testing.T) {
	// A plane falls east to a hole of no data, and beyond it to the edge.
	ground := grid.Parse("9 8 7 . 5 4", "9 8 7 . 5 4", "9 8 7 . 5 4")
	_, dir := route(t, ground)
	tests := []struct {
		name string
		at   orb.Point
		want flow.Path
	}{{
		name: "a drop runs from where it falls through the cells' centres to no data",
		at:   orb.Point{0.25, 1.5},
		want: flow.Path{
			Line:   orb.LineString{{0.25, 1.5}, {1.5, 1.5}, {2.5, 1.5}, {3, 1.5}},
			Length: 2.75, Drop: 2, End: flow.NoDataEnd,
		},
	}, {
		name: "a drop leaves at the middle of its cell's side",
		at:   orb.Point{5.75, 1.25},
		want: flow.Path{
			Line:   orb.LineString{{5.75, 1.25}, {6, 1.5}},
			Length: math.Hypot(0.25, 0.25), Drop: 0, End: flow.OffGround,
		},
	}, {
		name: "the height it falls from is read between the cells",
		at:   orb.Point{1, 1.5},
		want: flow.Path{
			Line:   orb.LineString{{1, 1.5}, {2.5, 1.5}, {3, 1.5}},
			Length: 2, Drop: 1.5, End: flow.NoDataEnd,
		},
	}}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got, err := flow.Drop(ground, dir, test.at)
			if err != nil {
				t.Fatal(err)
			}
			if !slices.Equal(got.Line, test.want.Line) || got.End != test.want.End ||
				math.Abs(got.Length-test.want.Length) > 1e-12 || math.Abs(got.Drop-test.want.Drop) > 1e-12 {
				t.Errorf("got %+v, want %+v", got, test.want)
			}
		})
	}
}

// The ground falls south to its last row, and that falls east: a drop leaves where
// it comes to the edge, and does not run along it. One that falls on the edge where
// the ground slopes inwards runs in.
func TestADropDoesNotRunAlongTheEdge(t *testing.T) {
	ground := grid.Parse("9 9 9 9 9", "8 8 8 8 8", "7 7 7 7 7", "6 5.9 5.8 5.7 5.6")
	_, dir := route(t, ground)
	got, err := flow.Drop(ground, dir, ground.Centre(1, 0))
	want := orb.LineString{{1.5, 3.5}, {1.5, 2.5}, {1.5, 1.5}, {1.5, 0.5}, {1.5, 0}}
	if err != nil || !slices.Equal(got.Line, want) || got.End != flow.OffGround || math.Abs(got.Drop-3.1) > 1e-6 {
		t.Errorf("got %+v (error %v), want it along %v", got, err, want)
	}
}

func TestDropLeavesByTheSideItsDirectionPointsTo(t *testing.T) {
	ground := grid.Parse("4 3 2", "3 2 1", "2 1 0")
	ground.DX, ground.DY = 2, 1
	frame := ground.Frame
	for d, want := range map[grid.Dir]orb.Point{
		0: {3, 2}, 1: {4, 2}, 2: {4, 1.5}, 3: {4, 1}, 4: {3, 1}, 5: {2, 1}, 6: {2, 1.5}, 7: {2, 2},
	} {
		dir := grid.New[grid.Dir](frame)
		for c := range dir.V {
			dir.V[c] = grid.NoDir
		}
		dir.Set(1, 1, d)
		got, err := flow.Drop(ground, dir, ground.Centre(1, 1))
		if err != nil || got.Line[len(got.Line)-1] != want {
			t.Errorf("%s: left at %v (error %v), want %v", compass[d], got.Line, err, want)
		}
	}
}

func TestDropLosesHeightOutOfAHollow(t *testing.T) {
	ground := grid.Parse("9 9 9 9", "9 1 5 7", "9 9 9 9")
	_, dir := route(t, ground)
	got, err := flow.Drop(ground, dir, orb.Point{1.5, 1.5})
	if err != nil || got.Drop != -6 {
		t.Errorf("from the pit at 1 m over the rim at 7 m the drop is %g m (error %v), want -6", got.Drop, err)
	}
}

func TestDropRefuses(t *testing.T) {
	ground := grid.Parse("3 . 1")
	_, dir := route(t, ground)
	tests := []struct {
		name string
		at   orb.Point
		want string
	}{
		{"a point off the ground", orb.Point{9, 0.5}, "lies off the ground"},
		{"a point on no data", orb.Point{1.5, 0.5}, "has no height"},
		{"a point that is no number", orb.Point{math.NaN(), 0.5}, "lies off the ground"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if _, err := flow.Drop(ground, dir, test.at); err == nil || !strings.Contains(err.Error(), test.want) {
				t.Errorf("got error %v, want one with %q", err, test.want)
			}
		})
	}
	if _, err := flow.Drop(grid.Parse("1"), dir, orb.Point{0.5, 0.5}); err == nil {
		t.Error("directions of another ground: got no error")
	}
}

// The cells above a cell and the cells below it agree: c drains through p just
// when p lies on the trace from c; and the area above p is what it accumulates.
func TestCatchmentAndTraceAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ground := grounds().Draw(t, "ground")
		_, dir := route(t, ground)
		area, err := flow.Accumulate(context.Background(), dir, nil)
		if err != nil {
			t.Fatal(err)
		}
		p := rapid.IntRange(0, dir.Len()-1).Draw(t, "outlet")
		in := flow.Catchment(dir, p%dir.W, p/dir.W)
		cells := 0
		for c, drains := range in.V {
			if drains != slices.Contains(flow.Trace(dir, c%dir.W, c/dir.W), int32(p)) {
				t.Fatalf("cell %d is in the catchment of %d: %v; its trace says otherwise\n%s", c, p, drains, ways(dir))
			}
			if drains {
				cells++
			}
		}
		if dir.V[p] != grid.NoDir && math.Abs(float64(cells)*dir.CellArea()-area.V[p]) > 1e-9 {
			t.Fatalf("%d cells drain through cell %d, which accumulates %g m²", cells, p, area.V[p])
		}
	})
}

func TestPlacesOffTheGridHaveNoWater(t *testing.T) {
	dir := grid.Grid[grid.Dir]{Frame: grid.Square(1, 1, 0, 0, 1), V: []grid.Dir{grid.NoDir}}
	for _, x := range []int{-1, 0, 1} {
		if cells := flow.Trace(dir, x, 0); cells != nil {
			t.Errorf("column %d: trace %v, want none", x, cells)
		}
		if in := flow.Catchment(dir, x, 0); in.V[0] {
			t.Errorf("column %d: a cell of no data is in a catchment", x)
		}
	}
}
