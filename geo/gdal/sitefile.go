package gdal

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/lukeroth/gdal"

	"runnel/geo/plan"
)

// A site file is an OGC GeoPackage (12-128r17). It holds the ground as a tiled
// gridded coverage (17-066r1) called ground; a layer for every kind of feature,
// called as the kind is; the tables schemes and settings; where images lie under the
// map the table underlays and a pyramid of tiles for each; and where it is known what
// the ground rests on the four tables of its survey; and where there is a daily record
// the table weather. Whatever else is in the file belongs to others and stays.
const (
	groundTable   = "ground"
	schemesTable  = "schemes"
	settingsTable = "settings"
	siteFormat    = "runnel site 1"
)

// SaveSite writes a site to a file whose name ends in .gpkg: whole, or not at
// all. Tables, layers and columns of others in a file of that name are kept.
func SaveSite(path string, s *plan.Site) error {
	if !strings.EqualFold(filepath.Ext(path), ".gpkg") {
		return fmt.Errorf("%s is to be a site file; end its name in .gpkg", filepath.Base(path))
	}
	if err := checkSavable(s); err != nil {
		return err
	}
	old, err := existing(path)
	if err != nil {
		return err
	}
	return atomically(path, func(temporary string) error {
		if err := startFrom(temporary, old); err != nil {
			return Unwritable(path, err)
		}
		if err := do(func() error { return putSite(temporary, s, priorOf(old)) }); err != nil {
			return fmt.Errorf("%s cannot be saved: %w", filepath.Base(path), err)
		}
		return nil
	})
}

// checkSavable refuses what the file could not give back.
func checkSavable(s *plan.Site) error {
	if len(s.Ground.V) != s.Ground.Len() {
		return fmt.Errorf("the ground has %d heights for %d cells; read it again", len(s.Ground.V), s.Ground.Len())
	}
	seen := make(map[plan.ID]bool)
	for _, f := range s.Plan.Features {
		switch {
		case f.Kind == plan.NoKind || int(f.Kind) > len(plan.Specs()):
			return fmt.Errorf("feature %d is of no known kind; remove it", f.ID)
		case f.ID < 1:
			return fmt.Errorf("%s has the number %d; numbers start at 1", f.Title(), f.ID)
		case seen[f.ID]:
			return fmt.Errorf("%s has the number of another feature; remove it and draw it again", f.Title())
		}
		seen[f.ID] = true
	}
	if err := s.Survey.Check(); err != nil {
		return fmt.Errorf("the survey: %w; read its files again", err)
	}
	if err := s.Weather.Check(); err != nil {
		return fmt.Errorf("the weather: %w", err)
	}
	return checkUnderlays(s)
}

// existing returns the path of the file to be replaced; empty where there is none.
func existing(path string) (string, error) {
	if info, err := os.Stat(path); os.IsNotExist(err) || err == nil && info.Mode().IsRegular() && info.Size() == 0 {
		return "", nil // file dialogs make an empty file of the name that was chosen
	}
	full, err := localFile(path)
	if err != nil {
		return "", err
	}
	if info, err := os.Stat(full + "-wal"); err == nil && info.Size() > 0 {
		return "", fmt.Errorf("%s is open in another program, which has not finished writing it; close it there and save again", filepath.Base(path))
	}
	return full, nil
}

// startFrom makes the temporary file a copy of the old one, or clears its place.
func startFrom(temporary, old string) error {
	if old == "" {
		return os.Remove(temporary)
	}
	from, err := os.Open(old)
	if err != nil {
		return err
	}
	defer from.Close()
	to, err := os.Create(temporary)
	if err != nil {
		return err
	}
	if _, err := io.Copy(to, from); err != nil {
		to.Close()
		return err
	}
	return to.Close()
}

// A prior is what a file holds before it is written in.
type prior uint8

const (
	nothing prior = iota
	older         // an older state, or what others put there
)

func priorOf(old string) prior {
	if old == "" {
		return nothing
	}
	return older
}

// putSite writes a site into a file.
func putSite(file string, s *plan.Site, held prior) error {
	wkt, err := wktOf(s.CRS)
	if err != nil {
		return err
	}
	if held == older {
		if err := clearGround(file); err != nil {
			return err
		}
	}
	if s.Ground.Len() > 0 {
		if err := putGround(file, s, wkt, held); err != nil {
			return err
		}
		held = older
	}
	open := openForUpdate
	if held == nothing {
		open = createPackage
	}
	set, err := open(file)
	if err != nil {
		return err
	}
	defer set.Close()
	return putTables(set, s)
}

// createPackage makes a GeoPackage that holds nothing.
func createPackage(file string) (gdal.Dataset, error) {
	driver, err := gdal.GetDriverByName("GPKG")
	if err != nil {
		return gdal.Dataset{}, err
	}
	set := driver.Create(file, 0, 0, 0, gdal.Unknown, nil)
	if handle(set) == nil {
		return set, fmt.Errorf("the disk may be full")
	}
	return set, nil
}

// openForUpdate opens a GeoPackage to write in it.
func openForUpdate(file string) (gdal.Dataset, error) {
	set, err := gdal.OpenEx(file, gdal.OFVector|gdal.OFUpdate, []string{"GPKG"}, []string{"LIST_ALL_TABLES=NO"}, nil)
	if err != nil {
		return set, fmt.Errorf("the file of that name is not a GeoPackage; choose another name")
	}
	return set, nil
}

// OpenSite reads a site file.
func OpenSite(path string) (*plan.Site, error) {
	full, err := localFile(path)
	if err != nil {
		return nil, err
	}
	s := &plan.Site{}
	err = doOn(full, func() error {
		set, err := gdal.OpenEx(full, gdal.OFVector|gdal.OFReadOnly, []string{"GPKG"}, []string{"LIST_ALL_TABLES=NO"}, nil)
		if err != nil {
			return fmt.Errorf("it is not a site file, or it is damaged; give one that Runnel saved")
		}
		defer set.Close()
		held, err := readSettings(set)
		if err != nil {
			return err
		}
		if held["format"] != siteFormat {
			return fmt.Errorf("it is a GeoPackage but not a site; start a site and bring its layers in")
		}
		if err := held.into(s); err != nil {
			return err
		}
		if err := takeTables(set, s); err != nil {
			return err
		}
		return takeGround(full, s, held)
	})
	if err != nil {
		return nil, err
	}
	return s, nil
}
