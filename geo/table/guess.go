package table

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"

	"runnel/geo/delimited"
)

// pairs are the names of east and north, by their languages; those of longitude
// and latitude are last, so that a table that has both is read in metres.
var pairs = [][2][]string{
	{
		words("e east easting eastings est este esting ost ostwert rechts rechtswert rw oost oosting utme utmeast utmeasting xeast xeasting ecoord"),
		words("n north northing northings nord norte hoch hochwert hw noord noording utmn utmnorth utmnorthing ynorth ynorthing ncoord"),
	},
	{
		words("x xcoord xcoordinate coordx xkoordinate koordinatex xcoordinaat xwert xkoord pointx posx utmx xutm xm mapx coordonneex xl93 xlambert xcoor xgeo"),
		words("y ycoord ycoordinate coordy ykoordinate koordinatey ycoordinaat ywert ykoord pointy posy utmy yutm ym mapy coordonneey yl93 ylambert ycoor ygeo"),
	},
	{
		words("lon long longitude lng longitud longitudine länge laenge längengrad laengengrad lengtegraad londd wgslon wgs84lon longdeg londeg xlon"),
		words("lat latitude latitud latitudine breite breitengrad breedtegraad latdd wgslat wgs84lat latdeg ylat"),
	},
}

const degreePair = 2

var (
	heightNames = words("z h elev elevation elevations height heights alt altitude ele level rl reducedlevel höhe hoehe höhen cota quota hauteur altura altezza " +
		"elevacion elevación elevazione hoogte zcoord zcoordinate zkoordinate zwert zkoord coordz kote kota höjd cote msl groundlevel orthoheight " +
		"orthometricheight ellipsoidalheight ellipsoidheight heightabovesealevel pointz dtm rlz orthoht elevationasl")
	nameNames = words("p pt point id no nr name num number punkt pnr punktnr punktnummer pktnr pkt punto pointid pointno pointnr pointnumber pointname ptno ptid ptnum " +
		"station nummer nombre numero número fid objectid waypoint label shot shotno naam nom matricule")
	codeNames = words("code d desc description descr descriptor kode codigo código codice beschreibung feature featurecode fcode type typ remark remarks comment note notes " +
		"layer class descrizione descripcion descripción bemerkung art symbol objektart")
)

func words(text string) []string { return strings.Fields(text) }

// units are endings that say the unit of a column.
var units = words("m metre metres meter meters ft feet foot usft ftus deg degrees dd")

// plain brings a column's name to its letters and figures, without the unit.
func plain(name string) string {
	name = strings.ToLower(strings.TrimSpace(strings.TrimPrefix(delimited.Readable(name), "\ufeff")))
	if i := strings.IndexAny(name, "[("); i > 0 {
		name = name[:i]
	}
	parts := strings.FieldsFunc(name, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	if n := len(parts); n > 1 && slices.Contains(units, parts[n-1]) {
		parts = parts[:n-1]
	}
	return strings.Join(parts, "")
}

// HeightName reports whether a column or a field of such a name holds heights.
func HeightName(name string) bool { return slices.Contains(heightNames, plain(name)) }

// CodeName reports whether a column or a field of such a name holds point codes.
func CodeName(name string) bool { return slices.Contains(codeNames, plain(name)) }

// byName finds columns by their names; degrees says that they are longitude and
// latitude.
func byName(header []string) (c Columns, degrees bool) {
	names := make([]string, len(header))
	for i, h := range header {
		names[i] = plain(h)
	}
	find := func(known []string) int {
		for _, k := range known { // the first of the known, so that z comes before level
			if i := slices.Index(names, k); i >= 0 {
				return i
			}
		}
		return -1
	}
	c = None
	for i, pair := range pairs {
		if x, y := find(pair[0]), find(pair[1]); x >= 0 && y >= 0 {
			c.X, c.Y, degrees = x, y, i == degreePair
			break
		}
	}
	c.Z, c.Name, c.Code = find(heightNames), find(nameNames), find(codeNames)
	if c.Z == c.X || c.Z == c.Y {
		c.Z = -1
	}
	return c, degrees
}

// guess finds out which columns are what, and says why.
func guess(l *Look, body []row) {
	if c, degrees := byName(l.Header); c.X >= 0 && c.Y >= 0 {
		l.Columns, l.Order, l.Degrees = c, Named, degrees
		l.note("The columns are taken by their names: %q is east and %q is north.", delimited.Clip(l.Header[c.X]), delimited.Clip(l.Header[c.Y]))
		if plain(l.Header[c.X]) == "x" {
			l.note("In some countries x is north; if the points lie wrong on the map, change the two.")
		}
		if c.Z < 0 {
			l.note("None of them bears a name of heights.")
		}
		return
	}
	columns := summaries(l, body)
	l.Columns = None
	if numbers := countNumbers(columns); numbers < 2 {
		l.note("No two columns hold numbers throughout; say which is east and which is north.")
		return
	}
	if len(l.Header) > 0 {
		l.note("The names of the columns are not known.")
	}
	byNumbers(l, columns)
}

// note adds a sentence on what a guess rests on.
func (l *Look) note(format string, args ...any) { l.Why = append(l.Why, fmt.Sprintf(format, args...)) }

// A summary says what a column holds.
type summary struct {
	number, whole, unique bool
	middle                float64 // of its numbers, without their signs
}

func countNumbers(columns []summary) int {
	n := 0
	for _, c := range columns {
		if c.number {
			n++
		}
	}
	return n
}

// summaries looks at each column. A field that is empty or says that there is no
// height does not count.
func summaries(l *Look, body []row) []summary {
	columns := make([]summary, fieldsIn(body))
	for i := range columns {
		var sizes []float64
		seen := map[float64]bool{}
		c := summary{number: true, whole: true, unique: true}
		for _, r := range body {
			if i >= len(r.fields) || noHeight([]byte(r.fields[i])) {
				continue
			}
			v, ok := delimited.Number([]byte(r.fields[i]), l.DecimalComma)
			if !ok {
				c.number = false
				break
			}
			c.whole = c.whole && v == math.Trunc(v)
			c.unique = c.unique && !seen[v]
			seen[v] = true
			sizes = append(sizes, math.Abs(v))
		}
		if c.number = c.number && len(sizes) > 0; c.number {
			slices.Sort(sizes)
			c.middle = sizes[len(sizes)/2]
		}
		columns[i] = c
	}
	return columns
}

// The eastings of a UTM zone [m].
const lowEasting, highEasting = 160_000, 840_000

// byNumbers guesses columns that have no names: a first column that counts or
// names the points, then the place, then the height, then a code.
func byNumbers(l *Look, columns []summary) {
	first := 0
	for first < len(columns)-2 && !(columns[first].number && columns[first+1].number) {
		first++
	}
	run := 0
	for first+run < len(columns) && columns[first+run].number {
		run++
	}
	named := first > 0
	if first == 0 && run >= 4 && columns[0].whole && columns[0].unique {
		named, first, run = true, 1, run-1
	}
	c := None
	a, b := columns[first], columns[first+1]
	if run >= 3 {
		c.Z = first + 2
	}
	if named {
		c.Name = first - 1
	}
	if at := first + min(run, 3); at < len(columns) && !columns[at].number {
		c.Code = at
	}
	l.Order = XYZ
	if named {
		l.orderNamed(a, b)
	} else {
		l.note("The columns have no names; they are taken to be east, north and height in this order. If the points lie wrong on the map, change the first two.")
	}
	c.X, c.Y = first, first+1
	if l.Order == PNEZD {
		c.X, c.Y = first+1, first
	}
	if c.Z < 0 {
		l.note("None of them seems to hold heights.")
	}
	l.Columns = c
}

// orderNamed guesses which of the two columns of the place is east, where the column
// before them names the points.
func (l *Look) orderNamed(a, b summary) {
	l.Order = PNEZD
	switch easting := a.middle >= lowEasting && a.middle <= highEasting; {
	case b.middle > 90 && b.middle <= 180 && a.middle <= 90:
		l.note("The columns have no names; the first is the point, and the second and third are taken for latitude and longitude.")
	case easting && b.middle >= 1e6:
		l.Order = PENZD
		l.note("The columns have no names; the first is the point, and the second is as large as eastings and the third as northings, so they are taken in that order. If the points lie wrong on the map, change the two.")
	default:
		l.note("The columns have no names; the first is the point, and then northing before easting is the usual order. If the points lie wrong on the map, change the two.")
	}
}
