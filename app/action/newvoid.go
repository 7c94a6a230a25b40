package action

import (
	"context"
	"fmt"

	"runnel/analysis/surface"
	"runnel/app/groundwork"
	"runnel/app/report"
	"runnel/app/site"
	"runnel/geo/gdal"
	"runnel/geo/plan"
)

// laid makes the site of a ground that was read, with its voids filled where that is
// asked for. Voids are told either way.
func (n *New) laid(ctx context.Context, s Streams, b gdal.Brought) (plan.Site, error) {
	if len(n.Ground) == 1 {
		s.tell(n.Ground[0], b.Notes)
	} else {
		tellAll(s, behindNames(b.Notes))
	}
	made := plan.Site{CRS: b.CRS, Ground: b.Ground, Survey: groundwork.OfRasters(b.Sources)}
	made.Setting = site.SettingFor(plan.UsualSetting(), made.Survey)
	if !n.FillVoids {
		if holes := surface.Holes(b.Ground); len(holes) > 0 {
			cells := 0
			for _, h := range holes {
				cells += h.Cells
			}
			s.say(fmt.Sprintf("the ground has %s, %s in all; they are left without heights, and --fill-voids works them out from around them",
				number(len(holes), "void", "voids"), area(cells, b.Ground.CellArea())))
		}
		return made, nil
	}
	m, err := surface.FillHoles(ctx, b.Ground)
	if err != nil {
		return plan.Site{}, err
	}
	made.Ground, made.Survey.Patches = m.Ground, m.Patches
	if len(m.Patches) > 0 {
		s.say(fmt.Sprintf("%s in the ground, %s in all, got heights from around; nothing was measured there",
			number(len(m.Patches), "void", "voids"), area(m.Cells, b.Ground.CellArea())))
	}
	return made, nil
}

func area(cells int, each float64) string {
	return report.Figure(float64(cells)*each).With(1) + " m²"
}
