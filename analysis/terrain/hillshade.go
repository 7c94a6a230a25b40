package terrain

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"runnel/analysis/internal/band"
	"runnel/geo/grid"
)

// ShadeOptions tunes Hillshade. The zero value is a light in the north-west, 45
// degrees high, and an exaggeration that suits the ground.
type ShadeOptions struct {
	// Azimuth is where the light comes from [degrees clockwise from north]; 0
	// stands for 315, so give 360 for north.
	Azimuth float64
	// Altitude is how high the light stands above the horizon [degrees], up to 90;
	// 0 stands for 45.
	Altitude float64
	// Exaggeration multiplies heights; 0 chooses by how steep the ground is.
	Exaggeration float64
}

// Hillshade returns how brightly each cell is lit: 1 is full shade, 255 full
// light, 0 no data. It is the cosine of the angle between the light and the
// perpendicular of the ground ([Horn1981], with a matt surface).
func Hillshade(ctx context.Context, g grid.Ground, o ShadeOptions) (grid.Grid[uint8], error) {
	if err := checkShade(g, o); err != nil {
		return grid.Grid[uint8]{}, fmt.Errorf("shade the ground: %w", err)
	}
	if o.Azimuth == 0 {
		o.Azimuth = 315
	}
	if o.Altitude == 0 {
		o.Altitude = 45
	}
	if o.Exaggeration == 0 {
		o.Exaggeration = SuitedExaggeration(g)
	}
	const radian = math.Pi / 180
	sinAzimuth, cosAzimuth := math.Sincos(o.Azimuth * radian)
	up, level := math.Sincos(o.Altitude * radian)
	// The light's own direction, with the rise of the ground already stretched.
	east, north := sinAzimuth*level*o.Exaggeration, cosAzimuth*level*o.Exaggeration
	stretch := o.Exaggeration * o.Exaggeration

	shade := grid.New[uint8](g.Frame)
	err := band.Rows(ctx, g.H, func(lo, hi int) {
		for y := lo; y < hi; y++ {
			row := shade.Row(y)
			eachGradient(g, y, func(x int, rise gradient) {
				length := math.Sqrt(1 + stretch*(rise.east*rise.east+rise.north*rise.north))
				row[x] = tone((up - east*rise.east - north*rise.north) / length)
			})
		}
	})
	if err != nil {
		return grid.Grid[uint8]{}, err
	}
	return shade, nil
}

func checkShade(g grid.Ground, o ShadeOptions) error {
	if err := g.Check(); err != nil {
		return err
	}
	if len(g.V) != g.Len() {
		return errors.New("the grid does not hold one height a cell")
	}
	switch {
	case math.IsNaN(o.Azimuth) || math.IsInf(o.Azimuth, 0):
		return fmt.Errorf("the light's azimuth is %g degrees; give 0 to 360", o.Azimuth)
	case !(o.Altitude >= 0 && o.Altitude <= 90):
		return fmt.Errorf("the light's altitude is %g degrees; give 0 to 90", o.Altitude)
	case !(o.Exaggeration >= 0) || math.IsInf(o.Exaggeration, 0):
		return fmt.Errorf("heights are exaggerated %g times; give 0 to let the ground decide, or more", o.Exaggeration)
	}
	return nil
}

// tone turns brightness into 1 to 255; 0 stands for NaN, which is no data.
func tone(brightness float64) uint8 {
	if math.IsNaN(brightness) {
		return 0
	}
	return uint8(1 + math.Round(254*min(max(brightness, 0), 1)))
}

// SuitedExaggeration makes 1 in 4 of the slope that three quarters of the cells
// stay below, which a light 45 degrees high models well, within 1 to 10 times:
// else ground of a few percent would look like paper, and noise on level ground
// like mountains.
func SuitedExaggeration(g grid.Ground) float64 {
	const (
		suited  = 0.25
		samples = 10_000
	)
	var slopes []float64
	apart := max(1, int(math.Sqrt(float64(g.Len())/samples)))
	for y := apart / 2; y < g.H; y += apart {
		for x := apart / 2; x < g.W; x += apart {
			if s := gradientBeside(g, x, y).slope(); !math.IsNaN(s) {
				slopes = append(slopes, s)
			}
		}
	}
	if len(slopes) == 0 {
		return 1
	}
	slices.Sort(slopes)
	return min(max(suited/slopes[len(slopes)*3/4], 1), 10)
}
