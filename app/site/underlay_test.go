package site

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"runnel/geo/crs"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

func image(name string) plan.Underlay {
	return plan.Underlay{Name: name, Opacity: 1, Frame: grid.Square(4, 2, 0, 2, 1), Picture: &plan.Picture{TileW: 4, TileH: 2, Tiles: make([][]byte, 1)}}
}

func underlaid(s *plan.Site) (list []string) {
	for _, u := range s.Underlays {
		list = append(list, u.Name)
	}
	return list
}

func TestImagesAreLaidChangedAndRemovedWithNames(t *testing.T) {
	d := New(plan.Site{Name: "Verge", Plan: plan.Plan{Last: 4}}, "")
	do := func(e Edit, undo string) {
		t.Helper()
		if err := d.Do(e); err != nil {
			t.Fatal(err)
		}
		if text, _ := d.UndoText(); text != undo {
			t.Errorf("the menu says %q, want %q", text, undo)
		}
	}
	states := []*plan.Site{d.Site()}
	for _, step := range []struct {
		edit func() Edit
		undo string
	}{
		{func() Edit { return &AddUnderlay{image("orchard.tif")} }, "Undo lay orchard.tif under the map"},
		{func() Edit { return &AddUnderlay{image("old.png")} }, "Undo lay old.png under the map"},
		{func() Edit {
			u := d.Site().Underlays[0]
			u.Opacity, u.Picture = 0.4, nil // what no change is of stays
			return &ChangeUnderlay{After: u}
		}, "Undo change the opacity of orchard.tif"},
		{func() Edit {
			u := d.Site().Underlays[0]
			u.Hidden = true
			return &ChangeUnderlay{After: u}
		}, "Undo hide orchard.tif"},
		{func() Edit {
			u := d.Site().Underlays[0]
			u.Hidden = false
			return &ChangeUnderlay{After: u}
		}, "Undo show orchard.tif under the map"},
		{func() Edit {
			u := d.Site().Underlays[0]
			u.Name = " Orchard "
			return &ChangeUnderlay{After: u}
		}, "Undo rename orchard.tif to Orchard"},
		{func() Edit { return &RemoveUnderlay{ID: d.Site().Underlays[0].ID} }, "Undo remove Orchard from under the map"},
	} {
		do(step.edit(), step.undo)
		states = append(states, d.Site())
	}
	if last := d.Site(); !slices.Equal(underlaid(last), []string{"old.png"}) || last.Underlays[0].ID != 6 || last.Underlays[0].Picture == nil {
		t.Errorf("what is left is %+v", last.Underlays)
	}
	for i := len(states) - 2; i >= 0; i-- {
		d.Undo()
		if got, want := d.Site().Underlays, states[i].Underlays; len(got) != len(want) || len(got) > 0 && !reflect.DeepEqual(got, want) {
			t.Errorf("undone to %d it is %+v, want %+v", i, got, want)
		}
	}
	for range len(states) - 1 {
		d.Redo()
	}
	if !reflect.DeepEqual(d.Site().Underlays, states[len(states)-1].Underlays) {
		t.Errorf("done again it is %+v", d.Site().Underlays)
	}
}

func TestOneDragOfTheOpacityIsOneStep(t *testing.T) {
	d := New(plan.Site{}, "")
	if err := d.Do(&AddUnderlay{image("a")}); err != nil {
		t.Fatal(err)
	}
	drag := func(to ...float64) {
		g := d.Gesture()
		for _, v := range to {
			u := d.Site().Underlays[0]
			u.Opacity = v
			if err := d.Do(&ChangeUnderlay{After: u, Gesture: g}); err != nil {
				t.Fatal(err)
			}
		}
	}
	drag(0.9, 0.5, 0.2)
	drag(0.3, 0.6, 0.2) // and back again: no step
	d.Undo()
	if got := d.Site().Underlays[0].Opacity; got != 1 {
		t.Errorf("the opacity is %v, want 1", got)
	}
	d.Undo()
	if len(d.Site().Underlays) != 0 {
		t.Error("the image is still there")
	}
}

func TestImagesThatCannotBeAreRefused(t *testing.T) {
	d := New(plan.Site{CRS: crs.CRS{Code: 32610, Metre: 1}}, "")
	for range plan.MostUnderlays {
		if err := d.Do(&AddUnderlay{image("a")}); err != nil {
			t.Fatal(err)
		}
	}
	nameless, dark := d.Site().Underlays[0], d.Site().Underlays[0]
	nameless.Name, dark.Opacity = " ", -0.1
	ground := grid.New[float32](grid.Square(2, 2, 0, 2, 1))
	for want, e := range map[string]Edit{
		"remove one first":               &AddUnderlay{image("b")},
		"give it one":                    &ChangeUnderlay{After: nameless},
		"give 0 to 100 %":                &ChangeUnderlay{After: dark},
		"not under the map any more":     &RemoveUnderlay{ID: 99},
		"or remove the images":           &SetGround{Ground: ground, CRS: crs.CRS{Code: 32611, Metre: 1}},
		"the image is not under the map": &ChangeUnderlay{After: image("c")},
	} {
		before := d.Site()
		if err := d.Do(e); err == nil || !strings.Contains(err.Error(), want) || d.Site() != before {
			t.Errorf("%v, want %q", err, want)
		}
	}
}
