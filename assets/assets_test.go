package assets

import (
	"encoding/xml"
	"io"
	"slices"
	"strings"
	"testing"

	"runnel/geo/plan"
)

// icon reads one drawing and returns its elements' names and its text.
func icon(t *testing.T, name string) (elements []string, text string) {
	t.Helper()
	drawing, err := Icons.ReadFile("icons/" + name + ".svg")
	if err != nil {
		t.Errorf("there is no drawing for %s", name)
		return nil, ""
	}
	for d := xml.NewDecoder(strings.NewReader(string(drawing))); ; {
		token, err := d.Token()
		if err == io.EOF {
			return elements, string(drawing)
		}
		if err != nil {
			t.Errorf("%s: %v", name, err)
			return nil, ""
		}
		if start, ok := token.(xml.StartElement); ok {
			elements = append(elements, start.Name.Local)
		}
	}
}

func TestEveryKindStepAndToolHasADrawingInOneColour(t *testing.T) {
	names := []string{"survey", "water", "shape", "soak", "plant", "walk", "handover", "select", "undo", "redo", "fit"}
	for _, spec := range plan.Specs() {
		names = append(names, spec.Name)
	}
	for _, name := range names {
		elements, text := icon(t, name)
		if len(elements) < 2 || elements[0] != "svg" {
			t.Errorf("%s draws nothing", name)
		}
		if !strings.Contains(text, `viewBox="0 0 24 24"`) {
			t.Errorf("%s is not 24 by 24", name)
		}
		if !strings.Contains(text, "currentColor") || strings.Contains(text, "#") {
			t.Errorf("%s has a colour of its own", name)
		}
	}
}

func TestDrawingsReferToNothingOutsideThem(t *testing.T) {
	files, err := Icons.ReadDir("icons")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		elements, text := icon(t, strings.TrimSuffix(file.Name(), ".svg"))
		for _, outside := range []string{"image", "use", "script", "style"} {
			if slices.Contains(elements, outside) || strings.Contains(text, "href") {
				t.Errorf("%s leans on something outside it", file.Name())
			}
		}
	}
}

func TestChangesBeginWithWhatIsNotReleasedYet(t *testing.T) {
	_, after, found := strings.Cut(Changes, "## ")
	if !found || !strings.HasPrefix(after, "Unreleased") {
		t.Errorf("the first heading of the changes is %.20q", after)
	}
}
