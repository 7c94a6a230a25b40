package gdal

import (
	"context"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"runnel/geo/crs"
	"runnel/geo/plan"
)

func TestReadDrawnTakesTables(t *testing.T) {
	to := crs.CRS{Code: 32632, Metre: 1}
	cases := []struct {
		name, text string
		want       orb.Point
		z          float64
		note       string
	}{
		{"x and y", "name,x,y\na,500000,4983000\n", orb.Point{500000, 4983000}, math.NaN(), "in that of the site"},
		{"easting, northing and level", "Northing,Easting,Level\n4983000,500000,12.5\n", orb.Point{500000, 4983000}, 12.5, "in that of the site"},
		{"no names", "7,4983000,500000,12.5,OAK\n8,4983010,500000,12.6,OAK\n", orb.Point{500000, 4983000}, 12.5, "in that of the site"},
		{"longitude and latitude", "lat,lon\n45,9\n", orb.Point{500000, 4982950.4}, math.NaN(), "longitude and latitude"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			d, notes := drawn(t, put(t, "a.csv", c.text), to)
			if len(d) == 0 {
				t.Fatal("no features")
			}
			p := d[0].Geometry.(orb.Point)
			if math.Hypot(p[0]-c.want[0], p[1]-c.want[1]) > 1 {
				t.Errorf("the point is at %v, want %v", p, c.want)
			}
			if d[0].Z != c.z && !(math.IsNaN(d[0].Z) && math.IsNaN(c.z)) {
				t.Errorf("its height is %v, want %v", d[0].Z, c.z)
			}
			if !noted(notes, c.note) {
				t.Errorf("notes %q, want %q", notes, c.note)
			}
		})
	}
}

// The same two trees in every dress come in the same, as measured points do.
func TestADrawnTableMayBeOfAnyDress(t *testing.T) {
	for name, text := range map[string]string{
		"commas":              "name,x,y,spread\nÖlbaum,500000.5,4983000.25,4.5\nAsh,500010,4983000,6\n",
		"semicolons":          "name;x;y;spread\nÖlbaum;500000.5;4983000.25;4.5\nAsh;500010;4983000;6\n",
		"decimal commas":      "name;x;y;spread\nÖlbaum;500000,5;4983000,25;4,5\nAsh;500010;4983000;6\n",
		"a byte-order mark":   "\xEF\xBB\xBFname;x;y;spread\nÖlbaum;500000,5;4983000,25;4,5\nAsh;500010;4983000;6\n",
		"tabs":                "name\tx\ty\tspread\nÖlbaum\t500000.5\t4983000.25\t4.5\nAsh\t500010\t4983000\t6\n",
		"an older encoding":   "name;x;y;spread\n\xD6lbaum;500000,5;4983000,25;4,5\nAsh;500010;4983000;6\n",
		"names in a remark":   "# shot today\nname,x,y,spread\nÖlbaum,500000.5,4983000.25,4.5\nAsh,500010,4983000,6\n",
		"names of a surveyor": "name;Easting;Northing;spread\nÖlbaum;500000,5;4983000,25;4,5\nAsh;500010;4983000;6\n",
	} {
		d, notes := drawn(t, put(t, "trees.csv", text), utm10(t))
		if len(d) != 2 || len(notes) != 1 {
			t.Errorf("%s: %d points, notes %q", name, len(d), notes)
			continue
		}
		trees, wrong := Features(d, plan.Tree, plan.AsItIs)
		if len(wrong) != 0 || len(trees) != 2 {
			t.Errorf("%s: %d trees, %v", name, len(trees), wrong)
			continue
		}
		if f := trees[0]; f.Point() != (orb.Point{500000.5, 4983000.25}) || f.Name != "Ölbaum" || f.Num("spread") != 4.5 {
			t.Errorf("%s: the first is %+v", name, f)
		}
	}
}

func TestARowThatIsNoPointIsToldAndTheOthersCome(t *testing.T) {
	text := "name,x,y,height\na,500000,4983000,tall\nb,here,4983000,2\nc,500020\nd,500030,4983000,-9999\n"
	d, notes := drawn(t, put(t, "a.csv", text), utm10(t))
	if len(d) != 2 || d[0].Fields["height"] != "tall" || !math.IsNaN(d[0].Z) || d[1].Fields["name"] != "d" || !math.IsNaN(d[1].Z) {
		t.Errorf("got %+v", d)
	}
	if !noted(notes, `Row 3 is left out, for "here" is not a number.`) || !noted(notes, "Row 4 is left out") {
		t.Errorf("notes %q", notes)
	}
	for text, want := range map[string]string{
		"x,y\n1,200\n\"1,234,567\",200\n": "set apart",
		"x,y,z\n":                         "no row with two numbers",
	} {
		if _, _, err := ReadDrawn(context.Background(), put(t, "a.csv", text), DrawnOptions{To: utm10(t)}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: error %v, want one with %q", text, err, want)
		}
	}
}
