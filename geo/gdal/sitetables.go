package gdal

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/lukeroth/gdal"

	"runnel/geo/plan"
)

// settings are the rows of the settings table: a value for every key.
type settings map[string]string

func (held settings) damaged(key string) error {
	return fmt.Errorf("its setting %s is %q, which is damaged; restore the file from a copy", key, clip(held[key]))
}

// settingsOf gathers what is stored of a site beside its ground and features.
func settingsOf(s *plan.Site) settings {
	held := settings{
		"format": siteFormat, "name": s.Name,
		"run_days_low": number(s.Setting.RunDays.Low), "run_days_likely": number(s.Setting.RunDays.Likely),
		"run_days_high": number(s.Setting.RunDays.High), "last_number": strconv.FormatInt(s.Plan.Last, 10),
		"crs_code": strconv.Itoa(s.CRS.Code), "crs_name": s.CRS.Name, "crs_wkt": s.CRS.WKT,
		"crs_metre": number(s.CRS.Metre), "crs_degrees": strconv.FormatBool(s.CRS.Degrees), "ground_cells": "",
	}
	for _, f := range plan.SettingFigures() {
		held[f.Name] = number(*f.Of(&s.Setting))
	}
	for _, f := range plan.SettingTexts() {
		held[f.Name] = *f.Of(&s.Setting)
	}
	for key, v := range qualityOf(&s.Survey.Quality) {
		held[key] = number(*v)
	}
	held["quality_held_out"] = strconv.Itoa(s.Survey.Quality.HeldOut)
	if g := s.Ground; g.Len() > 0 {
		held["ground_cells"] = strconv.Itoa(g.Len())
		held["ground_west"], held["ground_north"] = number(g.West), number(g.North)
		held["ground_dx"], held["ground_dy"] = number(g.DX), number(g.DY)
	}
	return held
}

// intoSetting gives a site the settings that the file has, the usual ones where an
// older file has none. No figure of them can be less than nought. Whether a word is one
// that is known is for those who look it up.
func (held settings) intoSetting(s *plan.Setting) error {
	usual := plan.UsualSetting()
	for _, f := range plan.SettingTexts() {
		to := f.Of(s)
		*to = *f.Of(&usual)
		if text, ok := held[f.Name]; ok {
			*to = text
		}
	}
	for _, f := range plan.SettingFigures() {
		to := f.Of(s)
		*to = *f.Of(&usual)
		if text, ok := held[f.Name]; ok {
			v, err := strconv.ParseFloat(text, 64)
			if err != nil || !(v >= 0) || math.IsInf(v, 0) {
				return held.damaged(f.Name)
			}
			*to = v
		}
	}
	return nil
}

func number(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

// into gives a site what the settings hold.
func (held settings) into(s *plan.Site) error {
	s.Name = held["name"]
	s.CRS.Name, s.CRS.WKT, s.CRS.Degrees = held["crs_name"], held["crs_wkt"], held["crs_degrees"] == "true"
	for key, to := range map[string]*float64{
		"run_days_low": &s.Setting.RunDays.Low, "run_days_likely": &s.Setting.RunDays.Likely,
		"run_days_high": &s.Setting.RunDays.High, "crs_metre": &s.CRS.Metre,
	} {
		v, err := strconv.ParseFloat(held[key], 64)
		if err != nil {
			return held.damaged(key)
		}
		*to = v
	}
	if err := held.intoSetting(&s.Setting); err != nil {
		return err
	}
	if err := held.intoQuality(&s.Survey.Quality); err != nil {
		return err
	}
	if err := held.intoWeather(&s.Weather); err != nil {
		return err
	}
	var err error
	if s.CRS.Code, err = strconv.Atoi(held["crs_code"]); err != nil {
		return held.damaged("crs_code")
	}
	if s.Plan.Last, err = strconv.ParseInt(held["last_number"], 10, 64); err != nil {
		return held.damaged("last_number")
	}
	return nil
}

func readSettings(set gdal.Dataset) (settings, error) {
	held := make(settings)
	layer := set.LayerByName(settingsTable)
	if handle(layer) == nil {
		return held, nil
	}
	err := eachFeature(layer, func(f gdal.Feature) error {
		key, value := f.FieldIndex("key"), f.FieldIndex("value")
		if key >= 0 && value >= 0 {
			held[f.FieldAsString(key)] = f.FieldAsString(value)
		}
		return nil
	})
	return held, err
}

// putSettings replaces our settings and leaves those of others. The digests are those of
// what the tables of the survey and of the weather hold.
func putSettings(set gdal.Dataset, s *plan.Site, digests settings) error {
	layer, err := ensureTable(set, settingsTable, []column{{name: "key", kind: gdal.FT_String}, {name: "value", kind: gdal.FT_String}})
	if err != nil {
		return err
	}
	held := settingsOf(s)
	maps.Copy(held, digests)
	maps.Copy(held, weatherSettings(s.Weather))
	var rows []row
	var next int64 = 1
	err = eachFeature(layer, func(f gdal.Feature) error {
		key := f.FieldAsString(f.FieldIndex("key"))
		next = max(next, f.FID()+1)
		value, ours := held[key]
		if !ours {
			value = f.FieldAsString(f.FieldIndex("value"))
		}
		delete(held, key)
		rows = append(rows, row{id: f.FID(), values: map[string]any{"key": key, "value": value}})
		return nil
	})
	if err != nil {
		return err
	}
	for _, key := range slices.Sorted(maps.Keys(held)) {
		rows = append(rows, row{id: next, values: map[string]any{"key": key, "value": held[key]}})
		next++
	}
	return replaceRows(layer, rows)
}

func putSchemes(set gdal.Dataset, s *plan.Site) error {
	layer, err := ensureTable(set, schemesTable, []column{{name: "name", kind: gdal.FT_String}, {name: "place", kind: gdal.FT_Integer64}})
	if err != nil {
		return err
	}
	var rows []row
	for i, scheme := range s.Plan.Schemes {
		rows = append(rows, row{id: int64(scheme.ID), values: map[string]any{"name": scheme.Name, "place": int64(i)}})
	}
	return replaceRows(layer, rows)
}

func takeSchemes(set gdal.Dataset, s *plan.Site) error {
	layer := set.LayerByName(schemesTable)
	if handle(layer) == nil {
		return nil
	}
	var placed []placedScheme
	err := eachFeature(layer, func(f gdal.Feature) error {
		scheme := plan.Scheme{ID: plan.SchemeID(f.FID()), Name: textIn(f, "name")}
		placed = append(placed, placedScheme{scheme, placeIn(f)})
		return nil
	})
	slices.SortStableFunc(placed, func(a, b placedScheme) int { return cmpPlace(a.place, b.place) })
	for _, p := range placed {
		s.Plan.Schemes = append(s.Plan.Schemes, p.Scheme)
		s.Plan.Last = max(s.Plan.Last, int64(p.ID))
	}
	return err
}

type placedScheme struct {
	plan.Scheme
	place int64
}

// execute runs a statement of SQL that has no result.
func execute(set gdal.Dataset, sql string) error {
	result := set.ExecuteSQL(sql, gdal.Geometry{}, "")
	if handle(result) != nil {
		set.ReleaseResultSet(result)
	}
	if failed() {
		return fmt.Errorf("the file does not take a change: %s", clip(sql))
	}
	return nil
}

// hasTable reports whether the file has a table or view of a name, whether or
// not it is a layer.
func hasTable(set gdal.Dataset, name string) bool {
	result := set.ExecuteSQL("SELECT 1 FROM sqlite_master WHERE lower(name) = "+quote(name), gdal.Geometry{}, "")
	if handle(result) == nil {
		return false
	}
	defer set.ReleaseResultSet(result)
	f := result.NextFeature()
	if f == nil {
		return false
	}
	f.Destroy()
	return true
}

func quote(text string) string { return "'" + strings.ReplaceAll(text, "'", "''") + "'" }
