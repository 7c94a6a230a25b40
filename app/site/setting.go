package site

import (
	"fmt"
	"slices"
	"strings"

	"runnel/geo/crs"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// Rename gives the site another name.
type Rename struct {
	Name string

	before string
}

// Apply implements Edit.
func (e *Rename) Apply(s *plan.Site) error {
	e.Name, e.before = strings.TrimSpace(e.Name), s.Name
	switch e.Name {
	case "":
		return fmt.Errorf("the site has no name; give it one")
	case e.before:
		return errUnchanged
	}
	s.Name = e.Name
	return nil
}

// Revert implements Edit.
func (e *Rename) Revert(s *plan.Site) { s.Name = e.before }

func (e *Rename) String() string { return fmt.Sprintf("rename the site to %s", e.Name) }

// SetSetting sets the soil, the season, the rain and the survey's error.
type SetSetting struct {
	Setting plan.Setting
	// Gesture joins the steps of one drag to one undo step.
	Gesture Gesture

	before plan.Setting
}

// yearDays is the most days that a drain can run in a year.
const yearDays = 366

// Apply implements Edit. Whether the soil is in the table is for those who
// measure with it.
func (e *SetSetting) Apply(s *plan.Site) error {
	if err := checkSetting(e.Setting); err != nil {
		return err
	}
	if e.before = s.Setting; e.before == e.Setting {
		return errUnchanged
	}
	s.Setting = e.Setting
	return nil
}

// checkSetting reports settings that no site can have.
func checkSetting(set plan.Setting) error {
	days := set.RunDays
	if strings.TrimSpace(set.Soil) == "" {
		return fmt.Errorf("the soil is not given; choose one from the list")
	}
	if err := days.Check(); err != nil {
		return fmt.Errorf("days the drain runs: %w", err)
	}
	if !(days.Low >= 0 && days.High <= yearDays) {
		return fmt.Errorf("the drain runs %g to %g days a year; give figures from 0 to %d", days.Low, days.High, yearDays)
	}
	if !slices.Contains(plan.Covers(), set.Cover) {
		return fmt.Errorf("the cover of the ground is %q; give one of: %s", set.Cover, strings.Join(plan.Covers(), ", "))
	}
	for _, f := range []Figure{DesignStorm(), StormHours(), YearRain(), SurveyError(), SurveyReach()} {
		if err := f.Check(plan.Value{Number: *f.Of(&set)}); err != nil {
			return err
		}
	}
	return nil
}

// Revert implements Edit.
func (e *SetSetting) Revert(s *plan.Site) { s.Setting = e.before }

func (e *SetSetting) String() string { return "change the soil, the season or the rain" }

func (e *SetSetting) merge(next Edit) bool {
	n, ok := next.(*SetSetting)
	if !ok || e.Gesture == 0 || n.Gesture != e.Gesture {
		return false
	}
	e.Setting = n.Setting
	return true
}

func (e *SetSetting) idle() bool { return e.before == e.Setting }

// SetGround replaces the ground. The ground is kept as given and shared from
// then on; it must not be changed afterwards.
type SetGround struct {
	Ground grid.Ground
	// CRS is the metric system of the ground. A site on which something is
	// drawn keeps its own.
	CRS crs.CRS

	before grid.Ground
	crs    crs.CRS
}

// Apply implements Edit.
func (e *SetGround) Apply(s *plan.Site) error {
	if err := e.Ground.Check(); err != nil {
		return fmt.Errorf("the ground: %w", err)
	}
	if len(e.Ground.V) != e.Ground.Len() {
		return fmt.Errorf("the ground has %d heights for %d cells; read it again from its file", len(e.Ground.V), e.Ground.Len())
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
	e.before, e.crs = s.Ground, s.CRS
	s.Ground, s.CRS = e.Ground, e.CRS
	return nil
}

// Revert implements Edit.
func (e *SetGround) Revert(s *plan.Site) { s.Ground, s.CRS = e.before, e.crs }

func (e *SetGround) String() string { return "replace the ground" }
