package action

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// examples are the commands on files in out/ in the shell blocks of the README.
func examples(t *testing.T) [][]string {
	t.Helper()
	readme, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	var found [][]string
	shell := false
	for line := range strings.Lines(string(readme)) {
		if strings.HasPrefix(line, "```") {
			shell = strings.HasPrefix(line, "```sh")
			continue
		}
		command, _, _ := strings.Cut(line, "#")
		if args := strings.Fields(command); shell && strings.Contains(command, " out/") && args[0] == "bin/runnel" {
			found = append(found, args[1:])
		}
	}
	return found
}

func TestTheExamplesOfTheReadmeAreDone(t *testing.T) {
	dir := t.TempDir()
	must(t, "demo", dir)
	commands := examples(t)
	if len(commands) < 5 {
		t.Fatalf("the README has %d examples on files in out/, want 5 at least", len(commands))
	}
	for _, args := range commands {
		for i, arg := range args {
			if strings.HasPrefix(arg, "out/") {
				args[i] = filepath.Join(dir, arg[len("out/"):])
			}
		}
		must(t, args...)
	}
}
