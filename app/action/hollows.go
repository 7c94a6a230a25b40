package action

import (
	"context"
	"encoding/json"
	"io"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"runnel/analysis/hollow"
	"runnel/geo/crs"
	"runnel/geo/gdal"
)

// hollowProperties are what is written of a hollow.
type hollowProperties struct {
	ID     int     `json:"id"`
	Cells  int     `json:"cells"`
	Area   float64 `json:"area_m2"`
	Depth  float64 `json:"depth_m"`
	Volume float64 `json:"volume_m3"`
	// Level of the spill, in the file's height unit.
	Level float64 `json:"level"`
	// Stages are how deep the water stands in metres, its area in m² and its volume
	// in m³ at each fifth of the depth.
	Stages [stages][3]float64 `json:"stages"`
	// Outlet is the place that the water leaves from.
	Outlet [2]float64 `json:"outlet"`
	// Into, Parent and Neighbours are the ids of other hollows, null for none.
	Into       *int  `json:"into"`
	Parent     *int  `json:"parent"`
	Neighbours []int `json:"neighbours"`
}

// stages is how many stages of a hollow are written.
const stages = 5

// writeHollows writes the hollows as GeoJSON: in longitude and latitude where
// the ground's reference system is known. Where it is not there is no way to
// them, and the coordinates are the file's own, which is said.
func (of *paths) writeHollows(ctx context.Context, path string, s Streams) error {
	move := gdal.TransformAll(func([]orb.Point) error { return nil })
	if of.ground.CRS.Known() {
		toLonLat, release, err := gdal.NewTransformAll(of.ground.CRS, crs.LonLat())
		if err != nil {
			return err
		}
		defer release()
		move = toLonLat
	} else {
		s.say("the ground's reference system is not known, so the coordinates in hollows.geojson are the file's own, not longitude and latitude")
	}
	return writeFile(path, func(w io.Writer) error {
		if _, err := io.WriteString(w, `{"type":"FeatureCollection","features":[`); err != nil {
			return err
		}
		for i := range of.hollows {
			if i%releaseEvery == 0 {
				if ctx.Err() != nil {
					return ctx.Err()
				}
				of.space.Release()
			}
			if err := of.writeHollow(w, i, move); err != nil {
				return err
			}
		}
		_, err := io.WriteString(w, "\n]}\n")
		return err
	})
}

// releaseEvery is after how many hollows memory is let go of.
const releaseEvery = 256

func (of *paths) writeHollow(w io.Writer, i int, move gdal.TransformAll) error {
	h := of.hollows[i]
	outline := of.tree.Outline(h.Node)
	g := of.ground.Grid
	outlet := []orb.Point{g.Centre(int(h.Outlet)%g.W, int(h.Outlet)/g.W)}
	if err := of.place(outline, outlet, move); err != nil {
		return err
	}
	text, err := json.Marshal(struct {
		Type       string           `json:"type"`
		Geometry   geometry         `json:"geometry"`
		Properties hollowProperties `json:"properties"`
	}{"Feature", geometry{"MultiPolygon", rings(outline)}, of.properties(i, rounded(outlet[0]))})
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

// properties returns what is written of hollow i. Ids count from 1.
func (of *paths) properties(i int, outlet [2]float64) hollowProperties {
	h, metre := of.hollows[i], of.ground.HeightMetre
	n := of.tree.Nodes[h.Node]
	id := func(at int32) *int {
		if at == hollow.None {
			return nil
		}
		number := int(at) + 1
		return &number
	}
	p := hollowProperties{
		ID: i + 1, Cells: n.Cells, Area: millionth(n.Area), Depth: millionth(n.Depth * metre), Volume: millionth(n.Volume * metre),
		Level: millionth(n.Level), Outlet: outlet, Into: id(h.Into), Parent: id(h.Within), Neighbours: make([]int, 0, len(h.Neighbours)),
	}
	curve := of.tree.Curve(h.Node)
	for i := range p.Stages {
		rise := n.Depth * float64(i+1) / stages
		level := curve.Floor + rise
		p.Stages[i] = [3]float64{millionth(rise * metre), millionth(curve.Area(level)), millionth(curve.Volume(level) * metre)}
	}
	for _, at := range h.Neighbours {
		p.Neighbours = append(p.Neighbours, int(at)+1)
	}
	return p
}

// millionth rounds to six decimals; the shallowest hollows are a hair deep.
func millionth(v float64) float64 { return math.Round(v*1e6) / 1e6 }

// place moves an outline and some points from the grid to where they are written.
func (of *paths) place(outline orb.MultiPolygon, points []orb.Point, move gdal.TransformAll) error {
	all := slices.Clone(points)
	for _, part := range outline {
		for _, ring := range part {
			all = append(all, ring...)
		}
	}
	for i, p := range all {
		all[i] = of.fileCoordinates(p)
	}
	if err := move(all); err != nil {
		return err
	}
	all = all[copy(points, all):]
	for _, part := range outline {
		for _, ring := range part {
			all = all[copy(ring, all):]
		}
	}
	return nil
}

// rings turns the rings of an outline as RFC 7946 asks: outer rings
// anticlockwise, holes clockwise, whichever way the file's rows run.
func rings(outline orb.MultiPolygon) [][][][2]float64 {
	all := make([][][][2]float64, 0, len(outline))
	for _, part := range outline {
		var turned [][][2]float64
		for i, ring := range part {
			line := make([][2]float64, 0, len(ring))
			for _, p := range ring {
				line = append(line, rounded(p))
			}
			if outer := i == 0; (signedArea(line) > 0) != outer {
				slices.Reverse(line)
			}
			turned = append(turned, line)
		}
		all = append(all, turned)
	}
	return all
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
