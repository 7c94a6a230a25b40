package site

import (
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"runnel/geo/grid"
	"runnel/geo/plan"
	"runnel/geo/survey"
	"runnel/geo/weather"
)

// deep copies a site so that nothing is shared with it.
func deep(s *plan.Site) plan.Site {
	c := s.Clone()
	c.Ground = s.Ground.Clone()
	c.Weather.Days = slices.Clone(s.Weather.Days)
	c.Survey.Spots, c.Survey.Patches = slices.Clone(s.Survey.Spots), slices.Clone(s.Survey.Patches)
	for i, f := range c.Plan.Features {
		c.Plan.Features[i].Geometry, c.Plan.Features[i].Fields = orb.Clone(f.Geometry), maps.Clone(f.Fields)
		c.Plan.Features[i].Knots = slices.Clone(f.Knots)
	}
	return c
}

// content is a site without what an undo does not give back: the count of
// numbers given, and whether an empty list has memory.
func content(s plan.Site) plan.Site {
	s.Plan.Last = 0
	if len(s.Plan.Features) == 0 {
		s.Plan.Features = nil
	}
	if len(s.Plan.Schemes) == 0 {
		s.Plan.Schemes = nil
	}
	return s
}

func sameContent(a, b plan.Site) bool { return reflect.DeepEqual(content(a), content(b)) }

// history is what the tests know of a document: the site after every edit.
type history struct {
	doc    *Document
	states []plan.Site
	at     int
	saved  int
	last   int64
	taken  []*plan.Site
	copies []plan.Site
}

func newHistory(s plan.Site) *history {
	h := &history{doc: New(s, "")}
	h.states = []plan.Site{deep(h.doc.Site())}
	h.take()
	return h
}

// take keeps a pointer to the site and a copy to hold it against.
func (h *history) take() {
	h.taken = append(h.taken, h.doc.Site())
	h.copies = append(h.copies, deep(h.doc.Site()))
}

// note records what came of one edit, or of one drag; before is the site that
// it was made to.
func (h *history) note(before *plan.Site) {
	if h.doc.Site() == before {
		return
	}
	if h.saved > h.at {
		h.saved = -1
	}
	h.at++
	h.states = append(h.states[:h.at], deep(h.doc.Site()))
	h.take()
}

// dropIdle takes back the step of a drag from before that has come back to it.
func (h *history) dropIdle(before *plan.Site) {
	if h.doc.Site() != before && sameContent(*h.doc.Site(), *before) {
		h.at--
		h.states = h.states[:h.at+1]
	}
}

func (h *history) check(t *rapid.T) {
	if !sameContent(*h.doc.Site(), h.states[h.at]) {
		t.Fatalf("after %d edits the site is\n%+v\nwant\n%+v", h.at, h.doc.Site().Plan, h.states[h.at].Plan)
	}
	if dirty := h.saved != h.at; h.doc.Dirty() != dirty {
		t.Fatalf("dirty is %v at edit %d, saved at %d", h.doc.Dirty(), h.at, h.saved)
	}
	_, canUndo := h.doc.UndoText()
	_, canRedo := h.doc.RedoText()
	if canUndo != (h.at > 0) || canRedo != (h.at < len(h.states)-1) {
		t.Fatalf("undo %v and redo %v at edit %d of %d", canUndo, canRedo, h.at, len(h.states)-1)
	}
	h.checkNumbers(t)
}

// checkNumbers holds the law of numbers: each is given once, none is above Last.
func (h *history) checkNumbers(t *rapid.T) {
	p := h.doc.Site().Plan
	if p.Last < h.last {
		t.Fatalf("the last number fell from %d to %d", h.last, p.Last)
	}
	h.last = p.Last
	seen := map[int64]bool{}
	for _, f := range p.Features {
		if seen[int64(f.ID)] || int64(f.ID) > p.Last || f.ID == 0 {
			t.Fatalf("feature number %d is given twice, or is above the last, %d", f.ID, p.Last)
		}
		seen[int64(f.ID)] = true
	}
}

func (h *history) checkSnapshots(t *rapid.T) {
	for i, s := range h.taken {
		if !reflect.DeepEqual(*s, h.copies[i]) {
			t.Fatalf("a site taken after edit %d has changed since", i)
		}
	}
}

func start() plan.Site {
	return plan.Site{Name: "Lower field", Ground: grid.Parse("3 2", "2 1"), Setting: plan.UsualSetting()}
}

func position(t *rapid.T) orb.Point {
	return orb.Point{float64(rapid.IntRange(-50, 50).Draw(t, "east")), float64(rapid.IntRange(-50, 50).Draw(t, "north"))}
}

func geometry(t *rapid.T, shape plan.Shape) orb.Geometry {
	p := position(t)
	switch shape {
	case plan.PointShape:
		return p
	case plan.LineShape:
		return orb.LineString{p, {p[0] + 5, p[1]}, {p[0] + 5, p[1] + 3}}
	}
	return orb.Polygon{{p, {p[0] + 4, p[1]}, {p[0], p[1] + 4}, p}}
}

func feature(t *rapid.T, s *plan.Site) plan.Feature {
	spec := rapid.SampledFrom(plan.Specs()).Draw(t, "kind")
	f := plan.Feature{Kind: spec.Kind, Name: rapid.SampledFrom([]string{"", "North arm"}).Draw(t, "name"), Geometry: geometry(t, spec.Shape)}
	if spec.InScheme {
		f.Scheme = scheme(t, s)
	}
	return f
}

// scheme is one of the site's, or one that it does not have.
func scheme(t *rapid.T, s *plan.Site) plan.SchemeID {
	ids := []plan.SchemeID{plan.AsItIs, 9999}
	for _, c := range s.Plan.Schemes {
		ids = append(ids, c.ID, c.ID, c.ID)
	}
	return rapid.SampledFrom(ids).Draw(t, "scheme")
}

func known(t *rapid.T, s *plan.Site) plan.ID {
	ids := []plan.ID{9999}
	for _, f := range s.Plan.Features {
		ids = append(ids, f.ID, f.ID, f.ID)
	}
	return rapid.SampledFrom(ids).Draw(t, "feature")
}

func replacement(t *rapid.T, s *plan.Site, id plan.ID, g Gesture) *Replace {
	f, ok := s.Plan.Find(id)
	if !ok {
		return &Replace{After: plan.Feature{ID: id, Kind: plan.Well, Geometry: orb.Point{}}, Gesture: g}
	}
	return &Replace{After: f.At(geometry(t, plan.SpecOf(f.Kind).Shape)), Gesture: g}
}

// alteration changes several features, one of them into a curve where it can be.
func alteration(t *rapid.T, s *plan.Site) *Alter {
	e := &Alter{}
	for _, id := range slices.Compact([]plan.ID{known(t, s), known(t, s)}) {
		f := replacement(t, s, id, 0).After
		if rapid.Bool().Draw(t, "smooth") {
			f = f.Smooth()
		}
		e.After = append(e.After, f)
	}
	return e
}

var names = []string{"", "Wide bend", "wide bend ", "Two arms", "As it is", "Long loop"}

// edits make any edit for a site, sound or not.
var edits = []func(*rapid.T, *plan.Site) Edit{
	func(t *rapid.T, s *plan.Site) Edit {
		var all []plan.Feature
		for range rapid.IntRange(0, 3).Draw(t, "count") {
			all = append(all, feature(t, s))
		}
		return &Add{Features: all}
	},
	func(t *rapid.T, s *plan.Site) Edit { return &Add{Features: []plan.Feature{feature(t, s)}} },
	func(t *rapid.T, s *plan.Site) Edit {
		return &Import{Add: Add{Features: []plan.Feature{feature(t, s), feature(t, s)}}, From: "survey.gpkg"}
	},
	func(t *rapid.T, s *plan.Site) Edit { return &Remove{IDs: []plan.ID{known(t, s), known(t, s)}} },
	func(t *rapid.T, s *plan.Site) Edit { return replacement(t, s, known(t, s), 0) },
	func(t *rapid.T, s *plan.Site) Edit { return alteration(t, s) },
	func(t *rapid.T, s *plan.Site) Edit {
		return &Duplicate{Add: Add{Features: []plan.Feature{feature(t, s), feature(t, s)}}, Of: "2 things"}
	},
	func(t *rapid.T, s *plan.Site) Edit { return &AddScheme{Name: NextSchemeName(s, "Scheme %s")} },
	func(t *rapid.T, s *plan.Site) Edit { return &AddScheme{Name: rapid.SampledFrom(names).Draw(t, "name")} },
	func(t *rapid.T, s *plan.Site) Edit {
		return &CopyScheme{Of: scheme(t, s), Name: NextSchemeName(s, "Scheme %s")}
	},
	func(t *rapid.T, s *plan.Site) Edit {
		return &RenameScheme{ID: scheme(t, s), Name: rapid.SampledFrom(names).Draw(t, "name")}
	},
	func(t *rapid.T, s *plan.Site) Edit { return &RemoveScheme{ID: scheme(t, s)} },
	func(t *rapid.T, s *plan.Site) Edit { return &Rename{Name: rapid.SampledFrom(names).Draw(t, "name")} },
	func(t *rapid.T, s *plan.Site) Edit {
		days := float64(rapid.IntRange(-1, 400).Draw(t, "days"))
		return &SetSetting{Setting: runs("clay", exactly(days))}
	},
	func(t *rapid.T, s *plan.Site) Edit { return &SetWeather{Record: days(t)} },
	func(t *rapid.T, s *plan.Site) Edit {
		e := &SetGround{Ground: grid.Parse(fmt.Sprint(rapid.IntRange(0, 9).Draw(t, "height"))), Survey: shots(t)}
		for range rapid.IntRange(0, 2).Draw(t, "drawn") {
			e.Drawn.Features = append(e.Drawn.Features, feature(t, s))
		}
		return e
	},
	func(t *rapid.T, s *plan.Site) Edit {
		mended := s.Ground.Clone()
		for i := range mended.V {
			mended.V[i] += float32(rapid.IntRange(0, 2).Draw(t, "rise"))
		}
		return &MendGround{Of: s.Ground, Ground: mended, Patches: make([]survey.Patch, rapid.IntRange(0, 2).Draw(t, "patches"))}
	},
}

// days is a record of some days; one of a single day is refused.
func days(t *rapid.T) weather.Record {
	r := weather.Record{First: time.Date(2020, 2, 28, 0, 0, 0, 0, time.UTC)}
	for range rapid.IntRange(0, 3).Draw(t, "days") {
		r.Days = append(r.Days, weather.Day{Rain: float64(rapid.IntRange(0, 9).Draw(t, "rain"))})
	}
	return r
}

// shots is a survey of some spots.
func shots(t *rapid.T) survey.Survey {
	s := survey.Survey{Sources: []survey.Source{{Name: "shots.csv", Form: survey.Points}}}
	for range rapid.IntRange(0, 2).Draw(t, "spots") {
		s.Spots = append(s.Spots, survey.Spot{Z: float64(rapid.IntRange(0, 9).Draw(t, "z")), Code: -1})
	}
	s.Quality.Error = float64(rapid.IntRange(0, 2).Draw(t, "error"))
	return s
}

func TestHistoryLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := newHistory(start())
		t.Repeat(map[string]func(*rapid.T){
			"do": func(t *rapid.T) {
				before := h.doc.Site()
				err := h.doc.Do(rapid.SampledFrom(edits).Draw(t, "edit")(t, before))
				if err != nil && h.doc.Site() != before {
					t.Fatalf("refused with %v, and yet the site changed", err)
				}
				h.note(before)
			},
			"drag": func(t *rapid.T) {
				before, gesture := h.doc.Site(), h.doc.Gesture()
				id := known(t, before)
				for range rapid.IntRange(1, 5).Draw(t, "steps") {
					h.doc.Do(replacement(t, h.doc.Site(), id, gesture))
					h.taken, h.copies = append(h.taken, h.doc.Site()), append(h.copies, deep(h.doc.Site()))
				}
				h.note(before)
				h.dropIdle(before)
			},
			"undo": func(t *rapid.T) {
				h.doc.Undo()
				h.at = max(0, h.at-1)
			},
			"redo": func(t *rapid.T) {
				h.doc.Redo()
				h.at = min(len(h.states)-1, h.at+1)
			},
			"save": func(t *rapid.T) {
				h.doc.Saved("field.gpkg")
				h.saved = h.at
			},
			"": h.check,
		})
		h.checkSnapshots(t)
	})
}

func TestUndoAllThenRedoAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := newHistory(start())
		for range rapid.IntRange(0, 40).Draw(t, "edits") {
			before := h.doc.Site()
			h.doc.Do(rapid.SampledFrom(edits).Draw(t, "edit")(t, before))
			h.note(before)
		}
		for ; h.at > 0; h.at-- {
			h.doc.Undo()
			h.states[h.at-1].Plan.Last = h.doc.Site().Plan.Last
			if !sameContent(*h.doc.Site(), h.states[h.at-1]) {
				t.Fatalf("undo of edit %d does not give back what was before it", h.at)
			}
		}
		for h.at < len(h.states)-1 {
			h.doc.Redo()
			h.at++
			h.check(t)
		}
	})
}

// What a caller does to its own slices and maps after an edit is no edit.
func TestEditsOwnWhatTheyAreGiven(t *testing.T) {
	line := orb.LineString{{0, 0}, {9, 0}}
	fields := map[string]plan.Value{"depth": {Number: 0.5}}
	features := []plan.Feature{{Kind: plan.Drain, Geometry: line, Fields: fields}}
	doc := New(start(), "")
	if err := doc.Do(&Add{Features: features}); err != nil {
		t.Fatal(err)
	}
	line[1], fields["depth"], features[0].Name = orb.Point{0, 0}, plan.Value{Number: -3}, "spoilt"
	f := doc.Site().Plan.Features[0]
	if f.Line()[1] != (orb.Point{9, 0}) || f.Num("depth") != 0.5 || f.Name != "" {
		t.Errorf("the site holds %+v; it followed its giver's slices", f)
	}
}

// The names of edits stand in a menu: one line, no capital, never empty.
func TestEveryEditHasAMenuText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		doc := New(start(), "")
		for range 10 {
			doc.Do(rapid.SampledFrom(edits).Draw(t, "edit")(t, doc.Site()))
		}
		for {
			text, ok := doc.UndoText()
			if !ok {
				break
			}
			rest, _ := strings.CutPrefix(text, "Undo ")
			if rest == "" || strings.ContainsAny(rest, "\n%") || strings.ToLower(rest[:1]) != rest[:1] {
				t.Fatalf("the menu says %q", text)
			}
			doc.Undo()
		}
	})
}
