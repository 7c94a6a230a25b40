package gdal

import (
	"math"
	"path/filepath"
	"strings"
	"testing"
)

// change runs SQL on a site file as another program would.
func change(t *testing.T, path string, statements ...string) {
	t.Helper()
	err := do(func() error {
		set, err := openForUpdate(path)
		if err != nil {
			return err
		}
		defer set.Close()
		for _, sql := range statements {
			if err := execute(set, sql); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

func TestSurveyTablesThatOthersTouched(t *testing.T) {
	for name, c := range map[string]struct {
		sql   []string
		says  string // empty: it opens
		lines int
		spots int
	}{
		"spots taken away":        {[]string{"DROP TABLE survey_spots"}, "", 5, 0},
		"files taken away":        {[]string{"DROP TABLE survey_sources"}, "", 5, 5},
		"all taken away":          {[]string{"DROP TABLE survey_sources", "DROP TABLE survey_lines", "DROP TABLE survey_spots", "DROP TABLE survey_patches"}, "", 0, 0},
		"a file's row gone":       {[]string{"DELETE FROM survey_sources WHERE fid = 2"}, "code that its file does not list", 0, 0},
		"a file beyond the last":  {[]string{"UPDATE survey_lines SET source = 9 WHERE fid = 1"}, "is of no known file", 0, 0},
		"a file below the first":  {[]string{"UPDATE survey_spots SET source = -40000"}, "points are of file -40000", 0, 0},
		"no use":                  {[]string{"UPDATE survey_lines SET use = 'river'"}, `a line's use is "river"`, 0, 0},
		"no reason":               {[]string{"UPDATE survey_patches SET why = NULL"}, "for the reason", 0, 0},
		"no form":                 {[]string{"UPDATE survey_sources SET form = 'x'"}, `a file's form is "x"`, 0, 0},
		"codes that are none":     {[]string{"UPDATE survey_sources SET codes = '{'"}, "list of codes", 0, 0},
		"runs beyond the points":  {[]string{"UPDATE survey_spots SET codes = '1x2000000000'"}, "have in turn", 0, 0},
		"runs of nothing":         {[]string{"UPDATE survey_spots SET codes = '1x-4 zx2'"}, "have in turn", 0, 0},
		"a geometry that is none": {[]string{"UPDATE survey_lines SET geom = x'4750000100000000ffffffffff'"}, "damaged", 0, 0},
		"a setting that is none":  {[]string{"UPDATE settings SET value = 'x' WHERE key = 'quality_rmse'"}, `setting quality_rmse is "x"`, 0, 0},
	} {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "verge.gpkg")
			s := plot(t)
			s.Survey = measured()
			if err := SaveSite(path, s); err != nil {
				t.Fatal(err)
			}
			change(t, path, c.sql...)
			got, err := OpenSite(path)
			if c.says != "" {
				if err == nil || !strings.Contains(err.Error(), c.says) || strings.Contains(err.Error(), "\n") {
					t.Fatalf("it says %v, want a sentence with %q", err, c.says)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			if len(got.Survey.Lines) != c.lines || len(got.Survey.Spots) != c.spots || len(got.Plan.Features) != len(s.Plan.Features) {
				t.Errorf("%d lines, %d spots, %d features; want %d, %d, %d", len(got.Survey.Lines), len(got.Survey.Spots),
					len(got.Plan.Features), c.lines, c.spots, len(s.Plan.Features))
			}
			surveyComesBack(t, path, s) // what was taken away is written anew
		})
	}
}

func TestAForeignTableOfASurveysNameIsKept(t *testing.T) {
	path := filepath.Join(t.TempDir(), "verge.gpkg")
	s := plot(t)
	if err := SaveSite(path, s); err != nil {
		t.Fatal(err)
	}
	change(t, path, "CREATE TABLE survey_lines (mine TEXT)", "INSERT INTO survey_lines VALUES ('kept')")
	surveyComesBack(t, path, s)
	s.Survey = measured()
	err := SaveSite(path, s)
	if err == nil || !strings.Contains(err.Error(), "survey_lines that is another program's") {
		t.Fatalf("it says %v", err)
	}
}

func TestASurveyThatCannotBeIsNotSaved(t *testing.T) {
	s := plot(t)
	s.Survey = measured()
	s.Survey.Spots[0].At[0] = math.NaN()
	err := SaveSite(filepath.Join(t.TempDir(), "verge.gpkg"), s)
	if err == nil || !strings.Contains(err.Error(), "measured point 1 has no place") {
		t.Fatalf("it says %v", err)
	}
}
