package ui

import "runnel/analysis/caution"

func (w *Window) about() {
	w.read("About Runnel", aboutText+"\n\n**"+caution.Deference+"**\n")
}

const aboutText = `# Runnel

Runnel maps a small planted place and the ground that drains to it, so that seasonal water can be led to linger there.

It measures *potential*. Every soak-in figure is a range and rests on the soil and the days that the drain runs; none of them promises what a well will yield.

It works without a network, sends nothing to anyone, and keeps what you draw in one file of your own.
`
