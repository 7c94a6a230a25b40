package report

import (
	"encoding/json"
	"io"
	"time"

	"github.com/paulmach/orb"
	"runnel/analysis/earthwork"
	"runnel/geo/plan"
)

// setOutFigures is a setting out as JSON.
type setOutFigures struct {
	Site     string       `json:"site"`
	Scheme   string       `json:"scheme"`
	Date     string       `json:"date"`
	System   string       `json:"reference_system"`
	Unit     string       `json:"unit"`
	Note     string       `json:"note"`
	Pegs     []pegFigures `json:"pegs"`
	Problems []string     `json:"problems"`
}

type pegFigures struct {
	Number   int         `json:"number"`
	ID       plan.ID     `json:"id"`
	Kind     string      `json:"kind"`
	Line     string      `json:"line"`
	Chainage Figure      `json:"chainage"`
	Marks    []string    `json:"marks"`
	At       [2]Figure   `json:"easting_northing"`
	Ground   Figure      `json:"ground"`
	Bed      Figure      `json:"bed"`
	Cut      Figure      `json:"cut"`
	Drop     Figure      `json:"drop"`
	Water    Figure      `json:"water"`
	BedWidth Figure      `json:"bed_width"`
	Left     sideFigures `json:"left"`
	Right    sideFigures `json:"right"`
}

type sideFigures struct {
	Top         [2]Figure `json:"bank_top_easting_northing"`
	Level       Figure    `json:"bank_top"`
	Off         Figure    `json:"bank_top_from_line"`
	Stake       [2]Figure `json:"stake_easting_northing"`
	StakeOff    Figure    `json:"stake_outside_bank_top"`
	StakeGround Figure    `json:"stake_ground"`
	StakeCut    Figure    `json:"stake_to_bed"`
}

// WriteJSON writes the pegs as indented JSON, in metres.
func (s SetOut) WriteJSON(w io.Writer) error {
	f := setOutFigures{
		Site: s.Site.Name, Scheme: s.Scheme, Date: s.Day.Format(time.DateOnly), System: s.Site.CRS.String(), Unit: "metre",
		Note: Beware, Pegs: []pegFigures{}, Problems: []string{},
	}
	for _, p := range s.Pegs {
		peg := pegFigures{
			Number: p.Number, ID: p.ID, Kind: plan.SpecOf(p.Kind).Name, Line: p.Title, Chainage: Figure(p.Chainage), At: figures(p.At),
			Ground: Figure(p.Ground), Bed: Figure(p.Bed), Cut: Figure(p.Cut), Drop: Figure(p.Drop), Water: Figure(p.Water),
			BedWidth: Figure(p.BedWidth), Left: sideOf(p.Left), Right: sideOf(p.Right),
		}
		for _, r := range p.What {
			peg.Marks = append(peg.Marks, r.String())
		}
		f.Pegs = append(f.Pegs, peg)
	}
	for _, p := range s.Problems {
		f.Problems = append(f.Problems, p.Error())
	}
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(f)
}

func sideOf(s earthwork.PegSide) sideFigures {
	return sideFigures{
		figures(s.Top), Figure(s.Level), Figure(s.Off), figures(s.Stake), Figure(s.StakeOff), Figure(s.StakeGround), Figure(s.StakeCut),
	}
}

func figures(p orb.Point) [2]Figure { return [2]Figure{Figure(p[0]), Figure(p[1])} }
