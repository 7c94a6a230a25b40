package main

import (
	"fyne.io/fyne/v2/app"

	"runnel/app/action"
	"runnel/app/intake"
	"runnel/app/ui"
	"runnel/assets/demo"
)

// openWindow starts the toolkit, shows the window and returns when it has
// closed. Nothing else in the program needs a display.
func openWindow(o action.Opening) error {
	if err := display(); err != nil {
		return err
	}
	ui.Run(app.NewWithID("runnel"), ui.Options{
		Path: o.Path, Demo: o.Demo, DemoSite: demo.Site, Trace: o.Trace,
		In: intake.Reader{Child: true},
	})
	return nil
}
