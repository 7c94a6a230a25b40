package main

import (
	"strings"
	"testing"
)

func TestAFigureMeetsItsTargetUpToTheLimit(t *testing.T) {
	for _, c := range []struct {
		row    string
		mcell  int
		figure float64
		want   string
	}{
		{editDelay, 1, 12, "+"}, {editDelay, 1, 12.01, "-"},
		{editDelay, 4, 39, "+"}, {editDelay, 25, 1000, " "},
		{secondCore, 25, 1.7, "+"}, {secondCore, 25, 1.69, "-"},
		{speed, 1, 5, " "},
	} {
		if got := targets[c.row].verdict(c.mcell, c.figure); got != c.want {
			t.Errorf("%s %g at %d Mcell is marked %q, want %q", c.row, c.figure, c.mcell, got, c.want)
		}
	}
}

func TestTheTableSetsEachGroundBesideTheSmallestOfItsKind(t *testing.T) {
	var table table
	table.column("site", 1).set(nsACell, 10)
	table.column("site", 100).set(nsACell, 16)
	table.column("flat", 1).set(nsACell, 20)
	table.column("flat", 100).set(nsACell, 24)
	var out strings.Builder
	if err := table.write(&out); err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(out.String()) {
		if strings.HasPrefix(line, growth) && strings.Join(strings.Fields(line[len(growth):]), " ") != "1.60- 1.20+ ≤ 1.5" {
			t.Errorf("the cost a cell is set out as %q", line)
		}
	}
	if !strings.Contains(out.String(), growth) {
		t.Errorf("the table has no row of growth:\n%s", out.String())
	}
}

func TestQuantilesAreValuesThatWereMeasured(t *testing.T) {
	v := []float64{5, 1, 4, 2, 3}
	if median(v) != 3 || quantile(v, 0.95) != 5 || quantile(v[:1], 0.95) != 5 {
		t.Errorf("median %g, p95 %g, of one value %g", median(v), quantile(v, 0.95), quantile(v[:1], 0.95))
	}
}
