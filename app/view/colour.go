package view

// hex reads an opaque colour from six hexadecimal digits.
func hex(text string) Colour { return hexA(text, 255) }

// hexA reads a colour from six hexadecimal digits and gives it an opacity.
func hexA(text string, opacity uint8) Colour {
	var v uint32
	for _, r := range text {
		v <<= 4
		switch {
		case r >= '0' && r <= '9':
			v |= uint32(r - '0')
		case r >= 'A' && r <= 'F':
			v |= uint32(r-'A') + 10
		default:
			panic("view: " + text + " is no colour")
		}
	}
	return Colour{R: uint8(v >> 16), G: uint8(v >> 8), B: uint8(v), A: opacity}
}

// mix returns the colour a share t of the way from a to b.
func mix(a, b Colour, t float64) Colour {
	return Colour{R: mixed(a.R, b.R, t), G: mixed(a.G, b.G, t), B: mixed(a.B, b.B, t), A: mixed(a.A, b.A, t)}
}

func mixed(a, b uint8, t float64) uint8 { return uint8(float64(a)*(1-t) + float64(b)*t + 0.5) }

// faint returns c at a share of its opacity.
func faint(c Colour, share float64) Colour {
	c.A = uint8(float64(c.A)*max(0, min(1, share)) + 0.5)
	return c
}

// reliefSteps is how finely the relief is coloured: four steps to a shade, so
// that ground seen close, where shades are blended, does not show bands.
const reliefSteps = 4 * 256

// relief returns the colour of each step of shade as the four bytes of a pixel,
// red lowest. Step 0 is ground that is not known: bare paper.
func (p Palette) relief() *[reliefSteps]uint32 {
	var table [reliefSteps]uint32
	for i := range table {
		table[i] = pixel(p.shadeColour(float64(i) / 4))
	}
	table[0] = pixel(p.Paper)
	return &table
}

func (p Palette) shadeColour(shade float64) Colour {
	if len(p.Relief) == 0 {
		return p.Paper
	}
	for i, stop := range p.Relief {
		if shade > float64(stop.Shade) {
			continue
		}
		if i == 0 {
			return stop.Colour
		}
		below := p.Relief[i-1]
		return mix(below.Colour, stop.Colour, (shade-float64(below.Shade))/float64(stop.Shade-below.Shade))
	}
	return p.Relief[len(p.Relief)-1].Colour
}

// pixel packs an opaque colour as it lies in an image.RGBA.
func pixel(c Colour) uint32 {
	return uint32(c.R) | uint32(c.G)<<8 | uint32(c.B)<<16 | 255<<24
}

// blend lays c over the premultiplied pixel at pix with a coverage of 0 to 255.
func blend(pix []uint8, c Colour, cover uint32) {
	pix = pix[:4:4]
	a := div255(cover * uint32(c.A))
	if a == 0 {
		return
	}
	rest := 255 - a
	pix[0] = uint8(div255(uint32(c.R)*a + uint32(pix[0])*rest))
	pix[1] = uint8(div255(uint32(c.G)*a + uint32(pix[1])*rest))
	pix[2] = uint8(div255(uint32(c.B)*a + uint32(pix[2])*rest))
	pix[3] = uint8(div255(255*a + uint32(pix[3])*rest))
}

// div255 returns v/255 rounded, for v up to 255².
func div255(v uint32) uint32 { return (v + 128 + (v+128)>>8) >> 8 }
