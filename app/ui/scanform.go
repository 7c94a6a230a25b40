package ui

import (
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
	"github.com/paulmach/orb"

	"runnel/geo"
)

// A scanForm lists the pairs of places, and says how well they agree.
type scanForm struct {
	s      *scanning
	object fyne.CanvasObject
	next   *widget.RichText
	rows   *fyne.Container
	fields []*answer
	waits  *answer
	sum    *widget.RichText
	doubts *widget.Label
	lay    *button
}

func newScanForm(s *scanning) *scanForm {
	f := &scanForm{s: s, next: quiet(""), rows: container.NewVBox(), sum: quiet(""), doubts: danger("")}
	manners := []string{tr("Turned, scaled and skewed, from 3 points"), tr("Only turned and scaled, from 2 points")}
	manner := s.w.newPicker(manners)
	at := 0
	if s.alike {
		at = 1
	}
	manner.SetSelectedIndex(at)
	manner.OnChanged = func(string) {
		s.alike = manner.SelectedIndex() == 1
		s.changed()
	}
	f.lay = newButton(tr("Lay it under the map"), s.layIt)
	f.lay.Importance = widget.HighImportance
	foot := container.NewVBox(flush(f.doubts), flush(f.sum),
		container.NewHBox(layout.NewSpacer(), newButton(tr("Cancel"), s.w.inquiry.leave), f.lay))
	body := container.NewVBox(text(tr("How the image may be laid"), strong), manner, rule(), flush(f.next), f.rows)
	f.object = matterPage(shortened(trf("Place %s", filepath.Base(s.path)), 28), body, foot)
	return f
}

// update shows the pairs as they are now.
func (f *scanForm) update() {
	if f == nil {
		return
	}
	s := f.s
	f.rows.RemoveAll()
	f.fields, f.waits = nil, nil
	for i := range s.pairs {
		f.rows.Add(f.row(i))
	}
	if s.held != nil {
		f.rows.Add(f.waiting())
	}
	f.rows.Refresh()
	setQuiet(f.next, f.nextWords())
	doubts := f.doubtWords()
	f.doubts.SetText(doubts)
	shown(f.doubts, doubts != "")
	sum := f.sumWords()
	setQuiet(f.sum, sum)
	shown(f.sum, sum != "")
	if s.fault == nil {
		f.lay.Enable()
	} else {
		f.lay.Disable()
	}
}

// row is one pair: its number, where it is on the image, how far off it is, and its
// place on the ground.
func (f *scanForm) row(i int) fyne.CanvasObject {
	s, p := f.s, f.s.pairs[i]
	off := text("", body)
	if s.fault == nil {
		off = rightText(trf("%s off", s.w.units.fine(s.fit.Off[i])), body)
		off.TextStyle.Bold = s.loud(i)
	}
	if s.loud(i) {
		off.Color = theme.Color(theme.ColorNameError)
	}
	remove := newButton(tr("Delete"), func() { s.remove(i) })
	remove.Importance = widget.LowImportance
	head := container.NewBorder(nil, nil, text(trf("Point %d", i+1), strong), remove, off)
	at := text(trf("On the image %[1]s px right, %[2]s px down", decimal(p.Pixel[0], 1), decimal(p.Pixel[1], 1)), caption)
	field, asked := f.field(placeWords(p.Ground), func(at orb.Point) { s.move(i, at) })
	f.fields = append(f.fields, field)
	return container.NewVBox(rule(), head, at, asked.row)
}

// field asks for a place on the ground.
func (f *scanForm) field(given string, take func(orb.Point)) (*answer, *question) {
	var asked *question
	field := newAnswer(given, func(typed string) error {
		at, err := placeTyped(typed)
		if asked.complain(err) != nil {
			return err
		}
		take(at)
		return nil
	})
	asked = newQuestion(tr("East, north [m]"), field, "")
	return field, asked
}

// waiting is the pair that lacks its place on the ground.
func (f *scanForm) waiting() fyne.CanvasObject {
	s := f.s
	drop := newButton(tr("Delete"), func() { s.held = nil; s.changed() })
	drop.Importance = widget.LowImportance
	head := container.NewBorder(nil, nil, text(trf("Point %d", len(s.pairs)+1), strong), drop)
	at := text(trf("On the image %[1]s px right, %[2]s px down", decimal(s.held[0], 1), decimal(s.held[1], 1)), caption)
	field, asked := f.field("", func(at orb.Point) {
		if s.held != nil {
			s.pair(at)
		}
	})
	f.waits = field
	return container.NewVBox(rule(), head, at, asked.row)
}

// nextWords says what to do next.
func (f *scanForm) nextWords() string {
	s := f.s
	more := s.least() - len(s.pairs)
	switch {
	case s.held != nil:
		return tr("Now click the same place on the map, or type where it is.")
	case more == 1:
		return tr("Click a place on the image that you also know on the ground. One more is needed.")
	case more > 0:
		return trf("Click a place on the image that you also know on the ground. %d more are needed, far apart and not on one line.", more)
	}
	return tr("Add more points by clicking on the image, or lay the image under the map.")
}

// doubtWords say what speaks against the place; empty where nothing does.
func (f *scanForm) doubtWords() string {
	s := f.s
	switch {
	case s.fault != nil && len(s.pairs) >= s.least():
		return sentence(s.w.units.told(s.fault.Error()))
	case s.fault == nil && s.fit.Mirrored:
		return tr("So the image lies face down, as in a mirror. Look whether two points are exchanged.")
	}
	return ""
}

// sumWords say how well the pairs agree.
func (f *scanForm) sumWords() string {
	s := f.s
	switch {
	case s.fault != nil:
		return ""
	case s.fit.Spare == 0:
		return trf("%[1]d points can always be met: that nothing is off proves nothing. Add one more to see how good the place is. A pixel is %[2]s.",
			len(s.pairs), s.w.units.fine(s.fit.Pixel()))
	case !s.tells():
		return trf("All points together are %[1]s off (RMS). %[2]d points cannot tell which of them is wrong; one more can. A pixel is %[3]s.",
			s.w.units.fine(s.fit.RMS), len(s.pairs), s.w.units.fine(s.fit.Pixel()))
	}
	return trf("All points together are %[1]s off (RMS), point %[2]d the most, by %[3]s. A pixel is %[4]s.",
		s.w.units.fine(s.fit.RMS), s.fit.Worst+1, s.w.units.fine(s.fit.Off[s.fit.Worst]), s.w.units.fine(s.fit.Pixel()))
}

// fine writes a length that may be much less than a metre [m].
func (u units) fine(v float64) string {
	if u == usFeet {
		return with(decimal(v/geo.Foot, 2), "ft")
	}
	return with(decimal(v, 3), "m")
}
