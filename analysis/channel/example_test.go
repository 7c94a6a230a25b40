package channel_test

import (
	"context"
	"fmt"

	"github.com/paulmach/orb"
	"runnel/analysis/channel"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A channel of 20 m in level ground, half a metre deep, with 0.3 m of water.
func ExampleNetwork_Measure() {
	ground := grid.New[float32](grid.Square(120, 40, 0, 10, 0.25))
	for i := range ground.V {
		ground.V[i] = 10
	}
	site := plan.Site{Ground: ground}
	site.Plan.Schemes = []plan.Scheme{{ID: 1, Name: "Straight"}}
	ditch := plan.Feature{ID: 2, Kind: plan.Channel, Scheme: 1, Geometry: orb.LineString{{5, 5}, {25, 5}}}
	site.Plan.Features = []plan.Feature{ditch.
		With("bed_start", plan.Value{Number: 9.5}).
		With("bed_end", plan.Value{Number: 9.5}).
		With("water_level", plan.Value{Number: 9.8})}

	network, problems := channel.NewNetwork(&site, 1)
	lines, err := network.Measure(context.Background(), channel.Step{})
	fmt.Println(len(problems), err)
	for _, l := range lines {
		fmt.Printf("%s: %.1f m² of soil under %.1f m³ of water\n", l.Title, l.Measure.Contact, l.Measure.Volume)
	}
	// Output:
	// 0 <nil>
	// Channel 2: 54.7 m² of soil under 9.6 m³ of water
}
