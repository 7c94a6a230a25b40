package printed

import (
	"slices"
	"strings"
	"testing"
)

func TestFiguresAreReadByTheirColumns(t *testing.T) {
	table, err := Read("thing,low,high,source\nrope,1,2.5,\"a book, second edition\"\n", 4)
	if err != nil {
		t.Fatal(err)
	}
	got, err := Figures{First: 1, End: 3, Low: 0, High: 3}.In(table, table.Rows[0])
	if err != nil || !slices.Equal(got, []float64{1, 2.5}) {
		t.Errorf("the figures are %v (%v)", got, err)
	}
}

func TestATableThatCannotBeReadIsRefused(t *testing.T) {
	for text, want := range map[string]string{
		"":                         "no figures",
		"thing,low\n":              "no figures",
		"thing,low,high\nrope,1,2": "no figures",
		"thing,low\nrope,1,2\n":    "wrong number of fields",
		"thing,low\nrope,long\n":   `low of rope is "long"; give a figure from 1 to 3`,
		"thing,low\nrope,0.5\n":    `low of rope is "0.5"`,
		"thing,low\nrope,NaN\n":    `low of rope is "NaN"`,
	} {
		table, err := Read(text, 2)
		if err == nil {
			_, err = Figures{First: 1, End: 2, Low: 1, High: 3}.In(table, table.Rows[0])
		}
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: the error is %v, want %q in it", text, err, want)
		}
	}
}

func TestAThingIsFoundByItsNameWhateverItsCase(t *testing.T) {
	things := []string{"Rope", "wire"}
	same := func(s string) string { return s }
	if got, ok, _ := Named(things, " ROPE ", same); !ok || got != "Rope" {
		t.Errorf("found %q, %v", got, ok)
	}
	if got, ok, names := Named(things, "string", same); ok || got != "" || names != "Rope, wire" {
		t.Errorf("found %q, %v, of %q", got, ok, names)
	}
}
