package weather

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"
)

// series writes rows of days from 1 January 2011, each by row; nothing for an empty row.
func series(header string, n int, row func(i int, date string) string) string {
	var b strings.Builder
	b.WriteString(header + "\n")
	first := time.Date(2011, 1, 1, 0, 0, 0, 0, time.UTC)
	for i := range n {
		if text := row(i, first.AddDate(0, 0, i).Format(time.DateOnly)); text != "" {
			b.WriteString(text + "\n")
		}
	}
	return b.String()
}

// plainDay is a day of a place where it rains every other day.
func plainDay(i int, date string) string {
	return fmt.Sprintf("%s,%d,%d,%d", date, 4*(i%2), 5, 15)
}

// replaced is 800 plain days, some rows of which are others.
func replaced(rows map[int]string) string {
	return series(header, 800, func(i int, date string) string {
		if row, ok := rows[i]; ok {
			return strings.ReplaceAll(row, "DATE", date)
		}
		return plainDay(i, date)
	})
}

const header = "date,rain,low,high"

// wrongs are all that can be wrong with a record, and the sentences that tell it with its
// rows. Row 1 is the header, so that day i stands in row i+2.
var wrongs = map[string]struct {
	text string
	want []string
	none bool // the findings are those alone
}{
	"nothing":      {replaced(nil), nil, true},
	"gaps":         {replaced(map[int]string{10: "", 11: "", 20: ""}), []string{"3 days have no row, after rows 11 and 19, the longest run of them 2 days from 2011-01-11; they are not known."}, false},
	"one gap":      {replaced(map[int]string{10: ""}), []string{"1 day has no row, 2011-01-11, after row 11; it is not known."}, false},
	"two gaps":     {replaced(map[int]string{10: "", 20: ""}), []string{"2 days have no row, after rows 11 and 20, no two of them together and the first 2011-01-11; they are not known."}, false},
	"duplicates":   {replaced(map[int]string{10: "DATE,1,2,3\nDATE,1,2,3"}), []string{"The day of row 13 stands in an earlier row too, with the same figures; the first row of each day is taken."}, true},
	"two of a day": {replaced(map[int]string{10: "DATE,1,2,3\nDATE,9,2,3"}), []string{"The day of row 13 stands in an earlier row too, with other figures; the first row of each day is taken."}, true},
	"out of order": {replaced(map[int]string{10: "2011-01-12,1,2,3", 11: "2011-01-11,1,2,3"}), []string{"The rows are out of order at row 13; they are taken in the order of the days."}, true},
	"marks":        {replaced(map[int]string{3: "DATE,-999,5,15", 4: "DATE,-999,5,15", 7: "DATE,1,-99.9,15"}), []string{"The rain is -999 in rows 5 and 6, which stands for no figure; it is taken as not known.", "The least temperature is -99.9 in row 9, which stands for no figure; it is taken as not known.", "The rain is known on 798 of 800 days."}, false},
	"negative":     {replaced(map[int]string{3: "DATE,-4,5,15"}), []string{"The rain is below nought in row 5, which cannot be; it is taken as not known."}, false},
	"no number":    {replaced(map[int]string{3: "DATE,wet,5,15"}), []string{`The rain is no number in row 5, such as "wet"; it is taken as not known.`}, false},
	"a trace":      {replaced(map[int]string{3: "DATE,T,5,15"}), []string{"The rain is a trace in row 5; it is taken as nought."}, true},
	"impossible":   {replaced(map[int]string{3: "DATE,1,5,150"}), []string{"The greatest temperature is out of reason in row 5, such as 150 °C; it is taken as not known."}, false},
	"crossed":      {replaced(map[int]string{3: "DATE,1,25,15"}), []string{"The least temperature is above the greatest in row 5; neither is taken there."}, false},
	"no date":      {replaced(map[int]string{3: "2011-02-30,1,5,15"}), []string{`The date "2011-02-30" cannot be read, nor can any in row 5; those rows are left out.`, "1 day has no row, 2011-01-04, after row 4; it is not known."}, false},
	"a far date":   {replaced(map[int]string{3: "2101-01-04,1,5,15"}), []string{"The date of row 5, such as 2101-01-04, lies years from all others; those rows are left out."}, false},
	"columns interchanged": {strings.Replace(replaced(nil), "low,high", "high,low", 1),
		[]string{"The least temperature is above the greatest in rows 2, 3, 4, 5, 6 and 795 others, most of all; the two columns may be interchanged, and neither is taken there."}, false},
	"newest first": {"date,rain\n2012-01-03,1\n2012-01-02,1\n2012-01-01,1\n", []string{"The rows run from the newest day to the oldest; they are taken in the order of the days."}, false},
	"inches": {series(header, 800, func(i int, date string) string { return fmt.Sprintf("%s,%.2f,5,15", date, 0.16*float64(i%2)) }),
		[]string{"The rain comes to 29 mm in a mean year, less than in most deserts; if the file gives inches, read it in inches."}, true},
	"too wet": {series(header, 800, func(i int, date string) string { return date + ",400,5,15" }),
		[]string{"The rain comes to 146100 mm in a mean year, more than anywhere; if the file gives tenths of mm, read it in those."}, true},
	"tenths of mm": {series(header, 800, func(i int, date string) string { return fmt.Sprintf("%s,%d,5,15", date, 60*max(0, i%6-4)) }),
		[]string{"The rain comes to 60 mm on a wet day in the mean, more than almost anywhere; if the file gives tenths of mm, read it in those."}, true},
	"tenths of tenths": {series("date,rain (0.1 mm),low,high", 800, func(i int, date string) string { return fmt.Sprintf("%s,%d,5,15", date, i%2) }),
		[]string{"The rain comes to 18 mm in a mean year, less than in most deserts; look at its unit, and read it in mm if the file gives those."}, true},
	"more than anywhere": {replaced(map[int]string{3: "DATE,1860,5,15"}), []string{"The rain is out of reason in row 5, such as 1860 mm; it is taken as not known."}, false},
	"more than almost anywhere": {replaced(map[int]string{3: "DATE,510,5,15", 4: "DATE,1800,5,15"}),
		[]string{"The rain is above 500 mm in rows 5 and 6, up to 1800 mm, which hardly any place has had in a day; look at its unit, and whether it is of one day."}, true},
	"no temperature": {series("date,rain", 400, func(i int, date string) string { return date + ",2" }),
		[]string{"The least and the greatest temperature are not both known in it, so that what evaporates cannot be worked out of it."}, true},
	"no rain": {series("date,low,high", 400, func(i int, date string) string { return date + ",5,15" }),
		[]string{"No rain is known in it, so that no season can be worked out of it."}, true},
	"wind in km/h": {series("date,rain,low,high,wind", 400, func(i int, date string) string { return plainDay(i, date) + ",22" }),
		[]string{"The wind is 22 m/s in the mean, more than anywhere people plant; if the file gives km/h, read it in km/h."}, true},
	"short": {"date,rain,low,high\n2012-01-01,1,2,3\n2012-01-02,1,2,3\n", []string{"It has 2 days, less than a year, so that its seasons are no measure of others."}, true},
}

func TestWhatIsWrongIsTold(t *testing.T) {
	for name, c := range wrongs {
		_, r, report := days(t, c.text)
		for _, want := range c.want {
			found := false
			for _, got := range report.Findings {
				found = found || got == want
			}
			if !found {
				t.Errorf("%s: %q is not among %q", name, want, report.Findings)
			}
		}
		if c.none && len(report.Findings) != len(c.want) {
			t.Errorf("%s: %d findings, want %d: %q", name, len(report.Findings), len(c.want), report.Findings)
		}
		if report.Days != len(r.Days) {
			t.Errorf("%s: %d days told, %d in the record", name, report.Days, len(r.Days))
		}
	}
}

// Leap days that a file leaves out by rule are told apart from gaps, and are days of
// the record all the same.
func TestLeapDaysThatAreLeftOut(t *testing.T) {
	text := series("date,rain,low,high", 4000, func(i int, date string) string {
		if strings.HasSuffix(date, "02-29") {
			return ""
		}
		return plainDay(i, date)
	})
	_, r, report := days(t, text)
	if want := []string{"29 February is missing in 2012, 2016 and 2020; those days are not known."}; len(r.Days) != 4000 || !reflect.DeepEqual(report.Findings[:1], want) {
		t.Errorf("%d days, %q", len(r.Days), report.Findings)
	}
	at := int(time.Date(2012, 2, 29, 0, 0, 0, 0, time.UTC).Sub(r.First).Hours() / 24)
	if !math.IsNaN(r.Days[at].Rain) || r.Date(at).Day() != 29 || math.IsNaN(r.Days[at+1].Rain) {
		t.Errorf("29 February is %+v", r.Days[at])
	}
}

func TestWhatIsNoRecordIsRefusedInOneSentence(t *testing.T) {
	hourly := "time,rain\n"
	for i := range 72 {
		hourly += fmt.Sprintf("2012-01-%02d %02d:00,0.1\n", 1+i/24, i%24)
	}
	for text, want := range map[string]string{
		"Dear neighbour,\nit rains.\n":                          "no record of days",
		"date,rain\n2012-01-01,4\n":                             "it has one day only, 2012-01-01; give a record of a year at least",
		"date,rain\n2012-01-01,4\n2012-01-01,5\n2012-01-01,5\n": "it has one day only",
		hourly:                         "it has 72 rows for 3 days; give a record of one place with one row a day",
		"":                             "no record of days",
		"a,b,c\n1,2,3\n4,5,6\n7,8,9\n": "no column is taken for the date",
		"\x00\x01\x02":                 "not text",
	} {
		path := put(t, text)
		l, err := LookAt(path)
		if err == nil {
			_, _, err = Read(context.Background(), path, l)
		}
		if err == nil || !strings.Contains(err.Error(), want) || strings.Contains(err.Error(), "\n") || !strings.HasPrefix(err.Error(), "days.csv: ") {
			t.Errorf("%.40q: error %v, want %q", text, err, want)
		}
	}
}

// Totals of weeks or months are no days, whether the days between them have rows or not; a
// long gap between days is one.
func TestTotalsOfSeveralDaysAreRefused(t *testing.T) {
	sparse := func(every int) string {
		return series("date,rain", 800, func(i int, date string) string {
			if i%every > 0 {
				return ""
			}
			return date + ",30"
		})
	}
	blank := series("date,rain,low,high", 800, func(i int, date string) string {
		if i%30 > 0 {
			return date + ",,5,15"
		}
		return date + ",60,5,15"
	})
	for text, want := range map[string]string{sparse(7): "one day in 7 only", sparse(30): "one day in 30 only", blank: "one day in 30 only"} {
		path := put(t, text)
		l, err := LookAt(path)
		if err != nil {
			t.Fatal(err)
		}
		if _, _, err = Read(context.Background(), path, l); err == nil || !strings.Contains(err.Error(), want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("error %v, want %q", err, want)
		}
	}
	gap := series(header, 4000, func(i int, date string) string {
		if i > 800 && i < 3200 {
			return ""
		}
		return plainDay(i, date)
	})
	if _, r, report := days(t, gap); len(r.Days) != 4000 || !strings.Contains(strings.Join(report.Findings, " "), "The rain is known on 1601 of 4000 days.") {
		t.Errorf("%d days: %q", len(r.Days), report.Findings)
	}
}

func TestAColumnOfWordsIsNoRain(t *testing.T) {
	text := series("date,rain,sky", 40, func(i int, date string) string { return fmt.Sprintf("%s,%d,sun", date, i%3) })
	path := filepath.Join(t.TempDir(), "words.csv")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	look, err := LookAt(path)
	if err != nil {
		t.Fatal(err)
	}
	look.Columns.Rain = 2
	if _, _, err := Read(t.Context(), path, look); err == nil || !strings.Contains(err.Error(), "the column of the rain holds no figure") {
		t.Errorf("%v", err)
	}
}
