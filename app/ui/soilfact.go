package ui

import (
	"errors"
	"math"

	"runnel/analysis/soil"
	"runnel/geo"
	"runnel/geo/plan"
)

// soilFacts say what is known of how fast a soil zone, or the soil about a soil test, takes
// in water, and of what hydrologic group it is.
func (w *Window) soilFacts(f plan.Feature) []reading {
	soils, _ := soil.NewMap(w.doc.Site())
	switch f.Kind {
	case plan.SoilZone:
		zone := soils.Of(f.ID)
		return append(w.rateFacts(zone.Ksat), groupFact(zone))
	case plan.SoilTest:
		around := soils.At(f.Point(), 0)
		got, err := soil.TestOf(f, around)
		if err != nil {
			return nil
		}
		found := reading{tr("Conductivity that it found"), w.units.rate(got.Found), "soil-test"}
		return append([]reading{found}, append(w.rateFacts(around.Ksat), groupFact(around))...)
	}
	return nil
}

// rateFacts tell a conductivity [mm/h] as it is likely and how far it may reach.
func (w *Window) rateFacts(k geo.Range) []reading {
	reach := dash
	if !math.IsNaN(k.Low + k.High) {
		reach = trf("%[1]s to %[2]s", w.units.rate(k.Low), w.units.rate(k.High))
	}
	return []reading{
		{tr("Conductivity of the soil, likely"), w.units.rate(k.Likely), "conductivity"},
		{tr("Low to high"), reach, "conductivity"},
	}
}

func groupFact(s soil.Soil) reading {
	return reading{tr("Hydrologic soil group"), s.Group.String(), "soil-group"}
}

// soilFaults say why a soil zone or a soil test counts for nothing as it is.
func (w *Window) soilFaults(f plan.Feature) (faults []string) {
	if f.Kind != plan.SoilZone && f.Kind != plan.SoilTest {
		return nil
	}
	soils, problems := soil.NewMap(w.doc.Site())
	for _, problem := range problems {
		if problem.ID == f.ID {
			faults = append(faults, sentence(w.units.told(problem.Err.Error())))
		}
	}
	if f.Kind == plan.SoilTest {
		if _, err := soil.TestOf(f, soils.At(f.Point(), 0)); errors.Is(err, soil.ErrDrawdown) {
			faults = append(faults, sentence(told(err.Error())))
		}
	}
	return faults
}
