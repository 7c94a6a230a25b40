package hollow_test

import (
	"math"
	"slices"
	"testing"

	"runnel/analysis/hollow"
	"runnel/geo/grid"
)

// A pond with a ripple in its floor, a dimple of 1 cm on the bank and a pit of one
// cell: by depth the dimple goes, by area the pit too; the ripple is part of the pond.
func TestSurveyNoiseIsNotShownAsPonds(t *testing.T) {
	tree := grow(t, grid.Parse(
		"9 9    9 9 9 9 9 9 9",
		"9 8.99 9 9 9 9 9 9 9",
		"9 9    9 9 9 4 9 9 9",
		"9 9    9 9 9 9 9 9 9",
		"9 9    9 5 5 5 5 9 9",
		"9 9    9 5 4 5 4 5 7",
		"9 9    9 5 5 5 5 9 9",
		"9 9    9 9 9 9 9 9 9"))
	depths := func(least hollow.Threshold) (depths []float64) {
		for _, node := range tree.Worth(least) {
			depths = append(depths, math.Round(tree.Nodes[node].Depth*100)/100)
		}
		return depths
	}
	for _, test := range []struct {
		least hollow.Threshold
		want  []float64
	}{
		{hollow.Threshold{}, []float64{3, 5, 0.01}},
		{hollow.Threshold{Depth: 0.02}, []float64{3, 5}},
		{hollow.Threshold{Area: 2}, []float64{3}},
		{hollow.Threshold{Volume: 5}, []float64{3, 5}},
		{hollow.Threshold{Volume: 5.01}, []float64{3}},
		{hollow.Threshold{Depth: 5.5}, nil},
	} {
		if got := depths(test.least); !slices.Equal(got, test.want) {
			t.Errorf("%+v: hollows %v m deep, want %v", test.least, got, test.want)
		}
	}
}
