package ui

import (
	"slices"

	"fyne.io/fyne/v2"

	"runnel/geo/gdal"
)

// tellingField is the field whose values name kinds for most shapes, where it tells more
// than the names of the layers do; empty where none does.
func tellingField(drawn []gdal.Drawn, path string, fields []string) (best string) {
	told := func(field string) (n int) {
		for _, g := range gdal.GroupsBy(drawn, path, field) {
			if g.Named {
				n += len(g.Drawn)
			}
		}
		return n
	}
	most := max(told(""), len(drawn)/2)
	for _, field := range fields {
		if n := told(field); n > most {
			best, most = field, n
		}
	}
	return best
}

// sortBy sorts the shapes by another field, or by layers.
func (p *importing) sortBy(field string) {
	p.by, p.groups, p.kinds, p.got = field, gdal.GroupsBy(p.drawn, p.path, field), nil, arriving{}
	for _, g := range p.groups {
		p.kinds = append(p.kinds, g.Likely)
	}
	p.w.inquiry.build(p.w.ledger.scroll)
	p.reckon()
}

// sorter asks what the shapes are sorted by.
func (p *importing) sorter() fyne.CanvasObject {
	words := []string{tr("their layers")}
	for _, field := range p.fields {
		words = append(words, trf("field %s", field))
	}
	pick := p.w.newPicker(words)
	pick.SetSelectedIndex(slices.Index(p.fields, p.by) + 1)
	pick.OnChanged = func(string) {
		by := ""
		if i := pick.SelectedIndex(); i > 0 {
			by = p.fields[i-1]
		}
		if by != p.by {
			p.sortBy(by)
		}
	}
	return pick
}
