package view

import (
	"context"
	"image"
	"image/png"
	"os"
	"testing"

	"github.com/paulmach/orb"

	"runnel/geo/grid"
	"runnel/geo/plan"
	"runnel/geo/survey"
)

// patched is the bare ground of a small site, parts of which were worked out.
func patched(t *testing.T, patches ...survey.Patch) *Scene {
	t.Helper()
	g := grid.New[float32](grid.Square(60, 40, 0, 40, 1))
	for i := range g.V {
		x, y := float64(i%60), float64(i/60)
		g.V[i] = float32(10 + 0.05*x - 0.08*y + 0.002*(x-30)*(x-30))
	}
	g.V[3*60+50] = grid.NoData
	s, err := FirstLook(context.Background(), &plan.Site{Ground: g, Survey: survey.Survey{Patches: patches}}, plan.AsItIs)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func house() survey.Patch {
	return survey.Patch{Outline: orb.Polygon{{{10, 10}, {30, 10}, {30, 30}, {10, 30}, {10, 10}}, {{16, 16}, {16, 22}, {22, 22}, {22, 16}, {16, 16}}}, Why: survey.Building}
}

func TestGroundThatWasWorkedOutIsHatched(t *testing.T) {
	c := Camera{West: 0, North: 40, Scale: 8}
	for name, p := range looks() {
		bare, err := Draw(context.Background(), patched(t), c, 480, 320, p)
		if err != nil {
			t.Fatal(err)
		}
		hatched, err := Draw(context.Background(), patched(t, house()), c, 480, 320, p)
		if err != nil {
			t.Fatal(err)
		}
		look(t, "patch-"+name, hatched)
		inside, outside, island := 0, 0, 0
		for y := range 320 {
			for x := range 480 {
				if hatched.RGBAAt(x, y) == bare.RGBAAt(x, y) {
					continue
				}
				switch at := c.ToGround(float64(x)+0.5, float64(y)+0.5); {
				case within4(at, 9.8, 30.2) && !within4(at, 16.2, 21.8):
					inside++
				case within4(at, 16.2, 21.8):
					island++
				default:
					outside++
				}
			}
		}
		if inside < 2000 || outside > 0 || island > 0 {
			t.Errorf("%s: %d pixels differ inside, %d outside, %d in the island", name, inside, outside, island)
		}
	}
}

func within4(p orb.Point, low, high float64) bool {
	return p[0] > low && p[0] < high && p[1] > low && p[1] < high
}

// look writes a picture where a person wants to look at it.
func look(t *testing.T, name string, img image.Image) {
	t.Helper()
	dir := os.Getenv("LOOK")
	if dir == "" {
		return
	}
	f, err := os.Create(dir + "/" + name + ".png")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
}

func TestTheLegendTellsWhatWasWorkedOut(t *testing.T) {
	words := func(s *Scene) (found bool) {
		for _, e := range s.Legend(Camera{Scale: 1}) {
			found = found || e.Text() == "Ground worked out, not measured"
		}
		return found
	}
	if s := patched(t, house()); !words(s) {
		t.Error("the legend says nothing of the patch")
	}
	if words(patched(t)) {
		t.Error("the legend tells of a patch that there is not")
	}
}

func TestTilesAreDrawnAnewForAPatch(t *testing.T) {
	s := patched(t)
	site := *s.Site
	site.Survey.Patches = []survey.Patch{house()}
	other := *s
	other.Site = &site
	if newPlate(s).imprint(Light()) == newPlate(&other).imprint(Light()) {
		t.Error("a map with a patch is taken for the one without")
	}
}
