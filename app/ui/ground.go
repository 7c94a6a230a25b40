package ui

import (
	"context"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
	"github.com/paulmach/orb"

	"runnel/app/site"
	"runnel/geo/crs"
	"runnel/geo/gdal"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// A readGround is a ground as it was read from a file.
type readGround struct {
	from   string
	how    gdal.GroundOptions
	ground grid.Ground
	system crs.CRS
	notes  []string
}

func (w *Window) newFromRaster() {
	w.askFile(tr("New from an elevation raster"), rasterEnds, w.askNew)
}

func (w *Window) replaceGround() {
	w.askFile(tr("Replace the ground"), rasterEnds, w.askReplacement)
}

// askNew begins a site from a file, in the file's own metric system or the local one.
func (w *Window) askNew(path string) { w.askGround(readGround{from: path}, w.beginSite) }

// askReplacement reads another ground for the open site, in the site's system
// where things are drawn in it.
func (w *Window) askReplacement(path string) {
	read := readGround{from: path}
	if s := w.doc.Site(); len(s.Plan.Features)+len(s.Underlays) > 0 && s.CRS.Code != 0 {
		read.how.CRS = fmt.Sprintf("EPSG:%d", s.CRS.Code)
	}
	w.askGround(read, w.takeGround)
}

// askGround reads a ground as it is asked for, shows what was found, and asks
// whether to bring that in or to read it another way.
func (w *Window) askGround(read readGround, take func(readGround)) {
	w.readAs(read, take, func(read readGround) { w.showGround(read, take) })
}

// readAs reads a ground as it is asked for and then does what comes next. Where
// it cannot be read so, it may be read another way: a part of it, larger cells.
func (w *Window) readAs(read readGround, take, next func(readGround)) {
	w.start(job{
		doing: trf("Reading %s", filepath.Base(read.from)),
		run: func(ctx context.Context) (err error) {
			read.ground, read.system, read.notes, err = w.options.In.Ground(ctx, read.from, read.how)
			return err
		},
		done: func(err error) {
			if err != nil {
				w.refuseGround(read, err, take)
				return
			}
			next(read)
		},
	})
}

// refuseGround says why a ground cannot be read as it was asked for.
func (w *Window) refuseGround(read readGround, err error, take func(readGround)) {
	w.trace.say("error", "text", err.Error())
	said := sentence(w.units.told(err.Error()))
	w.ask(prompt{title: tr("The ground was not read"), content: container.NewVScroll(wrappedLabel(said)), size: w.sizeFor(said), choices: []choice{
		{word: tr("Close")},
		{word: tr("Read it another way…"), do: func() { w.showGround(readGround{from: read.from, how: read.how}, take) }},
	}})
}

// showGround shows a ground that was read and takes it once it is agreed to.
// Asked for in another way it is read again first.
func (w *Window) showGround(read readGround, take func(readGround)) {
	f := w.newGroundForm(read)
	w.askForm(prompt{
		title: trf("Bring in %s", filepath.Base(read.from)), size: fyne.NewSize(600, 420),
		choices: []choice{{word: tr("Cancel")}, {word: tr("Bring it in"), do: func() {
			if f.how == read.how && len(read.ground.V) > 0 {
				take(read)
				return
			}
			w.readAs(readGround{from: read.from, how: f.how}, take, func(again readGround) {
				take(again)
				w.note(again)
			})
		}}},
	}, f.items, f.take)
	w.win.Canvas().Focus(f.system)
}

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
	part  [4]*line
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
	if len(read.notes) > 0 {
		notes := widget.NewLabel(strings.Join(sentences(w.units, read.notes), " "))
		notes.Wrapping = fyne.TextWrapWord
		scroll := container.NewVScroll(notes)
		scroll.SetMinSize(fyne.NewSize(0, 16*gap))
		f.items = append(f.items[:1], append([]*widget.FormItem{widget.NewFormItem(tr("Take note"), scroll)}, f.items[1:]...)...)
	}
	return f
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

func sentences(u units, notes []string) []string {
	var lines []string
	for _, n := range notes {
		lines = append(lines, sentence(u.told(n)))
	}
	return lines
}

// note says what was found and assumed when a ground was read.
func (w *Window) note(read readGround) {
	if len(read.notes) > 0 {
		w.tell(tr("About this ground"), strings.Join(sentences(w.units, read.notes), "\n\n"))
	}
}

// beginSite opens a new site on a ground. It counts as not saved.
func (w *Window) beginSite(read readGround) {
	name := strings.TrimSuffix(filepath.Base(read.from), filepath.Ext(read.from))
	w.put(site.Recovered(plan.Site{Name: name, CRS: read.system, Ground: read.ground, Setting: plan.UsualSetting()}, ""))
}

// takeGround puts a ground in the place of the open site's.
func (w *Window) takeGround(read readGround) {
	w.complain(w.doc.Do(&site.SetGround{Ground: read.ground, CRS: read.system}))
	w.pane.fitted = false
}
