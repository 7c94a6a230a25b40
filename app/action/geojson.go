package action

import (
	"math"

	"github.com/paulmach/orb"

	"runnel/geo/crs"
	"runnel/geo/gdal"
)

// feature and geometry are those of GeoJSON (RFC 7946).
type feature struct {
	Type       string         `json:"type"`
	Geometry   geometry       `json:"geometry"`
	Properties map[string]any `json:"properties"`
}

type geometry struct {
	Type        string `json:"type"`
	Coordinates any    `json:"coordinates"`
}

// lonLat returns the way from a reference system to longitude and latitude, and
// what releases it.
func lonLat(from crs.CRS) (gdal.Transform, func(), error) {
	return gdal.NewTransform(from, crs.LonLat())
}

// rounded keeps degrees to a hundred-millionth: a millimetre.
func rounded(p orb.Point) [2]float64 {
	return [2]float64{math.Round(p[0]*1e8) / 1e8, math.Round(p[1]*1e8) / 1e8}
}

// lineTo moves a line.
func lineTo(line orb.LineString, move gdal.Transform) ([][2]float64, error) {
	moved := make([][2]float64, 0, len(line))
	for _, p := range line {
		q, err := move(p)
		if err != nil {
			return nil, err
		}
		moved = append(moved, rounded(q))
	}
	return moved, nil
}
