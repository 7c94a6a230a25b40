package gdal

import (
	"path/filepath"
	"testing"

	"github.com/paulmach/orb"

	"runnel/geo/plan"
)

// bent is the plot with a curved channel and a curved island that has a hole.
func bent(t testing.TB) *plan.Site {
	s := plot(t)
	arm := plan.Feature{ID: 20, Kind: plan.Channel, Scheme: 7}
	island := plan.Feature{ID: 21, Kind: plan.Island, Scheme: 7, Geometry: orb.Polygon{nil,
		{{500010.1, 5200010.2}, {500010.9, 5200010.2}, {500010.9, 5200010.8}, {500010.1, 5200010.2}}}}
	s.Plan.Features = append(s.Plan.Features,
		arm.Through(orb.LineString{{500000.1, 5200000.3}, {500007.7, 5200004.1}, {500015, 5200001.9}, {500021.3, 5200009}}),
		island.Through(plan.Circle(orb.Point{500010.5, 5200010.5}, 1.3)))
	return s
}

func TestCurvesComeBackWithTheirKnots(t *testing.T) {
	path := filepath.Join(t.TempDir(), "verge.gpkg")
	s := bent(t)
	if err := SaveSite(path, s); err != nil {
		t.Fatal(err)
	}
	got, err := OpenSite(path)
	if err != nil {
		t.Fatal(err)
	}
	sameSite(t, got, s)
}

func TestKnotsThatTheGeometryLeftAreDropped(t *testing.T) {
	for name, sql := range map[string]string{
		"another program moved a point": "UPDATE channel SET geom = (SELECT geom FROM channel WHERE fid = 9) WHERE fid = 20",
		"the text is no list of pairs":  "UPDATE channel SET knots = '500000 5200000, north' WHERE fid = 20",
		"a number is missing":           "UPDATE channel SET knots = '500000 5200000, 4' WHERE fid = 20",
		"a number that is none":         "UPDATE channel SET knots = 'NaN NaN, Inf 4' WHERE fid = 20",
	} {
		path := filepath.Join(t.TempDir(), "verge.gpkg")
		if err := SaveSite(path, bent(t)); err != nil {
			t.Fatal(err)
		}
		err := do(func() error {
			set, err := openForUpdate(path)
			if err != nil {
				return err
			}
			defer set.Close()
			return execute(set, sql)
		})
		if err != nil {
			t.Fatal(err)
		}
		got, err := OpenSite(path)
		if err != nil {
			t.Fatal(err)
		}
		arm, _ := got.Plan.Find(20)
		if arm.Curved() || len(arm.Line()) < 2 || plan.Check(arm) != nil {
			t.Errorf("%s: the channel is %+v", name, arm)
		}
		if island, _ := got.Plan.Find(21); !island.Curved() {
			t.Errorf("%s: the island lost its knots", name)
		}
	}
}

func TestAFileFromBeforeCurvesOpens(t *testing.T) {
	path := filepath.Join(t.TempDir(), "verge.gpkg")
	s := plot(t)
	if err := SaveSite(path, s); err != nil {
		t.Fatal(err)
	}
	query(t, path, "ALTER TABLE channel DROP COLUMN knots")
	got, err := OpenSite(path)
	if err != nil {
		t.Fatal(err)
	}
	sameSite(t, got, s)
	if err := SaveSite(path, bent(t)); err != nil {
		t.Fatal(err)
	}
	if got, err = OpenSite(path); err != nil {
		t.Fatal(err)
	}
	sameSite(t, got, bent(t))
}
