package soil

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"runnel/geo"
)

// A Layer reaches down to a depth below the ground [m]; the last one has no end, +Inf.
type Layer struct {
	To float64
	Texture
}

const howToLayer = "type depths in metres and textures from the ground down, such as 0.3 loam; 0.9 clay loam; clay"

// ParseLayers reads the layers of a soil: "0.3 loam; 0.9 clay loam; clay" is loam down to
// 0.3 m below the ground, clay loam down to 0.9 m, and clay below that. Text that is empty
// has none.
func ParseLayers(text string) ([]Layer, error) {
	var layers []Layer
	parts := strings.FieldsFunc(text, func(r rune) bool { return r == ';' || r == '\n' })
	for i, part := range parts {
		part = strings.TrimSpace(part)
		to, name := math.Inf(1), part
		if number, rest, ok := strings.Cut(part, " "); ok {
			if v, err := strconv.ParseFloat(strings.Replace(strings.TrimSuffix(number, "m"), ",", ".", 1), 64); err == nil {
				to, name = v, strings.TrimPrefix(strings.TrimSpace(rest), "m ")
			}
		}
		texture, err := TextureNamed(name)
		switch {
		case err != nil:
			return nil, fmt.Errorf("layer %d: %w", i+1, err)
		case math.IsInf(to, 1) && i < len(parts)-1:
			return nil, fmt.Errorf("layer %d has no depth, and only the last needs none; %s", i+1, howToLayer)
		case !(to > 0) || i > 0 && !(to > layers[i-1].To):
			return nil, fmt.Errorf("layer %d ends no deeper than the one above it; %s", i+1, howToLayer)
		}
		layers = append(layers, Layer{to, texture})
	}
	if n := len(layers); n > 0 {
		layers[n-1].To = math.Inf(1) // it goes on as far as is known
	}
	return layers, nil
}

// across is how far below a bed layers count [m].
const across = 1.0

// layerAt is the layer at a depth [m].
func layerAt(layers []Layer, depth float64) *Layer {
	for i := range layers {
		if depth < layers[i].To {
			return &layers[i]
		}
	}
	return &layers[len(layers)-1]
}

// down is the conductivity of layers downward over the metre below a depth: their
// harmonic mean by thickness, for water goes through one after the other.
func down(layers []Layer, depth float64) geo.Range {
	var resist geo.Range
	from, end := depth, depth+across
	for i := range layers {
		to := min(layers[i].To, end)
		if to <= from {
			continue
		}
		k := layers[i].Ksat
		resist.Low += (to - from) / k.Low
		resist.Likely += (to - from) / k.Likely
		resist.High += (to - from) / k.High
		from = to
	}
	return geo.Range{Low: across / resist.Low, Likely: across / resist.Likely, High: across / resist.High}
}

// least is the conductivity of the least transmissive layer down to a depth [m].
func least(layers []Layer, depth float64) float64 {
	k := math.Inf(1)
	for i := range layers {
		k = min(k, layers[i].Ksat.Likely)
		if layers[i].To >= depth {
			break
		}
	}
	return k
}
