package action

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"runnel/assets/demo"
	"runnel/geo/gdal"
	"runnel/geo/plan"
)

// made is the demo site, made once.
var made = sync.OnceValue(demo.Site)

// result is what one run of the command line left.
type result struct {
	status   int
	out, err string
}

// run does what args ask for, with no display.
func run(args ...string) result {
	var out, err bytes.Buffer
	status := Main(context.Background(), args, Streams{Out: &out, Err: &err}, func(Opening) error { return errors.New("there is no display") })
	return result{status, out.String(), err.String()}
}

// must runs a command that is to be done.
func must(t *testing.T, args ...string) string {
	t.Helper()
	r := run(args...)
	if r.status != done {
		t.Fatalf("runnel %s ends with %d: %s", strings.Join(args, " "), r.status, r.err)
	}
	return r.out
}

// refused runs a command that is to be refused with a status and one sentence.
func refused(t *testing.T, status int, args ...string) string {
	t.Helper()
	r := run(args...)
	if r.status != status {
		t.Errorf("runnel %s ends with %d, want %d: %s", strings.Join(args, " "), r.status, status, r.err)
	}
	if r.out != "" {
		t.Errorf("runnel %s writes %q as a result", strings.Join(args, " "), r.out)
	}
	lines := strings.Split(strings.TrimSuffix(r.err, "\n"), "\n")
	if len(lines) != 1 || !strings.HasPrefix(r.err, "runnel: ") || strings.Contains(r.err, "goroutine") {
		t.Errorf("runnel %s says %q; one sentence was meant", strings.Join(args, " "), r.err)
	}
	return r.err
}

// siteFile writes the demo site and returns its path.
func siteFile(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "site.gpkg")
	site := made()
	if err := gdal.SaveSite(path, &site); err != nil {
		t.Fatal(err)
	}
	return path
}

// text writes a file of text and returns its path.
func text(t *testing.T, name, content string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(content), 0o666); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestHelpIsAResultAndListsEveryCommand(t *testing.T) {
	out := must(t, "--help")
	for _, command := range []string{"demo", "water", "new", "add", "trace", "measure", "compare", "export"} {
		if !strings.Contains(out, "\n  "+command+" ") {
			t.Errorf("help does not list %s", command)
		}
		if help := must(t, command, "--help"); !strings.Contains(help, "runnel "+command) {
			t.Errorf("the help of %s is %q", command, help)
		}
	}
	if strings.Contains(out, "--trace") {
		t.Error("help lists a flag that is for those who drive the window")
	}
}

func TestWhatIsTypedWronglyEndsWithTwo(t *testing.T) {
	for _, args := range [][]string{
		{"--colour"}, {"water"}, {"water", "a.tif"}, {"water", "a.tif", "b", "c"}, {"new", "a.gpkg"},
		{"new", "a.tif", "--ground", "b.tif"}, {"new", "a.gpkg", "--ground", "b.tif", "--cell", "wide"},
		{"new", "a.gpkg", "--ground", "b.tif", "--cell", "-1"}, {"new", "a.gpkg", "--ground", "b.tif", "--cell", "0"}, {"new", "a.gpkg", "--ground", "b.tif", "--bounds", "1,2,3"},
		{"new", "a.gpkg", "--ground", "b.tif", "--bounds", "3,2,1,4"}, {"new", "a.gpkg", "--ground", "b.tif", "--height-unit", "ell"},
		{"add", "a.gpkg", "b.geojson"}, {"add", "a.gpkg", "b.geojson", "--as", "castle"}, {"add", "a.gpkg", "b.geojson", "--as", "channel"},
		{"add", "a.gpkg", "b.geojson", "--as", "roof", "--scheme", "A"}, {"add", "a.gpkg", "b.geojson", "--as", "roof", "--set", "colour=red"},
		{"add", "a.gpkg", "b.geojson", "--as", "roof", "--set", "runoff"}, {"add", "a.gpkg", "b.geojson", "--as", "roof", "--set", "runoff=7"},
		{"trace", "a.gpkg", "1"}, {"trace", "a.gpkg", "east", "north"}, {"trace", "a.gpkg", "NaN", "2"}, {"measure", "a.gpkg", "--level", "high"},
		{"measure", "a.gpkg", "--level", "inf"}, {"export", "a.gpkg", "b.doc"}, {"export", "a.gpkg", "b.png", "--size", "big"},
		{"export", "a.gpkg", "b.png", "--size", "800x600x3"}, {"export", "a.gpkg", "b.tif", "--size", "800x600"},
		{"export", "a.gpkg", "a.gpkg"}, {"export", "a.gpkg", "b.geojson", "--scheme", "A"}, {"compare"}, {"demo"}, {"x.gpkg", "--demo"},
	} {
		refused(t, mistake, args...)
	}
}

func TestNegativeNumbersAreNotTakenForFlags(t *testing.T) {
	for _, c := range []struct{ args, want []string }{
		{[]string{"trace", "s", "-1.5", "2"}, []string{"trace", "s", "--", "-1.5", "2"}},
		{[]string{"trace", "s", "1.5", "-2e3"}, []string{"trace", "s", "1.5", "--", "-2e3"}},
		{[]string{"trace", "s", "--", "-1", "-2"}, []string{"trace", "s", "--", "-1", "-2"}},
		{[]string{"trace", "s", "1", "2"}, []string{"trace", "s", "1", "2"}},
		{[]string{"trace", "--help"}, []string{"trace", "--help"}},
		{[]string{"measure", "s", "--level", "-1"}, []string{"measure", "s", "--level", "-1"}},
		{nil, nil},
	} {
		if got := negatives(c.args); !slices.Equal(got, c.want) {
			t.Errorf("%q becomes %q, want %q", c.args, got, c.want)
		}
	}
}

func TestTheWindowIsHandedWhatWasAskedFor(t *testing.T) {
	path := text(t, "a.gpkg", "x")
	for _, c := range []struct {
		args   []string
		path   string
		demo   bool
		traced bool
	}{
		{nil, "", false, false},
		{[]string{path}, path, false, false},
		{[]string{"--demo"}, "", true, false},
		{[]string{"--demo", "--trace"}, "", true, true},
	} {
		var got *Opening
		status := Main(context.Background(), c.args, Streams{Out: &bytes.Buffer{}, Err: &bytes.Buffer{}}, func(o Opening) error { got = &o; return nil })
		if status != done || got == nil {
			t.Fatalf("runnel %q ends with %d", c.args, status)
		}
		if got.Path != c.path || got.Demo != c.demo || (got.Trace != nil) != c.traced {
			t.Errorf("runnel %q opens %+v", c.args, *got)
		}
	}
}

func TestTheWindowIsNotOpenedOnWhatIsNoFile(t *testing.T) {
	refused(t, failed)
	refused(t, mistake, "mesure")
	refused(t, failed, t.TempDir())
	refused(t, failed, text(t, "a.gpkg", "x")) // no display in this test
}

func TestAFaultOfTheProgramIsASentence(t *testing.T) {
	var out, err bytes.Buffer
	status := Main(context.Background(), nil, Streams{Out: &out, Err: &err}, func(Opening) error { panic("index out of range") })
	want := "runnel: something in the program went wrong (index out of range; runnel/app/action.TestAFault"
	if status != failed || !strings.HasPrefix(err.String(), want) || strings.Count(err.String(), "\n") != 1 {
		t.Errorf("status %d, %q", status, err.String())
	}
}

func TestWhatIsNoSiteIsRefusedByEveryCommandThatTakesOne(t *testing.T) {
	drawing := text(t, "a.geojson", `{"type":"FeatureCollection","features":[]}`)
	for _, bad := range []string{
		filepath.Join(t.TempDir(), "none.gpkg"), t.TempDir(), text(t, "empty.gpkg", ""), text(t, "text.gpkg", "not a site"),
		text(t, "cut.gpkg", "SQLite format 3\x00"+strings.Repeat("\x00", 200)),
	} {
		refused(t, failed, "measure", bad)
		refused(t, failed, "compare", bad)
		refused(t, failed, "trace", bad, "1", "2")
		refused(t, failed, "export", bad, filepath.Join(t.TempDir(), "a.png"))
		refused(t, failed, "add", bad, drawing, "--as", "roof")
	}
}

func TestACommandThatIsStoppedSaysSo(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	var out, err bytes.Buffer
	status := Main(ctx, []string{"compare", siteFile(t)}, Streams{Out: &out, Err: &err}, nil)
	if status != failed || !strings.HasPrefix(err.String(), "runnel: stopped") {
		t.Errorf("status %d, %q", status, err.String())
	}
}

// features counts a site's features of one kind.
func features(t *testing.T, path string, kind plan.Kind) []plan.Feature {
	t.Helper()
	site, err := gdal.OpenSite(path)
	if err != nil {
		t.Fatal(err)
	}
	return slices.DeleteFunc(site.Plan.Features, func(f plan.Feature) bool { return f.Kind != kind })
}
