package flow_test

import (
	"context"
	"math/rand/v2"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"runnel/analysis/flow"
	"runnel/analysis/synthetic"
	"runnel/geo/grid"
	"runnel/geo/scratch"
)

func TestOnDiskInStripsOfAFewRowsTheAnswerIsThatInMemory(t *testing.T) {
	dir := t.TempDir()
	rapid.Check(t, func(t *rapid.T) {
		ground := grounds().Draw(t, "ground")
		inlets := inletsOf(t, ground)
		want, err := flow.NewRouter(0, 2).Route(context.Background(), ground, flow.Options{Inlets: inlets})
		if err != nil {
			t.Fatal(err)
		}
		space := scratch.New(dir)
		defer space.Close()
		rows := rapid.IntRange(1, 3).Draw(t, "rows")
		got, err := flow.NewWideRouter(rows, rapid.IntRange(1, 3).Draw(t, "workers")).Route(context.Background(), ground, flow.Options{Inlets: inlets, Space: space})
		if err != nil {
			t.Fatal(err)
		}
		if problem := differs(got, want); problem != "" {
			t.Fatalf("%s on disk\n%s", problem, grid.Print(ground))
		}
	})
}

func TestOnDiskASiteIsRoutedAsInMemory(t *testing.T) {
	for _, ground := range []grid.Ground{synthetic.Site(300, 400, 3), synthetic.Rounded(synthetic.Site(300, 400, 4))} {
		want, err := flow.Route(context.Background(), ground, flow.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for name, router := range map[string]*flow.Router{
			"in strips of 3 rows": flow.NewRouter(3, 2), "counted wide": flow.NewWideRouter(16, 2), "as usual": flow.NewRouter(0, 2),
		} {
			space := scratch.New(t.TempDir())
			got, err := router.Route(context.Background(), ground, flow.Options{Space: space})
			if err != nil {
				t.Fatal(err)
			}
			if problem := differs(got, want); problem != "" {
				t.Errorf("%s: %s", name, problem)
			}
			space.Close()
		}
	}
}

func TestARouterMayGoFromMemoryToDiskAndBack(t *testing.T) {
	ground := synthetic.Site(60, 50, 3)
	ground.V[rand.IntN(ground.Len())] = grid.NoData
	want, err := flow.Route(context.Background(), ground, flow.Options{})
	if err != nil {
		t.Fatal(err)
	}
	space := scratch.New(t.TempDir())
	router := new(flow.Router)
	for _, s := range []*scratch.Space{nil, space, nil} {
		got, err := router.Route(context.Background(), ground, flow.Options{Space: s})
		if err != nil {
			t.Fatal(err)
		}
		if problem := differs(got, want); problem != "" {
			t.Error(problem)
		}
		s.Close()
	}
}

func TestAFolderThatIsGoneIsOneSentence(t *testing.T) {
	_, err := flow.Route(context.Background(), synthetic.Site(9, 9, 1), flow.Options{Space: scratch.New(t.TempDir() + "/none")})
	if err == nil || !strings.Contains(err.Error(), "no file can be made") {
		t.Errorf("%v", err)
	}
}
