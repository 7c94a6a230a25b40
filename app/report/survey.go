package report

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/paulmach/orb/planar"

	"runnel/analysis/accuracy"
	"runnel/geo/plan"
	"runnel/geo/survey"
)

// SurveyFigures are what a site's ground rests on and how good it is, as they are
// written.
type SurveyFigures struct {
	Site string `json:"site"`
	// System is the site's reference system.
	System string `json:"reference_system"`
	// Recorded is false where the site holds no record of its survey.
	Recorded bool            `json:"recorded"`
	Sources  []SourceRecord  `json:"sources"`
	LeftOut  int             `json:"left_out"`
	Quality  QualityFigures  `json:"quality"`
	Patches  []PatchFigures  `json:"patches"`
	Faults   []FaultFigures  `json:"faults"`
	Ground   GroundFigures   `json:"ground"`
	Setting  ReckonedFigures `json:"reckoned_with"`
	// lessInAll is LessWithEveryContour.
	lessInAll bool
}

// SourceRecord is one file that the ground rests on.
type SourceRecord struct {
	Name   string `json:"name"`
	Form   string `json:"form"`
	Count  int    `json:"count"`
	System string `json:"reference_system"`
	Unit   string `json:"height_unit"`
	Datum  string `json:"vertical_datum"`
	Cell   Figure `json:"cell_m"`
	// Error is the standard deviation of its heights that a person gave.
	Error Figure `json:"given_error_m"`
}

// QualityFigures are how well the ground is known, as it was found when it was made.
type QualityFigures struct {
	HeldOut  int    `json:"held_out"`
	RMSE     Figure `json:"rmse_m"`
	Bias     Figure `json:"bias_m"`
	Worst    Figure `json:"worst_m"`
	Accuracy Figure `json:"accuracy_95_m"`
	Tension  Figure `json:"tension"`
	Error    Figure `json:"error_m"`
	Reach    Figure `json:"reach_m"`
	// TooThin is the share of the ground for which the survey is too thin to say which
	// way water runs, and Thin that for which it says little.
	TooThin Figure `json:"too_thin_share"`
	Thin    Figure `json:"thin_share"`
}

// ReckonedFigures are the error and its reach that the site is set to.
type ReckonedFigures struct {
	Error Figure `json:"error_m"`
	Reach Figure `json:"reach_m"`
}

// GroundFigures say how large the ground is.
type GroundFigures struct {
	Columns int    `json:"columns"`
	Rows    int    `json:"rows"`
	Cell    Figure `json:"cell_m"`
}

// PatchFigures is a part of the ground whose heights were worked out from around it.
type PatchFigures struct {
	Why  string `json:"why"`
	Area Figure `json:"area_m2"`
	East Figure `json:"east_m"`
	// North and East are the middle of its bounds.
	North Figure `json:"north_m"`
}

// FaultFigures is a measurement that cannot be right, and what is proposed.
type FaultFigures struct {
	Sort  string `json:"sort"`
	Says  string `json:"says"`
	Leave bool   `json:"leave_out_proposed"`
	Off   Figure `json:"off_m"`
	East  Figure `json:"east_m"`
	North Figure `json:"north_m"`
}

// normal95 is how many standard deviations a normal error without bias stays within
// in 95 of 100 places. The vertical accuracy at the 95 % level is so many RMSE
// (FGDC-STD-007.3-1998, National Standard for Spatial Data Accuracy, from memory).
const normal95 = 1.96

// Accuracy95 is the vertical accuracy at the 95 % level of a survey that was checked
// [m]; NaN where it was not.
func Accuracy95(q survey.Quality) float64 {
	if q.HeldOut == 0 {
		return math.NaN()
	}
	return normal95 * q.RMSE
}

// A Thinness is the shares of the ground for which a survey is too thin to say which
// way water runs, and for which it says little; NaN is not worked out.
type Thinness struct{ TooLittle, Little float64 }

// OfSurvey gathers what a site's ground rests on, with what is wrong with it.
func OfSurvey(s *plan.Site, thin Thinness, faults []accuracy.Fault) SurveyFigures {
	q := s.Survey.Quality
	f := SurveyFigures{
		Site: s.Name, System: s.CRS.String(), Recorded: !s.Survey.Empty(), LeftOut: s.Survey.LeftOut(),
		Sources: []SourceRecord{}, Patches: []PatchFigures{}, Faults: []FaultFigures{},
		Ground:  GroundFigures{s.Ground.W, s.Ground.H, Figure(s.Ground.DX)},
		Setting: ReckonedFigures{Figure(s.Setting.SurveyError), Figure(s.Setting.SurveyReach)}, lessInAll: LessWithEveryContour(s.Survey),
		Quality: QualityFigures{
			HeldOut: q.HeldOut, RMSE: checked(q, q.RMSE), Bias: checked(q, q.Bias), Worst: checked(q, q.Worst), Accuracy: Figure(Accuracy95(q)),
			Tension: unknown, Error: given(q.Error), Reach: given(q.Reach), TooThin: Figure(thin.TooLittle), Thin: Figure(thin.Little),
		},
	}
	if s.Survey.Measured() {
		f.Quality.Tension = Figure(q.Tension)
	}
	for _, one := range s.Survey.Sources {
		f.Sources = append(f.Sources, SourceRecord{
			Name: one.Name, Form: one.Form.String(), Count: one.Count, System: one.System, Unit: one.Unit, Datum: one.Datum,
			Cell: given(one.Cell), Error: given(one.Error),
		})
	}
	for _, p := range s.Survey.Patches {
		middle := p.Outline.Bound().Center()
		f.Patches = append(f.Patches, PatchFigures{
			Why: p.Why.String(), Area: Figure(math.Abs(planar.Area(p.Outline))), East: Figure(middle[0]), North: Figure(middle[1]),
		})
	}
	for _, fault := range faults {
		f.Faults = append(f.Faults, FaultFigures{
			Sort: fault.Sort.String(), Says: fault.Says, Leave: fault.Leave, Off: Figure(fault.Off), East: Figure(fault.At[0]), North: Figure(fault.At[1]),
		})
	}
	return f
}

// unknown is a figure that is not known.
var unknown = Figure(math.NaN())

// given is a figure of which 0 says that it is not known.
func given(v float64) Figure {
	if v == 0 {
		return unknown
	}
	return Figure(v)
}

// checked is a figure of the differences at what was held out.
func checked(q survey.Quality, v float64) Figure {
	if q.HeldOut == 0 {
		return unknown
	}
	return Figure(v)
}

// WriteJSON writes the figures as indented JSON.
func (f SurveyFigures) WriteJSON(w io.Writer) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(f)
}

// WriteTable writes the figures for a person.
func (f SurveyFigures) WriteTable(w io.Writer) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: what the ground rests on\n", f.Site)
	fmt.Fprintf(&b, "%d by %d cells of %s m, in %s.\n", f.Ground.Columns, f.Ground.Rows, f.Ground.Cell.With(2), f.System)
	if !f.Recorded {
		fmt.Fprintf(&b, "\n%s\n", NoRecord)
	} else {
		f.writeSources(&b)
	}
	fmt.Fprintf(&b, "\nHow good it is\n%s", align(f.qualityCells()))
	if f.lessInAll {
		fmt.Fprintln(&b, WithEveryContour)
	}
	f.writePatches(&b)
	f.writeFaults(&b)
	_, err := io.WriteString(w, b.String())
	return err
}

// NoRecord says that a site holds no record of its survey, and what to do.
const NoRecord = "Nothing is recorded of the survey that this ground was made from. " +
	"Make the site anew from its survey's files with runnel new to have it recorded; until then one error is reckoned with for all places."

// unnamed stands for a file whose name is lost.
const unnamed = "(not recorded any more)"

func (f SurveyFigures) writeSources(b *strings.Builder) {
	cells := [][]string{{"Source", "form", "taken", "cell [m]", "heights in", "given error [m]"}}
	for _, s := range f.Sources {
		unit := or(s.Unit, "not known")
		if s.Unit == "" && s.Form == survey.Raster.String() { // its reading takes metres where the file does not say
			unit = "m, as taken"
		}
		cells = append(cells, []string{or(s.Name, unnamed), s.Form, fmt.Sprint(s.Count), s.Cell.With(2), unit, s.Error.With(3)})
	}
	fmt.Fprintf(b, "\n%s", align(cells))
	for _, s := range f.Sources {
		if s.Name == "" {
			fmt.Fprintln(b, "Which files the measurements are from is not in the site file any more.")
			continue
		}
		fmt.Fprintf(b, "%s: coordinates in %s; heights above %s.\n", s.Name, or(s.System, "a system that is not known"), or(s.Datum, "a datum that is not known"))
	}
	if f.LeftOut > 0 {
		fmt.Fprintf(b, "%d of the lines and points are left out.\n", f.LeftOut)
	}
}

func or(text, other string) string {
	if text == "" {
		return other
	}
	return text
}

// qualityCells are what was found when the ground was made, then what is reckoned with.
func (f SurveyFigures) qualityCells() [][]string {
	q := f.Quality
	var cells [][]string
	put := func(label, figure string) { cells = append(cells, []string{"  " + label, figure}) }
	if q.HeldOut > 0 {
		put("Measurements held out in turn", fmt.Sprint(q.HeldOut))
		put("  root mean square difference [m]", q.RMSE.With(3))
		put("  bias, ground less measured [m]", q.Bias.With(3))
		put("  worst [m]", q.Worst.With(3))
		put("Vertical accuracy at the 95 % level [m]", q.Accuracy.With(3))
	} else {
		put("Measurements held out in turn", "none")
	}
	if q.Tension.known() {
		put("Tension of the surface, 0 to 1", q.Tension.With(2))
	}
	put("Error as it was found [m]", q.Error.With(3))
	put("  its reach [m]", q.Reach.With(1))
	put("Error that is reckoned with [m]", f.Setting.Error.With(3))
	put("  its reach [m]", f.Setting.Reach.With(1))
	put("Too thin to say which way water runs [% of the ground]", (100 * q.TooThin).With(1))
	put("  says little [% of the ground]", (100 * q.Thin).With(1))
	return cells
}

func (f SurveyFigures) writePatches(b *strings.Builder) {
	if len(f.Patches) == 0 {
		return
	}
	cells := [][]string{{"Worked out from around it", "area [m²]", "east [m]", "north [m]"}}
	for _, p := range f.Patches {
		cells = append(cells, []string{"  " + p.Why, p.Area.With(1), p.East.With(1), p.North.With(1)})
	}
	fmt.Fprintf(b, "\n%s", align(cells))
}

// mostFaults is how many faults are told before the rest are counted.
const mostFaults = 20

func (f SurveyFigures) writeFaults(b *strings.Builder) {
	if len(f.Faults) == 0 {
		return
	}
	fmt.Fprintf(b, "\nFaults in the measurements\n")
	for i, fault := range f.Faults {
		if i == mostFaults {
			fmt.Fprintf(b, "  -  and %d more; --json lists them all.\n", len(f.Faults)-i)
			break
		}
		fmt.Fprintf(b, "  -  %s\n", full(fault.Says))
	}
}

// full ends a sentence.
func full(sentence string) string { return strings.TrimSuffix(sentence, ".") + "." }
