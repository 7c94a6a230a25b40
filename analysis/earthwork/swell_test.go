package earthwork

import (
	"math"
	"strings"
	"testing"

	"runnel/analysis/soil"
)

// US Army FM 5-434, earth volume conversion factors: sand as quoted in a Navy manual
// ("100 yd³ in place yields 111 loose, only 95 compacted"), the others from memory.
// What has to be dug for a fill of 100, and what that is loose, follow from them.
func TestEarthSwellsAndShrinksAsTheTableHasIt(t *testing.T) {
	for texture, want := range map[string][4]float64{
		"sand": {1.11, 0.95, 105.3, 116.8}, "Loam": {1.25, 0.90, 111.1, 138.9}, "clay": {1.43, 0.90, 111.1, 158.9},
	} {
		c := ChangeOf(texture)
		dug := 100 / c.Compacted
		for i, got := range []float64{c.Loose, c.Compacted, dug, dug * c.Loose} {
			if math.Abs(got-want[i]) > 0.075 {
				t.Errorf("%s: figure %d is %v, want %v", texture, i, got, want[i])
			}
		}
	}
	rock := changes()[3]
	if rock.Soil != "blasted rock" || math.Abs(100/rock.Compacted-76.9) > 0.075 || math.Abs(100/rock.Compacted*rock.Loose-115.4) > 0.075 {
		t.Errorf("rock is %+v", rock)
	}
}

func TestEveryTextureHasItsRowOnce(t *testing.T) {
	for _, texture := range soil.Textures() {
		rows := 0
		for _, c := range changes() {
			for _, name := range c.textures {
				if name == texture.Name {
					rows++
				}
			}
		}
		if rows != 1 {
			t.Errorf("%s stands in %d rows", texture.Name, rows)
		}
	}
	if got := ChangeOf("moon dust"); got.Soil != usualSoil || got.Source == "" {
		t.Errorf("a soil that is not in the table is %+v", got)
	}
}

func TestATableOfSwellThatIsWrongIsTurnedDown(t *testing.T) {
	const heading = "soil,loose,compacted,textures,source,checked\n"
	for text, want := range map[string]string{
		"": "no figures", "a,b\n": "no figures",
		heading + "mud,much,0.9,,x,y\n": `loose of mud is "much"`,
		heading + "mud,1.2,-1,,x,y\n":   `compacted of mud is "-1"`,
	} {
		if _, err := parseChanges(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: the error is %v, want %q in it", text, err, want)
		}
	}
}
