package words_test

import (
	"encoding/json"
	"flag"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"runnel/analysis/earthwork"
	"runnel/analysis/soil"
	"runnel/app/report"
	"runnel/geo/plan"
	"runnel/geo/survey"
	"runnel/geo/weather"
)

var update = flag.Bool("update", false, "write the English catalogue anew from the source")

const english, spanish = "../../assets/words/en.json", "../../assets/words/es.json"

// spoken are the functions whose first text is for people, wherever they are
// called; in the packages of telling every text of two words and more is.
var (
	spoken  = map[string]bool{"tr": true, "trf": true, "toldLater": true, "Errorf": true, "New": true, "note": true}
	telling = []string{"analysis/accuracy", "analysis/certainty", "analysis/surface", "app/groundwork", "app/tool", "app/site", "app/view", "analysis/caution", "analysis/channel", "analysis/compare", "analysis/earthwork", "analysis/hydraulics", "analysis/propose", "analysis/runoff", "analysis/soil", "analysis/soakin", "analysis/pool", "analysis/season", "analysis/demand", "analysis/mound"}
	roots   = []string{"geo", "analysis", "app"}
	apart   = []string{"app/action", "app/report", "analysis/synthetic", "analysis/internal"} // the command line's; tests'
	toolkit = []string{"Cut", "Copy", "Paste", "Select all", "Undo", "Redo"}                  // what the toolkit's fields offer
)

func TestTheEnglishCatalogueHoldsEveryTextOfTheSource(t *testing.T) {
	found := gather(t)
	if *update {
		write(t, found)
	}
	held := read(t, english)
	for text := range found {
		if held[text] != text {
			t.Errorf("%q is not in the catalogue; run go test ./app/words -update", text)
		}
	}
	for text := range held {
		if !found[text] {
			t.Errorf("%q is in the catalogue and nowhere in the source; run go test ./app/words -update", text)
		}
	}
}

func TestTheSecondLanguageSaysEveryText(t *testing.T) {
	said := read(t, spanish)
	for text := range read(t, english) {
		other, ok := said[text]
		switch {
		case !ok || other == "":
			t.Errorf("%q is not said in Spanish", text)
		case !slices.Equal(verbs(text), verbs(other)):
			t.Errorf("%q fills in %v, its Spanish %v: %q", text, verbs(text), verbs(other), other)
		}
	}
	for text := range said {
		if _, ok := read(t, english)[text]; !ok {
			t.Errorf("%q is said in Spanish and in no English", text)
		}
	}
}

// verbs lists what a format fills in, by the place in the list of arguments.
func verbs(format string) []string {
	var found []string
	for i, m := range regexp.MustCompile(`%(?:\[(\d+)\])?[-+# 0]*\d*(?:\.\d+)?[sdqgfvwc]`).FindAllStringSubmatch(strings.ReplaceAll(format, "%%", ""), -1) {
		place := strconv.Itoa(i + 1)
		if m[1] != "" {
			place = m[1]
		}
		found = append(found, place)
	}
	slices.Sort(found)
	return slices.Compact(found)
}

func read(t *testing.T, file string) map[string]string {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	texts := map[string]string{}
	if err := json.Unmarshal(data, &texts); err != nil {
		t.Fatalf("%s: %v", file, err)
	}
	return texts
}

func write(t *testing.T, found map[string]bool) {
	t.Helper()
	var b strings.Builder
	b.WriteString("{\n")
	sorted := slices.Sorted(maps.Keys(found))
	for i, text := range sorted {
		quoted, end := strings.Builder{}, ",\n"
		encoder := json.NewEncoder(&quoted)
		encoder.SetEscapeHTML(false)
		if err := encoder.Encode(text); err != nil {
			t.Fatal(err)
		}
		if i == len(sorted)-1 {
			end = "\n"
		}
		key := strings.TrimSpace(quoted.String())
		b.WriteString("  " + key + ": " + key + end)
	}
	b.WriteString("}\n")
	if err := os.WriteFile(english, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
}

// gather lists all texts for people: of the source, of the kinds and fields of
// the plan, of the soils.
func gather(t *testing.T) map[string]bool {
	found := map[string]bool{}
	for _, root := range roots {
		err := filepath.WalkDir(filepath.Join("../..", root), func(path string, d fs.DirEntry, err error) error {
			name := filepath.ToSlash(strings.TrimPrefix(path, "../../"))
			if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") || within(name, apart) {
				return err
			}
			return texts(path, within(name, telling), found)
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	gatherPlan(found)
	gatherSetting(found)
	gatherWeather(found)
	for _, texture := range soil.Textures() {
		found[texture.Name] = true
		found[earthwork.ChangeOf(texture.Name).Soil] = true
	}
	for _, use := range []survey.Use{survey.Contour, survey.Break, survey.Kerb, survey.Edge} {
		found[use.String()] = true
	}
	for _, m := range report.Methods() {
		found[m.Figure], found[m.How] = true, true
	}
	found[report.Beware] = true
	for _, words := range toolkit {
		found[words] = true
	}
	delete(found, "")
	return found
}

// gatherPlan adds the texts of the kinds and fields of the plan.
func gatherPlan(found map[string]bool) {
	for _, spec := range plan.Specs() {
		found[spec.Label] = true
		for _, field := range spec.Fields {
			found[field.Label], found[field.Part] = true, true
			found["the "+strings.ToLower(field.Label)] = true // as what is wrong with it is said
			if len(field.Unit) > 3 {
				found[field.Unit] = true
			}
			for _, word := range field.Of {
				found[word] = true
			}
		}
	}
}

// gatherSetting adds the texts of the figures and words of a site's setting.
func gatherSetting(found map[string]bool) {
	fields := []plan.Field{}
	for _, f := range plan.SettingFigures() {
		fields = append(fields, f.Field)
	}
	for _, f := range plan.SettingTexts() {
		fields = append(fields, f.Field)
	}
	for _, field := range fields {
		found[field.Label] = true
		found["the "+strings.ToLower(field.Label)] = true // as what is wrong with it is said
		if len(field.Unit) > 3 {
			found[field.Unit] = true
		}
		for _, word := range field.Of {
			found[word] = true
		}
	}
}

// gatherWeather adds what the figures of a day are called and what they may be in.
func gatherWeather(found map[string]bool) {
	for _, q := range weather.Quantities() {
		found[q.Label] = true
		for _, unit := range q.Units {
			if len(unit) > 4 {
				found[unit] = true
			}
		}
	}
	for order := range weather.MonthDayYear + 1 {
		found[order.String()] = true
	}
}

func within(name string, folders []string) bool {
	return slices.ContainsFunc(folders, func(folder string) bool { return strings.HasPrefix(name, folder+"/") })
}

// texts adds the texts of one file.
func texts(path string, all bool, found map[string]bool) error {
	file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
	if err != nil {
		return err
	}
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.ImportSpec, *ast.Field: // tags of fields
			return false
		case *ast.CallExpr:
			name := called(n)
			if name == "panic" {
				return false
			}
			if spoken[name] && len(n.Args) > 0 {
				if text, ok := literal(n.Args[0]); ok {
					found[text] = true
				}
			}
			if name == "Sprintf" { // part of what is told, if it has words
				if text, ok := literal(n.Args[0]); ok && sentence(text) && !query.MatchString(text) {
					found[text] = true
				}
			}
			if name == "problem" && len(n.Args) > 1 { // of a feature, which comes first
				if text, ok := literal(n.Args[1]); ok {
					found[text] = true
				}
			}
		case *ast.BinaryExpr:
			if text, ok := literal(n); ok && all && sentence(text) {
				found[text] = true
				return false
			}
		case *ast.BasicLit:
			if text, ok := literal(n); ok && all && sentence(text) {
				found[text] = true
			}
		}
		return true
	})
	return nil
}

// query is what is written for a program.
var query = regexp.MustCompile(`^(?:SELECT|INSERT) |%p`)

// sentence reports whether a text has two words and more.
func sentence(text string) bool {
	return regexp.MustCompile(`\pL\S* +\S*\pL|\pL\S* +%|% ?\pL* +\pL`).MatchString(text)
}

func called(call *ast.CallExpr) string {
	switch f := call.Fun.(type) {
	case *ast.Ident:
		return f.Name
	case *ast.SelectorExpr:
		return f.Sel.Name
	}
	return ""
}

// literal returns a text that stands in the source in one piece or in several.
func literal(e ast.Expr) (string, bool) {
	switch e := e.(type) {
	case *ast.BasicLit:
		if e.Kind != token.STRING {
			return "", false
		}
		text, err := strconv.Unquote(e.Value)
		return strings.ReplaceAll(text, "%%s", "%s"), err == nil // a format that is filled in twice
	case *ast.BinaryExpr:
		left, ok := literal(e.X)
		right, also := literal(e.Y)
		return left + right, ok && also && e.Op == token.ADD
	}
	return "", false
}
