package ui

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/test"
	"github.com/paulmach/orb"

	"runnel/analysis/accuracy"
	"runnel/geo/gdal"
	"runnel/geo/grid"
	"runnel/geo/plan"
	"runnel/geo/survey"
)

// The hill of the tests is a cone of 30 m radius that rises 10 m to its top at
// 500 050, 4 800 050, as contours a metre apart in UTM zone 32.
const hillEast, hillNorth, hillTop, hillReach = 500_050.0, 4_800_050.0, 110.0, 30.0

func hillHeight(at orb.Point) float64 {
	return hillTop - math.Hypot(at[0]-hillEast, at[1]-hillNorth)/hillReach*10
}

// hill writes the contours to a file; with a field elev, or without.
func (b *bench) hill(field string) string {
	b.t.Helper()
	var features []string
	for z := 100.0; z < hillTop; z++ {
		radius := (hillTop - z) / 10 * hillReach
		var at []string
		for i := range 73 {
			turn := 2 * math.Pi * float64(i%72) / 72
			at = append(at, fmt.Sprintf("[%.3f,%.3f]", hillEast+radius*math.Cos(turn), hillNorth+radius*math.Sin(turn)))
		}
		properties := `"id":1`
		if field != "" {
			properties = fmt.Sprintf("%q:%g", field, z)
		}
		features = append(features, fmt.Sprintf(`{"type":"Feature","properties":{%s},"geometry":{"type":"LineString","coordinates":[%s]}}`, properties, strings.Join(at, ",")))
	}
	return b.write("hill.geojson", `{"type":"FeatureCollection","crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:EPSG::32632"}},"features":[`+strings.Join(features, ",")+`]}`)
}

// onPage puts a file on the page and waits until it is read and looked over.
func (b *bench) onPage(p purpose, path string) *surveying {
	b.t.Helper()
	b.surveyOn(p, path)
	b.read()
	return b.surveying
}

// read waits until all files are read and looked over.
func (b *bench) read() {
	b.t.Helper()
	c := b.surveying
	b.until("the measurements", func() bool { return c.doing == "" && c.faults.of == c.faults.asked && c.faults.of > 0 })
	b.win.Canvas().Capture()
}

// pressOn presses the button of the page that says words.
func (b *bench) pressOn(words string) {
	b.t.Helper()
	for _, o := range test.LaidOutObjects(b.surveying.face.object) {
		switch o := o.(type) {
		case *button:
			if o.Text == words && !o.Disabled() {
				test.Tap(o)
				return
			}
		case *pageButton:
			if o.word == words {
				o.Tapped(nil)
				return
			}
		}
	}
	b.t.Fatalf("the page has no button %q:\n%s", words, texts(b.surveying.face.object))
}

func TestContoursBecomeASite(t *testing.T) {
	b := newBench(t)
	b.dropped([]fyne.URI{storage.NewFileURI(b.hill("elev"))})
	b.read()
	shown := texts(b.surveying.face.object)
	for _, want := range []string{"hill.geojson", "10 lines", "EPSG:32632", "field elev", "100.00\u00a0m", "109.00\u00a0m", "Make the ground"} {
		if !strings.Contains(shown, want) {
			t.Errorf("the page does not say %q:\n%s", want, shown)
		}
	}
	b.pressOn("Make the ground")
	b.until("the ground", func() bool { return b.surveying.made != nil || b.surveying.trouble != "" })
	if b.surveying.trouble != "" {
		t.Fatal(b.surveying.trouble)
	}
	if shown := texts(b.surveying.face.object); !strings.Contains(shown, "Typical miss") || !strings.Contains(shown, "Error reckoned with") {
		t.Errorf("the page does not say how good the ground is:\n%s", shown)
	}
	b.pressOn("Bring it in")
	if b.doc == nil || b.surveying.on || b.step != stepWater {
		t.Fatalf("the site is not open in the Water step; the trace:\n%s", b.trace.String())
	}
	b.settle()
	s := b.doc.Site()
	if s.Name != "hill" || s.CRS.Code != 32632 || !b.doc.Dirty() || len(s.Survey.Lines) != 10 {
		t.Errorf("the site is %q in %v with %d lines, saved %v", s.Name, s.CRS, len(s.Survey.Lines), !b.doc.Dirty())
	}
	if s.Setting.SurveyError != s.Survey.Quality.Error || s.Survey.Quality.Error <= 0 {
		t.Errorf("the error reckoned with is %v, that found %v", s.Setting.SurveyError, s.Survey.Quality.Error)
	}
	for _, at := range []orb.Point{{hillEast + 12, hillNorth + 3}, {hillEast - 4, hillNorth - 20}} {
		if got, want := grid.Sample(s.Ground, at), hillHeight(at); math.Abs(got-want) > 0.2 {
			t.Errorf("the ground at %v is %v, want %v", at, got, want)
		}
	}
}

func TestNothingIsLeftOutBeforeItIsAgreedTo(t *testing.T) {
	b := newBench(t)
	c := b.onPage(beginning, b.hill("elev"))
	c.takeFaults(foundFaults{c.faults.asked, []accuracy.Fault{
		{Sort: accuracy.OddHeight, At: orb.Point{hillEast, hillNorth}, Lines: []int{3}, Leave: true, Says: "line 4 is out of step; correct it, or leave it out"},
		{Sort: accuracy.Repeated, At: orb.Point{hillEast, hillNorth + 1}, Lines: []int{5}, Says: "line 6 is there twice; leave one out"},
	}}, nil)
	if shown := texts(c.face.object); strings.Contains(shown, "ticked") || c.leaving() != 0 || c.faults.agreed()(c.faults.list[0]) {
		t.Errorf("something is ticked before a person ticks it:\n%s", shown)
	}
	b.pressOn("Tick what is proposed (1)")
	if shown := texts(c.face.object); !strings.Contains(shown, "1 ticked measurement will be left out") || strings.Contains(shown, "Tick what is proposed") {
		t.Errorf("it does not say how many will be left out:\n%s", shown)
	}
	if slices.ContainsFunc(c.survey.Lines, func(l survey.Line) bool { return l.Out }) {
		t.Error("a line is left out already")
	}
	agreed := c.faults.agreed()
	if !agreed(c.faults.list[0]) || agreed(c.faults.list[1]) {
		t.Error("what is agreed to is not what is ticked")
	}
	c.lookAt(1)
	if x, y := c.face.view.camera.ToScreen(c.faults.list[1].At); math.Abs(x-float64(c.face.view.width)/2) > 1 || math.Abs(y-float64(c.face.view.height)/2) > 1 {
		t.Error("the map does not go to the fault that is pressed")
	}
}

func TestATableSaysWhatItsColumnsAre(t *testing.T) {
	b := newBench(t)
	c := b.onPage(beginning, b.write("points.csv", "1,4800000.5,500000,101.2,KB\n2,4800010,500000,101.4,KB\n3,4800010,500020,101.9,TREE\n4,4800030,500020,102.5,TREE\n"))
	f := c.files[0]
	if got := f.columns(); got.Name != 0 || got.Y != 1 || got.X != 2 || got.Z != 3 || got.Code != 4 {
		t.Fatalf("the columns are guessed as %+v", got)
	}
	shown := texts(c.face.object)
	for _, want := range []string{"4800000.5", "TREE", "Code KB", "names no reference system", "taken as metres", "guessed from their names"} {
		if !strings.Contains(shown, want) {
			t.Errorf("the page does not show %q", want)
		}
	}
	b.pressOn("Swap east and north")
	b.read()
	if got := c.survey.Lines[0].At[0]; got[0] != 4800000.5 {
		t.Errorf("after the swap the first point of the kerb is at %v", got)
	}
	if f.how.Uses["KB"] != survey.Kerb || f.how.Uses["TREE"] != 0 {
		t.Errorf("the codes are guessed as %v", f.how.Uses)
	}
	c.reread(f, func(*gdal.SurveyOptions) { f.use("TREE", int(survey.Kerb)) })
	b.read()
	if kerbs, _ := c.uses(); !kerbs {
		t.Error("the points of a code are no kerb")
	}
	c.reread(f, func(*gdal.SurveyOptions) { f.use("KB", 0) })
	b.read()
	if f.how.Uses["KB"] != 0 {
		t.Error("what was changed is guessed again")
	}
}

func TestAColumnThatIsGivenARoleSwapsItWithTheOther(t *testing.T) {
	b := newBench(t)
	c := b.onPage(beginning, b.write("points.csv", "east,north,height\n0,0,1\n1,0,2\n0,1,3\n"))
	of := c.files[0].columns()
	got := given(of, 0, 3) // north
	if got.Y != 0 || got.X != 1 || got.Z != 2 {
		t.Errorf("%+v after the first column is north; the second is east then", got)
	}
	if got := given(of, 2, 0); got.Z != -1 || got.X != 0 {
		t.Errorf("%+v after the third column is nothing", got)
	}
}

func TestTheGroundOfASiteIsReplacedAndWorkedOnAgain(t *testing.T) {
	b := newBench(t)
	b.open()
	b.onPage(replacing, b.hill("elev"))
	if why := b.needsMeasured(); why == "" {
		t.Error("the valley was not made of measurements")
	}
	b.pressOn("Make the ground")
	b.until("the ground", func() bool { return b.surveying.made != nil })
	b.pressOn("Bring it in")
	b.answer("Bring it in") // the hill lies off the valley
	b.settle()
	s := b.doc.Site()
	if s.Name != "Valley" || len(s.Survey.Lines) != 10 || len(s.Plan.Of(plan.Drain, plan.AsItIs)) != 1 || s.CRS.Code != 32632 {
		t.Errorf("the site is %q with %d lines and %d drains", s.Name, len(s.Survey.Lines), len(s.Plan.Of(plan.Drain, plan.AsItIs)))
	}
	b.workOnSurvey()
	b.read()
	c := b.surveying
	if shown := texts(c.face.object); !strings.Contains(shown, "hill.geojson") || len(c.survey.Lines) != 10 {
		t.Errorf("the page does not show the site's own survey:\n%s", shown)
	}
	c.take(typingHeights)
	c.offer(9)
	if err := c.giveHeight("108.5"); err != nil {
		t.Fatal(err)
	}
	b.pressOn("Make the ground")
	b.until("the ground", func() bool { return c.made != nil })
	b.pressOn("Bring it in")
	b.settle()
	if got := b.doc.Site().Survey.Lines[9].Level(); got != 108.5 {
		t.Errorf("the height that was typed is %v on the site", got)
	}
	b.doc.Undo()
	if got := b.doc.Site().Survey.Lines[9].Level(); got != 109 {
		t.Errorf("taken back it is %v", got)
	}
}

func TestThePageIsLeftWithoutAQuestionWhereNothingWasTyped(t *testing.T) {
	b := newBench(t)
	b.open()
	c := b.onPage(replacing, b.hill("elev"))
	if !strings.Contains(b.whileSurveying(command{menu: drawMenu}).why(), "Bring the ground in") {
		t.Error("the map's commands run though the map is not shown")
	}
	c.key(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if c.on || b.covered() || b.pane.scene == nil {
		t.Error("Escape does not go back to the map")
	}
	c = b.onPage(replacing, b.hill(""))
	c.hand.line = 0
	if err := c.giveHeight("100"); err != nil {
		t.Fatal(err)
	}
	c.take(lookingOver)
	c.key(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if !c.on || !b.covered() {
		t.Fatal("typed heights are lost without a question")
	}
	b.answer("Leave")
	if c.on || b.doc.Dirty() {
		t.Error("the page is not left, or the site has changed")
	}
}

func TestAFileThatCannotBeReadStaysOnThePageAsASentence(t *testing.T) {
	b := newBench(t)
	c := b.surveying
	b.surveyOn(beginning, b.write("broken.geojson", "no contours at all"))
	b.until("the sentence", func() bool { return c.doing == "" })
	if !c.on || c.ready() || !strings.Contains(texts(c.face.object), "roken.geojson") {
		t.Errorf("the page shows:\n%s", texts(c.face.object))
	}
	b.pressOn("Take it off")
	if c.on || b.doc != nil {
		t.Error("the page stays with nothing on it")
	}
}
