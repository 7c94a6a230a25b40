package report

import (
	"os"
	"regexp"
	"strings"
	"testing"
)

// listed are the works at the end of analysis/doc.go, by their keys.
func listed(t *testing.T) map[string]string {
	t.Helper()
	doc, err := os.ReadFile("../../analysis/doc.go")
	if err != nil {
		t.Fatal(err)
	}
	found := map[string]string{}
	for _, m := range regexp.MustCompile(`(?m)^//   - (\w+): ((?:.*\n//     .*)*.*)$`).FindAllSubmatch(doc, -1) {
		found[string(m[1])] = strings.ReplaceAll(string(m[2]), "\n//    ", "")
	}
	if len(found) < 10 {
		t.Fatalf("only %d works are found in the list", len(found))
	}
	return found
}

func TestEveryMethodIsTwoSentencesAtMostWithASourceOfTheList(t *testing.T) {
	known, seen := listed(t), map[string]bool{}
	stop := regexp.MustCompile(`[.!?](\s|$)`)
	for _, m := range Methods() {
		if seen[m.Key] || m.Key == "" || m.Figure == "" {
			t.Errorf("the method %q of %q is there twice, or has no name", m.Key, m.Figure)
		}
		seen[m.Key] = true
		if n := len(stop.FindAllString(m.How, -1)); n < 1 || n > 2 || !strings.HasSuffix(m.How, ".") {
			t.Errorf("%s: %d sentences: %s", m.Key, n, m.How)
		}
		for _, key := range m.Sources {
			named := works[key]
			if cut := len(named) - len("1959"); cut < 1 || !strings.HasPrefix(known[key], named[:cut-1]+",") || !strings.Contains(known[key], named[cut:]) {
				t.Errorf("%s: %s is %q, and in the list of analysis/doc.go %q", m.Key, key, named, known[key])
			}
		}
	}
}

func TestASourceIsNamedForAPerson(t *testing.T) {
	if got, want := (Method{Sources: []string{"Chow1959", "Higdon2002"}}).Source(), "Chow 1959; Higdon 2002"; got != want {
		t.Errorf("two works are named %q, want %q", got, want)
	}
	if got := (Method{}).Source(); got != "our own" {
		t.Errorf("a way of our own has the source %q", got)
	}
	if _, ok := MethodOf("moonshine"); ok {
		t.Error("a figure that is not shown has a method")
	}
}

func TestTheMethodsAreWrittenForAPerson(t *testing.T) {
	var b strings.Builder
	if err := WriteMethods(&b); err != nil {
		t.Fatal(err)
	}
	for _, m := range Methods() {
		if !strings.Contains(b.String(), m.Figure+"\n  "+m.How+"\n  Source: "+m.Source()+".\n") {
			t.Errorf("%s is not written", m.Key)
		}
	}
}
