package ui

import (
	"bytes"
	"context"
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"runnel/app/view"
	"runnel/assets"
)

// speakFor has the window speak a language for the length of the test.
func (b *bench) speakFor(code string) {
	b.t.Helper()
	b.t.Cleanup(func() { setLanguage("en") })
	b.speak(code)
}

// says are the texts of the whole window: content and menus.
func (b *bench) says() []string {
	lines := strings.Split(texts(b.win.Content()), "\n")
	for _, menu := range b.menu.main.Items {
		lines = append(lines, menu.Label)
		for _, item := range menu.Items {
			lines = append(lines, item.Label)
		}
	}
	return lines
}

var word = regexp.MustCompile(`\pL{4,}`)

// spanishWords are all that the catalogue uses, and the names that the site of the
// tests has.
func spanishWords(t *testing.T) map[string]bool {
	data, err := assets.Words.ReadFile("words/es.json")
	if err != nil {
		t.Fatal(err)
	}
	texts, known := map[string]string{}, map[string]bool{}
	if err := json.Unmarshal(data, &texts); err != nil {
		t.Fatal(err)
	}
	for _, text := range texts {
		for _, w := range word.FindAllString(text, -1) {
			known[strings.ToLower(w)] = true
		}
	}
	for _, w := range word.FindAllString("Valley Meander Old drain Runnel English Español ASCII zone", -1) {
		known[strings.ToLower(w)] = true
	}
	return known
}

func TestTheWindowInSpanishShowsNoEnglish(t *testing.T) {
	b := newBench(t)
	known := spanishWords(t)
	b.speakFor("es")
	look := func(where string) {
		t.Helper()
		for _, line := range b.says() {
			if said := told(line); said != line && line != "Old drain" {
				t.Errorf("%s: %q is English; it is %q", where, line, said)
			}
			for _, w := range word.FindAllString(line, -1) {
				if !known[strings.ToLower(w)] && strings.TrimSpace(line) != "" {
					t.Errorf("%s: %q has the word %q, which the catalogue has not", where, line, w)
				}
			}
		}
	}
	look("the start")
	b.open()
	b.drawChannel()
	b.settle()
	for i := range steps {
		b.goTo(i)
		b.settle()
		if steps[i].show.Has(view.Stormwater) {
			b.until("the storm", b.rained)
			b.pump()
			b.ledger.refresh()
		}
		look(steps[i].icon)
	}
}

func TestFiguresAreWrittenAsTheLanguageDoes(t *testing.T) {
	b := newBench(t)
	for _, c := range []struct {
		code, area, sentence, typed string
		thousands                   string
	}{
		{"en", "12.3\u00a0m²", "Pond no more than 0.46 m (common practice).", "0.5", "1\u2009234.50"},
		{"es", "12,3\u00a0m²", "Encharcar no más de 0,46 m (common practice).", "0,5", "1\u2009234,50"},
	} {
		b.speakFor(c.code)
		if got := metric.area(12.3); got != c.area {
			t.Errorf("%s: an area is %q", c.code, got)
		}
		if got := metric.told("Pond no more than 0.46 m (common practice)."); got != c.sentence {
			t.Errorf("%s: a sentence is %q", c.code, got)
		}
		if got := typedNumber(0.5); got != c.typed {
			t.Errorf("%s: a number to type is %q", c.code, got)
		}
		if got := decimal(1234.5, 2); got != c.thousands {
			t.Errorf("%s: a number of thousands is %q", c.code, got)
		}
	}
	if got := usFeet.told("Pond no more than 0.3048 m (common practice)."); got != "Encharcar no más de 1\u00a0ft (common practice)." {
		t.Errorf("in feet it is %q", got)
	}
	if got := metric.told("v1.2.3.gpkg is empty; copy it again from where it came"); !strings.HasPrefix(got, "v1.2.3.gpkg está") {
		t.Errorf("the name of a file is changed: %q", got)
	}
}

func TestAnotherLanguageIsTakenUpAtOnceAndKept(t *testing.T) {
	b := newBench(t)
	b.speakFor("en")
	b.open()
	before := b.says()
	b.speak("es")
	b.settle()
	if got := b.says(); slices.Equal(got, before) || !slices.Contains(got, "Forma") {
		t.Errorf("it does not speak Spanish:\n%s", strings.Join(got, "\n"))
	}
	if got := b.app.Preferences().String(languagePreference); got != "es" {
		t.Errorf("%q is remembered", got)
	}
	on := 0
	for _, c := range b.languageCommands() {
		if c.on() {
			on++
		}
	}
	if on != 1 {
		t.Errorf("%d languages are marked", on)
	}
	b.speak("en")
	b.settle()
	if got := b.says(); !slices.Equal(got, before) {
		t.Errorf("back in English it says\n%s\nand said\n%s", strings.Join(got, "\n"), strings.Join(before, "\n"))
	}
}

// untranslated are texts of two words and more that nobody reads in the window: keys
// of preferences, headings of a file for programs, patterns. So is what has a %p in it, by
// which a part knows whether it shows what there is.
var untranslated = []string{
	"text size", "step of", "legend folded", "fold tools", "fold ledger", "fold sections", "fold sections elsewhere", "ledger width", "section height", "tour was offered", "where sites were left",
	"difference from as it is", "sure difference",
	"- **%s**  %s\n", `(\d+)(\.\d+)?([ \x{00a0}])(m³|m²|[mL]/s|m)([^\p{L}\p{N}²³/]|$)`,
	"Days it runs", " de el ", " a el ",
}

func TestEveryTextOfTheWindowIsSaidThroughTheCatalogue(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil || len(files) < 50 {
		t.Fatalf("found %d files: %v", len(files), err)
	}
	for _, path := range files {
		if strings.HasSuffix(path, "_test.go") || path == "banner.go" { // a drawing
			continue
		}
		set := token.NewFileSet()
		file, err := parser.ParseFile(set, path, nil, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.ImportSpec, *ast.Field:
				return false
			case *ast.CallExpr:
				if name, ok := n.Fun.(*ast.Ident); ok && (name.Name == "tr" || name.Name == "trf") && path != "words.go" {
					if _, ok := n.Args[0].(*ast.BasicLit); !ok {
						t.Errorf("%s: %s of what is no text; the catalogue cannot hold it", set.Position(n.Pos()), name.Name)
					}
				}
				return !speaks(n)
			case *ast.BasicLit:
				if text, err := strconv.Unquote(n.Value); err == nil && n.Kind == token.STRING && twoWords.MatchString(text) && !slices.Contains(untranslated, text) && !strings.Contains(text, "%p") {
					t.Errorf("%s: %q is not said through tr", set.Position(n.Pos()), text)
				}
			}
			return true
		})
	}
}

var twoWords = regexp.MustCompile(`\pL\S* +\S*\pL|\pL\S* +%|% ?\pL* +\pL`)

// speaks reports whether a call says its texts in the language that is set, or makes
// what is told when it is shown; or speaks to no person.
func speaks(call *ast.CallExpr) bool {
	switch f := call.Fun.(type) {
	case *ast.Ident:
		return slices.Contains([]string{"tr", "trf", "told", "toldLater", "panic"}, f.Name)
	case *ast.SelectorExpr:
		if in, ok := f.X.(*ast.SelectorExpr); ok && in.Sel.Name == "trace" {
			return true
		}
		return slices.Contains([]string{"Errorf", "New"}, f.Sel.Name)
	}
	return false
}

func TestAnExportedPictureSpeaksTheLanguage(t *testing.T) {
	b := newBench(t)
	b.open()
	b.goTo(2)
	b.settle()
	var drawn [2][]byte
	for i, code := range []string{"en", "es"} {
		b.speakFor(code)
		b.settle()
		path := filepath.Join(t.TempDir(), "map.png")
		if err := b.pictureWriter()(context.Background(), path, b.doc.Site(), b.board.Scheme); err != nil {
			t.Fatal(err)
		}
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		drawn[i] = data
	}
	if bytes.Equal(drawn[0], drawn[1]) {
		t.Error("in Spanish it is the same picture as in English")
	}
}
