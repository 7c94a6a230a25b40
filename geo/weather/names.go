package weather

import (
	"slices"
	"strings"
	"unicode"

	"runnel/geo/delimited"
)

// A named is how the columns of one quantity are called: by a word alone, or by a part
// of their name.
type named struct {
	column func(*Columns) *int
	alone  string
	within []string
	// without are parts that no such name has, with those of which it has one.
	without string
	with    string
}

// called are the names of columns in some languages; of two that suit the first is
// taken, and a column is taken once.
var called = []named{
	{column: func(c *Columns) *int { return &c.OfYear }, alone: "doy dayofyear yday julian jday yearday"},
	{column: func(c *Columns) *int { return &c.Date }, alone: "date datum fecha data datetime time timestamp messdatum dato päivä tag day dt obsdate", within: []string{"date", "datum", "fecha"}},
	{column: func(c *Columns) *int { return &c.Year }, alone: "year yr yyyy jahr année annee año ano anno jaar"},
	{column: func(c *Columns) *int { return &c.Month }, alone: "month mon mm mo monat mois mes mese maand"},
	{column: func(c *Columns) *int { return &c.Day }, alone: "day dd dy da tag jour día dia giorno dag"},
	{column: func(c *Columns) *int { return &c.Rain }, alone: "rain rr rsk pp ppt pr prcp precip tp",
		within: []string{"rain", "precip", "prcp", "niederschlag", "pluie", "lluvia", "pioggia", "neerslag", "nederbör", "chuva"}, without: "hour duration prob days type flag quality intensity"},
	{column: func(c *Columns) *int { return &c.Low }, alone: "low lo min tn tnk tmn tasmin mint tmin", with: "min low least nacht", within: temperatures, without: "humid dew ground grass soil wind"},
	{column: func(c *Columns) *int { return &c.High }, alone: "high hi max tx txk tmx tasmax maxt tmax", with: "max high greatest", within: temperatures, without: "humid dew ground grass soil wind"},
	{column: func(c *Columns) *int { return &c.DampLow }, alone: "rhmin rhn humin", with: "min low", within: damps},
	{column: func(c *Columns) *int { return &c.DampHigh }, alone: "rhmax rhx humax", with: "max high", within: damps},
	{column: damp, alone: "rh upm hum hurs", within: damps, without: "specific absolute"},
	{column: func(c *Columns) *int { return &c.Wind }, alone: "ws fm ff u2 uz wspd awnd fg", within: []string{"wind", "viento", "vent"}, without: "dir gust deg max chill run bearing flag peak"},
	{column: func(c *Columns) *int { return &c.Sun }, alone: "sun sdk sq", within: []string{"sunshine", "sunhours", "sonnenschein", "insolation", "heliofania"}, without: "rise set"},
	{column: func(c *Columns) *int { return &c.Radiation }, alone: "rs srad rad rsds", within: []string{"radiation", "solar", "globalstrahlung", "radiación"}, without: "longwave terrestrial net"},
	{column: func(c *Columns) *int { return &c.Level }, alone: "level stage pegel", within: []string{"waterlevel", "levelofwater", "drainlevel", "wasserstand"}},
}

var (
	temperatures = []string{"temp", "temperatur", "air"}
	damps        = []string{"humid", "feuchte", "humedad", "umidit", "relhum"}
)

// damp is a column of mean humidity: it stands for the least and the greatest.
func damp(c *Columns) *int { return &c.DampLow }

// A heading is the name of a column taken apart.
type heading struct {
	// joined is the name without its unit, in small letters and figures; unit what may
	// be its unit, the likeliest first.
	joined string
	unit   []string
}

func headingOf(name string) heading {
	name = strings.ToLower(strings.TrimSpace(strings.TrimPrefix(delimited.Readable(name), "\ufeff")))
	var h heading
	if i := strings.IndexAny(name, "[("); i > 0 {
		h.unit = append(h.unit, unitLetters(strings.TrimRight(name[i:], ")]")))
		name = name[:i]
	}
	parts := strings.FieldsFunc(name, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	h.joined = strings.Join(parts, "")
	if n := len(parts); n > 1 {
		h.unit = append(h.unit, parts[n-1])
		for q := range quantities {
			if parts[n-1] != "min" && unitHinted(q, parts[n-1:]) != "" { // most often it is the least
				h.joined = strings.Join(parts[:n-1], "")
			}
		}
		if n > 2 {
			h.unit = append(h.unit, parts[n-2]+parts[n-1])
		}
	}
	return h
}

func unitLetters(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '²':
			return '2'
		case unicode.IsLetter(r) || unicode.IsDigit(r) || r == '%':
			return r
		}
		return -1
	}, text)
}

// hints are how files write units, by quantity and unit.
var hints = [][]string{
	rainAt:     {"mm mmd mmday millimetres millimeters lm2 kgm2", "in inch inches inday", "mm10 01mm tenthsofmm", "cm"},
	lowAt:      {"c degc celsius degreesc", "f degf fahrenheit degreesf", "01c tenthsofc", "k kelvin"},
	highAt:     {"c degc celsius degreesc", "f degf fahrenheit degreesf", "01c tenthsofc", "k kelvin"},
	3:          {"% pct percent", "fraction share 01"},
	4:          {"% pct percent", "fraction share 01"},
	windAt:     {"ms mps ms1", "kmh kph kmph kmh1", "mph mih", "kn kt kts knots", "01ms"},
	windAt + 1: {"h hr hrs hours std", "min minutes", "s sec seconds", "01h"},
	windAt + 2: {"mjm2 mj mjm2d mjm2day", "wm2 w wattm2", "kwhm2 kwh", "jcm2"},
	windAt + 3: {"m metres meters", "ft feet", "cm"},
}

// unitHinted returns the unit of a quantity that one of the words is; empty for none.
func unitHinted(q int, words []string) string {
	for _, word := range words {
		for i, known := range hints[q] {
			if slices.Contains(strings.Fields(known), word) {
				return quantities[q].Units[i]
			}
		}
	}
	return ""
}

// suits says how well a column's name is one of n's: 2 for a word alone, 1 for a part
// of a name, 0 for not at all.
func (n named) suits(joined string) int {
	if slices.Contains(strings.Fields(n.alone), joined) {
		return 2
	}
	part := func(parts []string) bool {
		return slices.ContainsFunc(parts, func(p string) bool { return strings.Contains(joined, p) })
	}
	if !part(n.within) || part(strings.Fields(n.without)) || n.with != "" && !part(strings.Fields(n.with)) {
		return 0
	}
	return 1
}

// mostColumns is how many columns are looked at.
const mostColumns = 200

// byName finds columns by their names.
func byName(header []string) Columns {
	c := None
	header = header[:min(len(header), mostColumns)]
	taken := make([]bool, len(header))
	joined := make([]string, len(header))
	for i, name := range header {
		joined[i] = headingOf(name).joined
	}
	for strength := 2; strength > 0; strength-- {
		for _, n := range called {
			to := n.column(&c)
			for i, name := range joined {
				if *to < 0 && !taken[i] && n.suits(name) >= strength {
					*to, taken[i] = i, true
				}
			}
		}
	}
	if c.DampHigh < 0 || c.DampLow < 0 {
		c.DampLow = max(c.DampLow, c.DampHigh)
		c.DampHigh = c.DampLow
	}
	return c
}
