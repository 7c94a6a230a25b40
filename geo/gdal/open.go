package gdal

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/lukeroth/gdal"
)

// rasterFormats and vectorFormats name GDAL's drivers for what may be opened.
var (
	rasterFormats = []string{"GTiff", "AAIGrid", "SRTMHGT", "USGSDEM", "XYZ", "GPKG"}
	vectorFormats = []string{"GeoJSON", "GPKG", "ESRI Shapefile", "CSV", "DXF", "LIBKML", "KML", "GPX", "FlatGeobuf"}
)

// localFile returns the absolute path of a regular file that holds something.
// GDAL takes a URL, a virtual path or inline text for a data set, so nothing
// but such a path may reach it.
func localFile(path string) (string, error) {
	name := filepath.Base(path)
	if path == "" {
		return "", fmt.Errorf("the name of the file is empty; give the path of one")
	}
	if strings.Contains(path, "://") || strings.HasPrefix(path, "/vsi") || strings.ContainsAny(path, "\x00\n") ||
		strings.HasPrefix(path, "{") || strings.HasPrefix(path, "<") || strings.HasPrefix(path, "MEM:") {
		return "", fmt.Errorf("%q is not a file on this computer; give the path of one", path)
	}
	info, err := os.Stat(path)
	switch {
	case os.IsNotExist(err):
		return "", fmt.Errorf("%s: there is no such file; look at the path", path)
	case err != nil:
		return "", fmt.Errorf("%s cannot be opened: %w", name, err)
	case info.IsDir():
		return "", fmt.Errorf("%s is a folder; give a file in it", path)
	case !info.Mode().IsRegular():
		return "", fmt.Errorf("%s is not a regular file; copy its contents to one", path)
	case info.Size() == 0:
		return "", fmt.Errorf("%s is empty; copy it again from where it came", name)
	}
	switch strings.ToLower(filepath.Ext(path)) {
	case ".zip", ".kmz", ".shz", ".gz", ".tgz", ".bz2", ".xz", ".7z", ".rar":
		return "", fmt.Errorf("%s is packed; unpack it and give the file that was in it", name)
	}
	if err := unpacked(path); err != nil {
		return "", err
	}
	full, err := filepath.Abs(path)
	if err != nil {
		return "", fmt.Errorf("%s: %w", path, err)
	}
	if strings.HasPrefix(full, "/vsi") {
		return "", fmt.Errorf("%s lies in a folder that GDAL takes for its own; copy it to another", full)
	}
	return full, nil
}

// unpacked refuses a file that may not be read, and one that is packed under the
// name of another sort.
func unpacked(path string) error {
	file, err := os.Open(path)
	if err != nil {
		return fmt.Errorf("%s may not be read; ask its owner to allow it", filepath.Base(path))
	}
	defer file.Close()
	if packed(file) {
		return fmt.Errorf("%s is packed, whatever its name says; unpack it and give the file that was in it", filepath.Base(path))
	}
	return nil
}

// packed reports a file that begins as archives do. What is in one may be any
// number of times as large.
func packed(file io.Reader) bool {
	start := make([]byte, 6)
	n, _ := io.ReadFull(file, start)
	for _, sign := range []string{"PK\x03\x04", "PK\x05\x06", "\x1f\x8b", "BZh", "7z\xbc\xaf\x27\x1c", "\xfd7zXZ", "Rar!"} {
		if strings.HasPrefix(string(start[:n]), sign) {
			return true
		}
	}
	return false
}

// openRaster opens a file that localFile has passed.
func openRaster(full string) (gdal.Dataset, error) {
	set, err := gdal.OpenEx(full, gdal.OFRaster|gdal.OFReadOnly, rasterFormats, nil, nil)
	if err != nil {
		return set, fmt.Errorf("it cannot be read as a ground: it is damaged, or of a format that Runnel does not take; give a GeoTIFF or an ASCII grid")
	}
	if set.RasterCount() == 0 { // a site file with images has several rasters, one of them the ground
		named, err := gdal.OpenEx(full, gdal.OFRaster|gdal.OFReadOnly, []string{"GPKG"}, []string{"TABLE=" + groundTable}, nil)
		if err == nil {
			set.Close()
			return named, nil
		}
		forget()
	}
	return set, nil
}

// refuseNaN refuses an ASCII grid whose first cell is written nan: GDAL takes
// that word for a part of the header, and every later cell for the one before it.
func refuseNaN(full string) error {
	file, err := os.Open(full)
	if err != nil {
		return fmt.Errorf("it may not be read; ask its owner to allow it")
	}
	defer file.Close()
	head := make([]byte, 1024)
	n, _ := io.ReadFull(file, head) // what is too short to be a grid is for others to refuse
	words := strings.Fields(strings.ToLower(string(head[:n])))
	if len(words) == 0 || words[0] != "ncols" {
		return nil
	}
	for i := 0; i+1 < len(words); i += 2 {
		if words[i] == "nan" || words[i] == "-nan" {
			return fmt.Errorf("its cells of no data are written nan, which cannot be read; write a number such as -9999 there and in its header")
		}
		if _, err := strconv.ParseFloat(words[i], 64); err == nil {
			break // the header is over
		}
	}
	return nil
}

// csvOptions name the columns in which positions are looked for.
var csvOptions = []string{
	"X_POSSIBLE_NAMES=x,e,east,easting,lon,long,longitude",
	"Y_POSSIBLE_NAMES=y,n,north,northing,lat,latitude",
	"Z_POSSIBLE_NAMES=z,elev,elevation,alt,altitude,height,level",
	"KEEP_GEOM_COLUMNS=YES",
}

// An openFile is an open drawing and what was made to open it.
type openFile struct {
	gdal.Dataset
	folder string // one of our own, with the index that a Shapefile lacked
	// note says what was done to open it; empty where nothing was.
	note string
}

// Close closes the file and removes what was made.
func (f openFile) Close() {
	f.Dataset.Close()
	if f.folder != "" {
		os.RemoveAll(f.folder)
	}
}

// openDrawing opens a file that localFile has passed.
func openDrawing(full string) (openFile, error) {
	var f openFile
	var options []string
	switch strings.ToLower(filepath.Ext(full)) {
	case ".csv":
		options = csvOptions
	case ".shp":
		if !anyEncoding(full) {
			options = []string{"ENCODING="} // as it stands; readable makes letters of it
		}
		if sibling(full, ".shx") == "" {
			folder, err := besideOurs(full)
			if err != nil {
				return f, err
			}
			f.folder, full = folder, filepath.Join(folder, stemOf(full)+".shp")
			f.note = "Its index, the file that ends in .shx, is missing; it is made anew from the shapes."
		}
	}
	var err error
	open := func() { f.Dataset, err = gdal.OpenEx(full, gdal.OFVector|gdal.OFReadOnly, vectorFormats, options, nil) }
	if f.folder == "" {
		open()
	} else {
		withOption("SHAPE_RESTORE_SHX", "YES", open)
		forget() // that the index is missing
	}
	if err != nil {
		os.RemoveAll(f.folder)
		return f, fmt.Errorf("it cannot be read as a drawing: it is damaged, or of a format that Runnel does not take; give GeoJSON, GeoPackage, Shapefile, DXF, KML, GPX, FlatGeobuf or CSV")
	}
	return f, nil
}
