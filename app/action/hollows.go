package action

import (
	"encoding/json"
	"io"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/hollow"
	"runnel/geo/gdal"
)

// hollowProperties are what is written of a hollow.
type hollowProperties struct {
	Cells  int     `json:"cells"`
	Area   float64 `json:"area_m2"`
	Depth  float64 `json:"depth_m"`
	Volume float64 `json:"volume_m3"`
	// Level of the spill, in the file's height unit.
	Level float64 `json:"level"`
}

// writeHollows writes the hollows as GeoJSON: in longitude and latitude where
// the ground's reference system is known. Where it is not there is no way to
// them, and the coordinates are the file's own, which is said.
func (of *paths) writeHollows(path string, s Streams) error {
	move := gdal.Transform(func(p orb.Point) (orb.Point, error) { return p, nil })
	if of.ground.CRS.Known() {
		toLonLat, release, err := lonLat(of.ground.CRS)
		if err != nil {
			return err
		}
		defer release()
		move = toLonLat
	} else {
		s.say("the ground's reference system is not known, so the coordinates in hollows.geojson are the file's own, not longitude and latitude")
	}
	place := func(p orb.Point) (orb.Point, error) { return move(of.fileCoordinates(p)) }
	return writeFile(path, func(w io.Writer) error {
		if _, err := io.WriteString(w, `{"type":"FeatureCollection","features":[`); err != nil {
			return err
		}
		for i, h := range of.hollows {
			if err := of.writeHollow(w, h, i, place); err != nil {
				return err
			}
		}
		_, err := io.WriteString(w, "\n]}\n")
		return err
	})
}

func (of *paths) writeHollow(w io.Writer, h hollow.Hollow, i int, place gdal.Transform) error {
	outline, err := rings(h.Outline, place)
	if err != nil {
		return err
	}
	metre := of.ground.HeightMetre
	text, err := json.Marshal(struct {
		Type       string           `json:"type"`
		Geometry   geometry         `json:"geometry"`
		Properties hollowProperties `json:"properties"`
	}{
		"Feature", geometry{"MultiPolygon", outline},
		hollowProperties{h.Cells, millionth(h.Area), millionth(h.Depth * metre), millionth(h.Volume * metre), millionth(h.Level)},
	})
	if err != nil {
		return err
	}
	comma := ",\n"
	if i == 0 {
		comma = "\n"
	}
	_, err = w.Write(append([]byte(comma), text...))
	return err
}

// millionth rounds to six decimals; the shallowest hollows are a hair deep.
func millionth(v float64) float64 { return math.Round(v*1e6) / 1e6 }

// rings moves an outline and turns its rings as RFC 7946 asks: outer rings
// anticlockwise, holes clockwise, whichever way the file's rows run.
func rings(outline orb.MultiPolygon, place gdal.Transform) ([][][][2]float64, error) {
	all := make([][][][2]float64, 0, len(outline))
	for _, part := range outline {
		var moved [][][2]float64
		for i, ring := range part {
			line, err := lineTo(orb.LineString(ring), place)
			if err != nil {
				return nil, err
			}
			if outer := i == 0; (signedArea(line) > 0) != outer {
				slices.Reverse(line)
			}
			moved = append(moved, line)
		}
		all = append(all, moved)
	}
	return all, nil
}

// signedArea is positive for a ring that runs anticlockwise.
func signedArea(ring [][2]float64) float64 {
	var twice float64
	for i := 1; i < len(ring); i++ {
		a, b := ring[i-1], ring[i]
		// From the first point, so that large coordinates keep their digits.
		twice += (a[0]-ring[0][0])*(b[1]-ring[0][1]) - (b[0]-ring[0][0])*(a[1]-ring[0][1])
	}
	return twice / 2
}

// fileCoordinates takes a place on the grid to the coordinates of the file.
func (of *paths) fileCoordinates(p orb.Point) orb.Point {
	g, t := of.ground.Grid, of.ground.Transform
	column, row := (p[0]-g.West)/g.DX, (g.North-p[1])/g.DY
	return orb.Point{t[0] + column*t[1] + row*t[2], t[3] + column*t[4] + row*t[5]}
}
