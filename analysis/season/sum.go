package season

import "math"

// unknownSum is that of what cannot be told.
var unknownSum = Sum{
	nan, nan, nan, nan, nan, nan, nan, nan, nan, nan, nan, nan, nan, nan, nan, nan,
}

var nan = math.NaN()

// add adds another sum.
func (s *Sum) add(o *Sum) {
	s.Drain += o.Drain
	s.Runoff += o.Runoff
	s.Rain += o.Rain
	s.Received += o.Received
	s.Soaked += o.Soaked
	s.Early += o.Early
	s.Evaporated += o.Evaporated
	s.Spilled += o.Spilled
	s.RanBack += o.RanBack
	s.Roots += o.Roots
	s.Recharge += o.Recharge
	s.Change += o.Change
	s.RootChange += o.RootChange
	s.Wet += o.Wet
	s.Runs += o.Runs
	s.Limited += o.Limited
}
