package flow

// RoutePlainly is the slow twin of Route.
var RoutePlainly = routePlainly

// FillByFlood is the slow twin of filling alone, quick enough for larger grounds.
var FillByFlood = fillByFlood

// NewRouter returns a Router that takes the given number of rows at a time, on
// the given number of workers.
func NewRouter(rows, workers int) *Router { return &Router{rows: rows, workers: workers} }

// NewWideRouter returns a Router that counts as on the largest grounds.
func NewWideRouter(rows, workers int) *Router {
	return &Router{rows: rows, workers: workers, wide: true}
}
