package gdal

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// The child saves without end, and is killed at some instant; the file must open
// as one of the two sites that it saves by turns.
func TestAKilledSaveLeavesAWholeFile(t *testing.T) {
	first, second := plot(t), plot(t)
	second.Name = "Second"
	second.Plan.Features = append(second.Plan.Features, plan.Feature{ID: 33, Kind: plan.Tree, Geometry: orb.Point{1, 2}})
	if path := os.Getenv("RUNNEL_SAVE_WITHOUT_END"); path != "" {
		for {
			if err := errors.Join(SaveSite(path, first), SaveSite(path, second)); err != nil {
				t.Fatal(err)
			}
		}
	}
	path := filepath.Join(t.TempDir(), "verge.gpkg")
	if err := SaveSite(path, first); err != nil {
		t.Fatal(err)
	}
	for i := range 8 {
		child := exec.Command(os.Args[0], "-test.run=^TestAKilledSaveLeavesAWholeFile$")
		child.Env = append(os.Environ(), "RUNNEL_SAVE_WITHOUT_END="+path)
		if err := child.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(90+i*37) * time.Millisecond)
		child.Process.Kill()
		child.Wait()
		got, err := OpenSite(path)
		if err != nil {
			t.Fatalf("after kill %d: %v", i+1, err)
		}
		want := first
		if got.Name == second.Name {
			want = second
		}
		sameSite(t, got, want)
		if one(t, path, "PRAGMA integrity_check") != "ok" {
			t.Fatalf("after kill %d the file is damaged", i+1)
		}
	}
	if saved := query(t, path, "SELECT value FROM settings WHERE key = 'name'"); len(saved) != 1 {
		t.Errorf("the file holds %d names", len(saved))
	}
}
