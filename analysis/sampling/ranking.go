package sampling

import (
	"cmp"
	"math"
	"slices"

	"runnel/geo"
)

// Range is RangeOf an output.
func (s *Sample) Range(output int) geo.Range { return RangeOf(s.Out[output]) }

// RangeOf returns the figures that 5, 50 and 95 % of some draws lie below. Those that are
// not known (NaN) are left out; a range of NaN is of none that is known.
func RangeOf(draws []float64) geo.Range {
	known := slices.DeleteFunc(slices.Clone(draws), math.IsNaN)
	slices.Sort(known)
	return geo.Range{Low: percentile(known, 5), Likely: percentile(known, 50), High: percentile(known, 95)}
}

// percentile goes straight between the sorted values, of which the first is 0 % and the
// last 100 %.
func percentile(sorted []float64, percent float64) float64 {
	if len(sorted) == 0 {
		return math.NaN()
	}
	at := percent / 100 * float64(len(sorted)-1)
	i := int(at)
	if part := at - float64(i); part > 0 && sorted[i] != sorted[i+1] {
		return sorted[i] + part*(sorted[i+1]-sorted[i])
	}
	return sorted[i]
}

// A Cause is an input, and the share of an output's spread that it causes.
type Cause struct {
	// Input is its number in the plan.
	Input int
	Name  string
	Share float64
}

// A Ranking lists the causes of an output's spread, the greatest first. Rest is the share
// that none of them explains alone: what they do together, and what goes neither up nor
// down throughout.
type Ranking struct {
	Causes []Cause
	Rest   float64
}

// Ranking ranks the inputs by the square of the rank correlation [Spearman1904] of each with an
// output, and a Choice, which has no order, by the correlation ratio [Fisher1925] of the
// output's ranks. Both are freed of what chance alone would bring. An output that does not
// vary has no causes: all is rest.
func (s *Sample) Ranking(output int) Ranking {
	known := s.known(output)
	out := ranks(known, s.Out[output])
	r := Ranking{Rest: 1}
	for k, in := range s.Plan.Inputs {
		c := Cause{Input: k, Name: in.Name}
		if n, ok := in.Of.(Choice); ok {
			c.Share = correlationRatio(s.Drawn[k], known, out, int(n))
		} else if len(known) == s.Plan.Draws {
			c.Share = squaredCorrelation(s.ranks[k], out)
		} else {
			c.Share = squaredCorrelation(ranks(known, s.Drawn[k]), out)
		}
		r.Causes = append(r.Causes, c)
		r.Rest -= c.Share
	}
	r.Rest = max(0, r.Rest)
	slices.SortStableFunc(r.Causes, func(a, b Cause) int { return cmp.Compare(b.Share, a.Share) })
	return r
}

// known lists the draws of which an output is known.
func (s *Sample) known(output int) []int32 {
	draws := make([]int32, 0, s.Plan.Draws)
	for i, v := range s.Out[output] {
		if !math.IsNaN(v) {
			draws = append(draws, int32(i))
		}
	}
	return draws
}

// rankInputs ranks them once for all outputs.
func (s *Sample) rankInputs() {
	all := make([]int32, s.Plan.Draws)
	for i := range all {
		all[i] = int32(i)
	}
	s.ranks = make([][]float64, len(s.Drawn))
	for k, in := range s.Plan.Inputs {
		if _, ok := in.Of.(Choice); !ok {
			s.ranks[k] = ranks(all, s.Drawn[k])
		}
	}
}

// ranks are those of the values of some draws, in the order of the draws; equal ones share
// their mean. Their middle is nought.
func ranks(draws []int32, values []float64) []float64 {
	type placed struct {
		value float64
		at    int32
	}
	order := make([]placed, len(draws))
	for i, d := range draws {
		order[i] = placed{values[d], int32(i)}
	}
	slices.SortFunc(order, func(a, b placed) int { return cmp.Compare(a.value, b.value) })
	list := make([]float64, len(order))
	for from := 0; from < len(order); {
		to := from + 1
		for to < len(order) && order[to].value == order[from].value {
			to++
		}
		for _, o := range order[from:to] {
			list[o.at] = float64(from+to-len(order)) / 2
		}
		from = to
	}
	return list
}

// squaredCorrelation is that of two lists whose middles are nought.
func squaredCorrelation(a, b []float64) float64 {
	var aa, bb, ab float64
	for i := range a {
		aa += a[i] * a[i]
		bb += b[i] * b[i]
		ab += a[i] * b[i]
	}
	if aa == 0 || bb == 0 {
		return 0
	}
	return beyondChance(ab*ab/(aa*bb), len(a), 2)
}

// correlationRatio is how much of the square of ranks lies between the means of groups.
func correlationRatio(group []float64, draws []int32, ranks []float64, groups int) float64 {
	sums, counts := make([]float64, groups), make([]float64, groups)
	whole := 0.0
	for i, d := range draws {
		g := int(group[d])
		sums[g] += ranks[i]
		counts[g]++
		whole += ranks[i] * ranks[i]
	}
	if whole == 0 {
		return 0
	}
	between, there := 0.0, 0
	for g, n := range counts {
		if n > 0 {
			between += sums[g] * sums[g] / n
			there++
		}
	}
	return beyondChance(between/whole, len(draws), there)
}

// beyondChance takes off an explained share what so many free figures explain of mere chance.
func beyondChance(share float64, draws, free int) float64 {
	if draws <= free {
		return 0
	}
	return max(0, 1-(1-share)*float64(draws-1)/float64(draws-free))
}
