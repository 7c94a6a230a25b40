package table

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"

	"runnel/geo/delimited"
)

// A point is what Read gives.
type point struct {
	row     int32
	name    string
	x, y, z float64
	code    string
}

func put(t testing.TB, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "points.csv")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// points looks at a text and reads it by what is guessed.
func points(t testing.TB, text string) (Look, []point, []BadRow) {
	t.Helper()
	path := put(t, text)
	l, err := LookAt(path)
	if err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	var got []point
	bad, err := Read(context.Background(), path, l, func(r Row) error {
		got = append(got, point{r.Number, nameOf(r), r.X, r.Y, r.Z, r.Code()})
		return nil
	})
	if err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	return l, got, bad
}

// The same two points in every dress.
func TestTheSamePointsInEveryDress(t *testing.T) {
	for name, text := range map[string]string{
		"commas":                    "x,y,z\n100.5,200.25,30.5\n101.5,201.25,31.5\n",
		"semicolons":                "x;y;z\n100.5;200.25;30.5\n101.5;201.25;31.5\n",
		"decimal commas":            "x;y;z\n100,5;200,25;30,5\n101,5;201,25;31,5\n",
		"tabs and decimal commas":   "x\ty\tz\n100,5\t200,25\t30,5\n101,5\t201,25\t31,5\n",
		"spaces":                    "x y z\n 100.5   200.25 30.5\n 101.5   201.25 31.5\n",
		"spaces and decimal commas": "x y z\n100,5   200,25 30,5\n101,5  201,25 31,5\n",
		"bars":                      "x|y|z\n100.5|200.25|30.5\n101.5|201.25|31.5\n",
		"spaces behind commas":      "x, y, z\n100.5, 200.25, 30.5\n101.5, 201.25, 31.5\n",
		"quotes":                    "\"x\",\"y\",\"z\"\n\"100.5\",\"200.25\",\"30.5\"\n101.5,201.25,31.5\n",
		"quoted decimal commas":     "\"x\",\"y\",\"z\"\n\"100,5\",\"200,25\",\"30,5\"\n\"101,5\",\"201,25\",\"31,5\"\n",
		"carriage returns":          "x,y,z\r\n100.5,200.25,30.5\r\n101.5,201.25,31.5\r\n",
		"carriage returns alone":    "x,y,z\r100.5,200.25,30.5\r101.5,201.25,31.5\r",
		"no last line feed":         "x,y,z\n100.5,200.25,30.5\n101.5,201.25,31.5",
		"a byte-order mark":         "\xEF\xBB\xBFx,y,z\n100.5,200.25,30.5\n101.5,201.25,31.5\n",
		"exponents and signs":       "x,y,z\n+1.005e2,200.25,30.5\n1015E-1,201.25,+31.5\n",
		"other columns":             "time,alt,y,quality,x\n08:15:00,30.5,200.25,good,100.5\n08:16:00,31.5,201.25,good,101.5\n",
		"German":                    "Punkt;Rechtswert;Hochwert;Höhe;Code\n1;100,5;200,25;30,5;GR\n2;101,5;201,25;31,5;GR\n",
		"Spanish":                   "Punto;Este;Norte;Cota\nA;100,5;200,25;30,5\nB;101,5;201,25;31,5\n",
		"units in the names":        "Easting (m),Northing (m),Elevation_m\n100.5,200.25,30.5\n101.5,201.25,31.5\n",
		"two rows of names":         "Garden of 3 May\nEasting,Northing,Height\nm,m,m\n100.5,200.25,30.5\n101.5,201.25,31.5\n",
		"names in a remark":         "# a garden\n# x y z\n100.5 200.25 30.5\n101.5 201.25 31.5\n",
		"remarks of three sorts":    "// a garden\n;x,y,z\n#\nx,y,z\n100.5,200.25,30.5\n\n# in between\n101.5,201.25,31.5\n",
		"no names":                  "100.5,200.25,30.5\n101.5,201.25,31.5\n",
	} {
		_, got, bad := points(t, text)
		if len(got) != 2 || len(bad) != 0 {
			t.Errorf("%s: points %v, bad rows %v", name, got, bad)
			continue
		}
		for i, p := range got {
			if d := float64(i); p.x != 100.5+d || p.y != 200.25+d || p.z != 30.5+d {
				t.Errorf("%s: point %d is %v", name, i, p)
			}
		}
	}
}

func TestEveryEncodingReadsAlike(t *testing.T) {
	const text = "Punkt;Rechtswert;Hochwert;Höhe;Code\n1;100,5;200,25;30,5;Böschung\n"
	marked := func(e unicode.Endianness, p unicode.BOMPolicy) encoding.Encoding { return unicode.UTF16(e, p) }
	for want, of := range map[string][]encoding.Encoding{
		delimited.UTF8:        {encoding.Nop},
		delimited.Windows1252: {charmap.Windows1252},
		delimited.UTF16LE:     {marked(unicode.LittleEndian, unicode.UseBOM), marked(unicode.LittleEndian, unicode.IgnoreBOM)},
		delimited.UTF16BE:     {marked(unicode.BigEndian, unicode.UseBOM), marked(unicode.BigEndian, unicode.IgnoreBOM)},
	} {
		for _, e := range of {
			bytes, err := e.NewEncoder().String(text)
			if err != nil {
				t.Fatal(err)
			}
			l, got, bad := points(t, bytes)
			if l.Encoding != want || len(bad) != 0 || !reflect.DeepEqual(got, []point{{2, "1", 100.5, 200.25, 30.5, "Böschung"}}) {
				t.Errorf("%s: taken for %s, points %v, bad %v", want, l.Encoding, got, bad)
			}
		}
	}
}

// A letter of another encoding far behind what is looked at is read as such.
func TestALateLetterOfAnotherEncodingIsRead(t *testing.T) {
	text := "x,y,z,code\n" + strings.Repeat("1,2,3,GRASS\n", delimited.HeadBytes/10) + "1,2,3,B\xF6schung\n"
	l, got, _ := points(t, text)
	if last := got[len(got)-1]; l.Encoding != delimited.UTF8 || last.code != "Böschung" {
		t.Errorf("%s: the last code is %q", l.Encoding, last.code)
	}
}

func TestColumnsWithoutNamesAreGuessedAndTheReasonTold(t *testing.T) {
	for text, want := range map[string]struct {
		order Order
		c     Columns
		why   string
	}{
		"1,305.0,15.0,870.0,GS\n2,310.0,70.0,793.0,GS\n":                         {PNEZD, Columns{0, 2, 1, 3, 4}, "usual order"},
		"A1,305.0,15.0,870.0\nA2,310.0,70.0,793.0\n":                             {PNEZD, Columns{0, 2, 1, 3, -1}, "usual order"},
		"1,523440.1,4811080.2,87.5,TREE\n2,523441.1,4811081.2,87.6,KB1\n":        {PENZD, Columns{0, 1, 2, 3, 4}, "as large as eastings"},
		"1,4811080.2,523440.1,87.5,TREE\n2,4811081.2,523441.1,87.6,KB1\n":        {PNEZD, Columns{0, 2, 1, 3, 4}, "usual order"},
		"1 46.9000001 -123.1 87.5\n2 46.9000002 -123.1 87.6\n":                   {PNEZD, Columns{0, 2, 1, 3, -1}, "latitude and longitude"},
		"523440.1 4811080.2 87.5\n523441.1 4811081.2 87.6\n":                     {XYZ, Columns{-1, 0, 1, 2, -1}, "east, north and height"},
		"0 0 1\n1 0 2\n2 0 1\n0 1 5\n":                                           {XYZ, Columns{-1, 0, 1, 2, -1}, "east, north and height"},
		"1.5,2.5\n3.5,4.5\n":                                                     {XYZ, Columns{-1, 0, 1, -1, -1}, "None of them seems to hold heights"},
		"a,b,c\n1.5,2.5,7\n3.5,4.5,7\n":                                          {XYZ, Columns{-1, 0, 1, 2, -1}, "names of the columns are not known"},
		"lon,lat,x,y,h\n-123,46,500000,5200000,12\n-123,46,500001,5200000,13\n":  {Named, Columns{-1, 2, 3, 4, -1}, `"x" is east`},
		"id,Latitude,Longitude,height_ft,desc\n1,46,-123,12,a\n2,46,-123,13,b\n": {Named, Columns{0, 2, 1, 3, 4}, `"Longitude" is east`},
	} {
		l, _, _ := points(t, text)
		if l.Order != want.order || l.Columns != want.c || !strings.Contains(strings.Join(l.Why, " "), want.why) {
			t.Errorf("%q: %v %v %q, want %v %v %q", text, l.Order, l.Columns, l.Why, want.order, want.c, want.why)
		}
	}
}

func TestBadRowsAreToldByTheirNumber(t *testing.T) {
	l, got, bad := points(t, "# job\nn,x,y,z\n1,1.5,2.5,3\n2,,2.5,3\n3,abc,2.5,3\n4,1.5\n5,1.5,2.5,high\n6,1.5,2.5,\n7,1.5,2.5,n/a\n8,1.5,2.5,-9999\n9,NaN,2,3\n")
	want := []BadRow{
		{4, "a coordinate is missing"}, {5, `"abc" is not a number`}, {6, "it has 2 fields, and 3 are needed"},
		{7, `"high" is not a number`}, {11, `"NaN" is not a number`},
	}
	if !reflect.DeepEqual(bad, want) {
		t.Errorf("bad rows %v, want %v", bad, want)
	}
	if len(got) != 4 || l.Skip != 2 {
		t.Fatalf("points %v after %d lines", got, l.Skip)
	}
	for _, p := range got[1:] { // a point without a height is a point
		if !math.IsNaN(p.z) || p.row < 8 {
			t.Errorf("point %v", p)
		}
	}
}

func TestWhatIsNoTableIsRefusedInOneSentence(t *testing.T) {
	for text, want := range map[string]string{
		"x,y,z\n\"1,234.50\",200,30\n\"1,235.50\",201,31\n": `"1,234.50" in row 2 are set apart`,
		"x;y;z\n1.234,50;200,5;30,1\n1.235,50;201,5;31,1\n": `"1.234,50" in row 2`,
		"x\ty\tz\n1 234.5\t2 200.5\t30.1\n":                 "row 2 are set apart",
		"x;y;z\n1'234.5;2'200.5;30.1\n":                     "row 2 are set apart",
		"x,y,z\n100,5,200,25,30,5\n101,5,201,25,31,5\n":     "put a semicolon or a tab between the fields",
		"Dear neighbour,\nthe wall is too low.\n":           "no table of points",
		"1\n2\n3\n":   "no table of points",
		"# nothing\n": "no table of points",
		"II*\x00\x08\x00\x00\x00\xff\x00\x01\x02\x03\x00abc": "not text",
		strings.Repeat("1,2,3,", (1<<20)/5):                  "so it is no table",
	} {
		_, err := LookAt(put(t, text))
		if err == nil || !strings.Contains(err.Error(), want) || strings.Contains(err.Error(), "\n") || !strings.HasPrefix(err.Error(), "points.csv: ") {
			t.Errorf("%.40q: error %v, want %q", text, err, want)
		}
	}
}

func TestThousandsFarDownEndTheReading(t *testing.T) {
	path := put(t, "x;y;z\n"+strings.Repeat("100.5;200.5;3\n", 1000)+"1,234.5;200.5;3\n")
	l, err := LookAt(path)
	if err != nil {
		t.Fatal(err)
	}
	_, err = Read(context.Background(), path, l, func(Row) error { return nil })
	if err == nil || !strings.Contains(err.Error(), "row 1002 are set apart") {
		t.Errorf("error %v", err)
	}
}

func TestWrongColumnsAreToldAndNotReadToTheEnd(t *testing.T) {
	path := put(t, "x,y,z,code\n"+strings.Repeat("1.5,2.5,3.5,GS\n", 2*mostBad))
	l, err := LookAt(path)
	if err != nil {
		t.Fatal(err)
	}
	none := func(Row) error { return nil }
	l.Columns = Columns{-1, 0, 3, 2, -1}
	bad, err := Read(context.Background(), path, l, none)
	if err == nil || !strings.Contains(err.Error(), `row 2: "GS" is not a number; look at which column is which`) || len(bad) != mostBad+1 {
		t.Errorf("error %v, %d bad rows", err, len(bad))
	}
	l.Columns = None
	if _, err := Read(context.Background(), path, l, none); err == nil || !strings.Contains(err.Error(), "say which is east") {
		t.Errorf("without columns: %v", err)
	}
	l.Columns = Columns{-1, 1, 1, 2, -1}
	if _, err := Read(context.Background(), path, l, none); err == nil || !strings.Contains(err.Error(), "taken for two things") {
		t.Errorf("with one column twice: %v", err)
	}
	l.Columns = Columns{-1, 0, 1, 2, 3}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, err := Read(ctx, path, l, none); err == nil || !strings.Contains(err.Error(), context.Canceled.Error()) {
		t.Errorf("when cancelled: %v", err)
	}
}

func TestAFileThatIsTooLargeIsRefusedBeforeItIsRead(t *testing.T) {
	path := put(t, "1.5,2.5,3.5\n1.5,2.5,3.5\n")
	if err := os.Truncate(path, delimited.MostBytes+1); err != nil {
		t.Fatal(err)
	}
	if _, err := LookAt(path); err == nil || !strings.Contains(err.Error(), "cut it to the site") {
		t.Errorf("error %v", err)
	}
	head := strings.NewReader(strings.Repeat("1,2,3\n", delimited.HeadBytes/6+1))
	if _, err := lookAt(head, 6*20_000_500); err == nil || !strings.Contains(err.Error(), "million rows, and a table may have 10 million") {
		t.Errorf("error %v", err)
	}
}

func TestDescriptionsOfSeveralWordsAndInches(t *testing.T) {
	_, got, bad := points(t, "1,305.0,15.0,870.0,GS by the wall\n2,310.0,70.0,793.0,PVC 4\" pipe\n3,311.0,70.0,793.0,\"a, b\"\n")
	if len(got) != 3 || len(bad) != 0 || got[0].code != "GS by the wall" || got[1].code != `PVC 4" pipe` || got[2].code != "a, b" {
		t.Errorf("points %v, bad %v", got, bad)
	}
}

func TestAnOrderSaysItsColumns(t *testing.T) {
	for o, want := range map[Order]Columns{XYZ: {-1, 0, 1, 2, -1}, YXZ: {-1, 1, 0, 2, -1}} {
		if c, ok := o.Columns(3); !ok || c != want {
			t.Errorf("%v of three fields: %v, %v", o, c, ok)
		}
	}
	if c, ok := PNEZD.Columns(5); !ok || c != (Columns{0, 2, 1, 3, 4}) {
		t.Errorf("PNEZD: %v", c)
	}
	if _, ok := PNEZD.Columns(2); ok {
		t.Error("PNEZD fits two fields")
	}
	if _, ok := Named.Columns(5); ok {
		t.Error("names are an order without them")
	}
}

// nameOf is what the column of names has of a row; empty where there is none.
func nameOf(r Row) string {
	at := r.from.look.Columns.Name
	if at < 0 || at >= len(r.fields) {
		return ""
	}
	return delimited.Readable(string(r.fields[at]))
}
