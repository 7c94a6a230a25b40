package action

import "runnel/app/report"

// Methods says how every figure is found, and from which source.
type Methods struct{}

// Run writes the methods.
func (Methods) Run(s Streams) error { return report.WriteMethods(s.Out) }
