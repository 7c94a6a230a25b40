package weather

import (
	"bytes"
	"context"
	"strings"
	"testing"
)

// Whatever comes, it is a sound record with sentences, or one sentence.
func FuzzDays(f *testing.F) {
	for _, text := range []string{
		"date,rain,low,high\n2012-01-30,2.5,-1.5,4\n2012-02-01,0,0,5.5\n", "d;r\n30.01.2012;2,5\n1.2.2012;-999\n",
		"year month day rain\n2012 1 30 2.5\n2012 2 30 1\n", "2012030,1\n2012031,T\n", "30-Jan-12\t1\n31-Jan-12\t2\n1 f\xe9vr 2012\t2\n",
		"\xFF\xFEd\x00,\x00r\x00\n\x00", "#date x\n2100-01-01 1\n2012-01-01 1\n2012-01-02 1\n", "date,a,b\n2012-01-01T00:00Z,1e300,\"9,9\"\n2012-01-01,0,1",
		"1700-01-01,1\n2200-12-31,2\n1950-06-06,1\n",
	} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		l, err := lookAt(bytes.NewReader(text), int64(len(text)))
		if err != nil {
			plain(t, err.Error())
			return
		}
		if len(l.First) == 0 || len(l.First) > firstRows || len(l.Why) == 0 {
			t.Fatalf("a look without rows or reason: %+v", l)
		}
		for _, why := range l.Why {
			plain(t, why)
		}
		r, report, err := read(context.Background(), bytes.NewReader(text), l)
		if err != nil {
			plain(t, err.Error())
			return
		}
		if err := r.Check(); err != nil {
			t.Fatal(err)
		}
		if len(r.Days) < 2 || report.Days != len(r.Days) || report.Rows > bytes.Count(text, []byte("\n"))+bytes.Count(text, []byte("\r"))+1 {
			t.Fatalf("%d days, %+v", len(r.Days), report)
		}
		for _, found := range report.Findings {
			plain(t, found)
		}
	})
}

func plain(t *testing.T, sentence string) {
	t.Helper()
	if sentence == "" || strings.Contains(sentence, "\n") || len(sentence) > 2000 {
		t.Fatalf("no sentence: %q", sentence)
	}
}
