package runoff

import (
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"runnel/geo/grid"
	"runnel/geo/plan"
)

func (b *bench) cover(name string, g orb.Geometry) {
	f := plan.Feature{ID: plan.ID(b.Plan.NextID()), Kind: plan.Cover, Geometry: g}
	b.Plan.Features = append(b.Plan.Features, f.With("cover", plan.Value{Text: name}))
}

func square(west, south, east, north float64) orb.Polygon {
	return orb.Bound{Min: orb.Point{west, south}, Max: orb.Point{east, north}}.ToPolygon()
}

// What is drawn last lies on top, sources lie over covers, and no data bears nothing.
func TestTheCoveringIsWhatIsDrawnLast(t *testing.T) {
	b := shaped(t, 6, 1, level)
	b.Ground.Set(5, 0, grid.NoData)
	b.cover("gravel", square(0, 0, 3, 1))
	b.draw(plan.Paving, square(3, 0, 4, 1), nil)
	b.cover("woodland", square(1, 0, 4, 1))
	on, err := b.surface().Covering(&b.Site)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, of := range on.Of {
		name := "none"
		if of > 0 {
			name = on.Covers[of-1].Name
		}
		got = append(got, name)
	}
	if want := []string{"gravel", "woodland", "woodland", "none", "lawn", "none"}; !slices.Equal(got, want) {
		t.Errorf("the cells bear %v, want %v", got, want)
	}
}

// Each cell sheds as its cover does, but for what roofs put on it.
func TestTheCoveringIsWhatTheWeightsRestOn(t *testing.T) {
	b := shaped(t, 20, 20, func(east, north float64) float64 { return 10 - east/20 - north/30 })
	b.Setting.Cover = "rough grass"
	b.cover("gravel", square(2, 2, 15, 9))
	b.cover("bare soil", square(6, 4, 18, 18))
	b.draw(plan.Roof, square(4, 4, 8, 8), nil)
	b.draw(plan.Paving, square(7, 3, 12, 12), values{"runoff": 0.7})
	b.draw(plan.Wall, orb.LineString{{1, 15}, {19, 15}}, values{"height": 1})
	s := b.surface()
	on, err := s.Covering(&b.Site)
	if err != nil {
		t.Fatal(err)
	}
	built := 0
	for c, weight := range s.Weight {
		want := 0.0
		if of := on.Of[c]; of > 0 {
			want = on.Covers[of-1].Coefficient.Likely
		}
		for _, source := range s.Sources {
			if i := slices.Index(source.Outlet, int32(c)); i >= 0 {
				want += source.Area * source.Coefficient * source.Share[i]
			} else if len(source.Outlet) == 0 && slices.Contains(source.Cells, int32(c)) {
				want += source.Coefficient
			}
		}
		if d := weight - want; d > 1e-9 || d < -1e-9 {
			t.Errorf("cell %d sheds %v, its cover %v", c, weight, want)
		}
		if s.Built(int32(c)) {
			built++
		}
	}
	if built < 16+18 {
		t.Errorf("%d cells are built on", built)
	}
}

func TestACoveringNeedsACoverThatIsKnown(t *testing.T) {
	b := shaped(t, 2, 2, level)
	s := b.surface()
	b.Setting.Cover = "moon dust"
	if _, err := s.Covering(&b.Site); err == nil {
		t.Error("an unknown cover is taken")
	}
}
