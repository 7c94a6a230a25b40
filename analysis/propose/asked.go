package propose

import (
	"context"
	"fmt"

	"runnel/analysis/channel"
	"runnel/geo/plan"
)

// Asked returns the question of a better course for the first channel of a scheme:
// from its start to its end, with its digging, its islands' with it, its mean fall and
// its side slopes.
func Asked(ctx context.Context, s *plan.Site, scheme plan.SchemeID) (Question, error) {
	q := Question{Scheme: scheme}
	n, _ := channel.NewNetwork(s, scheme)
	for _, f := range n.Features() {
		if f.Kind != plan.Channel {
			continue
		}
		l, err := n.LongSection(f.ID)
		if err != nil {
			return q, err
		}
		line := f.Line()
		q.Instead, q.From, q.To = f.ID, line[0], line[len(line)-1]
		q.Left, q.Right, q.Depth = f.Num("side_left"), f.Num("side_right"), f.Num("depth")
		first, last := l.Places[0], l.Places[len(l.Places)-1]
		q.Grade = max(0, (first.Bed-last.Bed)/l.Length*100)
		if _, _, tied := tie(n, q, q.From); !tied {
			q.Bed = first.Bed
		}
		with, err := dug(ctx, s, scheme)
		if err != nil {
			return q, err
		}
		without, err := dug(ctx, beside(s, q), scheme)
		q.Volume = with - without
		return q, err
	}
	return q, fmt.Errorf("%s has no channel that is laid out; say where the line starts and ends, and how much may be dug", s.Plan.SchemeName(scheme))
}
