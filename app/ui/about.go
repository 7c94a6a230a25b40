package ui

import (
	"strings"

	"runnel/analysis/caution"
)

func (w *Window) about() {
	paragraphs := []string{
		"# Runnel",
		tr("Runnel maps a small planted place and the ground that drains to it, so that seasonal water can be led to linger there."),
		tr("It measures *potential*. Every soak-in figure is a range and rests on the soil and the days that the drain runs; none of them promises what a well will yield."),
		tr("It works without a network, sends nothing to anyone, and keeps what you draw in one file of your own."),
		"**" + told(caution.Deference) + "**",
	}
	w.read(tr("About Runnel"), strings.Join(paragraphs, "\n\n"))
}
