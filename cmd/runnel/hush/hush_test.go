package hush_test

import (
	"os"
	"os/exec"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"

	"runnel/cmd/runnel/hush"
)

// The test runs itself where the computer's language is "C.UTF-8", and looks at what
// the toolkit wrote as it started.
func TestTheToolkitStartsWithoutAWord(t *testing.T) {
	if os.Getenv("RUNNEL_HUSH") != "" {
		hush.Lift()
		// The toolkit looks at the language again, now that the log is heard.
		if err := lang.AddTranslations(fyne.NewStaticResource("en.json", []byte("{}"))); err != nil {
			t.Fatal(err)
		}
		return
	}
	self := exec.Command(os.Args[0], "-test.run", "^TestTheToolkitStartsWithoutAWord$")
	self.Env = []string{"RUNNEL_HUSH=1", "LANG=C.UTF-8", "PATH=" + os.Getenv("PATH"), "HOME=" + t.TempDir()}
	var said strings.Builder
	self.Stderr = &said
	if err := self.Run(); err != nil {
		t.Fatal(err)
	}
	if got := strings.Count(said.String(), "Fyne error"); got != 1 {
		t.Errorf("%d faults are heard, want the one after the log is lifted:\n%s", got, said.String())
	}
}
