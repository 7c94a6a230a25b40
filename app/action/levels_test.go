package action

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"strconv"
	"strings"
	"testing"

	"runnel/app/report"
)

func levelFigures(t *testing.T, args ...string) report.LevelFigures {
	t.Helper()
	var f report.LevelFigures
	if err := json.Unmarshal([]byte(must(t, append([]string{"levels", siteFile(t), "--json"}, args...)...)), &f); err != nil {
		t.Fatal(err)
	}
	return f
}

func TestTheStageTableGoesFromTheLowestBedToTheBrim(t *testing.T) {
	f := levelFigures(t)
	if len(f.Schemes) != 2 {
		t.Fatalf("%d schemes", len(f.Schemes))
	}
	for _, s := range f.Schemes {
		n := len(s.Levels)
		if s.Why != "" || n < 17 || len(s.Channels) != 1 || s.Levels[0].Volume != 0 {
			t.Fatalf("%+v", s)
		}
		used := 0
		for i, l := range s.Levels {
			if l.InUse {
				used++
			}
			if i > 0 && !(l.Level > s.Levels[i-1].Level && l.Volume >= s.Levels[i-1].Volume && l.Contact >= s.Levels[i-1].Contact-0.05 && l.Perimeter > 0) {
				t.Errorf("%s: %+v after %+v", s.Scheme, l, s.Levels[i-1])
			}
		}
		if used != 1 {
			t.Errorf("%s: %d levels are in use", s.Scheme, used)
		}
	}
}

func TestLevelsStandAtWholeSteps(t *testing.T) {
	f := levelFigures(t, "--step", "0.05", "--scheme", "straight soakage trench")
	if len(f.Schemes) != 1 {
		t.Fatalf("%d schemes", len(f.Schemes))
	}
	levels := f.Schemes[0].Levels
	for i, l := range levels[1 : len(levels)-1] {
		if off := math.Abs(math.Remainder(float64(l.Level), 0.05)); off > 1e-6 && !l.InUse {
			t.Errorf("level %d is %v m", i+1, l.Level)
		}
	}
}

func TestTheFormsOfAStageTableTellTheSame(t *testing.T) {
	f := levelFigures(t, "--step", "0.1")
	rows, err := csv.NewReader(strings.NewReader(must(t, "levels", siteFile(t), "--step", "0.1", "--csv"))).ReadAll()
	if err != nil || len(rows) < 10 || rows[0][5] != "contact_area_m2" {
		t.Fatalf("%v, %v", rows, err)
	}
	first := f.Schemes[0].Levels
	for i, l := range first {
		got, _ := strconv.ParseFloat(rows[i+1][5], 64)
		if rows[i+1][0] != f.Schemes[0].Scheme || math.Abs(got-float64(l.Contact)) > 1e-9 {
			t.Errorf("row %d is %v, and the JSON tells %+v", i+1, rows[i+1], l)
		}
	}
	if dry := rows[1]; dry[4] != "" || dry[9] != "all is dry" {
		t.Errorf("at the lowest bed the row is %v", dry)
	}
	table := must(t, "levels", siteFile(t), "--step", "0.1")
	for _, want := range []string{"mean wetted perimeter [m]", "contact area [m²]", "storage [m³]", "wet bank [m]", "* in use", "–", first[2].Contact.With(1)} {
		if !strings.Contains(table, want) {
			t.Errorf("the table does not say %q:\n%s", want, table)
		}
	}
}

func TestASchemeWithoutChannelsHasNoStageTableAndSaysWhy(t *testing.T) {
	out := must(t, "levels", siteFile(t), "--scheme", "as it is")
	if !strings.Contains(out, "As it is: –, for no channel") {
		t.Error(out)
	}
	if out = must(t, "levels", siteFile(t), "--scheme", "as it is", "--csv"); !strings.Contains(out, "no channel of the scheme can hold water") {
		t.Error(out)
	}
	for _, step := range []string{"0", "-1", "NaN"} {
		refused(t, mistake, "levels", siteFile(t), "--step="+step)
	}
	refused(t, failed, "levels", siteFile(t), "--step=0.00001")
	refused(t, failed, "levels", siteFile(t), "--scheme", "Nowhere")
	refused(t, mistake, "levels", siteFile(t), "--json", "--csv")
}

func TestMeasureTellsWhatTheShapeBuys(t *testing.T) {
	var f report.Figures
	if err := json.Unmarshal([]byte(must(t, "measure", siteFile(t), "--json")), &f); err != nil {
		t.Fatal(err)
	}
	if f.Schemes[0].Shape != nil {
		t.Error("the site as it is has a shape")
	}
	table := must(t, "measure", siteFile(t))
	for _, s := range f.Schemes[1:] {
		shape := s.Shape
		if shape == nil || shape.Gain.Why != "" || shape.Gain.Winding == nil || len(shape.Sensitivity.Rows) != 3 {
			t.Fatalf("%s: %+v", s.Scheme, shape)
		}
		g := shape.Gain
		if off := math.Abs(float64(g.Equal.Dug/g.Winding.Dug) - 1); off > 0.001 {
			t.Errorf("%s: %g m³ are dug for the straight, %g for the winding", s.Scheme, g.Equal.Dug, g.Winding.Dug)
		}
		if off := math.Abs(float64(g.Winding.Contact/g.Straight.Contact - shape.StraightRatio)); off > 0.01 {
			t.Errorf("%s: the ratio to the straight drain is %g", s.Scheme, shape.StraightRatio)
		}
		if off := math.Abs(float64(shape.Earth.Prismoidal.Cut/shape.Earth.Cells.Cut) - 1); off > 0.01 {
			t.Errorf("%s: %+v", s.Scheme, shape.Earth)
		}
		if shape.Flow == nil || len(shape.Flow.Inflows)+len(shape.Flow.Withheld) == 0 {
			t.Errorf("%s: of the flow nothing is told, and no reason", s.Scheme)
		}
		for _, want := range []string{g.Sentence, shape.Sensitivity.Level, "One more metre of", shape.StraightRatio.With(2), "average end area", "greatest velocity [m/s]"} {
			if !strings.Contains(table, want) {
				t.Errorf("the table does not say %q", want)
			}
		}
	}
	if n := len(f.Schemes[1].Shape.Barriers); n != 2 {
		t.Errorf("%d islands are looked at", n)
	}
}
