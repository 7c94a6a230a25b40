package season

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Years that are run one by one, each from how it was remembered to begin, make up the
// whole record.
func TestYearsOneByOneMakeUpTheRecord(t *testing.T) {
	for seed := range uint64(100) {
		in, f := randomSite(rand.New(rand.NewPCG(seed, 7)), 3*365+1)
		m := model(t, in)
		f.Years = nil
		whole := m.Trace(f).Total
		m.Remember(f)
		m = m.Clone()
		var sum, one Sum
		for i := range m.years {
			f.Years = []int{i}
			m.RunSum(f, &one)
			sum.add(&one)
		}
		for what, pair := range map[string][2]float64{
			"soaked": {sum.Soaked, whole.Soaked}, "recharge": {sum.Recharge, whole.Recharge}, "spilled": {sum.Spilled, whole.Spilled}, "wet": {sum.Wet, whole.Wet},
		} {
			if math.Abs(pair[0]-pair[1]) > 1e-9*math.Max(1, math.Abs(pair[1])) {
				t.Errorf("seed %d: %s of the years is %v, of the record %v", seed, what, pair[0], pair[1])
			}
		}
	}
}
