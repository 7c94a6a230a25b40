// Package plan holds what is drawn on a site: features of known kinds, the
// schemes that some of them belong to, and the site that gathers them with its
// ground.
//
// A feature is a value. It is never changed once it stands in a plan: an edit
// puts another in its place. So a copy of a Plan is cheap, and one goroutine
// may read it while another edits its own.
//
// Coordinates are metres in the site's reference system. Fields are numbers in
// the unit that their Field names, or text.
package plan
