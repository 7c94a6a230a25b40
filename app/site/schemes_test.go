package site

import (
	"reflect"
	"testing"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

func TestFilledSchemesAreOneStep(t *testing.T) {
	channel := plan.Feature{Kind: plan.Channel, Name: "Course", Geometry: orb.LineString{{1, 1}, {9, 4}}}
	s := plan.Site{Setting: plan.UsualSetting()}
	s.Plan.Schemes, s.Plan.Last = []plan.Scheme{{ID: 1, Name: "Proposal 1"}}, 1
	d := New(s, "")
	before := *d.Site()
	e := &AddSchemes{Schemes: []Filled{{Name: "Proposal 2", Features: []plan.Feature{channel, channel}}, {Name: "Proposal 3", Features: []plan.Feature{channel}}}, What: "add 2 proposals"}
	if err := d.Do(e); err != nil {
		t.Fatal(err)
	}
	p := d.Site().Plan
	if len(p.Schemes) != 3 || len(p.Features) != 3 || len(p.Of(plan.Channel, e.Schemes[0].ID)) != 2 || len(p.Of(plan.Channel, e.Schemes[1].ID)) != 1 {
		t.Fatalf("%d schemes with %d features", len(p.Schemes), len(p.Features))
	}
	seen := map[plan.ID]bool{}
	for _, f := range p.Features {
		if f.ID == 0 || seen[f.ID] {
			t.Errorf("%s has the number %d", f.Title(), f.ID)
		}
		seen[f.ID] = true
	}
	if text, _ := d.UndoText(); text != "Undo add 2 proposals" {
		t.Errorf("the menu says %q", text)
	}
	after := *d.Site()
	d.Undo()
	if now := d.Site().Plan; !reflect.DeepEqual(now.Schemes, before.Plan.Schemes) || len(now.Features) != 0 {
		t.Errorf("one undo leaves %+v", now)
	}
	d.Redo()
	if !reflect.DeepEqual(*d.Site(), after) {
		t.Error("a redo makes something else")
	}
}

func TestFilledSchemesThatCannotBeMadeLeaveAllAsItWas(t *testing.T) {
	d := New(plan.Site{Setting: plan.UsualSetting()}, "")
	point := plan.Feature{Kind: plan.Channel, Geometry: orb.Point{1, 1}}
	for _, schemes := range [][]Filled{
		{{Name: "A"}, {Name: "a"}},
		{{Name: "A"}, {Name: "B", Features: []plan.Feature{point}}},
	} {
		if err := d.Do(&AddSchemes{Schemes: schemes}); err == nil || len(d.Site().Plan.Schemes) != 0 || d.Site().Plan.Last != 0 {
			t.Errorf("%v; %d schemes", err, len(d.Site().Plan.Schemes))
		}
	}
}
