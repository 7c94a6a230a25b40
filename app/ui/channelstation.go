package ui

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"runnel/analysis/earthwork"
	"runnel/analysis/hydraulics"
	"runnel/geo/plan"
)

// A stationPart tells what the channels are at each metre along them, and the earth
// that they move.
type stationPart struct {
	*channelPage
	table  *figureTable
	totals *figureTable
	notes  *widget.RichText
	box    *fyne.Container
}

// A stationRow is all that is known of a station; NaN where something is not.
type stationRow struct {
	profiled
	cut, fill, cutSoFar, fillSoFar float64
	velocity, froude               float64
}

func (s *stationPart) word() string { return tr("By station") }

func (s *stationPart) works() []worked {
	return []worked{s.profiles, s.w.outcomes.dig, s.w.outcomes.flow}
}

func (s *stationPart) focus() *figureTable { return s.table }

func (s *stationPart) lines() []lineChoice {
	if !s.profiles.last() {
		return nil
	}
	return linesOf(s.channelPage, s.profiles.value, func(p profiled) (plan.ID, string) { return p.id, p.title })
}

func (s *stationPart) content() fyne.CanvasObject {
	s.table, s.totals, s.notes = newFigureTable(s.key), newFigureTable(s.key), quiet("")
	s.totals.whole = true
	s.table.onChoose = func(row int) { s.pin = s.table.sheet.place(row) }
	s.table.onPress = s.leave
	foot := container.NewVBox(s.w.labelled(tr("Earth of all channels, in place"), strong, "earth-sections"), s.totals, flush(s.notes))
	s.box = container.New(footed(0.42), s.table, container.NewVScroll(foot))
	return s.box
}

func (s *stationPart) update() {
	s.table.show(s.stationSheet())
	s.totals.show(s.totalSheet())
	setQuiet(s.notes, runOn(s.said()))
	s.box.Refresh() // what stands below the table may have grown
}

func (s *stationPart) sheets() []figureSheet { return []figureSheet{s.stationSheet()} }

// rows puts together what is known of the stations.
func (s *stationPart) rows() []stationRow {
	if !s.profiles.last() {
		return nil
	}
	earth := map[stationKey]earthwork.EarthStation{}
	if dig := s.w.outcomes.dig; dig.last() && dig.site == s.profiles.site {
		for _, e := range dig.value.earth.Stations {
			earth[stationAt(e.ID, e.Chainage)] = e
		}
	}
	var reaches []hydraulics.Reach
	if flow := s.w.outcomes.flow; flow.last() && flow.why == "" && flow.site == s.profiles.site {
		reaches = flow.value.result.Reaches
	}
	none := math.NaN()
	var rows []stationRow
	for _, p := range s.profiles.value {
		if s.line != 0 && p.id != s.line {
			continue
		}
		r := stationRow{p, none, none, none, none, none, none}
		if e, ok := earth[stationAt(p.id, p.chainage)]; ok {
			r.cut, r.fill, r.cutSoFar, r.fillSoFar = e.Cut, e.Fill, e.CutSoFar, e.FillSoFar
		}
		r.velocity, r.froude = runningAt(reaches, p.id, p.chainage)
		rows = append(rows, r)
	}
	return rows
}

// A stationKey is a station of a channel, to the millimetre.
type stationKey struct {
	id          plan.ID
	millimetres int
}

func stationAt(id plan.ID, chainage float64) stationKey {
	return stationKey{id, int(math.Round(1000 * chainage))}
}

// runningAt is how fast the water runs at a chainage of a channel, and its Froude
// number; where islands part it, in the faster arm. NaN where it is not known.
func runningAt(reaches []hydraulics.Reach, id plan.ID, chainage float64) (velocity, froude float64) {
	velocity, froude = math.NaN(), math.NaN()
	for _, r := range reaches {
		if r.ID != id {
			continue
		}
		for i := 1; i < len(r.Stations); i++ {
			a, b := r.Stations[i-1], r.Stations[i]
			low, high := min(a.Chainage, b.Chainage), max(a.Chainage, b.Chainage)
			if chainage < low || chainage > high || high == low {
				continue
			}
			share := (chainage - a.Chainage) / (b.Chainage - a.Chainage)
			v := math.Abs(a.Velocity + share*(b.Velocity-a.Velocity))
			if v == v && !(v <= velocity) {
				velocity, froude = v, a.Froude+share*(b.Froude-a.Froude)
			}
		}
	}
	return velocity, froude
}

func (s *stationPart) stationSheet() figureSheet {
	rows, u := s.rows(), s.w.units
	one, two, three := u.yard(1), u.yard(2), u.yard(3)
	sheet := figureSheet{
		rows: len(rows), stale: !s.profiles.current(),
		place: func(row int) sheetPlace {
			r := rows[row]
			return sheetPlace{r.at, r.id, trf("%[1]s, %[2]s", s.nameOfLine(r.id, r.title), u.length(r.chainage))}
		},
		columns: []figureColumn{
			one.column(tr("Chainage"), 2, func(row int) float64 { return rows[row].chainage }),
			one.column(tr("Bed"), 2, func(row int) float64 { return rows[row].bed }),
			one.column(tr("Water"), 2, func(row int) float64 { return rows[row].water }),
			one.column(tr("Depth"), 2, func(row int) float64 { return max(0, rows[row].water-rows[row].bed) }),
			one.column(tr("Left bank top"), 2, func(row int) float64 { return rows[row].left }),
			one.column(tr("Right bank top"), 2, func(row int) float64 { return rows[row].right }),
			two.column(tr("Cut across"), 2, func(row int) float64 { return rows[row].cut }),
			two.column(tr("Fill across"), 2, func(row int) float64 { return rows[row].fill }),
			three.column(tr("Cut so far"), 2, func(row int) float64 { return rows[row].cutSoFar }),
			three.column(tr("Fill so far"), 2, func(row int) float64 { return rows[row].fillSoFar }),
			yardstick{one.unit + "/s", one.each}.column(tr("Velocity"), 2, func(row int) float64 { return rows[row].velocity }),
			yardstick{"", 1}.column(tr("Froude number"), 2, func(row int) float64 { return rows[row].froude }),
		},
	}
	if len(s.lines()) > 1 {
		name := wordColumn(tr("Channel"), func(row int) string { return s.nameOfLine(rows[row].id, rows[row].title) })
		sheet.columns = append([]figureColumn{name}, sheet.columns...)
	}
	return sheet
}
