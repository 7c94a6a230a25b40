// Package assets holds what is built into the program beside its code: icons,
// reference tables and the list of changes.
package assets

import "embed"

// Icons holds the drawings of the interface, icons/NAME.svg: the program's own
// mark under "runnel", the steps of the job and the tools under their names, a
// kind of feature under the name of its kind. Each but the mark is 24 by 24 in
// the single colour currentColor.
//
//go:embed icons/*.svg
var Icons embed.FS

// Words holds a catalogue of texts a language, words/CODE.json: the text in the
// language by its English.
//
//go:embed words/*.json
var Words embed.FS

// Changes is what a user can observe to have changed, newest first, in Markdown.
//
//go:embed changes.md
var Changes string
