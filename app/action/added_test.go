package action

import (
	"fmt"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// lineAt is a drawing of one line of 10 m per name, in the demo site's own
// coordinates, from a point east and north of the ground's middle [m].
func lineAt(t *testing.T, east, north float64, names ...string) string {
	t.Helper()
	c := made().Ground.Bound().Center()
	table := "name,WKT\n"
	for _, name := range names {
		table += fmt.Sprintf("%s,\"LINESTRING (%f %f, %f %f)\"\n", name, c[0]+east, c[1]+north, c[0]+east+10, c[1]+north)
	}
	return text(t, "lines.csv", table)
}

func TestWhatIsAddedIsCountedAndNamedWithItsScheme(t *testing.T) {
	path := siteFile(t)
	for _, c := range []struct {
		want string
		args []string
	}{
		{"runnel: added 1 roof to the site as it is\n", []string{drawing(t), "--as", "roof"}},
		{"runnel: added 1 boundary to the site as it is\n", []string{drawing(t), "--as", "boundary"}},
		{"runnel: added 2 paths to the scheme Third way\n", []string{lineAt(t, 0, 0, "a", "b"), "--as", "path", "--scheme", "Third way"}},
	} {
		r := run(append([]string{"add", path}, c.args...)...)
		if r.status != done || !strings.HasSuffix(r.err, c.want) {
			t.Errorf("status %d, %q, want %q", r.status, r.err, c.want)
		}
	}
}

func TestWhatLiesOffTheGroundIsToldOf(t *testing.T) {
	path := siteFile(t)
	b := made().Ground.Bound()
	r := run("add", path, lineAt(t, b.Max[0]-b.Center()[0]+1000, 0, "far"), "--as", "channel", "--scheme", "A")
	for _, want := range []string{"added 1 channel to the scheme A", "the channel lies off the ground, 1.0 km from it", "lies outside the ground; move it"} {
		if r.status != done || !strings.Contains(r.err, want) {
			t.Errorf("status %d, %q, want %q", r.status, r.err, want)
		}
	}
	r = run("add", path, lineAt(t, 0, 0, "near"), "--as", "channel", "--scheme", "B")
	if strings.Contains(r.err, "off the ground") {
		t.Errorf("a channel on the ground: %q", r.err)
	}
	degrees := text(t, "points.csv", "x,y\n10,10\n11,12\n")
	r = run("add", path, degrees, "--as", "tree")
	if r.status != done || !strings.Contains(r.err, "all 2 trees lie off the ground") || !strings.Contains(r.err, "look like longitude and latitude") {
		t.Errorf("status %d, %q", r.status, r.err)
	}
}

func TestSomeOfManyOffTheGroundAreCounted(t *testing.T) {
	site := made()
	in, out := orb.Geometry(site.Ground.Bound().Center()), orb.Geometry(orb.Point{site.Ground.Bound().Max[0] + 30, site.Ground.Bound().Max[1] + 40})
	for want, shapes := range map[string][]orb.Geometry{
		"1 of the 3 trees lies off the ground, 50 m from it":  {in, out, in},
		"2 of the 3 trees lie off the ground, the nearest 50": {in, out, out},
		"": {in, in},
	} {
		var trees []plan.Feature
		for _, g := range shapes {
			trees = append(trees, plan.Feature{Kind: plan.Tree, Geometry: g})
		}
		if got := offGround(&site, trees); !strings.HasPrefix(got, want) || (want == "") != (got == "") {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

func TestTheGroundsRectangleSettlesWhatLiesOffIt(t *testing.T) {
	site := made()
	b := site.Ground.Bound()
	far := b.Pad(50)
	for _, c := range []struct {
		name string
		g    orb.Geometry
		off  bool
	}{
		{"an area around the whole ground", far.ToPolygon(), false},
		{"a line right across, its points outside", orb.LineString{far.Min, far.Max}, false},
		{"a line past a corner", orb.LineString{{far.Min[0], b.Min[1] + 10}, {b.Min[0] + 10, far.Min[1] - 200}}, true},
		{"a point outside", far.Min, true},
	} {
		if got := offGround(&site, []plan.Feature{{Kind: plan.Path, Geometry: c.g}}) != ""; got != c.off {
			t.Errorf("%s: off is %v", c.name, got)
		}
	}
}

func TestWhatCannotBeTakenIsSaidOnce(t *testing.T) {
	path := siteFile(t)
	r := run("add", path, lineAt(t, 0, 0, "open"), "--as", "island", "--scheme", "A")
	if r.status != failed || strings.Count(r.err, "left out") != 1 || !strings.Contains(r.err, "nothing that can be an island") {
		t.Errorf("status %d, %q", r.status, r.err)
	}
	if r = run("add", path, drawing(t), "--as", "island"); !strings.Contains(r.err, "an island is part of a design") {
		t.Errorf("%q", r.err)
	}
}

func TestManySentencesAreCounted(t *testing.T) {
	var err strings.Builder
	tellAll(Streams{Err: &err}, make([]string, mostTold+7))
	if lines := strings.Count(err.String(), "\n"); lines != mostTold+1 || !strings.Contains(err.String(), "7 more like these") {
		t.Errorf("%d lines: %q", lines, err.String())
	}
}
