package report

import (
	"strings"
	"testing"

	"runnel/geo/survey"
)

func TestOnlyContoursThatWereHeldOutMakeAnErrorLess(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*survey.Survey)
		want   bool
	}{
		"contours":           {func(*survey.Survey) {}, true},
		"points alone":       {func(s *survey.Survey) { s.Lines = nil }, false},
		"all left out":       {func(s *survey.Survey) { s.Lines = s.Lines[:1] }, false},
		"a breakline":        {func(s *survey.Survey) { s.Lines[1].Use = survey.Break }, false},
		"less by a rounding": {func(s *survey.Survey) { s.Quality.Error = 0.9999 * s.Quality.RMSE }, false},
		"nothing held out":   {func(s *survey.Survey) { s.Quality.HeldOut = 0 }, false},
	} {
		s := measuredSite()
		c.change(&s.Survey)
		var b strings.Builder
		if err := OfSurvey(s, Thinness{}, nil).WriteTable(&b); err != nil {
			t.Fatal(err)
		}
		if got := strings.Contains(b.String(), WithEveryContour); got != c.want || LessWithEveryContour(s.Survey) != c.want {
			t.Errorf("%s: it is said %v, want %v", name, got, c.want)
		}
	}
}

func TestWhatTheSourcesDoNotSayIsToldPlainly(t *testing.T) {
	s := measuredSite()
	s.Survey.Sources[0].Name = ""
	var b strings.Builder
	if err := OfSurvey(s, Thinness{}, nil).WriteTable(&b); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"(not recorded any more)", "is not in the site file any more.", "m, as taken"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("it does not say %q:\n%s", want, b.String())
		}
	}
	if strings.Contains(b.String(), "\n: ") {
		t.Errorf("a name is blank:\n%s", b.String())
	}
}
