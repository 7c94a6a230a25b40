package hush

import (
	"log"
	"strings"
	"testing"
)

func TestOnlyThePreferencesThatWereFoundEmptyAreNotHeardOf(t *testing.T) {
	for _, c := range []struct {
		name        string
		lines, want []string
	}{
		{"found empty", []string{"Fyne error:  Preferences load error:", "  Cause: EOF", "  At: preferences.go:103", "after"}, []string{"after"}},
		{"damaged", []string{"Fyne error:  Preferences load error:", "  Cause: invalid character", "  At: preferences.go:103"},
			[]string{"Fyne error:  Preferences load error:", "  Cause: invalid character", "  At: preferences.go:103"}},
		{"another fault that ends early", []string{"Fyne error:  Cannot read", "  Cause: EOF", "  At: file.go:1"},
			[]string{"Fyne error:  Cannot read", "  Cause: EOF", "  At: file.go:1"}},
		{"found empty twice", []string{"Fyne error:  Preferences load error:", "  Cause: EOF", "  At: p.go:103",
			"Fyne error:  Preferences load error:", "  Cause: EOF", "  At: p.go:103"}, nil},
	} {
		var heard strings.Builder
		l := log.New(&sieve{to: &heard}, "", 0)
		for _, line := range c.lines {
			l.Println(line)
		}
		want := ""
		if c.want != nil {
			want = strings.Join(c.want, "\n") + "\n"
		}
		if heard.String() != want {
			t.Errorf("%s: heard %q, want %q", c.name, heard.String(), want)
		}
	}
}
