package action

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"runnel/analysis/synthetic"
	"runnel/geo/grid"
)

// The ground has three strips, each of which hands water on to the next.
func TestOnDiskTheSameFilesAreWrittenAsInMemory(t *testing.T) {
	for _, g := range []grid.Ground{synthetic.Site(60, 700, 9), synthetic.Rounded(synthetic.Site(60, 700, 9))} {
		for i := 300; i < g.Len(); i += 501 {
			g.V[i] = grid.NoData
		}
		path := raster(t, g, utm, 1)
		inMemory, onDisk := t.TempDir(), t.TempDir()
		must(t, "water", path, inMemory, "--depth", "0.02")
		must(t, "water", path, onDisk, "--depth", "0.02", "--scratch")
		if n := len(hollowsIn(t, inMemory).Features); n < 20 {
			t.Errorf("%d hollows are written", n)
		}
		for _, name := range []string{"filled.tif", "area.tif", "bearing.tif", "hollows.geojson"} {
			want, err := os.ReadFile(filepath.Join(inMemory, name))
			if err != nil {
				t.Fatal(err)
			}
			if got, _ := os.ReadFile(filepath.Join(onDisk, name)); !bytes.Equal(got, want) {
				t.Errorf("%s differs", name)
			}
		}
		var left []string
		files, _ := os.ReadDir(onDisk)
		for _, f := range files {
			left = append(left, f.Name())
		}
		if want := []string{"area.tif", "bearing.tif", "filled.tif", "hollows.geojson", "water.json"}; !slices.Equal(left, want) {
			t.Errorf("the folder holds %v", left)
		}
	}
}

func TestOnlyHollowsOfTheLeastMeasuresAreWritten(t *testing.T) {
	path := raster(t, pond, utm, 2) // a hollow of 2 m, 8 m² and 12 m³
	for _, c := range []struct {
		flag, least string
		want        int
	}{{"--depth", "1.9", 1}, {"--depth", "2.1", 0}, {"--area", "7.9", 1}, {"--area", "8.1", 0}, {"--volume", "11.9", 1}, {"--volume", "12.1", 0}} {
		dir := t.TempDir()
		must(t, "water", path, dir, c.flag, c.least)
		if n := len(hollowsIn(t, dir).Features); n != c.want {
			t.Errorf("%s %s: %d hollows, want %d", c.flag, c.least, n, c.want)
		}
	}
	refused(t, mistake, "water", path, t.TempDir(), "--depth=-1")
	refused(t, mistake, "water", path, t.TempDir(), "--volume", "NaN")
}

// Two ponds that join at 5 m in one that spills at 7 m, and one below it.
func TestHollowsTellWhatTheyLieInAndSpillInto(t *testing.T) {
	g := grid.Parse(
		"9 9 9 9 9 9 9 9",
		"9 2 5 3 7 4 6 0",
		"9 9 9 9 9 9 9 9")
	dir := t.TempDir()
	must(t, "water", raster(t, g, utm, 2), dir)
	type place struct{ id, into, parent int }
	id := func(p *int) int {
		if p == nil {
			return 0
		}
		return *p
	}
	var got []place
	for _, f := range hollowsIn(t, dir).Features {
		p := f.Properties
		got = append(got, place{p.ID, id(p.Into), id(p.Parent)})
	}
	if want := []place{{1, 4, 0}, {2, 3, 1}, {3, 2, 1}, {4, 0, 0}}; !slices.Equal(got, want) {
		t.Errorf("hollows are %v, want %v", got, want)
	}
}
