package weather

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

func put(t testing.TB, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "days.csv")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// days looks at a text and reads it by what is guessed.
func days(t testing.TB, text string) (Look, Record, Report) {
	t.Helper()
	path := put(t, text)
	l, err := LookAt(path)
	if err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	r, report, err := Read(context.Background(), path, l)
	if err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	if err := r.Check(); err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	return l, r, report
}

const german = "Datum;Niederschlag [mm];Tmin [°C];Tmax [°C]\n30.01.2012;2,5;-1,5;4\n31.01.2012;0;0;5,5\n01.02.2012;12,75;1;6\n"

// encoded writes a text in an encoding.
func encoded(text string, e encoding.Encoding) string {
	s, err := e.NewEncoder().String(text)
	if err != nil {
		panic(err)
	}
	return s
}

// dresses are the same three days.
var dresses = map[string]string{
	"ISO":                    "date,rain,tmin,tmax\n2012-01-30,2.5,-1.5,4\n2012-01-31,0,0,5.5\n2012-02-01,12.75,1,6\n",
	"ISO with a time":        "time,precipitation_sum (mm),temperature_2m_max (°C),temperature_2m_min (°C)\n2012-01-30T00:00,2.5,4,-1.5\n2012-01-31T00:00,0,5.5,0\n2012-02-01T00:00,12.75,6,1\n",
	"day first":              "date,rain,low,high\n30/01/2012,2.5,-1.5,4\n31/01/2012,0,0,5.5\n1/2/2012,12.75,1,6\n",
	"month first":            "Date,Precip,Min Temp,Max Temp\n1/30/2012,2.5,-1.5,4\n1/31/2012,0,0,5.5\n2/1/2012,12.75,1,6\n",
	"two figures of a year":  "date,rain,low,high\n30/01/12,2.5,-1.5,4\n31/01/12,0,0,5.5\n01/02/12,12.75,1,6\n",
	"German":                 german,
	"German, Windows-1252":   encoded(german, charmap.Windows1252),
	"German, UTF-16":         encoded(german, unicode.UTF16(unicode.LittleEndian, unicode.UseBOM)),
	"months as words":        "day\train\tlow\thigh\n30 Jan 2012\t2.5\t-1.5\t4\n31 Jan 2012\t0\t0\t5.5\n1 Feb 2012\t12.75\t1\t6\n",
	"months first, as words": "day;rain;low;high\nJan 30, 2012;2.5;-1.5;4\nJan 31, 2012;0;0;5.5\nFeb 1, 2012;12.75;1;6\n",
	"French months":          "date;pluie;tn;tx\n30-janv-2012;2,5;-1,5;4\n31-janv-2012;0;0;5,5\n1-févr-2012;12,75;1;6\n",
	"three columns":          "year month day rain tmin tmax\n2012 1 30 2.5 -1.5 4\n2012 1 31 0 0 5.5\n2012 2 1 12.75 1 6\n",
	"day of the year":        "year,doy,rain,tmin,tmax\n2012,30,2.5,-1.5,4\n2012,31,0,0,5.5\n2012,32,12.75,1,6\n",
	"year and its day":       "date,rain,tmin,tmax\n2012-030,2.5,-1.5,4\n2012-031,0,0,5.5\n2012-032,12.75,1,6\n",
	"without marks":          "MESS_DATUM;RSK;TNK;TXK;eor\n20120130;2.5;-1.5;4;eor\n20120131;0;0;5.5;eor\n20120201;12.75;1;6;eor\n",
	"inches and Fahrenheit":  "DATE,PRCP (in),TMIN (F),TMAX (F)\n2012-01-30,0.0984251968503937,29.3,39.2\n2012-01-31,0,32,41.9\n2012-02-01,0.501968503937008,33.8,42.8\n",
	"remarks and quotes":     "# station of none\n# made up\n\"date\",\"rain\",\"tmin\",\"tmax\"\n\"2012-01-30\",\"2.5\",\"-1.5\",\"4\"\n\"2012-01-31\",\"0\",\"0\",\"5.5\"\n\"2012-02-01\",\"12.75\",\"1\",\"6\"\n",
	"a remark as header":     "#date rain tmin tmax\n2012-01-30 2.5 -1.5 4\n2012-01-31 0 0 5.5\n2012-02-01 12.75 1 6\n",
	"no header":              "2012-01-30,2.5,-1.5,4\n2012-01-31,0,0,5.5\n2012-02-01,12.75,1,6\n",
	"no header, three":       "2012;1;30;2.5;4;-1.5\n2012;1;31;0;5.5;0\n2012;2;1;12.75;6;1\n",
}

func TestTheSameDaysInEveryDress(t *testing.T) {
	for name, text := range dresses {
		l, r, _ := days(t, text)
		want := []Day{blank(), blank(), blank()}
		for i, v := range [][3]float64{{2.5, -1.5, 4}, {0, 0, 5.5}, {12.75, 1, 6}} {
			want[i].Rain, want[i].Low, want[i].High = v[0], v[1], v[2]
		}
		if len(r.Days) != 3 || !r.First.Equal(time.Date(2012, 1, 30, 0, 0, 0, 0, time.UTC)) {
			t.Errorf("%s: %d days from %v: %q", name, len(r.Days), r.First, l.Why)
			continue
		}
		for i := range want {
			for _, q := range quantities {
				if got, want := *q.Of(&r.Days[i]), *q.Of(&want[i]); !(math.Abs(got-want) < 1e-9) && !(math.IsNaN(got) && math.IsNaN(want)) {
					t.Errorf("%s: %s of day %d is %v, want %v: %q", name, q.Name, i, got, want, l.Why)
				}
			}
		}
		if len(l.Why) == 0 || len(l.First) != 3 || l.Rows < 2 || l.Rows > 4 {
			t.Errorf("%s: the look is %+v", name, l)
		}
	}
}

// all is a row of every column that is known by its name.
const all = "Year,Month,Day,Rainfall (mm),MaxTemp (°C),MinTemp (°C),RH min,RH max,Wind speed (km/h),Sunshine (h),Solar radiation (W/m2),Water level (cm)\n"

func TestEveryFigureIsReadInItsUnit(t *testing.T) {
	l, r, _ := days(t, all+"2020,2,28,1,20,10,40,90,36,8,100,8412\n2020,2,29,2,21,11,41,91,18,9,200,8413\n")
	want := []Day{{1, 10, 20, 40, 90, 10, 8, 8.64, 84.12}, {2, 11, 21, 41, 91, 5, 9, 17.28, 84.13}}
	for i := range want {
		for _, q := range quantities {
			if got, want := *q.Of(&r.Days[i]), *q.Of(&want[i]); !(math.Abs(got-want) < 1e-9) {
				t.Errorf("%s is %v, want %v (%v)", q.Name, got, want, l.Why)
			}
		}
	}
	one, r, _ := days(t, "date,rain,humidity\n2020-02-28,1,80\n2020-02-29,1,70\n")
	if one.Columns.DampLow != 2 || one.Columns.DampHigh != 2 || r.Days[1].DampLow != 70 || r.Days[1].DampHigh != 70 {
		t.Errorf("a mean humidity is read as %+v", r.Days)
	}
}

// Unit definitions: 1 in = 25.4 mm, 1 ft = 0.3048 m, 1 nautical mile = 1852 m, 1 mile = 5280 ft,
// 1 W = 0.0864 MJ a day, 0 °C = 32 °F = 273.15 K (BIPM, SI Brochure, 9th ed., tables 8 and 9, and NIST SP 811).
func TestUnits(t *testing.T) {
	for _, c := range []struct {
		q        int
		unit     string
		has, own float64
	}{
		{rainAt, "inches", 2, 50.8}, {rainAt, "tenths of mm", 25, 2.5}, {rainAt, "cm", 2, 20},
		{lowAt, "°F", 212, 100}, {lowAt, "K", 273.15, 0}, {highAt, "tenths of °C", -15, -1.5},
		{windAt, "km/h", 36, 10}, {windAt, "mph", 10, 4.4704}, {windAt, "knots", 10, 5.144444444444},
		{windAt + 1, "min", 90, 1.5}, {windAt + 2, "kWh/m²", 1, 3.6}, {windAt + 2, "W/m²", 100, 8.64}, {windAt + 2, "J/cm²", 100, 1},
		{windAt + 3, "feet", 10, 3.048}, {3, "share", 0.4, 40},
	} {
		q := quantities[c.q]
		u := Units{}
		*q.Unit(&u) = c.unit
		s, err := q.scaleOf(u)
		if err != nil {
			t.Error(err)
		}
		if got := c.has*s.by + s.plus; !(math.Abs(got-c.own) < 1e-9) {
			t.Errorf("%s: %v %s is %v, want %v", q.Name, c.has, c.unit, got, c.own)
		}
	}
	rain := quantities[rainAt]
	for typed, want := range map[string]string{"inch": "inches", " Inches": "inches", "MM": "mm", "tenths-of-mm": "tenths of mm"} {
		if got, err := rain.UnitNamed(typed); got != want || err != nil {
			t.Errorf("%q is %q, %v", typed, got, err)
		}
	}
	if got, err := quantities[lowAt].UnitNamed("f"); got != "°F" || err != nil {
		t.Errorf("f is %q, %v", got, err)
	}
	if _, err := rain.UnitNamed("furlong"); err == nil || err.Error() != `"furlong" is no unit of rain; give one of: mm, inches, tenths of mm, cm` {
		t.Error(err)
	}
}
