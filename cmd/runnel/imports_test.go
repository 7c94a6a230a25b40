package main

import (
	"encoding/json"
	"os/exec"
	"strings"
	"testing"
)

// layer ranks the house's floors: a package may import its own floor and those
// below it, never one above.
func layer(path string) int {
	switch strings.Split(path, "/")[1] {
	case "geo":
		return 1
	case "assets":
		return 2
	case "analysis":
		return 3
	case "app":
		return 4
	}
	return 5
}

// only names the one package, and what may sit beneath it, that may import a library.
var only = map[string][]string{
	"github.com/lukeroth/gdal": {"runnel/geo/gdal"},
	"C":                        {"runnel/geo/gdal"},
	"fyne.io/fyne/v2/app":      {"runnel/cmd/runnel"},
	"fyne.io/fyne/v2":          {"runnel/app/ui", "runnel/cmd/runnel"},
}

type listed struct {
	ImportPath           string
	Imports, TestImports []string
	XTestImports         []string
}

func listPackages(t *testing.T) []listed {
	t.Helper()
	cmd := exec.Command("go", "list", "-tags", "ci", "-json=ImportPath,Imports,TestImports,XTestImports", "./...")
	cmd.Dir = "../.."
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	var all []listed
	for d := json.NewDecoder(strings.NewReader(string(out))); d.More(); {
		var p listed
		if err := d.Decode(&p); err != nil {
			t.Fatal(err)
		}
		all = append(all, p)
	}
	return all
}

func TestImportsRunOneWay(t *testing.T) {
	packages := listPackages(t)
	if len(packages) < 10 {
		t.Fatalf("only %d packages are listed", len(packages))
	}
	for _, p := range packages {
		for _, imported := range p.Imports {
			if strings.HasPrefix(imported, "runnel/") && layer(imported) > layer(p.ImportPath) {
				t.Errorf("%s imports %s, which stands above it", p.ImportPath, imported)
			}
		}
	}
}

func TestLibrariesStayInTheirRooms(t *testing.T) {
	for _, p := range listPackages(t) {
		for _, imported := range p.Imports {
			if rooms, restricted := roomsOf(imported); restricted && !within(p.ImportPath, rooms) {
				t.Errorf("%s imports %s, which belongs to %s alone", p.ImportPath, imported, strings.Join(rooms, " and "))
			}
		}
	}
}

// roomsOf finds the longest library in only that holds an import path.
func roomsOf(imported string) (rooms []string, restricted bool) {
	longest := ""
	for library := range only {
		if len(library) > len(longest) && within(imported, []string{library}) {
			longest = library
		}
	}
	return only[longest], longest != ""
}

func within(path string, roots []string) bool {
	for _, root := range roots {
		if path == root || strings.HasPrefix(path, root+"/") {
			return true
		}
	}
	return false
}

func TestTheGeometryAndTheAnalysisNeedNoC(t *testing.T) {
	for _, p := range listPackages(t) {
		if layer(p.ImportPath) > 3 || within(p.ImportPath, only["C"]) {
			continue
		}
		for _, imported := range p.Imports {
			if imported == "C" || within(imported, only["C"]) {
				t.Errorf("%s imports %s", p.ImportPath, imported)
			}
		}
	}
}
