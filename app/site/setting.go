package site

import (
	"fmt"
	"strings"

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
	if err := CheckSetting(e.Setting); err != nil {
		return err
	}
	if e.before = s.Setting; e.before == e.Setting {
		return errUnchanged
	}
	s.Setting = e.Setting
	return nil
}

// CheckSetting reports settings that no site can have.
func CheckSetting(set plan.Setting) error {
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
	for _, f := range plan.SettingTexts() {
		if err := checkText(f, *f.Of(&set)); err != nil {
			return err
		}
	}
	for _, f := range plan.SettingFigures() {
		if err := f.Check(plan.Value{Number: *f.Of(&set)}); err != nil {
			return err
		}
	}
	return nil
}

// longestText is how long a text of the setting may be [letters]: a storm's own table
// of some hundred pairs.
const longestText = 4000

// checkText checks a word or a text of the setting. Whether the soil is in the table,
// and whether a storm's table can be read, is for those who work with them.
func checkText(f plan.SettingText, text string) error {
	if f.Name == "soil" {
		return nil
	}
	if n := len([]rune(text)); n > longestText {
		return fmt.Errorf("%s has %d letters; give %d at most", strings.ToLower(f.Label), n, longestText)
	}
	return f.Check(plan.Value{Text: text})
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
