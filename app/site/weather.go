package site

import (
	"fmt"

	"runnel/geo/plan"
	"runnel/geo/weather"
)

// SetWeather gives the site another daily record, or with one of no days none. It is
// kept as given and shared from then on; it must not be changed afterwards.
type SetWeather struct {
	Record weather.Record

	before weather.Record
}

// Apply implements Edit.
func (e *SetWeather) Apply(s *plan.Site) error {
	if err := e.Record.Check(); err != nil {
		return fmt.Errorf("the weather: %w", err)
	}
	if e.before = s.Weather; e.before.Same(e.Record) {
		return errUnchanged
	}
	s.Weather = e.Record
	return nil
}

// Revert implements Edit.
func (e *SetWeather) Revert(s *plan.Site) { s.Weather = e.before }

func (e *SetWeather) String() string {
	if e.Record.Empty() {
		return "remove the daily record"
	}
	return fmt.Sprintf("bring in the daily record %s", e.Record.Name)
}
