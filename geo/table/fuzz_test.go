package table

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"strings"
	"testing"
)

// Whatever comes, it is points that are numbers, told rows, or one sentence.
func FuzzTable(f *testing.F) {
	for _, text := range []string{
		"x,y,z\n1,2,3\n", "1;2,5;3\n", "1 2 3 a\n", "\xFF\xFE1\x00,\x002\x00", "\"a,b\n1,2", "1,\"2\"\"3\",4\n", "#x y\n1\t2\r3\t4", "\xEF\xBB\xBF1,2,3", "\u22121.5,2,3\n4,5,6",
		"1,234.5;2;3",
	} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		l, err := lookAt(bytes.NewReader(text), int64(len(text)))
		if err != nil {
			if strings.Contains(err.Error(), "\n") {
				t.Fatalf("more than one line: %q", err)
			}
			return
		}
		if len(l.First) == 0 || len(l.First) > firstRows || len(l.Why) == 0 {
			t.Fatalf("a look without rows or reason: %+v", l)
		}
		if l.Columns.Check() != nil {
			return
		}
		lines := int32(bytes.Count(text, []byte("\n")) + bytes.Count(text, []byte("\r")) + 1)
		_, err = read(context.Background(), bytes.NewReader(text), l, func(r Row) error {
			if math.IsNaN(r.X-r.X) || math.IsNaN(r.Y-r.Y) || math.IsInf(r.Z, 0) || r.Number < 1 || r.Number > lines || len(r.Fields()) < 2 {
				t.Fatalf("row %d: %v %v %v in %q", r.Number, r.X, r.Y, r.Z, r.Fields())
			}
			return nil
		})
		if err != nil && strings.Contains(err.Error(), "\n") {
			t.Fatalf("more than one line: %q", err)
		}
	})
}

func BenchmarkReadAMillionRows(b *testing.B) {
	var text bytes.Buffer
	for i := range 1_000_000 {
		fmt.Fprintf(&text, "%d,%.3f,%.3f,%.3f,GS\n", i, 4811080+float64(i%997)*0.37, 523440+float64(i%991)*0.41, 80+float64(i%31)*0.07)
	}
	path := put(b, text.String())
	l, err := LookAt(path)
	if err != nil {
		b.Fatal(err)
	}
	l.Columns.Name = -1
	b.ReportAllocs()
	b.SetBytes(int64(text.Len()))
	for b.Loop() {
		n := 0
		if _, err := Read(context.Background(), path, l, func(Row) error { n++; return nil }); err != nil || n != 1_000_000 {
			b.Fatal(n, err)
		}
	}
}
