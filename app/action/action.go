// Package action is what the command line does, one file a command.
//
// A command is a struct whose fields are its arguments and flags, and a Run
// method that does it. Results go to standard output and messages to standard
// error. The exit status is 0 when it is done, 1 when it could not be done and 2
// when the command was not typed right; whatever went wrong is one sentence.
package action

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/alecthomas/kong"

	"runnel/app/intake"
)

// Commands is the whole command line.
type Commands struct {
	Window   Window   `cmd:"" default:"withargs" help:"Open the window, on a site if one is named."`
	Demo     Demo     `cmd:"" help:"Write the demo site into a folder and do the whole job on it."`
	Water    Water    `cmd:"" help:"Find the water paths and the hollows of a ground."`
	New      New      `cmd:"" help:"Make a site from elevation rasters, or from contours and points."`
	Survey   Survey   `cmd:"" help:"Tell what the ground of a site rests on and how good it is."`
	Weather  Weather  `cmd:"" help:"Bring a daily record of rain and temperature into a site, or tell of the one it has."`
	Set      Set      `cmd:"" help:"Change the settings of a site, or list them."`
	Add      Add      `cmd:"" help:"Add the features of a drawing to a site."`
	Underlay Underlay `cmd:"" help:"Lay an aerial picture or another raster under the map of a site."`
	Trace    Trace    `cmd:"" help:"Follow a drop of water from a place on a site; write its path as GeoJSON."`
	Measure  Measure  `cmd:"" help:"Measure a scheme of a site, or each, at a water level if one is given."`
	Levels   Levels   `cmd:"" help:"Measure the channels of a scheme at one water level after another."`
	Compare  Compare  `cmd:"" help:"Measure every scheme of a site beside the site as it is."`
	Storm    Storm    `cmd:"" help:"Lead the design storm through a scheme of a site, or each."`
	Season   Season   `cmd:"" help:"Balance the water of a scheme day by day, through the site's record or its days of running."`
	Account  Account  `cmd:"" help:"Tell what a scheme puts back beside what the well gives up, as a range, and what to measure next."`
	Cautions Cautions `cmd:"" help:"List what to look into before a scheme is dug."`
	Propose  Propose  `cmd:"" help:"Propose courses for a channel that touch the most soil for the same digging."`
	Fates    Fates    `cmd:"" help:"Tell where the water of each roof and each piece of paving ends."`
	Methods  Methods  `cmd:"" help:"Say how every figure is found, and from which source."`
	Export   Export   `cmd:"" help:"Write a site as .geojson, .gpkg, .tif or .png."`
	SetOut   SetOut   `cmd:"" name:"setout" help:"Write where a scheme is pegged out, as .csv, .gpx, .dxf, .json or .txt."`
}

// Streams is where a command's results and its messages go, and how files from
// elsewhere come in.
type Streams struct {
	Out, Err io.Writer
	// In reads files from elsewhere; the zero Reader reads them in this process.
	In intake.Reader
}

// say writes one message for the person at the keyboard.
func (s Streams) say(sentence string) { fmt.Fprintln(s.Err, plain("runnel: "+sentence)) }

// tell writes what is to be known of a file, one message each.
func (s Streams) tell(file string, notes []string) {
	for _, note := range notes {
		s.say(filepath.Base(file) + ": " + clause(note))
	}
}

// clause makes a sentence fit to stand behind a colon.
func clause(sentence string) string {
	sentence = strings.TrimSuffix(sentence, ".")
	first, size := utf8.DecodeRuneInString(sentence)
	if second, _ := utf8.DecodeRuneInString(sentence[size:]); unicode.IsLower(second) {
		return string(unicode.ToLower(first)) + sentence[size:]
	}
	return sentence
}

// The exit statuses.
const (
	done    = 0
	failed  = 1
	mistake = 2
)

// Main does what args ask for and returns the exit status. open opens the window.
func Main(ctx context.Context, args []string, s Streams, open Opener) (status int) {
	defer func() {
		if fault := recover(); fault != nil {
			s.say(fmt.Sprintf("something in the program went wrong (%v; %s); what is saved is safe, please report what you did", fault, faultPlace()))
			status = failed
		}
	}()
	exit := -1
	parser, err := kong.New(&Commands{}, kong.Name("runnel"),
		kong.Description("Map how water runs over a small place, and shape it to linger. With no command, or with a site, the window opens."),
		kong.Writers(s.Out, s.Err), kong.Exit(func(code int) { exit = code }),
		kong.WithHyphenPrefixedParameters(true), kong.ConfigureHelp(kong.HelpOptions{Compact: true}))
	if err != nil {
		panic(err)
	}
	command, err := parser.Parse(negatives(args))
	if exit >= 0 { // help was asked for and has been written
		return exit
	}
	if err != nil {
		s.say(misreading(args, err))
		return mistake
	}
	command.BindTo(ctx, (*context.Context)(nil))
	return finish(command.Run(s, open), s)
}

// finish says what went wrong, if anything, and returns the exit status.
func finish(err error, s Streams) int {
	var typed *MistypedError
	switch {
	case err == nil:
		return done
	case errors.As(err, &typed):
		s.say(err.Error())
		return mistake
	case errors.Is(err, context.Canceled):
		s.say("stopped; nothing was left half written")
		return failed
	}
	s.say(err.Error())
	return failed
}

// A MistypedError is a command that cannot be meant as it was typed.
type MistypedError struct{ Sentence string }

func (e *MistypedError) Error() string { return e.Sentence }

func mistyped(format string, values ...any) error {
	return &MistypedError{fmt.Sprintf(format, values...)}
}

// negatives parts negative coordinates from flags, which begin like them.
func negatives(args []string) []string {
	if len(args) == 0 || args[0] != "trace" {
		return args
	}
	for i, arg := range args {
		if arg == "--" {
			return args
		}
		if _, err := strconv.ParseFloat(arg, 64); err == nil && strings.HasPrefix(arg, "-") {
			parted := append([]string{}, args[:i]...)
			return append(append(parted, "--"), args[i:]...)
		}
	}
	return args
}

// plain makes one line of a message.
func plain(message string) string { return strings.Join(strings.Fields(message), " ") }

// faultPlace returns where in the program's own code a fault arose, for a report.
func faultPlace() string {
	callers := make([]uintptr, 64)
	frames := runtime.CallersFrames(callers[:runtime.Callers(0, callers)])
	thrown := false
	for frame, more := frames.Next(); more; frame, more = frames.Next() {
		if thrown && strings.HasPrefix(frame.Function, "runnel/") {
			return fmt.Sprintf("%s, line %d", frame.Function, frame.Line)
		}
		thrown = thrown || frame.Function == "runtime.gopanic"
	}
	return "place not known"
}
