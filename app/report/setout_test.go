package report

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"
	"runnel/analysis/caution"
	"runnel/analysis/earthwork"
	"runnel/assets/demo"
	"runnel/geo/dxf"
	"runnel/geo/plan"
	"runnel/geo/table"
)

// demoSetOut sets out the demo site's first scheme, its channel named by name.
func demoSetOut(t testing.TB, name string) SetOut {
	t.Helper()
	site := demo.Site()
	scheme := site.Plan.Schemes[0].ID
	for i, f := range site.Plan.Features {
		if f.Kind == plan.Channel && f.Scheme == scheme {
			site.Plan.Features[i].Name = name
		}
	}
	s, err := NewSetOut(t.Context(), &site, scheme, earthwork.SetOutOptions{})
	if err != nil || len(s.Pegs) < 40 {
		t.Fatalf("%d pegs: %v", len(s.Pegs), err)
	}
	s.Day = time.Date(2026, 5, 4, 0, 0, 0, 0, time.UTC)
	return s
}

func text(t testing.TB, write func(*strings.Builder) error) string {
	t.Helper()
	var b strings.Builder
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// The order PNEZD is a custom, not a standard: point, northing, easting, elevation,
// description, no heading, rows that end in CR LF. To take northing for easting is its
// classic error; on the demo site the one is nine times the other.
func TestThePointsAreReadBackAsTheyAreMeant(t *testing.T) {
	s := demoSetOut(t, `=Winding, "upper" channel`)
	path := filepath.Join(t.TempDir(), "pegs.csv")
	written := text(t, func(b *strings.Builder) error { return s.WritePoints(b) })
	if err := os.WriteFile(path, []byte(written), 0o600); err != nil {
		t.Fatal(err)
	}
	look, err := table.LookAt(path)
	if err != nil || look.Order != table.PNEZD {
		t.Fatalf("the file is looked at as %v; %v", look.Order, err)
	}
	read := map[string]table.Row{}
	bad, err := table.Read(t.Context(), path, look, func(r table.Row) error {
		name := r.Fields()[0]
		if _, twice := read[name]; twice {
			t.Errorf("the number %s is there twice", name)
		}
		read[name] = r
		return nil
	})
	if err != nil || len(bad) > 0 {
		t.Fatalf("%v, %v", bad, err)
	}
	for _, p := range s.Pegs {
		same := func(digit int, at orb.Point, z float64) {
			r, ok := read[fmt.Sprint(10*p.Number+digit)]
			if known := !math.IsNaN(at[0] + z); ok != known {
				t.Errorf("point %d of peg %d is there: %v, and known: %v", digit, p.Number, ok, known)
			} else if ok && !(math.Hypot(r.X-at[0], r.Y-at[1]) < 1e-3 && math.Abs(r.Z-z) < 1e-3) {
				t.Errorf("point %d of peg %d is read at %v %v %v, want %v %v", digit, p.Number, r.X, r.Y, r.Z, at, z)
			}
		}
		same(0, p.At, p.Bed)
		same(1, p.Left.Top, p.Left.Level)
		same(2, p.Right.Top, p.Right.Level)
		same(3, p.Left.Stake, p.Left.StakeGround)
		same(4, p.Right.Stake, p.Right.StakeGround)
	}
	for row := range strings.Lines(written) {
		if strings.Count(row, ",") != 4 || !strings.HasSuffix(row, "\r\n") || strings.ContainsAny(row, `"=–`) {
			t.Errorf("a row is %q", row)
		}
	}
	first := strings.Split(strings.TrimRight(strings.SplitN(written, "\n", 2)[0], "\r"), ",")
	if first[0] != "10" || first[1] != "4811160.000" || first[2] != "523413.150" || !strings.HasPrefix(first[4], "Winding 'upper' channel 0.00 bed cut ") {
		t.Errorf("the first row is %q", first)
	}
}

func TestTheSheetHasAllColumnsAndNoFormulas(t *testing.T) {
	s := demoSetOut(t, `=HYPERLINK("x"), a`)
	rows, err := csv.NewReader(strings.NewReader(text(t, func(b *strings.Builder) error { return s.WriteSheet(b) }))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != len(s.Pegs)+1 || len(rows[0]) != len(PegColumns()) {
		t.Fatalf("%d rows of %d columns", len(rows), len(rows[0]))
	}
	seen := map[string]bool{}
	for _, head := range rows[0] {
		if seen[head] {
			t.Errorf("two columns are called %s", head)
		}
		seen[head] = true
	}
	if rows[1][0] != "1" || rows[1][1] != `'=HYPERLINK("x"), a` || rows[1][4] != "523413.150" || rows[0][4] != "Easting [m]" {
		t.Errorf("the first rows are %q\n%q", rows[0], rows[1])
	}
}

func TestWhoDigsIsToldWhatTheFiguresRestOn(t *testing.T) {
	s := demoSetOut(t, "Brook")
	note := text(t, func(b *strings.Builder) error { return s.WriteNote(b) })
	table := text(t, func(b *strings.Builder) error { return s.WriteTable(b) })
	for _, part := range []string{
		s.Site.Name, s.Scheme, "2026-05-04", "EPSG:32626", "Unit: metre", "datum", "services located", "licensed", caution.Deference,
	} {
		for name, said := range map[string]string{"note": note, "table": table} {
			if !strings.Contains(said, part) {
				t.Errorf("the %s does not say %q", name, part)
			}
		}
	}
	if !strings.Contains(note, "northing, easting, elevation") || !strings.Contains(table, "\nBrook\n") {
		t.Error("the note does not say how the points are read, or the table not whose pegs they are")
	}
	if n := strings.Count(table, "station"); n < 20 {
		t.Errorf("the table has %d stations", n)
	}
}

func TestThePegsAsJSON(t *testing.T) {
	s := demoSetOut(t, "Brook")
	s.Pegs[1].Left = earthwork.PegSide{Top: orb.Point{math.NaN(), math.NaN()}, Level: math.NaN()}
	var got struct {
		Unit, Note string
		Pegs       []struct {
			Number int
			Marks  []string
			At     [2]float64 `json:"easting_northing"`
			Bed    float64
			Left   map[string]any
		}
	}
	if err := json.Unmarshal([]byte(text(t, func(b *strings.Builder) error { return s.WriteJSON(b) })), &got); err != nil {
		t.Fatal(err)
	}
	if len(got.Pegs) != len(s.Pegs) || got.Unit != "metre" || got.Note != Beware || got.Pegs[1].Left["bank_top"] != nil {
		t.Errorf("%d pegs in %s, the bank of the second %v", len(got.Pegs), got.Unit, got.Pegs[1].Left)
	}
	for i, p := range got.Pegs {
		if p.Number != i+1 || math.Abs(p.Bed-s.Pegs[i].Bed) > 5.01e-4 || math.Abs(p.At[1]-s.Pegs[i].At[1]) > 5.01e-4 || len(p.Marks) == 0 {
			t.Errorf("peg %d is %+v", i+1, p)
		}
	}
}

func TestTheDrawingBreaksAtAnIslandAndClosesRoundIt(t *testing.T) {
	s := demoSetOut(t, "Brook")
	o := s.Options
	o.Spacing = drawnSpacing
	along, err := earthwork.SetOut(t.Context(), s.Site, s.Network, o)
	if err != nil {
		t.Fatal(err)
	}
	channels, moats := 0, 0
	for _, run := range runsOf(along) {
		if run[0].Kind != plan.Island {
			channels++
			continue
		}
		moats++
		if run[0].Number != run[len(run)-1].Number {
			t.Errorf("the line round %s does not close", run[0].Title)
		}
	}
	if channels != 3 || moats != 2 {
		t.Errorf("%d lines along the channel and %d round islands, want 3 past its 2 islands", channels, moats)
	}
}

func TestALineIsPartedWhereAPlaceIsNotKnown(t *testing.T) {
	none := placed(orb.Point{math.NaN(), 0}, 1)
	a, b, c := placed(orb.Point{1, 1}, 1), placed(orb.Point{2, 1}, 1), placed(orb.Point{3, 1}, math.NaN())
	got := known(dxf.Line{none, a, b, c, a, none, none, b})
	if fmt.Sprint(got) != "[[{1 1 1} {2 1 1}] [{1 1 1}] [{2 1 1}]]" {
		t.Errorf("it is parted as %v", got)
	}
}
