package action

import (
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestWhatIsTypedWronglyIsToldInPlainWords(t *testing.T) {
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"water"}, "water needs GROUND DIR; runnel water --help tells what it takes"},
		{[]string{"water", "a.tif"}, "water needs DIR; runnel water --help tells what it takes"},
		{[]string{"water", "a", "b", "c"}, `"c" is one too many for water; runnel water --help tells what it takes`},
		{[]string{"add", "a.gpkg", "b.geojson"}, "say what the features are with --as KIND, or layer by layer with --layer NAME=KIND"},
		{[]string{"new", "a.gpkg", "--ground", "b.tif", "--cell", "wide"}, `--cell is "wide"; give a number; runnel new --help tells what it takes`},
		{[]string{"new", "a.gpkg", "--ground", "b.tif", "--cell"}, "--cell has no value; give one after it; runnel new --help tells what it takes"},
		{[]string{"trace", "a.gpkg", "east", "2"}, `EASTING is "east"; give a number; runnel trace --help tells what it takes`},
		{[]string{"measure", "--json=maybe", "a.gpkg"}, `--json takes no value; leave out "maybe"; runnel measure --help tells what it takes`},
		{[]string{"measure", "a.gpkg", "--levl", "3"}, "measure has no flag --levl; did you mean --level?; runnel measure --help tells what it takes"},
		{[]string{"--colour"}, "runnel has no flag --colour; runnel --help lists the commands"},
		{[]string{"-x"}, "runnel has no flag -x; runnel --help lists the commands"},
		{[]string{"--trace", "measure", "a.gpkg"}, "--trace is for the window; leave it out; runnel --help lists the commands"},
		{[]string{"export", "a.gpkg", "b.png", "--size", "big"},
			`the size is "big"; give width x height in pixels, such as 1600x1200; runnel export --help tells what it takes`},
		{[]string{"a.gpkg", "b.gpkg"}, `"b.gpkg" is one too many for runnel; runnel --help lists the commands`},
		{[]string{"mesure"}, `there is no command or file "mesure"; did you mean measure? The commands are demo, water, new, survey, weather, set, add, underlay, trace, measure, levels, compare, storm, season, account, cautions, propose, fates, methods, export and setout`},
		{[]string{"mesure", "a.gpkg"}, `there is no command or file "mesure"; did you mean measure? The commands are demo, water, new, survey, weather, set, add, underlay, trace, measure, levels, compare, storm, season, account, cautions, propose, fates, methods, export and setout`},
		{[]string{"sundial"}, `there is no command or file "sundial"; the commands are demo, water, new, survey, weather, set, add, underlay, trace, measure, levels, compare, storm, season, account, cautions, propose, fates, methods, export and setout`},
	} {
		if said := refused(t, mistake, c.args...); said != "runnel: "+c.want+"\n" {
			t.Errorf("runnel %s says\n%swant\n%s", strings.Join(c.args, " "), said, c.want)
		}
	}
}

func TestAPathThatIsNotThereIsNotTakenForACommand(t *testing.T) {
	for _, path := range []string{"none.gpkg", filepath.Join("no", "such"), "./mesure"} {
		if said := refused(t, failed, path); !strings.Contains(said, "no file "+path) {
			t.Errorf("%s: %q", path, said)
		}
	}
}

func TestEveryCommandIsAmongTheNamesThatAreOffered(t *testing.T) {
	var names []string
	for commands, i := reflect.TypeFor[Commands](), 0; i < commands.NumField(); i++ {
		if name := strings.ToLower(commands.Field(i).Name); name != "window" {
			names = append(names, name)
		}
	}
	if !slices.Equal(names, commandNames) {
		t.Errorf("the commands are %v, offered are %v", names, commandNames)
	}
}

func TestEmptyNamesAreNamed(t *testing.T) {
	site := siteFile(t)
	refusedFor := func(want string, status int, args ...string) {
		t.Helper()
		if said := refused(t, status, args...); !strings.Contains(said, want) {
			t.Errorf("%q says %q, want %q", args, said, want)
		}
	}
	refusedFor("name of the file is empty", failed, "measure", "")
	refusedFor("name of the file is empty", failed, "water", "", t.TempDir())
	refusedFor("name of the file to write is empty", mistake, "export", site, "")
	refusedFor("name of the folder is empty", mistake, "demo", "")
	refusedFor("name of the site is empty", mistake, "new", "", "--ground", "a.tif")
}

func TestAFolderThatIsNotThereIsNamedWithAdvice(t *testing.T) {
	site, ground, folder := siteFile(t), raster(t, pond, utm, 2), filepath.Join(t.TempDir(), "none")
	for _, args := range [][]string{
		{"new", filepath.Join(folder, "s.gpkg"), "--ground", ground, "--height-unit", "m"},
		{"export", site, filepath.Join(folder, "x.png")}, {"export", site, filepath.Join(folder, "x.tif")},
		{"export", site, filepath.Join(folder, "x.gpkg")}, {"export", site, filepath.Join(folder, "x.geojson")},
	} {
		said := refused(t, failed, args...)
		if !strings.Contains(said, "there is no folder "+folder+"; make it, or choose another") || strings.Count(said, "cannot be written") != 1 {
			t.Errorf("%q says %q", args, said)
		}
	}
	file := text(t, "file", "x")
	if said := refused(t, failed, "water", ground, filepath.Join(file, "out")); !strings.Contains(said, "cannot be made; choose a place") {
		t.Errorf("it says %q", said)
	}
}

func TestANoteReadsOnBehindTheFilesName(t *testing.T) {
	for note, want := range map[string]string{
		"It names no reference system.": "it names no reference system",
		"3 cells are no heights.":       "3 cells are no heights",
		"UTM it is.":                    "UTM it is",
		"":                              "",
		"É":                             "É",
	} {
		if got := clause(note); got != want {
			t.Errorf("%q becomes %q, want %q", note, got, want)
		}
	}
}

func TestDistanceCountsChangesOfALetter(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"mesure", "measure", 1}, {"kitten", "sitting", 3}, {"", "add", 3}, {"new", "new", 0}, {"tarce", "trace", 2}} {
		if got := distance(c.a, c.b); got != c.want {
			t.Errorf("%s is %d from %s, want %d", c.a, got, c.b, c.want)
		}
	}
	rapid.Check(t, func(r *rapid.T) {
		a, b := rapid.StringOfN(rapid.RuneFrom([]rune("abc")), 0, 6, 6).Draw(r, "a"), rapid.StringOfN(rapid.RuneFrom([]rune("abc")), 0, 6, 6).Draw(r, "b")
		if distance(a, b) != distance(b, a) || (distance(a, b) == 0) != (a == b) || distance(a, b) < max(len(a), len(b))-min(len(a), len(b)) {
			r.Errorf("%q is %d from %q, and back %d", a, distance(a, b), b, distance(b, a))
		}
	})
}
