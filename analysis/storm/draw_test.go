package storm_test

import (
	"math"

	"pgregory.net/rapid"

	"runnel/analysis/storm"
	"runnel/geo/grid"
)

// distinct draws grounds whose heights all differ, with gaps in the data.
func distinct() *rapid.Generator[grid.Ground] {
	return rapid.Custom(func(t *rapid.T) grid.Ground {
		w, h := rapid.IntRange(1, 9).Draw(t, "w"), rapid.IntRange(1, 9).Draw(t, "h")
		g := grid.New[float32](grid.Square(w, h, 400_000, 5_000_000, 0.5))
		order := make([]int, len(g.V))
		for i := range order {
			order[i] = i
		}
		for c, z := range rapid.Permutation(order).Draw(t, "heights") {
			g.V[c] = float32(z - len(order)/2)
		}
		if gap := rapid.IntRange(-5, len(g.V)-1).Draw(t, "gap"); gap >= 0 && len(g.V) > 1 {
			g.V[gap] = grid.NoData
		}
		return g
	})
}

// tied draws grounds of few heights, so full of flats and ties.
func tied() *rapid.Generator[grid.Ground] {
	return rapid.Map(distinct(), func(g grid.Ground) grid.Ground {
		for c := range g.V {
			g.V[c] = float32(math.Floor(float64(g.V[c]) / 9))
		}
		return g
	})
}

// runoffs draws what runs off each cell [m³].
func runoffs(t *rapid.T, n int) []float64 {
	most := rapid.SampledFrom([]float64{0.1, 3, 30}).Draw(t, "most")
	return rapid.SliceOfN(rapid.Float64Range(0, most), n, n).Draw(t, "runoff")
}

// linksOn draws up to three links between cells that have a height.
func linksOn(t *rapid.T, g grid.Ground) []storm.Link {
	var known []int32
	for c, z := range g.V {
		if !grid.IsNoData(z) {
			known = append(known, int32(c))
		}
	}
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) storm.Link {
		l := storm.Link{
			From: rapid.SampledFrom(known).Draw(t, "from"), To: rapid.SampledFrom(append(known, -1)).Draw(t, "to"),
			Capacity: rapid.Float64Range(0, 20).Draw(t, "capacity"),
		}
		l.Level = float64(g.V[l.From]) + rapid.SampledFrom([]float64{-1, 0, 0.5, 3}).Draw(t, "rise")
		return l
	}), 0, 3).Draw(t, "links")
}
