// Package ui is the window: the rail of the job's steps, the map, the ledger,
// the menus and the dialogs, and every sentence in them. It is the only package
// that imports Fyne's widgets.
//
// The window holds no copy of the site. A widget asks the document for an edit
// and is drawn again when the document says that it has changed. Whatever takes
// longer than a frame is worked out on a snapshot of the site, off the
// interface's goroutine, and comes back through one door, Window.post.
package ui
