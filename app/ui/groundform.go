package ui

import (
	"fmt"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
	"github.com/paulmach/orb"

	"runnel/geo/gdal"
	"runnel/geo/grid"
)

// heightUnits are what a raster's heights may be in, as the dialog offers them
// and as the reader takes them.
func heightUnits() []heightUnit {
	return []heightUnit{{tr("as the file says"), ""}, {tr("metres"), "m"}, {tr("feet"), "ft"}, {tr("US survey feet"), "us-ft"}}
}

type heightUnit struct{ word, unit string }

// A groundForm asks how a ground is to be brought in.
type groundForm struct {
	read         readGround
	system, cell *line
	unit         *picker
	// part is the west, south, east and north of the part to take.
	part [4]*line
	// fill asks whether voids are filled; nil where there are none.
	fill  *picker
	items []*widget.FormItem
	// how is what was answered.
	how gdal.GroundOptions
}

func (w *Window) newGroundForm(read readGround) *groundForm {
	f := &groundForm{read: read, system: w.newLine(read.how.CRS), cell: w.newLine("")}
	f.system.SetPlaceHolder(tr("as the file, or its UTM zone"))
	f.cell.SetPlaceHolder(tr("as the file"))
	var words []string
	for _, u := range heightUnits() {
		words = append(words, u.word)
	}
	words[0] = read.unitWord()
	f.unit = w.newPicker(words)
	f.unit.SetSelectedIndex(0)
	b := read.ground.Bound()
	cells := make([]fyne.CanvasObject, len(f.part))
	for i, v := range []float64{b.Min[0], b.Min[1], b.Max[0], b.Max[1]} {
		f.part[i] = w.newLine("")
		if len(read.ground.V) > 0 {
			f.part[i].SetPlaceHolder(strconv.FormatFloat(v, 'f', 1, 64))
		}
		cells[i] = f.part[i]
	}
	found := widget.NewLabel(read.found(w.units))
	found.Wrapping = fyne.TextWrapWord
	f.items = []*widget.FormItem{
		widget.NewFormItem(tr("It holds"), found),
		hinted(tr("Reference system"), f.system, tr("A metric system, such as EPSG:32632. Leave it empty to keep the file's, or its UTM zone.")),
		hinted(tr("Cell size, m"), f.cell, tr("A channel should be four cells wide at least.")),
		hinted(tr("Heights are in"), f.unit, tr("Heights become metres.")),
		hinted(tr("W, S, E, N, m"), container.NewGridWithColumns(4, cells...), tr("The part to take. Leave them empty to take it all.")),
	}
	f.askVoids(w)
	if len(read.notes) > 0 {
		notes := widget.NewLabel(strings.Join(sentences(w.units, read.notes), " "))
		notes.Wrapping = fyne.TextWrapWord
		scroll := container.NewVScroll(notes)
		scroll.SetMinSize(fyne.NewSize(0, 16*gap))
		f.items = append(f.items[:1], append([]*widget.FormItem{widget.NewFormItem(tr("Take note"), scroll)}, f.items[1:]...)...)
	}
	return f
}

// askVoids asks whether voids are filled, where there are any.
func (f *groundForm) askVoids(w *Window) {
	if f.read.void.holes == 0 {
		return
	}
	f.fill = w.newPicker([]string{trf("leave %s without heights", f.read.void.said(w.units, f.read.ground.CellArea())), tr("fill them from around them")})
	f.fill.SetSelectedIndex(0)
	f.items = append(f.items, hinted(tr("Voids"), f.fill, tr("Nothing was measured there: what is filled stays marked.")))
}

// fills reports whether voids are to be filled.
func (f *groundForm) fills() bool { return f.fill != nil && f.fill.SelectedIndex() == 1 }

// unitWord says what heights are taken to be in where nothing else is asked for.
func (r readGround) unitWord() string {
	switch r.taken {
	case "":
		return tr("as the file says")
	case "m":
		return tr("it does not say; taken as metres")
	}
	return tr("it does not say; taken as its coordinates are")
}

// found says what a ground is.
func (r readGround) found(u units) string {
	g := r.ground
	if len(g.V) == 0 {
		return tr("Not known: it could not be read yet.")
	}
	b := g.Bound()
	low, high, _ := grid.Extent(g)
	return trf("%[1]s × %[2]s cells of %[3]s, which is %[4]s by %[5]s.\nHeights from %[6]s to %[7]s.\nCoordinates: %[8]v.",
		decimal(float64(g.W), 0), decimal(float64(g.H), 0), u.length(g.DX), u.length(b.Max[0]-b.Min[0]), u.length(b.Max[1]-b.Min[1]),
		u.height(low), u.height(high), r.system)
}

// take reads the answers.
func (f *groundForm) take() error {
	how := gdal.GroundOptions{CRS: strings.TrimSpace(f.system.Text), HeightUnit: heightUnits()[f.unit.SelectedIndex()].unit}
	var err error
	if how.Cell, err = cellSize(f.cell.Text); err != nil {
		return err
	}
	var typed [4]string
	for i, l := range f.part {
		typed[i] = l.Text
	}
	if how.Bound, err = partOf(f.read.ground.Bound(), typed); err != nil {
		return err
	}
	f.how = how
	return nil
}

// partOf reads the west, south, east and north of a part [m]; what is left empty
// is the whole's. With nothing typed it is the zero Bound.
func partOf(whole orb.Bound, typed [4]string) (orb.Bound, error) {
	v := [4]float64{whole.Min[0], whole.Min[1], whole.Max[0], whole.Max[1]}
	given := 0
	for i, text := range typed {
		text = strings.Replace(strings.TrimSpace(text), ",", ".", 1)
		if text == "" {
			continue
		}
		number, err := strconv.ParseFloat(text, 64)
		if err != nil {
			return orb.Bound{}, fmt.Errorf("the part to take has %q for an edge; give a number of metres, or leave it empty", text)
		}
		v[i] = number
		given++
	}
	if given == 0 {
		return orb.Bound{}, nil
	}
	if !(v[0] < v[2] && v[1] < v[3]) {
		return orb.Bound{}, fmt.Errorf("the part to take has no size; west must be less than east, and south less than north")
	}
	return orb.Bound{Min: orb.Point{v[0], v[1]}, Max: orb.Point{v[2], v[3]}}, nil
}

func hinted(label string, o fyne.CanvasObject, hint string) *widget.FormItem {
	item := widget.NewFormItem(label, o)
	item.HintText = hint
	return item
}

// cellSize reads the size of a cell [m]; nothing typed is nought.
func cellSize(typed string) (float64, error) {
	typed = strings.Replace(strings.TrimSpace(typed), ",", ".", 1)
	if typed == "" {
		return 0, nil
	}
	v, err := strconv.ParseFloat(typed, 64)
	if err != nil || !(v > 0) {
		return 0, fmt.Errorf("the cell size is %q; give a number of metres above 0, or leave it empty", typed)
	}
	return v, nil
}
