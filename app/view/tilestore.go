package view

import (
	"container/list"
	"image"
)

// mostTiles is how many bytes of tiles are kept.
const mostTiles = 256 << 20

// A tileStore keeps the tiles that were looked at last.
type tileStore struct {
	// most is how many bytes are kept.
	most   int
	held   int
	sheets map[sheetKey]map[image.Point]*list.Element
	// recent holds keptTiles, the one looked at last in front.
	recent list.List
}

type keptTile struct {
	key   tileKey
	image *image.RGBA
}

func newTileStore(most int) *tileStore {
	return &tileStore{most: most, sheets: map[sheetKey]map[image.Point]*list.Element{}}
}

func (s *tileStore) get(key tileKey) *image.RGBA {
	e := s.sheets[key.sheetKey][image.Pt(key.col, key.row)]
	if e == nil {
		return nil
	}
	s.recent.MoveToFront(e)
	return e.Value.(keptTile).image
}

func (s *tileStore) has(key tileKey) bool {
	return s.sheets[key.sheetKey][image.Pt(key.col, key.row)] != nil
}

// put keeps a tile and drops those that have not been looked at for the longest.
func (s *tileStore) put(key tileKey, tile *image.RGBA) {
	s.drop(key)
	sheet := s.sheets[key.sheetKey]
	if sheet == nil {
		sheet = map[image.Point]*list.Element{}
		s.sheets[key.sheetKey] = sheet
	}
	sheet[image.Pt(key.col, key.row)] = s.recent.PushFront(keptTile{key, tile})
	for s.held += len(tile.Pix); s.held > s.most; {
		s.drop(s.recent.Back().Value.(keptTile).key)
	}
}

func (s *tileStore) drop(key tileKey) {
	at := image.Pt(key.col, key.row)
	e := s.sheets[key.sheetKey][at]
	if e == nil {
		return
	}
	s.held -= len(e.Value.(keptTile).image.Pix)
	s.recent.Remove(e)
	delete(s.sheets[key.sheetKey], at)
	if len(s.sheets[key.sheetKey]) == 0 {
		delete(s.sheets, key.sheetKey)
	}
}

// handOn gives the tiles of one edition, but for those that meet changed ground, to
// another.
func (s *tileStore) handOn(from, to uint64, touched func(tileKey) bool) {
	for sheet, tiles := range s.sheets {
		if sheet.edition != from {
			continue
		}
		for at, e := range tiles {
			key := tileKey{sheet, at.X, at.Y}
			if touched(key) {
				continue
			}
			tile := e.Value.(keptTile).image
			s.drop(key)
			key.edition = to
			s.put(key, tile)
		}
	}
}
