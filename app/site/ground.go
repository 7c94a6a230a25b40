package site

import (
	"fmt"

	"runnel/geo/crs"
	"runnel/geo/grid"
	"runnel/geo/plan"
	"runnel/geo/survey"
)

// SetGround replaces the ground and what it rests on. Both are kept as given and
// shared from then on; they must not be changed afterwards. Where the survey's
// quality says how far its heights are off, the site's setting follows.
type SetGround struct {
	Ground grid.Ground
	// CRS is the metric system of the ground. A site on which something is
	// drawn keeps its own.
	CRS    crs.CRS
	Survey survey.Survey
	// Drawn are lines of the survey that go on the plan as well.
	Drawn Add

	before rests
}

// rests is the ground of a site with what goes with it.
type rests struct {
	ground  grid.Ground
	crs     crs.CRS
	survey  survey.Survey
	setting plan.Setting
}

func restsOf(s *plan.Site) rests { return rests{s.Ground, s.CRS, s.Survey, s.Setting} }

func (r rests) putBack(s *plan.Site) {
	s.Ground, s.CRS, s.Survey, s.Setting = r.ground, r.crs, r.survey, r.setting
}

// Apply implements Edit.
func (e *SetGround) Apply(s *plan.Site) error {
	if err := checkGround(e.Ground); err != nil {
		return err
	}
	if err := checkSurvey(e.Survey); err != nil {
		return err
	}
	if e.CRS.Known() {
		if err := e.CRS.RequireMetres(); err != nil {
			return fmt.Errorf("the ground: %w", err)
		}
	}
	moved := e.CRS != s.CRS && !e.CRS.Same(s.CRS)
	if moved && len(s.Underlays) > 0 {
		return fmt.Errorf("the ground is in %v and the images under the map are in %v; bring the ground to %v, or remove the images", e.CRS, s.CRS, s.CRS)
	}
	if len(s.Plan.Features) > 0 && moved {
		return fmt.Errorf("the ground is in %v and what is drawn is in %v; bring the ground to %v", e.CRS, s.CRS, s.CRS)
	}
	e.before = restsOf(s)
	s.Ground, s.CRS, s.Survey = e.Ground, e.CRS, e.Survey
	s.Setting = SettingFor(s.Setting, e.Survey)
	if len(e.Drawn.Features) == 0 {
		return nil
	}
	return e.Drawn.Apply(s)
}

// Revert implements Edit.
func (e *SetGround) Revert(s *plan.Site) {
	e.Drawn.Revert(s)
	e.before.putBack(s)
}

func (e *SetGround) String() string { return "replace the ground" }

func checkGround(g grid.Ground) error {
	if err := g.Check(); err != nil {
		return fmt.Errorf("the ground: %w", err)
	}
	if len(g.V) != g.Len() {
		return fmt.Errorf("the ground has %d heights for %d cells; read it again from its file", len(g.V), g.Len())
	}
	return nil
}

func checkSurvey(s survey.Survey) error {
	if err := s.Check(); err != nil {
		return fmt.Errorf("the survey: %w; read its files again", err)
	}
	return nil
}

// SettingFor returns a setting whose survey error and reach are those that a survey's
// quality found, each within what the setting takes; what was not found stays.
func SettingFor(set plan.Setting, s survey.Survey) plan.Setting {
	if e := s.Quality.Error; e > 0 {
		set.SurveyError = min(e, SurveyError().High)
	}
	if r := s.Quality.Reach; r > 0 {
		set.SurveyReach = min(r, SurveyReach().High)
	}
	return set
}

// MendGround puts in a ground parts of which were worked out from around them, and
// says so in the survey.
type MendGround struct {
	// Of is the ground that was mended, and Ground what it became: the same cells.
	Of, Ground grid.Ground
	// Patches are the parts.
	Patches []survey.Patch

	before rests
}

// Apply implements Edit.
func (e *MendGround) Apply(s *plan.Site) error {
	if len(e.Patches) == 0 {
		return errUnchanged
	}
	if err := checkGround(e.Ground); err != nil {
		return err
	}
	if e.Of.Frame != s.Ground.Frame || len(e.Of.V) != len(s.Ground.V) || len(e.Of.V) > 0 && &e.Of.V[0] != &s.Ground.V[0] {
		return fmt.Errorf("the ground has changed since it was mended; mend it again")
	}
	if e.Ground.Frame != e.Of.Frame {
		return fmt.Errorf("the mended ground has other cells than the site's; mend it again")
	}
	next := s.Survey
	next.Patches = append(append([]survey.Patch(nil), s.Survey.Patches...), e.Patches...)
	if err := checkSurvey(next); err != nil {
		return err
	}
	e.before = restsOf(s)
	s.Ground, s.Survey = e.Ground, next
	return nil
}

// Revert implements Edit.
func (e *MendGround) Revert(s *plan.Site) { e.before.putBack(s) }

func (e *MendGround) String() string {
	buildings, trees := 0, 0
	for _, p := range e.Patches {
		switch p.Why {
		case survey.Building:
			buildings++
		case survey.Trees:
			trees++
		}
	}
	switch {
	case buildings == 0 && trees == 0:
		return "fill voids in the ground"
	case trees == 0:
		return "take buildings out of the ground"
	case buildings == 0:
		return "take trees out of the ground"
	}
	return "take buildings and trees out of the ground"
}
