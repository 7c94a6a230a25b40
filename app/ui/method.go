package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"runnel/app/report"
)

// showMethods lists how every figure that is shown is found, and from which source.
func (w *Window) showMethods() {
	list := container.NewVBox()
	for i, m := range report.Methods() {
		if i > 0 {
			list.Add(space(gap))
		}
		list.Add(text(told(m.Figure), strong))
		list.Add(flush(wrapped(told(m.How))))
		list.Add(paragraph(sourceLine(m)))
	}
	size := w.win.Canvas().Size()
	w.ask(prompt{
		title: tr("How the figures are found"), content: container.NewVScroll(list),
		size: fyne.NewSize(min(680, size.Width-80), min(640, size.Height-80)), choices: closing(),
	})
}

// read shows a text in Markdown.
func (w *Window) read(title, markdown string) {
	words := widget.NewRichTextFromMarkdown(markdown)
	words.Wrapping = fyne.TextWrapWord
	all := w.win.Canvas().Size()
	w.ask(prompt{title: title, content: container.NewVScroll(words), size: fyne.NewSize(640, max(520, all.Height-80)), choices: closing()})
}
