package ui

// lastLook is how the window looked when it was last closed.
func (w *Window) lastLook() *look {
	p := w.app.Preferences()
	style, size := p.Int(lookPreference), p.Int(textPreference)
	if style < 0 || style >= int(styleCount) {
		style = 0
	}
	if size < 0 || size >= len(textSizes()) {
		size = 0
	}
	return newLook(lookStyle(style), size)
}

// wear gives the window another look.
func (w *Window) wear(style lookStyle) { w.dress(newLook(style, w.look.size)) }

// setTextSize writes all text in another size.
func (w *Window) setTextSize(size int) { w.dress(newLook(w.look.style, size)) }

func (w *Window) dress(l *look) {
	w.look = l
	w.app.Preferences().SetInt(lookPreference, int(l.style))
	w.app.Preferences().SetInt(textPreference, l.size)
	w.app.Settings().SetTheme(l)
	w.build()
	if w.doc != nil {
		w.reshow()
	}
}
