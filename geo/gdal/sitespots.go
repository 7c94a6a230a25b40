package gdal

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"hash"
	"math"
	"strconv"
	"strings"

	"github.com/lukeroth/gdal"

	"runnel/geo/survey"
)

// chunkSpots is how many spots lie in a row at most.
const chunkSpots = 4096

// spotRows gathers spots that follow each other and are of one file. A point's M is
// the row of the file that it stood in.
func spotRows(s survey.Survey) []row {
	var rows []row
	for spots := s.Spots; len(spots) > 0; {
		n := 1
		for n < len(spots) && n < chunkSpots && spots[n].Source == spots[0].Source {
			n++
		}
		codes := runsText(spots[:n], -1, func(p survey.Spot) int16 { return p.Code })
		out := runsText(spots[:n], 0, func(p survey.Spot) int16 { return int16(oneIf(p.Out)) })
		rows = append(rows, row{id: int64(len(rows)) + 1, wkb: spotsWKB(spots[:n]), values: map[string]any{
			"source": int64(spots[0].Source) + 1, "codes": codes, "left_out": out,
		}})
		spots = spots[n:]
	}
	return rows
}

// runsText writes small numbers as runs, a value and how many in turn have it; empty
// where all are the usual one.
func runsText(spots []survey.Spot, usual int16, of func(survey.Spot) int16) string {
	var runs []string
	plain := true
	for i := 0; i < len(spots); {
		v, n := of(spots[i]), 1
		for i+n < len(spots) && of(spots[i+n]) == v {
			n++
		}
		plain = plain && v == usual
		runs = append(runs, strconv.Itoa(int(v))+"x"+strconv.Itoa(n))
		i += n
	}
	if plain {
		return ""
	}
	return strings.Join(runs, " ")
}

// runsIn reads what runsText wrote of n numbers.
func runsIn(text string, n int, usual int16) ([]int16, error) {
	values := make([]int16, 0, n)
	for _, run := range strings.Fields(text) {
		first, second, _ := strings.Cut(run, "x")
		v, err := strconv.ParseInt(first, 10, 16)
		times, err2 := strconv.Atoi(second)
		if err != nil || err2 != nil || times < 1 || times > n-len(values) {
			return nil, fmt.Errorf("what its points have in turn is %q", clip(run))
		}
		for range times {
			values = append(values, int16(v))
		}
	}
	for len(values) < n {
		values = append(values, usual)
	}
	return values, nil
}

// Geometry types of well-known binary, as ISO 13249-3 numbers them.
const (
	isoLine      = 2
	isoSpots     = 4
	isoZ         = 1000
	isoZM        = 3000
	isoPoint     = 1
	littleEndian = 1
)

// lineWKB writes a line with its heights; NaN is a height that is not known.
func lineWKB(l survey.Line) []byte {
	b := make([]byte, 0, 9+24*len(l.At))
	b = wkbStart(b, isoZ+isoLine)
	b = binary.LittleEndian.AppendUint32(b, uint32(len(l.At)))
	for i, p := range l.At {
		b = appendFloats(b, p[0], p[1], l.Height(i))
	}
	return b
}

func spotsWKB(spots []survey.Spot) []byte {
	b := make([]byte, 0, 9+37*len(spots))
	b = wkbStart(b, isoZM+isoSpots)
	b = binary.LittleEndian.AppendUint32(b, uint32(len(spots)))
	for _, p := range spots {
		b = wkbStart(b, isoZM+isoPoint)
		b = appendFloats(b, p.At[0], p.At[1], p.Z, float64(p.Row))
	}
	return b
}

func wkbStart(b []byte, kind uint32) []byte {
	return binary.LittleEndian.AppendUint32(append(b, littleEndian), kind)
}

func appendFloats(b []byte, values ...float64) []byte {
	for _, v := range values {
		b = binary.LittleEndian.AppendUint64(b, math.Float64bits(v))
	}
	return b
}

// pointsIn returns the points of a row's line or points with their east, north,
// height and measure; height is NaN and measure nought where there is none.
func pointsIn(f gdal.Feature) ([][4]float64, error) {
	shape := f.Geometry()
	if handle(shape) == nil || shape.IsEmpty() {
		return nil, nil
	}
	bytes, err := shape.ToWKB()
	if err != nil {
		return nil, errNoGeometry
	}
	kind, dims, rest, ok := wkbHead(bytes)
	if !ok || kind != isoLine && kind != isoSpots || len(rest) < 4 {
		return nil, fmt.Errorf("a row holds neither a line nor points")
	}
	n := int(binary.LittleEndian.Uint32(rest))
	rest = rest[4:]
	if n > len(rest)/16 {
		return nil, errNoGeometry
	}
	points := make([][4]float64, n)
	for i := range points {
		if kind == isoSpots {
			if _, dims, rest, ok = wkbHead(rest); !ok {
				return nil, errNoGeometry
			}
		}
		if points[i], rest, ok = dims.take(rest); !ok {
			return nil, errNoGeometry
		}
	}
	return points, nil
}

// dimensions are what a coordinate has beside east and north.
type dimensions struct{ z, m bool }

// wkbHead reads the start of a geometry, in either way of numbering heights.
func wkbHead(b []byte) (kind uint32, d dimensions, rest []byte, ok bool) {
	if len(b) < 5 || b[0] != littleEndian {
		return 0, d, nil, false
	}
	kind = binary.LittleEndian.Uint32(b[1:])
	const extendedZ, extendedM = 0x80000000, 0x40000000
	d = dimensions{z: kind&extendedZ != 0, m: kind&extendedM != 0}
	kind &^= extendedZ | extendedM
	switch kind / 1000 {
	case 1:
		d.z = true
	case 2:
		d.m = true
	case 3:
		d = dimensions{true, true}
	}
	return kind % 1000, d, b[5:], true
}

func (d dimensions) take(b []byte) (p [4]float64, rest []byte, ok bool) {
	p[2] = math.NaN()
	places := []int{0, 1}
	if d.z {
		places = append(places, 2)
	}
	if d.m {
		places = append(places, 3)
	}
	if len(b) < 8*len(places) {
		return p, nil, false
	}
	for i, at := range places {
		p[at] = math.Float64frombits(binary.LittleEndian.Uint64(b[8*i:]))
	}
	return p, b[8*len(places):], true
}

// digestOf tells a survey from any other.
func digestOf(s survey.Survey) string {
	d := digester{hash: sha256.New()}
	for _, f := range s.Sources {
		d.text(fmt.Sprintf("%q", []any{f.Name, f.System, f.Unit, f.Datum, f.Codes, f.Form.String(), f.Count, number(f.Cell), number(f.Error)}))
	}
	d.text("lines")
	for _, l := range s.Lines {
		d.buffer = append(d.buffer, lineWKB(l)...)
		d.numbers(l.Source, l.Number, int(l.Use), int(oneIf(l.Out)), len(l.Z))
	}
	d.text("spots")
	for _, p := range s.Spots {
		d.buffer = appendFloats(d.buffer, p.At[0], p.At[1], p.Z)
		d.numbers(int(p.Row), int(p.Source), int(p.Code), int(oneIf(p.Out)))
	}
	d.text("patches")
	for _, p := range s.Patches {
		d.numbers(int(p.Why), len(p.Outline))
		for _, ring := range p.Outline {
			d.numbers(len(ring))
			for _, at := range ring {
				d.buffer = appendFloats(d.buffer, at[0], at[1])
			}
		}
	}
	d.flush(0)
	return hex.EncodeToString(d.hash.Sum(nil))
}

// A digester hands numbers to a hash in large pieces.
type digester struct {
	hash   hash.Hash
	buffer []byte
}

func (d *digester) text(s string) {
	d.numbers(len(s))
	d.buffer = append(d.buffer, s...)
}

func (d *digester) numbers(values ...int) {
	for _, v := range values {
		d.buffer = binary.LittleEndian.AppendUint64(d.buffer, uint64(v))
	}
	d.flush(1 << 16)
}

// flush hands on what is more than so many bytes.
func (d *digester) flush(more int) {
	if len(d.buffer) > more {
		d.hash.Write(d.buffer)
		d.buffer = d.buffer[:0]
	}
}
