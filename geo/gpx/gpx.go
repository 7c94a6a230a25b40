// Package gpx writes waypoints and routes as GPX 1.1 (Topografix 2004), which hand-held
// receivers read: WGS 84 latitude and longitude in degrees, elevations in metres. Its
// elements stand in the order of the schema: metadata, waypoints, routes; in a point
// its elevation, name and description.
package gpx

import (
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/paulmach/orb"
)

// A File is what is written.
type File struct {
	// Name and About are the file's own.
	Name, About string
	Points      []Point
	Routes      []Route
}

// A Route is a line of points to be gone along.
type Route struct {
	Name   string
	Points []Point
}

// A Point is a place in longitude and latitude [°]. Elevation [m] is left out where
// it is NaN.
type Point struct {
	At          orb.Point
	Elevation   float64
	Name, About string
}

type document struct {
	XMLName  xml.Name  `xml:"http://www.topografix.com/GPX/1/1 gpx"`
	Version  string    `xml:"version,attr"`
	Creator  string    `xml:"creator,attr"`
	Metadata metadata  `xml:"metadata"`
	Points   []element `xml:"wpt"`
	Routes   []route   `xml:"rte"`
}

type metadata struct {
	Name  string `xml:"name,omitempty"`
	About string `xml:"desc,omitempty"`
}

type route struct {
	Name   string    `xml:"name,omitempty"`
	Points []element `xml:"rtept"`
}

type element struct {
	Latitude  string `xml:"lat,attr"`
	Longitude string `xml:"lon,attr"`
	Elevation string `xml:"ele,omitempty"`
	Name      string `xml:"name,omitempty"`
	About     string `xml:"desc,omitempty"`
}

// Write writes a file. A place that is none on the earth is refused.
func Write(w io.Writer, f File) error {
	d := document{Version: "1.1", Creator: "Runnel", Metadata: metadata{sound(f.Name), sound(f.About)}}
	var err error
	if d.Points, err = elements(f.Points); err != nil {
		return err
	}
	for _, r := range f.Routes {
		points, err := elements(r.Points)
		if err != nil {
			return err
		}
		d.Routes = append(d.Routes, route{sound(r.Name), points})
	}
	if _, err := io.WriteString(w, xml.Header); err != nil {
		return err
	}
	e := xml.NewEncoder(w)
	e.Indent("", " ")
	if err := e.Encode(d); err != nil {
		return err
	}
	_, err = io.WriteString(w, "\n")
	return err
}

func elements(points []Point) ([]element, error) {
	var all []element
	for _, p := range points {
		lon, lat := p.At[0], p.At[1]
		// The schema has latitudes from -90 to 90 and longitudes from -180 to less than 180.
		if !(lat >= -90 && lat <= 90 && lon >= -180 && lon <= 180) {
			return nil, fmt.Errorf("%s lies at longitude %g and latitude %g, which is nowhere; check the reference system of the site", p.Name, lon, lat)
		}
		e := element{Latitude: degrees(lat), Longitude: degrees(lon), Name: sound(p.Name), About: sound(p.About)}
		if e.Longitude == degrees(180) {
			e.Longitude = degrees(-180)
		}
		if !math.IsNaN(p.Elevation) && !math.IsInf(p.Elevation, 0) {
			e.Elevation = strconv.FormatFloat(p.Elevation, 'f', 3, 64)
		}
		all = append(all, e)
	}
	return all, nil
}

// degrees keeps nine decimals: a tenth of a millimetre on a meridian.
func degrees(v float64) string { return strconv.FormatFloat(v, 'f', 9, 64) }

// sound returns text without what XML cannot hold.
func sound(text string) string {
	return strings.Map(func(r rune) rune {
		if r == '\t' || r == '\n' || r >= ' ' && r != 0xFFFE && r != 0xFFFF {
			return r
		}
		return ' '
	}, strings.ToValidUTF8(text, " "))
}
