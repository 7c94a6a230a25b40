package runoff

import (
	"cmp"

	"runnel/analysis/internal/raster"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A Covering is what each cell of a surface bears.
type Covering struct {
	// Covers are those that there are, the usual one first.
	Covers []Cover
	// Of is, for each cell, 1 + the place of its cover among them; 0 under roofs and
	// paving, which are sources, and at no data.
	Of []uint8
}

// Covering returns what the cells bear on the site that the surface was made of. It
// is no part of the surface: that is made anew at every move of a drag, and few ask
// for this.
func (s *Surface) Covering(site *plan.Site) (Covering, error) {
	usual, err := CoverNamed(cmp.Or(site.Setting.Cover, plan.UsualSetting().Cover))
	if err != nil {
		return Covering{}, err
	}
	on := Covering{Covers: []Cover{usual}, Of: make([]uint8, len(s.Ground.V))}
	for c, z := range s.Ground.V {
		if !grid.IsNoData(z) {
			on.Of[c] = 1
		}
	}
	for _, f := range site.Plan.Features {
		if f.Kind != plan.Cover || plan.Check(f) != nil {
			continue
		}
		cover, err := CoverNamed(f.Text("cover"))
		if err != nil { // the surface has told of it
			continue
		}
		number := on.number(cover)
		for _, c := range raster.Within(s.Ground.Frame, f.Area()) {
			if on.Of[c] != 0 {
				on.Of[c] = number
			}
		}
	}
	for _, source := range s.Sources {
		for _, c := range source.Cells {
			on.Of[c] = 0
		}
	}
	for c, m := range s.stands {
		if m&roofed != 0 {
			on.Of[c] = 0
		}
	}
	return on, nil
}

// number returns 1 + the place of a cover, which is put in where it is new.
func (on *Covering) number(cover Cover) uint8 {
	for i, c := range on.Covers {
		if c.Name == cover.Name {
			return uint8(i + 1)
		}
	}
	on.Covers = append(on.Covers, cover)
	return uint8(len(on.Covers))
}

// Built reports whether a kerb, a wall or a building stands on a cell, so that its
// height is not the ground's.
func (s *Surface) Built(c int32) bool {
	return len(s.stands) > 0 && s.stands[c]&(raised|roofed) != 0
}
