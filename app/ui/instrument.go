package ui

import (
	"github.com/paulmach/orb"

	"runnel/app/tool"
	"runnel/geo/grid"
	"runnel/geo/plan"
)

// An instrument is what the pointer is in the hand: one of those below, or the
// name of the kind that it draws. Its icon goes by the same name.
type instrument string

const (
	selecting instrument = "select"
	taping    instrument = "tape"
	gathering instrument = "catchment"
	mirroring instrument = "mirror"
	// placing says where on the ground a place of an image is.
	placing instrument = "placing"
)

// drawer is the instrument that draws a kind.
func drawer(kind plan.Kind) instrument { return instrument(plan.SpecOf(kind).Name) }

// kind is what the instrument draws; NoKind for those that draw nothing.
func (i instrument) kind() plan.Kind {
	kind, _ := plan.KindNamed(string(i))
	return kind
}

// word is what the instrument is called.
func (i instrument) word() string {
	switch i {
	case selecting:
		return tr("Select")
	case taping:
		return tr("Tape measure")
	case gathering:
		return tr("What drains here")
	case mirroring:
		return tr("Mirror about a line")
	}
	return told(plan.SpecOf(i.kind()).Label)
}

// letters press the tools while the map has the keyboard; f fits the ground. Tools of
// no common step may share one.
var letters = map[instrument]string{
	selecting: "Q", taping: "M", gathering: "G",
	"boundary": "B", "roof": "R", "paving": "Y", "drain": "D", "kerb": "K", "culvert": "U", "well": "W", "septic_field": "E",
	"service_line": "L", "tree": "T", "wall": "H", "inlet": "J", "downpipe": "V", "cover": "X", "soil_zone": "S", "soil_test": "O",
	"channel": "C", "island": "I", "sill": "S", "spillway": "O", "section": "X", "crossing": "B", "path": "P", "place": "A", "planting": "N",
}

// letter is the key that takes the instrument up.
func (i instrument) letter() string { return letters[i] }

// layDown finishes or drops what the tool in the hand has under way, and says which.
func (w *Window) layDown() {
	switch t := w.pane.tool.(type) {
	case nil:
	case tool.Leaver:
		if said := t.Leave(); said != "" {
			w.tellBelow(w.units.told(said))
		}
	default:
		t.Cancel()
	}
}

// takeUp puts an instrument in the hand.
func (w *Window) takeUp(i instrument) {
	w.layDown()
	w.held, w.pane.draws = i, i != selecting
	w.pane.overlay.Region = nil
	switch i {
	case selecting:
		w.pane.tool = tool.NewSelect(w.doc, w.board)
	case taping:
		w.pane.tool = tool.NewMeasure(w.doc, w.board)
	case gathering:
		w.pane.tool = tool.NewAsk(tr("Click where water runs; all the ground that drains there is shown"), w.gather)
	case placing:
		w.pane.tool = tool.NewAsk(tr("Click where on the ground the place is that you clicked on the image"), w.placeOnGround)
	case mirroring:
		w.pane.tool = tool.NewMirror(w.doc, w.board, func() { w.takeUp(selecting) })
	default:
		w.pane.tool = tool.NewDraw(w.doc, w.board, i.kind())
	}
	if i == selecting {
		w.pane.dropCross() // which drew with the tool before
	}
	w.tools.refresh()
	w.drawbar.refresh()
	w.legend.giveWay()
	w.trace.say("tool", "name", string(i))
	w.used()
}

// choose takes up an instrument; where what it draws needs a scheme and none is
// shown, the first one is, or a new one.
func (w *Window) choose(i instrument) {
	kind := i.kind()
	elsewhere := kind != plan.NoKind && plan.SpecOf(kind).InScheme && w.board.Scheme == plan.AsItIs
	if elsewhere {
		if schemes := w.doc.Site().Plan.Schemes; len(schemes) > 0 {
			w.showScheme(schemes[0].ID)
		} else {
			w.addScheme()
		}
	}
	w.takeUp(i)
	if elsewhere {
		w.tellWhereDrawn()
	}
}

// escaped lays down what is in the hand.
func (w *Window) escaped() {
	if w.held != selecting {
		w.takeUp(selecting)
	} else {
		w.board.Select(0)
		w.pointOut(-1)
	}
}

// gather shows all the ground that drains through the wettest place within reach
// of a press, and says how much it is of the storm that is looked at.
func (w *Window) gather(p tool.Pointer) tool.Answers {
	if w.scene == nil || w.scene.Drainage == nil {
		return nil
	}
	d := w.scene.Drainage
	x, y, ok := wettest(d.Flow.Cells, p)
	if !ok {
		return func() ([]string, string) { return nil, tr("There is no ground here; click on the ground") }
	}
	region := d.Catchment(x, y)
	w.pane.overlay.Region = &region
	area, runs := float64(d.Flow.Cells.At(x, y))*region.CellArea(), d.Runoff(region)
	return func() ([]string, string) {
		ground, water, storm := w.units.area(area), w.units.volume(runs*w.rain()/1000), w.units.rain(w.rain())
		lines := []string{trf("%s drains through here", ground), trf("%[1]s of a %[2]s storm", water, storm)}
		return lines, trf("%[1]s of ground and %[2]s of a %[3]s storm drain through here; click elsewhere for another place, Escape when done", ground, water, storm)
	}
}

// wettest returns the cell within reach of a press that most ground drains through.
func wettest(cells grid.Grid[uint32], p tool.Pointer) (x, y int, ok bool) {
	corner := orb.Point{p.At[0] - p.Reach, p.At[1] + p.Reach}
	left, top := int((corner[0]-cells.West)/cells.DX), int((cells.North-corner[1])/cells.DY)
	wide, high := int(2*p.Reach/cells.DX)+1, int(2*p.Reach/cells.DY)+1
	most := uint32(0)
	for row := max(0, top); row <= min(cells.H-1, top+high); row++ {
		for column := max(0, left); column <= min(cells.W-1, left+wide); column++ {
			if n := cells.At(column, row); n > most {
				x, y, most, ok = column, row, n, true
			}
		}
	}
	return x, y, ok
}
