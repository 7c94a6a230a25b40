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

// lineTo moves a line, rounding degrees to a hundred-millionth: a millimetre.
func lineTo(line orb.LineString, move gdal.Transform) ([][2]float64, error) {
	moved := make([][2]float64, 0, len(line))
	for _, p := range line {
		q, err := move(p)
		if err != nil {
			return nil, err
		}
		moved = append(moved, [2]float64{math.Round(q[0]*1e8) / 1e8, math.Round(q[1]*1e8) / 1e8})
	}
	return moved, nil
}
