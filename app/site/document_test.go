package site

import (
	"math"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"runnel/geo"
	"runnel/geo/crs"
	"runnel/geo/grid"
	"runnel/geo/plan"
	"runnel/geo/weather"
)

// field is a site with a well (1), a scheme (2) with a channel (3) and a path
// (4), a tree (5), and a scheme with nothing in it (6).
func field() plan.Site {
	s := start()
	s.CRS = crs.CRS{Code: 32630, Metre: 1}
	s.Plan = plan.Plan{
		Features: []plan.Feature{
			{ID: 1, Kind: plan.Well, Geometry: orb.Point{1, 1}},
			{ID: 3, Kind: plan.Channel, Scheme: 2, Name: "North arm", Geometry: orb.LineString{{0, 0}, {10, 0}}},
			{ID: 5, Kind: plan.Tree, Geometry: orb.Point{8, 8}},
			{ID: 4, Kind: plan.Path, Scheme: 2, Geometry: orb.LineString{{0, 5}, {10, 5}}},
		},
		Schemes: []plan.Scheme{{ID: 2, Name: "Two arms"}, {ID: 6, Name: "Wide bend"}},
		Last:    6,
	}
	return s
}

func order(s *plan.Site) []plan.ID {
	var ids []plan.ID
	for _, f := range s.Plan.Features {
		ids = append(ids, f.ID)
	}
	return ids
}

func TestRefusedEdits(t *testing.T) {
	well := plan.Feature{Kind: plan.Well, Geometry: orb.Point{2, 2}}
	crossed := orb.Polygon{{{0, 0}, {4, 4}, {4, 0}, {0, 9}, {0, 0}}}
	ragged := grid.Parse("1 2")
	ragged.V = ragged.V[:1]
	tests := []struct {
		name string
		edit Edit
		want string
	}{
		{"a shape that crosses itself", &Add{Features: []plan.Feature{{Kind: plan.Roof, Geometry: crossed}}},
			"Roof 7: its outline crosses or touches itself; move a point so that it does not"},
		{"a bad feature after a good one", &Add{Features: []plan.Feature{well, {Kind: plan.Kerb, Geometry: orb.Point{}}}},
			"Kerb 8: it is drawn as a point; draw it as a line"},
		{"a number that is taken", &Add{Features: []plan.Feature{{ID: 3, Kind: plan.Well, Geometry: orb.Point{}}}},
			"Well 3: the number 3 is another feature's; give it 0 to have a new one"},
		{"a channel in no scheme", &Add{Features: []plan.Feature{{Kind: plan.Channel, Geometry: orb.LineString{{0, 0}, {1, 1}}}}},
			"Channel 7: it belongs to no scheme; choose or add a scheme first"},
		{"a well in a scheme", &Add{Features: []plan.Feature{{Kind: plan.Well, Scheme: 2, Geometry: orb.Point{}}}},
			"Well 7: it is part of the site as it is; it cannot belong to a scheme"},
		{"a field out of its limits", &Replace{After: field().Plan.Features[1].With("bed_width", plan.Value{Number: 900})},
			"North arm: the bed width is 900; give a number from 0.05 to 50 m"},
		{"a feature that is gone", &Replace{After: plan.Feature{ID: 44, Kind: plan.Well, Geometry: orb.Point{}}},
			"the feature numbered 44 is not on the site any more; select it again"},
		{"removing one that is gone with one that is there", &Remove{IDs: []plan.ID{1, 44}},
			"the feature numbered 44 is not on the site any more; select it again"},
		{"a scheme with no name", &AddScheme{Name: "  "}, "the scheme has no name; give it one"},
		{"a scheme named twice", &AddScheme{Name: "two ARMS"}, `there is a scheme "Two arms" already; give another name`},
		{"a copy named twice", &CopyScheme{Of: 2, Name: "Two arms"}, `there is a scheme "Two arms" already; give another name`},
		{"a rename to another's name", &RenameScheme{ID: 6, Name: "Two arms"}, `there is a scheme "Two arms" already; give another name`},
		{"the name of the site as it is", &AddScheme{Name: "as it is"},
			`the name "as it is" is kept for the site with nothing designed; give another`},
		{"a scheme that is gone", &RemoveScheme{ID: 77}, "that scheme is not on the site any more; choose another"},
		{"removing the site as it is", &RemoveScheme{ID: plan.AsItIs}, "that scheme is not on the site any more; choose another"},
		{"a site with no name", &Rename{Name: " "}, "the site has no name; give it one"},
		{"no soil", &SetSetting{Setting: plan.Setting{RunDays: exactly(3)}}, "the soil is not given; choose one from the list"},
		{"days out of order", &SetSetting{Setting: runs("loam", geo.Range{Low: 9, Likely: 5, High: 7})},
			"days the drain runs: the range 9, 5, 7 is out of order; give low, likely, high"},
		{"more days than a year has", &SetSetting{Setting: runs("loam", exactly(400))},
			"the drain runs 400 to 400 days a year; give figures from 0 to 366"},
		{"a cover that is none", &SetSetting{Setting: rains(func(s *plan.Setting) { s.Cover = "moon dust" })},
			`the cover of the ground is "moon dust"; give one of: lawn, lawn on sand, lawn on clay, rough grass, planted bed, woodland, bare soil, gravel, brick`},
		{"rain that falls up", &SetSetting{Setting: rains(func(s *plan.Setting) { s.Storm = -1 })},
			"the design storm is -1; give a number from 0 to 2000 mm"},
		{"a storm with no time", &SetSetting{Setting: rains(func(s *plan.Setting) { s.StormHours = 0 })},
			"the length of the storm is 0; give a number from 0.1 to 240 h"},
		{"a year's rain that is no number", &SetSetting{Setting: rains(func(s *plan.Setting) { s.YearRain = math.NaN() })},
			"the rain in a mean year is NaN; give a number from 0 to 30000 mm"},
		{"a survey that errs without end", &SetSetting{Setting: rains(func(s *plan.Setting) { s.SurveyError = math.Inf(1) })},
			"the survey error is +Inf; give a number from 0 to 10 m"},
		{"an error that reaches too far", &SetSetting{Setting: rains(func(s *plan.Setting) { s.SurveyReach = 2000 })},
			"the reach of the error is 2000; give a number from 0 to 1000 m"},
		{"a storm of no known shape", &SetSetting{Setting: rains(func(s *plan.Setting) { s.Distribution = "cloudburst" })},
			`the rain of the storm in time is "cloudburst"; give one of: triangular, even, Huff first quartile, Huff second quartile, Huff third quartile, Huff fourth quartile, NRCS Type I, NRCS Type IA, NRCS Type II, NRCS Type III, own`},
		{"a way of watering that is none", &SetSetting{Setting: rains(func(s *plan.Setting) { s.Irrigation = "prayer" })},
			`the way of watering is "prayer"; give one of: drip, sprinkler, surface`},
		{"a storm's table without end", &SetSetting{Setting: rains(func(s *plan.Setting) { s.StormTable = strings.Repeat("0 ", 2001) })},
			"own table of the storm has 4002 letters; give 4000 at most"},
		{"an aquifer that lets nothing flow the wrong way", &SetSetting{Setting: rains(func(s *plan.Setting) { s.Aquifer.Conductivity = -1 })},
			"the conductivity along the aquifer (0 where not known) is -1; give a number from 0 to 10000 m/day"},
		{"more yield than there is room", &SetSetting{Setting: rains(func(s *plan.Setting) { s.Aquifer.Yield = 0.9 })},
			"the specific yield of the aquifer (0 where not known) is 0.9; give a number from 0 to 0.6"},
		{"clogging that makes a bed quicker", &SetSetting{Setting: rains(func(s *plan.Setting) { s.Clogging.Remains = 2 })},
			"the share of the soaking rate that clogging leaves is 2; give a number from 0 to 1"},
		{"digging that pays", &SetSetting{Setting: rains(func(s *plan.Setting) { s.Costs.Cut = -3 })},
			"the cost of a cubic metre dug is -3; give a number from 0 to 1e+09"},
		{"a limit that is no number", &SetSetting{Setting: rains(func(s *plan.Setting) { s.Limits.Well = math.NaN() })},
			"the least distance of water from a well is NaN; give a number from 0 to 1000 m"},
		{"weather of one day", &SetWeather{Record: weather.Record{First: time.Date(2020, 1, 1, 0, 0, 0, 0, time.UTC), Days: make([]weather.Day, 1)}},
			"the weather: the record has one day only; give one of a year at least"},
		{"no ground", &SetGround{CRS: field().CRS}, "the ground: the grid is 0 by 0 cells; it needs one at least"},
		{"a ground with too few heights", &SetGround{Ground: ragged, CRS: field().CRS},
			"the ground has 1 heights for 2 cells; read it again from its file"},
		{"a ground in degrees", &SetGround{Ground: grid.Parse("1"), CRS: crs.LonLat()},
			"the ground: WGS 84 (EPSG:4326): coordinates are not in metres; choose a metric system such as the local UTM zone"},
		{"a ground elsewhere under a drawn plan", &SetGround{Ground: grid.Parse("1"), CRS: crs.CRS{Code: 32631, Metre: 1}},
			"the ground is in EPSG:32631 and what is drawn is in EPSG:32630; bring the ground to EPSG:32630"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			doc := New(field(), "field.gpkg")
			before := doc.Site()
			err := doc.Do(test.edit)
			if err == nil || err.Error() != test.want {
				t.Errorf("got %v\nwant %s", err, test.want)
			}
			if _, ok := doc.UndoText(); ok || doc.Site() != before || doc.Dirty() {
				t.Error("the refused edit left a mark on the document")
			}
		})
	}
}

func TestEditsThatChangeNothingAreNoStep(t *testing.T) {
	s := field()
	for _, e := range []Edit{
		&Add{}, &Remove{}, &Replace{After: s.Plan.Features[1]},
		&RenameScheme{ID: 2, Name: " Two arms "}, &Rename{Name: s.Name}, &SetSetting{Setting: s.Setting}, &SetWeather{},
	} {
		doc := New(s, "")
		if err := doc.Do(e); err != nil {
			t.Errorf("%T: %v", e, err)
		}
		if text, ok := doc.UndoText(); ok || doc.Dirty() {
			t.Errorf("%T left %q", e, text)
		}
	}
}

func TestRemoveGivesBackThePlaceInTheDrawingOrder(t *testing.T) {
	doc := New(field(), "")
	if err := doc.Do(&Remove{IDs: []plan.ID{4, 1}}); err != nil {
		t.Fatal(err)
	}
	if got, want := order(doc.Site()), []plan.ID{3, 5}; !slices.Equal(got, want) {
		t.Errorf("left %v, want %v", got, want)
	}
	doc.Undo()
	if got, want := order(doc.Site()), []plan.ID{1, 3, 5, 4}; !slices.Equal(got, want) {
		t.Errorf("given back %v, want %v", got, want)
	}
}

func TestRemoveSchemeTakesItsFeaturesAndBringsThemBack(t *testing.T) {
	doc := New(field(), "")
	if err := doc.Do(&RemoveScheme{ID: 2}); err != nil {
		t.Fatal(err)
	}
	if got, want := order(doc.Site()), []plan.ID{1, 5}; !slices.Equal(got, want) {
		t.Errorf("left %v, want %v", got, want)
	}
	if text, _ := doc.UndoText(); text != "Undo remove scheme Two arms" {
		t.Errorf("the menu says %q", text)
	}
	doc.Undo()
	if got := deep(doc.Site()); !sameContent(got, field()) {
		t.Errorf("given back %+v", got.Plan)
	}
}

func TestCopySchemeGivesTheCopiesNumbersOfTheirOwn(t *testing.T) {
	doc := New(field(), "")
	copied := &CopyScheme{Of: 2, Name: "Long loop"}
	if err := doc.Do(copied); err != nil {
		t.Fatal(err)
	}
	doc.Undo()
	doc.Redo()
	if copied.ID != 7 {
		t.Errorf("the scheme is numbered %d, want 7", copied.ID)
	}
	if got, want := order(doc.Site()), []plan.ID{1, 3, 5, 4, 8, 9}; !slices.Equal(got, want) {
		t.Errorf("features %v, want %v", got, want)
	}
	if f, _ := doc.Site().Plan.Find(8); f.Scheme != 7 || f.Name != "North arm" {
		t.Errorf("the copy is %+v", f)
	}
}

// shiftTo is one step of a drag of the well.
func shiftTo(doc *Document, east float64, g Gesture) {
	f, _ := doc.Site().Plan.Find(1)
	doc.Do(&Replace{After: f.At(orb.Point{east, 1}), What: "move Well 1", Gesture: g})
}

func TestMergingOfDrags(t *testing.T) {
	tests := []struct {
		name string
		do   func(*Document, Gesture)
		want []float64 // where the well is after each undo
	}{
		{"one drag is one step", func(d *Document, g Gesture) { shiftTo(d, 2, g); shiftTo(d, 3, g); shiftTo(d, 4, g) },
			[]float64{1}},
		{"two drags are two steps", func(d *Document, g Gesture) { shiftTo(d, 2, g); shiftTo(d, 3, d.Gesture()) },
			[]float64{2, 1}},
		{"edits with no gesture stay apart", func(d *Document, g Gesture) { shiftTo(d, 2, 0); shiftTo(d, 3, 0) },
			[]float64{2, 1}},
		{"a drag that comes back is none", func(d *Document, g Gesture) { shiftTo(d, 2, g); shiftTo(d, 1, g) }, nil},
		{"a drag that comes back and goes on is one", func(d *Document, g Gesture) {
			shiftTo(d, 2, g)
			shiftTo(d, 1, g)
			shiftTo(d, 3, g)
			shiftTo(d, 4, g)
		}, []float64{1}},
		{"a drag that comes back after a save is still none", func(d *Document, g Gesture) {
			shiftTo(d, 2, g)
			d.Saved("f")
			shiftTo(d, 3, g)
			shiftTo(d, 2, g)
			shiftTo(d, 4, g)
		}, []float64{2, 1}},
		{"not across another edit", func(d *Document, g Gesture) { shiftTo(d, 2, g); d.Do(&Rename{Name: "Upper field"}); shiftTo(d, 3, g) },
			[]float64{2, 2, 1}},
		{"not across an undo", func(d *Document, g Gesture) {
			shiftTo(d, 2, g)
			d.Do(&Rename{Name: "Upper field"})
			d.Undo()
			shiftTo(d, 3, g)
		}, []float64{2, 1}},
		{"not across a redo", func(d *Document, g Gesture) { shiftTo(d, 2, g); d.Undo(); d.Redo(); shiftTo(d, 3, g) },
			[]float64{2, 1}},
		{"not across a save", func(d *Document, g Gesture) { shiftTo(d, 2, g); d.Saved("f"); shiftTo(d, 3, g) },
			[]float64{2, 1}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			doc := New(field(), "")
			test.do(doc, doc.Gesture())
			var got []float64
			for {
				if _, ok := doc.UndoText(); !ok {
					break
				}
				doc.Undo()
				f, _ := doc.Site().Plan.Find(1)
				got = append(got, f.Point()[0])
			}
			if !slices.Equal(got, test.want) {
				t.Errorf("undo leads through %v, want %v", got, test.want)
			}
		})
	}
}

func TestAbandonLeavesNoTrace(t *testing.T) {
	doc := New(field(), "")
	doc.Do(&Rename{Name: "Upper field"})
	before, gesture := deep(doc.Site()), doc.Gesture()
	if doc.Abandon(gesture) {
		t.Error("abandoned a drag that had not begun")
	}
	shiftTo(doc, 2, gesture)
	shiftTo(doc, 3, gesture)
	if !doc.Abandon(gesture) || doc.Abandon(gesture) {
		t.Error("a drag is abandoned once")
	}
	if !sameContent(*doc.Site(), before) {
		t.Error("the drag was not given back")
	}
	if text, ok := doc.RedoText(); ok {
		t.Errorf("it can be done again: %q", text)
	}
	if text, _ := doc.UndoText(); text != "Undo rename the site to Upper field" {
		t.Errorf("the menu says %q", text)
	}
}

func TestSavingWhileEditsGoOn(t *testing.T) {
	doc := New(field(), "")
	doc.Do(&Rename{Name: "Upper field"})
	taken := doc.Site()
	doc.Do(&Rename{Name: "Far field"})
	doc.SavedAt("a.gpkg", taken)
	if !doc.Dirty() || doc.Path() != "a.gpkg" {
		t.Error("edits made while the file was written count as saved")
	}
	doc.SavedAt("a.gpkg", doc.Site())
	if doc.Dirty() {
		t.Error("a saved document is dirty")
	}
}

func TestARecoveredSiteIsDirtyUntilSaved(t *testing.T) {
	doc := Recovered(field(), "a.gpkg")
	if !doc.Dirty() {
		t.Error("what a crash left counts as saved")
	}
	doc.Undo()
	doc.Saved("a.gpkg")
	if doc.Dirty() {
		t.Error("dirty after saving")
	}
}

func TestNewNumbersStartAboveThoseInUse(t *testing.T) {
	s := field()
	s.Plan.Last = 0
	add := &Add{Features: []plan.Feature{{Kind: plan.Well, Geometry: orb.Point{}}}}
	if err := New(s, "").Do(add); err != nil {
		t.Fatal(err)
	}
	if add.Features[0].ID != 7 {
		t.Errorf("numbered %d, want 7", add.Features[0].ID)
	}
}

func TestWatchersHearEveryChange(t *testing.T) {
	doc, heard := New(field(), ""), 0
	doc.Watch(func() { heard++ })
	doc.Do(&Rename{Name: "Upper field"})
	doc.Do(&Rename{Name: "Upper field"})
	doc.Do(&Rename{Name: ""})
	doc.Undo()
	doc.Redo()
	doc.Redo()
	doc.Saved("a.gpkg")
	if heard != 4 {
		t.Errorf("heard %d changes, want 4: do, undo, redo, save", heard)
	}
}

func TestSettingsMergeAsDragsDo(t *testing.T) {
	doc := New(field(), "")
	gesture := doc.Gesture()
	for days := range 5 {
		doc.Do(&SetSetting{Setting: runs("clay", exactly(float64(days))), Gesture: gesture})
	}
	doc.Undo()
	if got := doc.Site().Setting; got != plan.UsualSetting() {
		t.Errorf("one undo leads to %+v", got)
	}
	if _, ok := doc.UndoText(); ok {
		t.Error("the drag is more than one step")
	}
}

// One goroutine edits, others read what they took; run with -race.
func TestSnapshotsAreReadWhileEditing(t *testing.T) {
	doc := New(field(), "")
	var readers sync.WaitGroup
	stop := make(chan struct{})
	for range 2 {
		readers.Go(func() {
			for {
				select {
				case <-stop:
					return
				default:
					s := doc.Site()
					plan.NewIndex(s.Plan.In(2)).Hit(orb.Point{1, 1}, 3)
					deep(s)
				}
			}
		})
	}
	gesture := doc.Gesture()
	for i := range 2000 {
		shiftTo(doc, float64(i+2), gesture)
		if i%50 == 0 {
			doc.Do(&CopyScheme{Of: 2, Name: NextSchemeName(doc.Site(), "Scheme %s")})
			doc.Undo()
		}
	}
	close(stop)
	readers.Wait()
}

// exactly returns the range whose three figures are all v.
// runs is the usual setting with another soil and other days.
func runs(soil string, days geo.Range) plan.Setting {
	s := plan.UsualSetting()
	s.Soil, s.RunDays = soil, days
	return s
}

// rains is the usual setting after a change.
func rains(change func(*plan.Setting)) plan.Setting {
	s := plan.UsualSetting()
	change(&s)
	return s
}

func exactly(v float64) geo.Range { return geo.Range{Low: v, Likely: v, High: v} }
