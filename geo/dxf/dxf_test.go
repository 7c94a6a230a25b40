package dxf

import (
	"math"
	"strconv"
	"strings"
	"testing"
)

// pairs reads a file's codes and values.
func pairs(t *testing.T, d Drawing) (codes []int, values []string) {
	t.Helper()
	var b strings.Builder
	if err := Write(&b, d); err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSuffix(b.String(), "\r\n"), "\r\n")
	if len(lines)%2 != 0 {
		t.Fatalf("%d lines make no pairs", len(lines))
	}
	for i := 0; i < len(lines); i += 2 {
		code, err := strconv.Atoi(strings.TrimSpace(lines[i]))
		if err != nil {
			t.Fatalf("line %d is no code: %q", i+1, lines[i])
		}
		codes, values = append(codes, code), append(values, lines[i+1])
	}
	return codes, values
}

func TestADrawingIsPairsThatEndWithTheFile(t *testing.T) {
	codes, values := pairs(t, Drawing{About: []string{"Metres."}, Layers: []Layer{
		{Name: "BED", Colour: 5, Lines: []Line{{{1, 2, 3}, {4, 5, 6}}}},
		{Name: "PEGS", Colour: 1, Points: []Point{{523413.15, 4811160.0004, 83.9342}}, Texts: []Text{{At: Point{1, 2, 3}, Height: 0.15, Text: "7"}}},
	}})
	all := strings.Join(values, "|")
	for _, part := range []string{
		"Metres.|SECTION|HEADER|$ACADVER|AC1009|", "|LAYER|BED|0|5|CONTINUOUS|LAYER|PEGS|0|1|CONTINUOUS|ENDTAB|",
		"|POLYLINE|BED|1|0.0000|0.0000|0.0000|8|VERTEX|BED|1.0000|2.0000|3.0000|32|VERTEX|BED|4.0000|5.0000|6.0000|32|SEQEND|BED|",
		"|POINT|PEGS|523413.1500|4811160.0004|83.9342|", "|TEXT|PEGS|1.0000|2.0000|3.0000|0.1500|7|ENDSEC|EOF",
		"|$EXTMIN|1.0000|2.0000|3.0000|$EXTMAX|523413.1500|4811160.0004|83.9342|",
	} {
		if !strings.Contains(all, part) {
			t.Errorf("%s is not in %s", part, all)
		}
	}
	if codes[0] != 999 || codes[len(codes)-1] != 0 || values[len(values)-1] != "EOF" {
		t.Errorf("it starts with %d and ends with %s", codes[0], values[len(values)-1])
	}
}

func TestWhatHasNoPlaceIsLeftOut(t *testing.T) {
	none := math.NaN()
	_, values := pairs(t, Drawing{Layers: []Layer{{
		Name: "A", Points: []Point{{none, 1, 2}, {1, math.Inf(1), 2}, {1, 2, none}},
		Lines: []Line{nil, {{1, 2, 3}}, {{1, 2, 3}, {none, 2, 3}}, {{1, 2, none}, {none, 2, 3}, {3, 4, 5}}},
		Texts: []Text{{At: Point{none, 0, 0}, Text: "lost"}},
	}}})
	count := map[string]int{}
	for _, v := range values {
		count[v]++
		if strings.Contains(v, "NaN") || strings.Contains(v, "Inf") || v == "lost" {
			t.Errorf("it holds %q", v)
		}
	}
	if count["POINT"] != 1 || count["POLYLINE"] != 1 || count["VERTEX"] != 2 || count["TEXT"] != 0 {
		t.Errorf("it holds %v", count)
	}
}

func TestTextIsOneLineOfASCII(t *testing.T) {
	for text, want := range map[string]string{
		"a\r\n0\nEOF": "a  0 EOF", "Bäche": `B\U+00E4che`, "\xff": "?", "\U0001F600": "?", "": "",
	} {
		if got := plain(text); got != want {
			t.Errorf("%q is written %q, want %q", text, got, want)
		}
	}
	if got := plain(strings.Repeat("ä", 1000)); len(got) > longest || len(got)%7 != 0 {
		t.Errorf("a long text is %d letters: %q", len(got), got)
	}
}

func TestALayerWithABadNameIsTheCallersMistake(t *testing.T) {
	for _, name := range []string{"", "bed", "BED EDGE", "A\n", strings.Repeat("A", 32)} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("a layer is named %q", name)
				}
			}()
			Write(&strings.Builder{}, Drawing{Layers: []Layer{{Name: name}}})
		}()
	}
}
