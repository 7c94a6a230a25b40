package intake

import (
	"encoding/binary"
	"fmt"
	"io"
	"math"

	"github.com/paulmach/orb"

	"runnel/geo/survey"
)

// The lines and spots of a survey go as bytes, since there may be millions: first
// all lines, each of a head, its points and its heights, then all spots. All numbers
// are little-endian.
const (
	lineBytes = 4 + 4 + 4 + 4 + 1 + 1     // how many points and heights, source, number, use, out
	spotBytes = 8 + 8 + 8 + 4 + 2 + 2 + 1 // east, north, height, row, source, code, out
)

// mostPoints is how many points of lines, or spots, an answer may have.
const mostPoints = 30_000_000

// A measure says what comes of a survey behind the rest of an answer.
type measure struct{ Lines, Points, Spots int }

// measureOf counts what writeSurvey sends.
func measureOf(s survey.Survey) measure {
	m := measure{Lines: len(s.Lines), Spots: len(s.Spots)}
	for _, l := range s.Lines {
		m.Points += len(l.At)
	}
	return m
}

func (m measure) check() error {
	if m.Lines < 0 || m.Points < 0 || m.Spots < 0 || max(m.Lines, m.Points, m.Spots) > mostPoints {
		return fmt.Errorf("%w: it has %d lines of %d points and %d spots", errGarbled, m.Lines, m.Points, m.Spots)
	}
	return nil
}

// writeSurvey sends the lines and the spots. w keeps the first error that it has.
func writeSurvey(w io.Writer, s survey.Survey) {
	var b []byte
	for _, l := range s.Lines {
		b = appendLine(b[:0], l)
		w.Write(b)
	}
	b = b[:0]
	for _, p := range s.Spots {
		if b = appendSpot(b, p); len(b) > 4*chunkCells {
			w.Write(b)
			b = b[:0]
		}
	}
	w.Write(b)
}

func appendLine(b []byte, l survey.Line) []byte {
	for _, n := range []int{len(l.At), len(l.Z), l.Source, l.Number} {
		b = binary.LittleEndian.AppendUint32(b, uint32(n))
	}
	b = append(b, byte(l.Use), flagOf(l.Out))
	for _, p := range l.At {
		b = appendFloat(appendFloat(b, p[0]), p[1])
	}
	for _, z := range l.Z {
		b = appendFloat(b, z)
	}
	return b
}

func appendSpot(b []byte, p survey.Spot) []byte {
	b = appendFloat(appendFloat(appendFloat(b, p.At[0]), p.At[1]), p.Z)
	b = binary.LittleEndian.AppendUint32(b, uint32(p.Row))
	b = binary.LittleEndian.AppendUint16(b, uint16(p.Source))
	b = binary.LittleEndian.AppendUint16(b, uint16(p.Code))
	return append(b, flagOf(p.Out))
}

func appendFloat(b []byte, v float64) []byte {
	return binary.LittleEndian.AppendUint64(b, math.Float64bits(v))
}

func floatAt(b []byte, i int) float64 {
	return math.Float64frombits(binary.LittleEndian.Uint64(b[8*i:]))
}

func flagOf(set bool) byte {
	if set {
		return 1
	}
	return 0
}

// readSurvey puts into s the lines and spots that m counts. Memory is taken as
// they come, so that a count that lies takes none.
func readSurvey(r io.Reader, m measure, s *survey.Survey) error {
	if err := m.check(); err != nil {
		return err
	}
	left := m.Points
	for range m.Lines {
		l, err := readLine(r, left)
		if err != nil {
			return err
		}
		left -= len(l.At)
		s.Lines = append(s.Lines, l)
	}
	buffer := make([]byte, 1024*spotBytes)
	for len(s.Spots) < m.Spots {
		b := buffer[:min(1024, m.Spots-len(s.Spots))*spotBytes]
		if _, err := io.ReadFull(r, b); err != nil {
			return err
		}
		for ; len(b) > 0; b = b[spotBytes:] {
			s.Spots = append(s.Spots, spotOf(b))
		}
	}
	return nil
}

// readLine reads one line of at most so many points.
func readLine(r io.Reader, most int) (survey.Line, error) {
	var l survey.Line
	head := make([]byte, lineBytes)
	if _, err := io.ReadFull(r, head); err != nil {
		return l, err
	}
	number := func(i int) int { return int(binary.LittleEndian.Uint32(head[4*i:])) }
	points, heights := number(0), number(1)
	if points > most || heights > max(1, points) {
		return l, fmt.Errorf("%w: a line has %d points and %d heights", errGarbled, points, heights)
	}
	l = survey.Line{Source: number(2), Number: number(3), Use: survey.Use(head[16]), Out: head[17] != 0}
	body := make([]byte, 8*(2*points+heights))
	if _, err := io.ReadFull(r, body); err != nil {
		return l, err
	}
	l.At = make(orb.LineString, points)
	for i := range l.At {
		l.At[i] = orb.Point{floatAt(body, 2*i), floatAt(body, 2*i+1)}
	}
	for i := range heights {
		l.Z = append(l.Z, floatAt(body, 2*points+i))
	}
	return l, nil
}

func spotOf(b []byte) survey.Spot {
	return survey.Spot{
		At: orb.Point{floatAt(b, 0), floatAt(b, 1)}, Z: floatAt(b, 2),
		Row:    int32(binary.LittleEndian.Uint32(b[24:])),
		Source: int16(binary.LittleEndian.Uint16(b[28:])),
		Code:   int16(binary.LittleEndian.Uint16(b[30:])),
		Out:    b[32] != 0,
	}
}
