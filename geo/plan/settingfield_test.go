package plan

import (
	"reflect"
	"strings"
	"testing"
)

// The lists reach every number and every text of a setting but the days of the run,
// each once.
func TestTheListsReachAllOfASetting(t *testing.T) {
	var s Setting
	names := map[string]bool{}
	for i, f := range SettingFigures() {
		if to := f.Of(&s); *to != 0 {
			t.Errorf("%s is that of another", f.Name)
		} else {
			*to = float64(i + 1)
		}
		names[f.Name] = true
	}
	for _, f := range SettingTexts() {
		if to := f.Of(&s); *to != "" {
			t.Errorf("%s is that of another", f.Name)
		} else {
			*to = f.Name
		}
		names[f.Name] = true
	}
	if len(names) != len(SettingFigures())+len(SettingTexts()) {
		t.Error("two of them have one name")
	}
	var walk func(v reflect.Value, path string)
	walk = func(v reflect.Value, path string) {
		for i := range v.NumField() {
			field, name := v.Field(i), path+v.Type().Field(i).Name
			switch {
			case name == "RunDays":
			case field.Kind() == reflect.Struct:
				walk(field, name+".")
			case field.IsZero():
				t.Errorf("%s is in neither list", name)
			}
		}
	}
	walk(reflect.ValueOf(s), "")
}

func TestTheUsualSettingIsWithinItsLimits(t *testing.T) {
	s := UsualSetting()
	for _, f := range SettingFigures() {
		if err := f.Check(Value{Number: *f.Of(&s)}); err != nil {
			t.Error(err)
		}
	}
	for _, f := range SettingTexts() {
		if err := f.Check(Value{Text: *f.Of(&s)}); err != nil {
			t.Error(err)
		}
		if strings.ContainsAny(f.Name, " -") {
			t.Errorf("%q is no name for a file", f.Name)
		}
	}
}
