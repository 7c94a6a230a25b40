package plan

import (
	"bytes"
	"fmt"
	"image"
	_ "image/jpeg" // the two forms that a tile may have
	_ "image/png"
	"math"
	"slices"

	"runnel/geo/grid"
)

// UnderlayID is the number of an underlay, given as those of features are.
type UnderlayID int64

// An Underlay is an image that lies under the map: an aerial picture, say. It is
// part of the site and is in the site's reference system.
type Underlay struct {
	ID   UnderlayID
	Name string
	// Opacity is from 0, clear, to 1.
	Opacity float64
	Hidden  bool
	// Frame places the pixels on the ground.
	Frame grid.Frame
	// Picture holds them. It is never changed, and copies of a site share it.
	Picture *Picture
}

// A Picture is an image in tiles of one size, each as a PNG or a JPEG.
type Picture struct {
	// TileW and TileH are the size of a tile [px]; whole tiles fill the frame.
	TileW, TileH int
	// Tiles are row after row from the north-west. One that is all clear is empty.
	Tiles [][]byte
}

// Bounds of what is kept of an image.
const (
	// MostUnderlays is how many images a site may have.
	MostUnderlays = 16
	// UnderlaySide is how large a side of an image may be [px], TileSide that of a
	// tile.
	UnderlaySide, TileSide = 4096, 512
	// MostTileBytes is how long a tile may be: longer than its bare pixels are.
	MostTileBytes = 4*TileSide*TileSide + 1<<16
)

// Columns counts the tiles in a row of a sound underlay.
func (u Underlay) Columns() int { return u.Frame.W / u.Picture.TileW }

// Check reports an underlay that no site can have. It looks at sizes alone; what
// its tiles hold is for Tile to say.
func (u Underlay) Check() error {
	p, f := u.Picture, u.Frame
	title := u.Title()
	switch {
	case p == nil:
		return fmt.Errorf("%s has no picture; add it again from its file", title)
	case f.W < 1 || f.H < 1 || f.W > UnderlaySide || f.H > UnderlaySide:
		return fmt.Errorf("%s is %d by %d pixels, and an image under the map has 1 to %d on each side; add it again from its file", title, f.W, f.H, UnderlaySide)
	case p.TileW < 1 || p.TileH < 1 || p.TileW > TileSide || p.TileH > TileSide || f.W%p.TileW != 0 || f.H%p.TileH != 0 ||
		len(p.Tiles) != f.W/p.TileW*(f.H/p.TileH):
		return fmt.Errorf("%s has %d tiles of %d by %d pixels for %d by %d; add it again from its file", title, len(p.Tiles), p.TileW, p.TileH, f.W, f.H)
	case !(u.Opacity >= 0 && u.Opacity <= 1):
		return fmt.Errorf("%s has an opacity of %g %%; give 0 to 100 %%", title, 100*u.Opacity)
	case slices.ContainsFunc(p.Tiles, func(tile []byte) bool { return len(tile) > MostTileBytes }):
		return fmt.Errorf("%s has a tile that is longer than its pixels can be; add it again from its file", title)
	case !(f.DX > 0 && f.DY > 0) || math.IsInf(f.DX+f.DY, 0) || math.IsNaN(f.West+f.North) || math.IsInf(f.West+f.North, 0):
		return fmt.Errorf("%s has no place on the ground; add it again from its file", title)
	}
	return nil
}

// Title is the name for a person.
func (u Underlay) Title() string {
	if u.Name != "" {
		return u.Name
	}
	return "the image under the map"
}

// Tile decodes a tile by its place in the list; nil for one that is all clear. The
// size that it gives itself is looked at before memory is taken for its pixels.
func (p Picture) Tile(i int) (image.Image, error) {
	tile := p.Tiles[i]
	if len(tile) == 0 {
		return nil, nil
	}
	config, _, err := image.DecodeConfig(bytes.NewReader(tile))
	if err != nil || config.Width != p.TileW || config.Height != p.TileH {
		return nil, errTile
	}
	decoded, _, err := image.Decode(bytes.NewReader(tile))
	if err != nil {
		return nil, errTile
	}
	return decoded, nil
}

var errTile = fmt.Errorf("a part of the image is damaged; remove the image and add it again from its file")

// Sound reports tiles that are not whole, by their first and last bytes: it takes
// no memory and no time to speak of.
func (p Picture) Sound() error {
	for _, tile := range p.Tiles {
		if len(tile) == 0 {
			continue
		}
		config, _, err := image.DecodeConfig(bytes.NewReader(tile))
		if err != nil || config.Width != p.TileW || config.Height != p.TileH {
			return errTile
		}
		if !bytes.HasSuffix(tile, pngEnd) && !bytes.HasSuffix(tile, jpegEnd) {
			return errTile
		}
	}
	return nil
}

// pngEnd is the chunk that ends a PNG (ISO/IEC 15948, 11.2.5) and jpegEnd the
// marker that ends a JPEG (ITU-T T.81, B.1.1.3).
var (
	pngEnd  = []byte("IEND\xaeB`\x82")
	jpegEnd = []byte{0xff, 0xd9}
)

// UnderlayIndex returns the place of an underlay in the site's list, or -1.
func (s Site) UnderlayIndex(id UnderlayID) int {
	return slices.IndexFunc(s.Underlays, func(u Underlay) bool { return u.ID == id })
}
