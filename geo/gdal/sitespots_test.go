package gdal

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/paulmach/orb"

	"runnel/geo/survey"
)

func TestDigestsTellSurveysApart(t *testing.T) {
	seen := map[string]int{digestOf(survey.Survey{}): -1, digestOf(measured()): -2}
	changes := []func(*survey.Survey){
		func(s *survey.Survey) { s.Sources[0].Unit = "m" },
		func(s *survey.Survey) { s.Sources[1].Codes[0] = "G" },
		func(s *survey.Survey) { s.Sources[1].Codes = nil },
		func(s *survey.Survey) { s.Lines[0].Z[0]++ },
		func(s *survey.Survey) { s.Lines[0].Z = []float64{12.3, 12.3, 12.3} },
		func(s *survey.Survey) { s.Lines[0].Use = survey.Break },
		func(s *survey.Survey) { s.Lines[0].Out = true },
		func(s *survey.Survey) { s.Spots[0].Row = 5 },
		func(s *survey.Survey) { s.Spots[4].Out = true },
		func(s *survey.Survey) { s.Patches[2].Why = survey.Trees },
		func(s *survey.Survey) { s.Patches[0].Outline[0][1][0] = 8 },
	}
	for i, c := range changes {
		s := measured()
		c(&s)
		d := digestOf(s)
		if other, ok := seen[d]; ok {
			t.Errorf("change %d has the digest of %d", i, other)
		}
		seen[d] = i
	}
}

func manySpots(n int) survey.Survey {
	s := survey.Survey{Sources: []survey.Source{{Name: "shots.csv", Form: survey.Points, Count: n, Codes: []string{"GRD", "TOP"}}}}
	for i := range n {
		s.Spots = append(s.Spots, survey.Spot{At: orb.Point{500000 + float64(i%1000), 5200000 + float64(i)/1000}, Z: math.Sin(float64(i)), Row: int32(i + 1), Code: int16(i % 2)})
	}
	return s
}

func BenchmarkAMillionSpots(b *testing.B) {
	path := filepath.Join(b.TempDir(), "verge.gpkg")
	s := plot(b)
	s.Survey = manySpots(1_000_000)
	b.Run("first save", func(b *testing.B) {
		for b.Loop() {
			os.Remove(path)
			if err := SaveSite(path, s); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("save again", func(b *testing.B) {
		for b.Loop() {
			if err := SaveSite(path, s); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("save changed", func(b *testing.B) {
		for b.Loop() {
			s.Survey.Spots[0].Z++
			if err := SaveSite(path, s); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("open", func(b *testing.B) {
		for b.Loop() {
			if _, err := OpenSite(path); err != nil {
				b.Fatal(err)
			}
		}
	})
}
