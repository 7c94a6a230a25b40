package action

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strings"

	"runnel/analysis/caution"
	"runnel/app/site"
	"runnel/geo"
	"runnel/geo/gdal"
	"runnel/geo/plan"
)

// Set changes the settings of a site, or lists them.
type Set struct {
	Site   string   `arg:"" help:"The site (.gpkg)."`
	Values []string `arg:"" optional:"" sep:"none" name:"name=value" help:"Settings by their names, as soil=loam, run_days=14,30,60 or limit_well=20; left out, all are listed."`
	JSON   bool     `help:"Write the settings as JSON."`
}

// Help tells of the settings that are apart.
func (c *Set) Help() string {
	return `run_days takes the least, the likely and the greatest number of days in a year that
the drain runs. The limits of the cautions are the usual ones until one is set; a
limit of 0 turns its check off, and limits=usual brings all of them back. A cost of 0
is one that is not known.`
}

// The names of settings that are no figure and no text.
const (
	runDaysName = "run_days"
	limitsName  = "limits"
	usualLimits = "usual"
	limitBegins = "limit_"
)

// Run sets what is given.
func (c *Set) Run(ctx context.Context, s Streams) error {
	names := make([]string, len(c.Values))
	for i, given := range c.Values {
		name, _, ok := strings.Cut(given, "=")
		if names[i] = strings.TrimSpace(name); !ok {
			return mistyped("%q sets nothing; give name=value", given)
		}
		if !slices.Contains(settingNames(), names[i]) {
			return mistyped("there is no setting %q; there are: %s", names[i], strings.Join(settingNames(), ", "))
		}
	}
	held, err := s.In.Site(ctx, c.Site)
	if err != nil {
		return err
	}
	if len(c.Values) > 0 {
		set := held.Setting
		for i, given := range c.Values {
			_, typed, _ := strings.Cut(given, "=")
			if err := setOne(&set, names[i], strings.TrimSpace(typed)); err != nil {
				return mistyped("%v", err)
			}
		}
		if err := site.CheckSetting(set); err != nil {
			return mistyped("%v", err)
		}
		held.Setting = set
		if err := gdal.SaveSite(c.Site, held); err != nil {
			return err
		}
	}
	if formOf(c.JSON) == asJSON {
		return writeJSON(s.Out, settingValues(held))
	}
	if len(c.Values) > 0 {
		s.say("set " + strings.Join(names, ", "))
		return nil
	}
	return listSettings(s.Out, held)
}

// settingNames lists every name that can be set.
func settingNames() []string {
	var names []string
	for _, f := range plan.SettingTexts() {
		names = append(names, f.Name)
	}
	names = append(names, runDaysName)
	for _, f := range plan.SettingFigures() {
		names = append(names, f.Name)
	}
	return append(names, limitsName)
}

// setOne sets one of them.
func setOne(set *plan.Setting, name, typed string) error {
	switch {
	case name == runDaysName:
		days, err := parseRunDays(typed)
		set.RunDays = days
		return err
	case name == limitsName && typed != usualLimits:
		return fmt.Errorf("the limits are %q; give limits=usual, or one limit by its name", typed)
	case name == limitsName:
		set.Limits = plan.Limits{}
		return nil
	case strings.HasPrefix(name, limitBegins) && set.Limits == (plan.Limits{}):
		set.Limits = caution.UsualLimits() // the others stay in force
	}
	for _, f := range plan.SettingTexts() {
		if f.Name == name {
			v, _, err := f.Parse(typed)
			*f.Of(set) = v.Text
			return err
		}
	}
	f := plan.SettingFigureNamed(name)
	v, _, err := f.Parse(typed)
	*f.Of(set) = v.Number
	return err
}

func parseRunDays(typed string) (geo.Range, error) {
	var days geo.Range
	parts := strings.Split(typed, ",")
	if len(parts) != 3 {
		return days, fmt.Errorf("the days that the drain runs are %q; give the least, the likely and the greatest, as run_days=14,30,60", typed)
	}
	field := plan.Field{Label: "Days that the drain runs", Unit: "days", High: 366}
	for i, to := range []*float64{&days.Low, &days.Likely, &days.High} {
		v, _, err := field.Parse(parts[i])
		if err != nil {
			return days, err
		}
		*to = v.Number
	}
	return days, nil
}

// settingValues are the settings by their names; the limits are those in force.
func settingValues(s *plan.Site) map[string]any {
	set := s.Setting
	set.Limits = caution.InForce(s, plan.Limits{})
	values := map[string]any{runDaysName: []float64{set.RunDays.Low, set.RunDays.Likely, set.RunDays.High}}
	for _, f := range plan.SettingTexts() {
		values[f.Name] = *f.Of(&set)
	}
	for _, f := range plan.SettingFigures() {
		values[f.Name] = *f.Of(&set)
	}
	return values
}

// listSettings writes every setting with its unit and what it is.
func listSettings(w io.Writer, s *plan.Site) error {
	set := s.Setting
	set.Limits = caution.InForce(s, plan.Limits{})
	var b strings.Builder
	row := func(name, value, unit, label string) {
		fmt.Fprintf(&b, "%-22s %-16s %-6s  %s\n", name, value, unit, label)
	}
	for _, f := range plan.SettingTexts() {
		row(f.Name, *f.Of(&set), "", f.Label)
	}
	row(runDaysName, fmt.Sprintf("%g,%g,%g", set.RunDays.Low, set.RunDays.Likely, set.RunDays.High), "days", "Days in a year that the drain runs: least, likely, greatest")
	for _, f := range plan.SettingFigures() {
		unit := f.Unit
		if strings.HasPrefix(f.Name, "cost_") {
			unit = set.Costs.Currency
		}
		row(f.Name, f.Format(plan.Value{Number: *f.Of(&set)}), unit, f.Label)
	}
	_, err := io.WriteString(w, b.String())
	return err
}
