package intake

import (
	"bufio"
	"context"
	"encoding/binary"
	"encoding/gob"
	"errors"
	"fmt"
	"io"
	"slices"

	"github.com/paulmach/orb"

	"runnel/geo/crs"
	"runnel/geo/gdal"
	"runnel/geo/grid"
	"runnel/geo/plan"
	"runnel/geo/survey"
	"runnel/geo/weather"
)

func init() {
	gob.Register(orb.Point{})
	gob.Register(orb.LineString{})
	gob.Register(orb.Polygon{})
}

// A reading is what a file is read as.
type reading int

const (
	ground reading = iota
	drawn
	site
	underlay
	look
	measured
)

// A request is what the parent writes to the child's standard input, as one gob.
type request struct {
	As   reading
	Path string
	// More are files that make one ground with the first.
	More    []string
	Options gdal.GroundOptions
	Drawn   gdal.DrawnOptions
	Under   gdal.UnderlayOptions
	Survey  gdal.SurveyOptions
	Limits  Limits
}

// An answer is what the child writes to its standard output: mark, the exported
// fields as one gob, a gob for each of Drawn, the ground's cells row by row as
// little-endian float32, and the lines and spots of the survey.
type answer struct {
	// Fault is what is wrong with the file; empty where it was read. NoSystem is
	// set where it is gdal.ErrNoSystem, NoPlace where it is gdal.ErrNoPlace, and
	// NoOtherWay where it is gdal.ErrNoOtherWay.
	Fault      string
	NoSystem   bool
	NoPlace    bool
	NoOtherWay bool
	Taken      string
	Notes      []string
	CRS        crs.CRS
	Frame      grid.Frame
	Drawn      int
	Name       string
	Setting    plan.Setting
	Plan       plan.Plan
	Underlays  []plan.Underlay
	Look       gdal.Look
	Survey     survey.Survey // without its lines and spots
	Weather    weather.Record
	Measure    measure

	ground grid.Ground
	drawn  []gdal.Drawn
	survey survey.Survey
}

// mark begins an answer, so that what a library prints is not taken for one.
const mark = "runnel intake 1\n"

// mostBytes is the longest answer that is listened to.
const mostBytes = 8 << 30

// chunkCells is how many cells are turned into bytes at a time.
const chunkCells = 1 << 14

// read does what is asked for in this process.
func (q request) read(ctx context.Context) (a answer, err error) {
	switch q.As {
	case ground:
		var b gdal.Brought
		b, err = gdal.ReadGrounds(ctx, append([]string{q.Path}, q.More...), q.Options)
		a.ground, a.CRS, a.survey.Sources, a.Notes, a.Taken = b.Ground, b.CRS, b.Sources, b.Notes, b.Taken
	case drawn:
		a.drawn, a.Notes, err = gdal.ReadDrawn(ctx, q.Path, q.Drawn)
	case site:
		var s *plan.Site
		if s, err = gdal.OpenSite(q.Path); err == nil {
			a.Name, a.CRS, a.ground, a.Setting, a.Plan, a.Underlays = s.Name, s.CRS, s.Ground, s.Setting, s.Plan, s.Underlays
			a.survey, a.Weather = s.Survey, s.Weather
		}
	case underlay:
		a.Underlays = make([]plan.Underlay, 1)
		a.Underlays[0], a.Notes, err = gdal.ReadUnderlay(ctx, q.Path, q.Under)
	case look:
		a.Look, err = gdal.LookAt(ctx, q.Path)
	case measured:
		a.survey, a.CRS, a.Notes, err = gdal.ReadSurvey(ctx, q.Path, q.Survey)
	default:
		err = errors.New("the program does not know what to read the file as; start Runnel again")
	}
	return a, err
}

// writeTo sends an answer.
func (a answer) writeTo(w io.Writer) error {
	b := bufio.NewWriterSize(w, 4*chunkCells)
	a.Frame, a.Drawn = a.ground.Frame, len(a.drawn)
	a.Survey, a.Measure = a.survey, measureOf(a.survey)
	a.Survey.Lines, a.Survey.Spots = nil, nil
	b.WriteString(mark)
	e := gob.NewEncoder(b)
	if err := e.Encode(a); err != nil {
		return err
	}
	for i := range a.drawn {
		if err := e.Encode(&a.drawn[i]); err != nil {
			return err
		}
	}
	buffer := make([]byte, 4*chunkCells)
	for cells := range slices.Chunk(a.ground.V, chunkCells) {
		n, err := binary.Encode(buffer, binary.LittleEndian, cells)
		if err != nil {
			return err
		}
		b.Write(buffer[:n])
	}
	writeSurvey(b, a.survey)
	return b.Flush()
}

var errGarbled = errors.New("the answer is not one")

// readAnswer takes an answer to its end, and nothing that is not one.
func readAnswer(from io.Reader) (a answer, err error) {
	r := bufio.NewReaderSize(io.LimitReader(from, mostBytes), 4*chunkCells)
	begins := make([]byte, len(mark))
	if _, err := io.ReadFull(r, begins); err != nil {
		return a, err
	}
	if string(begins) != mark {
		return a, errGarbled
	}
	d := gob.NewDecoder(r) // takes no more of r than it decodes, as r reads single bytes
	if err := d.Decode(&a); err != nil {
		return a, err
	}
	for range a.Drawn {
		var one gdal.Drawn
		if err := d.Decode(&one); err != nil {
			return a, err
		}
		if one.Fields == nil { // an empty map is not sent
			one.Fields = map[string]string{}
		}
		a.drawn = append(a.drawn, one)
	}
	if a.Frame.Len() != 0 {
		if err := a.readCells(r); err != nil {
			return a, err
		}
	}
	a.survey = a.Survey
	if err := readSurvey(r, a.Measure, &a.survey); err != nil {
		return a, err
	}
	if _, err := r.ReadByte(); err == nil {
		return a, errGarbled
	}
	return a, nil
}

// readCells fills the ground.
func (a *answer) readCells(r io.Reader) error {
	if err := a.Frame.Check(); err != nil {
		return fmt.Errorf("%w: %w", errGarbled, err)
	}
	a.ground = grid.New[float32](a.Frame)
	buffer := make([]byte, 4*chunkCells)
	for cells := range slices.Chunk(a.ground.V, chunkCells) {
		n := 4 * len(cells)
		if _, err := io.ReadFull(r, buffer[:n]); err != nil {
			return err
		}
		if _, err := binary.Decode(buffer[:n], binary.LittleEndian, cells); err != nil {
			return err
		}
	}
	return nil
}
