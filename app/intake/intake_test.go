package intake

import (
	"bytes"
	"context"
	"errors"
	"io"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"runnel/geo/crs"
	"runnel/geo/gdal"
	"runnel/geo/grid"
	"runnel/geo/plan"
	"runnel/geo/survey"
	"runnel/geo/weather"
)

// act names what a child of a test does in place of reading; empty to read.
const act = "RUNNEL_INTAKE_TEST"

func TestMain(m *testing.M) {
	if does := acts[os.Getenv(act)]; does != nil && len(os.Args) == 2 && os.Args[1] == flag {
		os.Exit(serve(func(request, context.Context) (answer, error) { return does() }))
	}
	Serve()
	os.Exit(m.Run())
}

var acts = map[string]func() (answer, error){
	"hang": func() (answer, error) {
		time.Sleep(time.Hour)
		return answer{}, nil
	},
	"babble": func() (answer, error) {
		os.Stdout.WriteString(strings.Repeat("warning: a library has something to say\n", 1000))
		return answer{}, nil
	},
	"panic": func() (answer, error) { panic("index out of range") },
}

var utm = crs.CRS{Code: 32610, Name: "WGS 84 / UTM zone 10N", Metre: 1}

// tif writes a ground of w by h cells, the first of no data, and returns its path.
func tif(t testing.TB, w, h int) string {
	t.Helper()
	g := grid.New[float32](grid.Square(w, h, 500000, 5200000, 2))
	for i := range g.V {
		g.V[i] = float32(i%977)*0.013 + float32(i%31)*0.0007
	}
	g.V[0] = grid.NoData
	path := filepath.Join(t.TempDir(), "ground.tif")
	if err := gdal.WriteRaster(t.Context(), path, g, gdal.Place(g.Frame, utm)); err != nil {
		t.Fatal(err)
	}
	return path
}

func write(t *testing.T, name, content string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(content), 0o666); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestAGroundIsTheSameBitForBit(t *testing.T) {
	path := tif(t, 211, 307) // more than one chunk, the last not full
	for name, o := range map[string]gdal.GroundOptions{
		"copied":   {},
		"warped":   {CRS: "EPSG:26911", Cell: 3},
		"cropped":  {Bound: orb.Bound{Min: orb.Point{500010, 5199900}, Max: orb.Point{500100, 5199990}}},
		"in feet":  {HeightUnit: "ft"},
		"one cell": {Bound: orb.Bound{Min: orb.Point{500010, 5199988}, Max: orb.Point{500012, 5199990}}},
	} {
		want, err := Reader{}.Ground(t.Context(), []string{path}, o)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		got, err := Reader{Child: true}.Ground(t.Context(), []string{path}, o)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if got.Ground.Frame != want.Ground.Frame || got.CRS != want.CRS || !reflect.DeepEqual(got.Notes, want.Notes) || !reflect.DeepEqual(got.Sources, want.Sources) {
			t.Errorf("%s: got %+v in %v of %v with %q, want %+v in %v of %v with %q", name, got.Ground.Frame, got.CRS, got.Sources, got.Notes,
				want.Ground.Frame, want.CRS, want.Sources, want.Notes)
		}
		for i, v := range want.Ground.V {
			if math.Float32bits(got.Ground.V[i]) != math.Float32bits(v) {
				t.Fatalf("%s: cell %d is %v, want %v", name, i, got.Ground.V[i], v)
			}
		}
	}
}

func TestADrawingIsTheSame(t *testing.T) {
	path := write(t, "plan.geojson", `{"type":"FeatureCollection","features":[
	{"type":"Feature","properties":{"name":"Oak","scheme":"Wide loop"},"geometry":{"type":"Point","coordinates":[-123,46.9]}},
	{"type":"Feature","properties":{},"geometry":{"type":"MultiLineString","coordinates":[[[-123,46.9],[-123.001,46.9]],[[-123,46.91],[-123,46.92,7]]]}},
	{"type":"Feature","properties":{"n":3},"geometry":{"type":"Polygon","coordinates":[[[-123,46.9],[-123.001,46.9],[-123,46.901],[-123,46.9]]]}}]}`)
	want, notes, err := Reader{}.Drawn(t.Context(), path, gdal.DrawnOptions{To: utm})
	if err != nil {
		t.Fatal(err)
	}
	got, gotNotes, err := Reader{Child: true}.Drawn(t.Context(), path, gdal.DrawnOptions{To: utm})
	if err != nil {
		t.Fatal(err)
	}
	if len(got) != 4 || !reflect.DeepEqual(gotNotes, notes) {
		t.Fatalf("%d parts with %q, want 4 with %q", len(got), gotNotes, notes)
	}
	for i := range want {
		if math.IsNaN(want[i].Z) && math.IsNaN(got[i].Z) {
			want[i].Z, got[i].Z = 0, 0 // no number equals NaN
		}
		if !reflect.DeepEqual(got[i], want[i]) {
			t.Errorf("part %d is %#v, want %#v", i, got[i], want[i])
		}
	}
}

func TestASiteIsTheSame(t *testing.T) {
	path := filepath.Join(t.TempDir(), "verge.gpkg")
	b, err := Reader{}.Ground(t.Context(), []string{tif(t, 5, 4)}, gdal.GroundOptions{})
	if err != nil {
		t.Fatal(err)
	}
	saved := plan.Site{Name: "Verge", CRS: b.CRS, Ground: b.Ground, Setting: plan.UsualSetting(), Survey: rests(b.Sources)}
	saved.Weather = weather.Record{Name: "Gauge", First: time.Date(2020, 2, 28, 0, 0, 0, 0, time.UTC), Latitude: math.NaN(), Days: weather.Unknown(3)}
	saved.Weather.Days[2].Rain = 4
	saved.Plan.Features = []plan.Feature{{ID: 1, Kind: plan.Tree, Geometry: orb.Point{500004, 5199996}}}
	if err := gdal.SaveSite(path, &saved); err != nil {
		t.Fatal(err)
	}
	got, err := Reader{Child: true}.Site(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	want, err := Reader{}.Site(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	if got.Name != "Verge" || got.CRS != want.CRS || got.Ground.Frame != want.Ground.Frame || got.Setting != want.Setting ||
		!reflect.DeepEqual(got.Survey, saved.Survey) || !got.Weather.Same(saved.Weather) || len(got.Plan.Features) != 1 || !orb.Equal(got.Plan.Features[0].Geometry, orb.Point{500004, 5199996}) {
		t.Errorf("got %+v, want %+v", got, want)
	}
}

// rests is a survey with something of every sort.
func rests(sources []survey.Source) survey.Survey {
	return survey.Survey{
		Sources: sources,
		Lines:   []survey.Line{{At: orb.LineString{{1, 2}, {3, 4}}, Z: []float64{5}, Number: 6, Use: survey.Kerb, Out: true}},
		Spots:   []survey.Spot{{At: orb.Point{1, 2}, Z: 3, Row: 4, Code: -1, Out: true}, {At: orb.Point{5, 6}, Z: 7, Row: 8, Code: -1}},
		Patches: []survey.Patch{{Outline: orb.Polygon{{{0, 0}, {1, 0}, {1, 1}, {0, 0}}}, Why: survey.Trees}},
		Quality: survey.Quality{Tension: 0.25, HeldOut: 3, RMSE: 0.1, Bias: -0.2, Worst: 0.3, Error: 0.4, Reach: 5},
	}
}

func TestWhatIsWrongWithAFileIsToldInTheSameWords(t *testing.T) {
	for name, path := range map[string]string{
		"a file that is not there":  filepath.Join(t.TempDir(), "none.tif"),
		"a file that is not a tiff": write(t, "note.tif", "not a raster at all"),
		"a folder":                  t.TempDir(),
		"an address":                "https://ground.invalid/a.tif",
	} {
		for what, read := range map[string]func(Reader) error{
			"ground": func(r Reader) error {
				_, err := r.Ground(t.Context(), []string{path}, gdal.GroundOptions{})
				return err
			},
			"drawing": func(r Reader) error {
				_, _, err := r.Drawn(t.Context(), path, gdal.DrawnOptions{})
				return err
			},
			"site": func(r Reader) error {
				_, err := r.Site(t.Context(), path)
				return err
			},
		} {
			want, got := read(Reader{}), read(Reader{Child: true})
			if want == nil || got == nil || got.Error() != want.Error() {
				t.Errorf("%s as a %s: %v, want %v", name, what, got, want)
			}
		}
	}
}

// readAs reads a good file by a child that acts up, and returns what is said.
func readAs(t *testing.T, ctx context.Context, does string, l Limits) string {
	t.Helper()
	path := tif(t, 3, 3)
	t.Setenv(act, does)
	b, err := Reader{Child: true, Limits: l}.Ground(ctx, []string{path}, gdal.GroundOptions{})
	if err == nil || b.Ground.Len() != 0 {
		t.Fatalf("a child that is to %s gives %d cells and %v", does, b.Ground.Len(), err)
	}
	if strings.Contains(err.Error(), "\n") || !strings.HasPrefix(err.Error(), "ground.tif: ") {
		t.Errorf("%q is not one sentence about the file", err)
	}
	return err.Error()
}

func TestAChildThatFailsIsOneSentence(t *testing.T) {
	for _, does := range []string{"panic", "babble"} {
		if said := readAs(t, t.Context(), does, Limits{}); !strings.Contains(said, "broke the reader off") {
			t.Errorf("a child that is to %s: %q", does, said)
		}
	}
}

func TestOnlyTheFirstOfWhatAChildSaysIsKept(t *testing.T) {
	var said opening
	n, err := io.Copy(&said, strings.NewReader("fatal error: out of memory\n"+strings.Repeat("and more\n", 1<<20)))
	if err != nil || n < 9<<20 || len(said.kept) != mostSaid || !strings.HasPrefix(string(said.kept), "fatal error") {
		t.Errorf("%d bytes are taken and %d kept, %v", n, len(said.kept), err)
	}
}

func TestAChildThatHangsIsStopped(t *testing.T) {
	if said := readAs(t, t.Context(), "hang", Limits{Wait: 200 * time.Millisecond}); !strings.Contains(said, "takes more than 200ms") {
		t.Errorf("when its time is over: %q", said)
	}
	ctx, stop := context.WithCancel(t.Context())
	time.AfterFunc(200*time.Millisecond, stop)
	begun := time.Now()
	said := readAs(t, ctx, "hang", Limits{})
	if took := time.Since(begun); took > time.Minute {
		t.Errorf("it is stopped after %v", took)
	}
	if !strings.HasSuffix(said, context.Canceled.Error()) {
		t.Errorf("when the person stops it: %q", said)
	}
}

func TestStoppingIsToldFromFailing(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	stop()
	for _, r := range []Reader{{}, {Child: true}} {
		if _, err := r.Ground(ctx, []string{tif(t, 3, 3)}, gdal.GroundOptions{}); !errors.Is(err, context.Canceled) {
			t.Errorf("%+v: %v", r, err)
		}
	}
}

func TestAnAnswerThatIsNotOneIsRefused(t *testing.T) {
	whole := answer{ground: grid.New[float32](grid.Square(3, 2, 0, 0, 1)), drawn: []gdal.Drawn{{Geometry: orb.Point{1, 2}}}}
	var sent bytes.Buffer
	if err := whole.writeTo(&sent); err != nil {
		t.Fatal(err)
	}
	if a, err := readAnswer(bytes.NewReader(sent.Bytes())); err != nil || a.ground.Len() != 6 || len(a.drawn) != 1 {
		t.Fatalf("a whole answer gives %+v, %v", a, err)
	}
	for n := range sent.Len() {
		if _, err := readAnswer(bytes.NewReader(sent.Bytes()[:n])); err == nil {
			t.Errorf("the first %d of %d bytes are taken for an answer", n, sent.Len())
		}
	}
	sent.WriteByte(0)
	if _, err := readAnswer(&sent); err == nil {
		t.Error("an answer with more after its end is taken")
	}
	sent.Reset()
	huge := answer{ground: grid.Ground{Frame: grid.Square(1<<31, 1<<30, 0, 0, 1)}}
	if err := huge.writeTo(&sent); err != nil {
		t.Fatal(err)
	}
	if _, err := readAnswer(&sent); !errors.Is(err, errGarbled) {
		t.Errorf("more cells than fit in memory: %v", err)
	}
}

func BenchmarkGround(b *testing.B) {
	small, wide := tif(b, 3, 3), tif(b, 2000, 2000)
	for _, c := range []struct {
		name, path string
		r          Reader
	}{
		{"9 cells, direct", small, Reader{}},
		{"9 cells, child", small, Reader{Child: true}},
		{"4 million cells, direct", wide, Reader{}},
		{"4 million cells, child", wide, Reader{Child: true}},
	} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				if _, err := c.r.Ground(b.Context(), []string{c.path}, gdal.GroundOptions{}); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/1000/float64(b.N), "ms")
		})
	}
}
